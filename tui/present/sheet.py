"""The rows of a weekly list that came back, as they stand on the screen while they are typed."""

from __future__ import annotations

from collections.abc import Iterable

from upkeep.said import Numeral, Said, Weekday, said, said_many
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit


def list_said(listed: WeekList, typed: int) -> Said:
    """Which list it is, and how far one has come."""
    rows = said_many("{n} row", "{n} rows", n=len(listed.rows))
    return said(
        "List of {week} ({first} to {last}), revision {revision}: {rows}, {typed} typed so far.",
        week=listed.week, first=Weekday(listed.first_day), last=Weekday(listed.last_day), revision=listed.revision,
        rows=rows, typed=typed,
    )  # fmt: skip


def typed_rows(told: dict[int, Said], width: int, most: int, reader: Reader) -> list[str]:
    """What was typed, the last row first; what has no room is counted."""
    rows = (said("{row}  {what}", row=Numeral(row), what=what) for row, what in reversed(told.items()))
    return sentence_rows(rows, width, most, reader)


def sentence_rows(sentences: Iterable[Said], width: int, most: int, reader: Reader) -> list[str]:
    """A sentence a row; what has no room is counted."""
    rows = [f" {fit(text(sentence, reader), width - 1)}".rstrip() for sentence in sentences]
    more = len(rows) - most
    counted = text(said("and {n} more", n=more + 1), reader)
    return rows if more <= 0 else [*rows[: most - 1], f" {counted}"]
