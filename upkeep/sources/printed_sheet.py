"""The very list that was printed, made again from the head of a sheet that came back; and which row of it is meant.

The numbers of rows hold where something on the paper says so: the letters of all rows at its head, the letters within
the code of a row, or that the list was frozen, for then they stand in the book.  A program that was updated between
print and return may put rows in another order; where nothing says that it did not, a number alone is refused.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from upkeep.errors import NotFound, Refused
from upkeep.frozen import frozen
from upkeep.progress import Watch, nobody
from upkeep.said import Moment, Numeral, Quoted, listed, said
from upkeep.scan_codes import Scannable, letters_of, read_code
from upkeep.sources.sheet_book import SheetBook
from upkeep.sources.sheet_rows import Ticked
from upkeep.views.scanned import ScannedRow
from upkeep.views.week import WeekList, WeekRow

_MINUTE = timedelta(minutes=1)


@frozen
class PrintedSheet:
    """A list as it was printed, and whether the numbers of its rows are known to be those of the print."""

    week: WeekList
    by_number: bool

    def row(self, ticked: Ticked) -> WeekRow:
        """The row that is meant; raises :class:`Refused` where that is not sure."""
        if not ticked.named:
            return self._numbered(ticked.row)
        if "/" in ticked.named:
            return self._of_line(ticked.named)
        return self._coded(ticked.named)

    def placed(self, ticked: Ticked) -> Ticked:
        """The same with the number of the row that is meant; raises :class:`Refused` where that is not sure."""
        return replace(ticked, row=self.row(ticked).row)

    def _of_line(self, line: str) -> WeekRow:
        for row in self.week.rows:
            if row.line == line:
                return row
        raise Refused(said("{line} is not on the list of revision {revision}.", line=line,
                           revision=self.week.revision))  # fmt: skip

    def _numbered(self, number: int) -> WeekRow:
        if not self.by_number:
            raise Refused(
                said(
                    "nothing says that row {row} is still the row of that print: give the letters at the head of the "
                    "sheet ('Rows: ...'), or the code of the row; where the sheet has neither, its line (item/task).",
                    row=Numeral(number),
                )
            )
        for row in self.week.rows:
            if row.row == number:
                return row
        raise Refused(
            said(
                "there is no such row; the list of revision {revision} has only {rows}.",
                revision=self.week.revision, rows=Numeral(len(self.week.rows)),
            )
        )  # fmt: skip

    def _coded(self, typed: str) -> WeekRow:
        code = read_code(typed)
        if code is None or code.kind is not Scannable.ROW:
            raise Refused(said("{code} is not the code of a row.", code=Quoted(typed)))
        revision, number, letters = f"{code.text}.".split(".")[:3]
        return self.of_code(ScannedRow(int(revision), int(number), letters.upper()))

    def of_code(self, code: ScannedRow) -> WeekRow:
        """The row that a code means; raises :class:`Refused` where it is one of another list, or was another row."""
        if code.revision != self.week.revision:
            raise Refused(
                said(
                    "Row {row} is of revision {revision}; this list is revision {listed}. Keep the sheets apart.",
                    row=Numeral(code.row), revision=code.revision, listed=self.week.revision,
                )
            )  # fmt: skip
        if not code.letters:
            return self._numbered(code.row)
        fitting = [row for row in self.week.rows if letters_of([row.line]) == code.letters]
        for row in fitting:
            if row.row == code.row:
                return row
        raise Refused(
            said(
                "the code does not fit row {row} of that list as this program makes it again: rows had other numbers "
                "when it was printed. Read what stands in the row and type its line in place of the code; it may be "
                "{lines}.",
                row=Numeral(code.row),
                lines=listed([row.line for row in fitting]) if fitting else said("a line that is not on it"),
            )
        )


def printed_sheet(
    book: SheetBook, revision: int, week: str, area: str | None, printed: datetime, letters: str = "",
    watch: Watch = nobody,
) -> PrintedSheet:  # fmt: skip
    """The list as it was printed, from what stands at its head; ``printed`` is the minute of the print, ``letters``
    those of its rows ("": not given).

    The revision alone would not do: lines come due by themselves, and rows move up.  Raises :class:`Refused` where the
    two contradict each other: the print cannot have known that revision yet, or must have known a later one; and where
    the letters are those of other rows.
    """
    made = book.week_of_revision(revision, week, area, at=_end_of(printed), watch=watch)
    if made.revision != revision:
        raise Refused(
            said(
                "A list printed {printed} cannot know entry #{revision} yet. Check the revision and the time "
                "on the sheet; nothing was entered.",
                printed=Moment(printed, book.zone),
                revision=revision,
            )
        )
    _check_still_the_last(book, revision, printed)
    if letters and letters.strip().upper() != made.letters:
        raise Refused(
            said(
                "The rows of that list are {letters} as this program makes it again, and {typed} on the sheet: rows "
                "may have had other numbers when it was printed. Check week, area, revision, time and letters; where "
                "they are right, leave the letters out and give each row by its code, or by its line (item/task). "
                "Nothing was entered.",
                letters=made.letters, typed=letters.strip(),
            )
        )  # fmt: skip
    return PrintedSheet(made, bool(letters) or made.frozen is not None)


def _check_still_the_last(book: SheetBook, revision: int, printed: datetime) -> None:
    """Refuses a revision after which the book had gone on by the minute of the print: one of the two is misread."""
    try:
        following = book.entry(revision + 1)
    except NotFound:
        return
    until = following.recorded_at or following.at
    if printed > until:
        raise Refused(
            said(
                "#{revision} was the last entry only until {until}, but the sheet was printed {printed}: its rows "
                "would be those of another list. Check the revision and the time on the sheet; nothing was entered.",
                revision=revision,
                until=Moment(until, book.zone),
                printed=Moment(printed, book.zone),
            )
        )


def _end_of(minute: datetime) -> datetime:
    """The last second of a minute: what was written in it before the print is on the list."""
    return minute + _MINUTE - timedelta(seconds=1)
