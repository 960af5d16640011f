"""What stands on a page that the plant itself wrote: ids, titles, names, reasons, the text of entries; the rest was
said by the program."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from html import unescape

from tests.templates import terms
from upkeep.book import Book
from upkeep.entries.faults import Fault
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.planning import Define
from upkeep.entries.row import START
from upkeep.entries.text import line_of, words_of
from upkeep.plant.rights import Act
from upkeep.quality.symptoms import causes, symptoms

_LATIN = re.compile(r"[A-Za-z]{2,}")


class Written:
    """The texts and ids of a book, to be taken off its pages."""

    def __init__(self, book: Book, *more: str) -> None:
        texts = {*_ids_of_the_program(), *more}
        said_by_the_program = {str(message.id) for message in terms()}
        for recorded in book.written_after(-1, START.hex()):
            entry = recorded.entry
            texts |= {line_of(entry, book.zone), words_of(entry)}
            if isinstance(entry, Define):
                texts |= {entry.key, *_strings(json.loads(entry.content))} - said_by_the_program | {entry.key}
            elif isinstance(entry, Fault) and entry.listed:
                texts |= {entry.item, entry.listed, entry.by}
            else:
                texts |= set(_strings(entry)) - {EXTRA}
        own = {_in_line(text) for text in texts if _LATIN.search(text)}
        in_turn = "|".join(re.escape(text) for text in sorted(own, key=len, reverse=True))
        self._pattern = re.compile(f"(?<![A-Za-z0-9])(?:{in_turn})(?![A-Za-z0-9])", re.IGNORECASE)

    def english(self, page: str) -> set[str]:
        """The words in Latin letters on a page that the plant did not write."""
        return set(_LATIN.findall(self._pattern.sub(" ", _in_line(unescape(page)))))


def _ids_of_the_program() -> Iterator[str]:
    """Ids that people type: of symptoms, causes, checks and acts."""
    for seen in symptoms():
        yield from (seen.id, *(cause.id for cause in seen.causes), *(check.id for check in seen.checks))
    yield from (*causes(), *Act)


def _in_line(text: str) -> str:
    return " ".join(text.split())


def _strings(value: object) -> Iterator[str]:
    """Every text in an entry and in what it defines; not the names of fields."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _strings(inner)
    elif isinstance(value, list | tuple | set | frozenset):
        for inner in value:
            yield from _strings(inner)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _strings(getattr(value, field.name))
