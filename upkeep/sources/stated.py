"""When work was last done before the book began, from a CSV file: stated, not verified.

The columns are ``item``, ``task`` and ``done``.  All lines go in, or none; what the book says already is passed over,
so the same file twice changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from pathlib import Path

from upkeep.book import Book, Written
from upkeep.book.door import Clock, asked
from upkeep.entries.entry import Entry
from upkeep.entries.origin import FROM_A_FILE, Proven
from upkeep.entries.signing import Stated
from upkeep.errors import Unreadable
from upkeep.plant.line_names import LineName
from upkeep.said import Numeral, Said, in_lines, listed, said, said_many
from upkeep.sources.dates import dates_of
from upkeep.sources.tables import rows_of

COLUMNS = ("item", "task", "done")

NOTHING = said("Nothing was written.")


def load_stated(
    book: Book, file: Path, order: str | None, by: str, recorded_at: datetime | Clock, proven: Proven | None = None
) -> tuple[Written, int]:
    """Writes what a file states, and says how many of its lines the book said already.

    ``order`` is the format of all its dates ("ymd", "dmy", "mdy"); None: as ISO 8601 writes them.  Raises
    :class:`Unreadable` with every line that is wrong; then nothing was written.
    """
    rows, moment = dict(rows_of(file, COLUMNS)), asked(recorded_at)
    try:
        days = dates_of({line: row["done"] for line, row in rows.items()}, order)
    except Unreadable as error:
        raise Unreadable(in_lines([error.said, NOTHING])) from None
    stated = {
        line: Stated(at=moment, by=by, item=row["item"], task=row["task"], done=days[line].isoformat())
        for line, row in rows.items()
    }
    wrong = dict(_contradictions(stated))
    unknown = set(_unknown(book, list(stated.values())))
    fresh = {line: statement for line, statement in stated.items() if statement in unknown}
    refused = book.refusals(list(fresh.values()), moment)
    wrong |= {line: refused[place] for place, line in enumerate(fresh) if place in refused}
    if wrong:
        raise Unreadable(in_lines([*_by_reason(wrong), NOTHING]))
    once = {(statement.item, statement.task): statement for statement in fresh.values()}
    written = book.write_fresh(
        list(once.values()), lambda entries: _unknown(book, entries), recorded_at, FROM_A_FILE, proven
    )
    return written, len(rows) - len(written.entries)


def _unknown(book: Book, statements: Sequence[Entry]) -> list[Entry]:
    """The statements that the book does not say already."""
    kept = book.stated()
    return [one for one in statements if isinstance(one, Stated) and kept.get((one.item, one.task)) != one.done]


def _by_reason(wrong: Mapping[int, Said]) -> Iterator[Said]:
    """Each reason once, with the lines it holds for."""
    for reason in dict.fromkeys(wrong[line] for line in sorted(wrong)):
        lines = [line for line in sorted(wrong) if wrong[line] == reason]
        yield said_many(
            "line {lines}: {why}", "lines {lines}: {why}", n=len(lines), lines=listed(map(Numeral, lines)), why=reason
        )


def _contradictions(stated: Mapping[int, Stated]) -> Iterator[tuple[int, Said]]:
    """The lines that say another day of a line that was told further up."""
    first: dict[tuple[str, str], int] = {}
    for line, statement in stated.items():
        before = first.setdefault((statement.item, statement.task), line)
        if stated[before].done != statement.done:
            yield (
                line,
                said(
                    "{name} was already stated on line {line}, done {day}.",
                    name=str(LineName(statement.item, statement.task)),
                    line=Numeral(before),
                    day=stated[before].done,
                ),
            )
