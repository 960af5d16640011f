"""Reasons as scripts get them: as data, and beside it the English sentence that people read."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any, get_args

from upkeep.book import Book
from upkeep.due.holds import HoldReason
from upkeep.due.reason_json import data_of
from upkeep.due.reason_list import Reasons
from upkeep.plant.names import Names
from upkeep.said import Said
from upkeep.units.instants import Zone
from upkeep.wording.holds import hold_text
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import ENGLISH


def with_reasons(view: Any, book: Book) -> Any:
    """A view for :func:`upkeep.cli.options.say_json`, with its reasons as data and in words.

    The reasons of a line are ``reasons`` and ``why``, that of a hold ``hold_reason`` and ``hold`` (where the view has
    a field ``hold``).
    """
    return _plain(view, book.zone, book.names)


def _plain(value: Any, zone: Zone, names: Names) -> Any:
    if isinstance(value, list | tuple):
        return [_plain(member, zone, names) for member in value]
    if isinstance(value, Said) or not is_dataclass(value):
        return value
    plain: dict[str, Any] = {}
    for field in fields(value):
        kept = getattr(value, field.name)
        if isinstance(kept, Reasons):
            plain |= {field.name: data_of(kept), "why": sentence(kept, zone, names, ENGLISH)}
        elif isinstance(kept, get_args(HoldReason)):
            plain |= {field.name: hold_text(kept, ENGLISH), f"{field.name}_reason": data_of(kept)}
        else:
            plain[field.name] = _plain(kept, zone, names)
    return plain
