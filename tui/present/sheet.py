"""The rows of a weekly list that came back, as they stand on the screen while they are typed."""

from __future__ import annotations

from collections.abc import Iterable

from tui.present.moments import Now
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
    rows = [
        fit(f" {text(said('{row}  {what}', row=Numeral(row), what=what), reader)}", width).rstrip()
        for row, what in reversed(told.items())
    ]
    more = len(rows) - most
    return rows if more <= 0 else [*rows[: most - 1], f" {text(said('and {n} more', n=more + 1), reader)}"]


def entered_rows(sentences: Iterable[Said], now: Now, width: int, most: int) -> list[str]:
    """What became of the rows."""
    rows = [fit(f" {text(sentence, now.reader)}", width).rstrip() for sentence in sentences]
    more = len(rows) - most
    return rows if more <= 0 else [*rows[: most - 1], f" {text(said('and {n} more', n=more + 1), now.reader)}"]
