"""Reasons to and from JSON: objects with their ``kind``, whole numbers, texts, days and instants; no decimal numbers.

A field that is None is left out.  Keys are sorted, so that equal reasons are equal texts.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from functools import cache
from types import UnionType
from typing import TYPE_CHECKING, Any, cast, get_args, get_origin, get_type_hints

from upkeep.due.reason_list import Reasons
from upkeep.units.instants import from_utc_text, utc_text

if TYPE_CHECKING:
    from upkeep.due.holds import HoldReason
    from upkeep.due.reasons import Reason

Read = Callable[[Any], Any]


class _Kept(Reasons):
    """Reasons read when somebody asks for them: a board holds fifty lines, and a person asks why of one."""

    __slots__ = ("_text",)

    def __init__(self, text: str) -> None:
        self._text = text

    @property
    def all(self) -> tuple[Reason, ...]:
        """Each of them."""
        try:
            return self._all
        except AttributeError:
            self._all = tuple(_read(member) for member in json.loads(self._text))
            return self._all


_encode = json.JSONEncoder(sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode
_quoted = json.encoder.encode_basestring


def text_of(why: Reasons | HoldReason) -> str:
    """The JSON text of all reasons of a line, or of the reason of a hold."""
    return _written(why)


def reasons_from(text: str) -> Reasons:
    """The reasons behind a text of :func:`text_of`."""
    return _Kept(text)


def hold_from(text: str) -> HoldReason:
    """The reason of a hold behind a text of :func:`text_of`."""
    return cast("HoldReason", _read(json.loads(text)))


_PLAIN = frozenset({str, int, bool})


def data_of(value: Any) -> Any:
    """A reason, or one of its fields, as JSON knows it; all reasons of a line are a list."""
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, Reasons):
        return [data_of(member) for member in value.all]
    if isinstance(value, datetime):
        return utc_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [data_of(member) for member in value]
    made: type = type(value)
    names = _names(made)
    if names is None:
        return value
    data: dict[str, Any] = {"kind": _kind(made)}
    for name in names:
        field = getattr(value, name)
        if type(field) in _PLAIN:
            data[name] = field
        elif field is not None:
            data[name] = data_of(field)
    return data


def _written(value: Any) -> str:
    """The JSON text of what :func:`data_of` gives, without making that first: a board of the past has hundreds."""
    made: type = type(value)
    if made is str:
        return _quoted(value)
    if made is int:
        return str(value)
    if made is tuple:
        return f"[{','.join(map(_written, value))}]"
    parts = _parts(made)
    if parts is None:
        return f"[{','.join(map(_written, value.all))}]" if isinstance(value, Reasons) else _encode(data_of(value))
    members = []
    for name, before in parts:
        if name is None:
            members.append(before)
        elif (field := getattr(value, name)) is not None:
            members.append(before + _written(field))
    return f"{{{','.join(members)}}}"


@cache
def _parts(made: type) -> tuple[tuple[str | None, str], ...] | None:
    """The fields of a kind of reason in the order of their keys, each with what is written before it, and (without a
    name) its kind; None: it is no such kind."""
    names = _names(made)
    if names is None:
        return None
    fields_: list[tuple[str | None, str]] = [(name, f"{_quoted(name)}:") for name in names]
    return tuple(sorted([*fields_, (None, f'"kind":{_quoted(_kind(made))}')], key=lambda part: part[1]))


def _read(data: dict[str, Any]) -> Any:
    made, readers = _kinds()[data["kind"]]
    return made(**{name: read(data[name]) for name, read in readers.items() if name in data})


@cache
def _names(made: type) -> tuple[str, ...] | None:
    """The fields of a kind of reason; None: it is no such kind."""
    return tuple(field.name for field in fields(made)) if is_dataclass(made) else None


@cache
def _kind(made: type) -> str:
    """``failed-check`` for FailedCheck."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", made.__name__).lower()


@cache
def _kinds() -> dict[str, tuple[type, dict[str, Read]]]:
    """Each kind of reason by its name, and how its fields are read."""
    from upkeep.due import holds, reasons  # a class for each kind: made when the first reason is read

    classes = [kind for module in (holds, reasons) for kind in vars(module).values() if isinstance(kind, type)]
    return {_kind(kind): (kind, _readers(kind)) for kind in classes if is_dataclass(kind)}


def _readers(made: type) -> dict[str, Read]:
    return {name: _reader(hint) for name, hint in get_type_hints(made).items()}


def _reader(hint: Any) -> Read:
    """How a field is read, by its type; a field that may be None is read like the rest of its type."""
    kinds = [kind for kind in get_args(hint) if kind is not type(None)] if isinstance(hint, UnionType) else [hint]
    if kinds[0] is datetime:
        return from_utc_text
    if kinds[0] is date:
        return date.fromisoformat
    if get_origin(kinds[0]) is tuple:
        inner = _reader(get_args(kinds[0])[0])
        return lambda data: tuple(inner(member) for member in data)
    return _read if is_dataclass(kinds[0]) else lambda data: data
