"""A book made again from the text of its export, and the export as a table for other programs."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.book import Book
from upkeep.cli.progress import PROVING, watch_of
from upkeep.cli.saying import say
from upkeep.errors import BookDamaged, BookUnavailable, StrokebookError
from upkeep.progress import Watch, nobody
from upkeep.said import said
from upkeep.store.disk.place import refuse_what_is_left, remove_with_what_is_beside

if TYPE_CHECKING:
    from upkeep.book.bringing_back import Exported

COLUMNS = (
    "entry", "at", "recorded_at", "shift_day", "kind", "by", "words", "corrects", "because", "way_in", "station",
    "proof", "entered_by", "link",
)  # fmt: skip

_FORMULA_BEGINS = ("=", "+", "-", "@", "\t", "\r")


def make_again(text: Path, path: Path) -> None:
    """Makes the new book at ``path`` from an export, proves it, and says how it stands.

    Raises :class:`BookUnavailable` where a book is, :class:`BookDamaged` at the first line that does not follow; then
    nothing was made.
    """
    from upkeep.sources.exported import exported_lines

    refuse_what_is_left(path)
    partial = path.with_name(f".{path.name}.restored")
    remove_with_what_is_beside(partial)
    links = _Links()
    try:
        with Book.bring_back(partial, links.seen(exported_lines(text))) as book:
            report = book.prove(watch_of(path, PROVING))
            troubles = book.picture_troubles()
        if not report.clean:
            raise BookDamaged(report.differences[0])
        os.replace(partial, path)
    except BookDamaged as error:
        raise BookDamaged(said("{text}: {why} Nothing was made.", text=text, why=error.said)) from None
    except OSError as error:
        raise BookUnavailable(said("{path} cannot be made: {why}.", path=path, why=str(error.strerror))) from None
    finally:
        remove_with_what_is_beside(partial)
    say(said("{path} is made from {text}. Proven clean: {n} entries.", path=path, text=text, n=report.entries))
    say(said("Last link: {hash}", hash=report.hash))
    for trouble in troubles:
        say(said("Note: {note}", note=trouble))
    if links.missing:
        say(
            said(
                "Note: {text} has lines without links, so a changed line would not show. Compare the last link with "
                "one that is known of the old book.",
                text=text,
            )
        )


class _Links:
    """Whether every line of an export has its link."""

    missing = False

    def seen(self, lines: Iterable[Exported]) -> Iterator[Exported]:
        """The same lines."""
        for line in lines:
            self.missing = self.missing or line.link is None
            yield line


def as_csv(book: Book, watch: Watch = nobody) -> tuple[bytes, StrokebookError | None]:
    """Every entry as a row, for spreadsheets and other programs, and what is wrong with the chain.

    Moments are UTC.  A cell that a spreadsheet would take for a formula has an apostrophe before it.  ``watch`` is
    told how many entries are in.
    """
    out = io.StringIO(newline="")
    rows = csv.writer(out)
    rows.writerow(COLUMNS)
    wrong = None
    try:
        for row in book.rows_of_entries(watch):
            rows.writerow([_safe("" if cell is None else str(cell)) for cell in row])
    except BookDamaged as error:
        wrong = error
    return out.getvalue().encode(), wrong


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_FORMULA_BEGINS) else cell
