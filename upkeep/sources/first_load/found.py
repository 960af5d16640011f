"""What is found in a plant's sheets: what is wrong, how something was read, and what only the lead can answer."""

from __future__ import annotations

from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, Value, said


@frozen
class Spot:
    """Where something stands: the sheet, the row as the spreadsheet numbers it, the column as it is headed."""

    sheet: str
    row: int | None = None
    column: str | None = None

    @property
    def said(self) -> Said:
        """The spot in words."""
        if self.row is None:
            return said("sheet {sheet}", sheet=self.sheet)
        if self.column is None:
            return said("sheet {sheet}, row {row}", sheet=self.sheet, row=Numeral(self.row))
        return said(
            "sheet {sheet}, row {row}, column {column}", sheet=self.sheet, row=Numeral(self.row), column=self.column
        )


@frozen
class Wrong:
    """Something that keeps the sheets from being loaded: what was found, and what is meant to stand there."""

    spot: Spot
    found: Value
    meant: Value

    @property
    def said(self) -> Said:
        """The whole of it as a sentence."""
        return said("{spot}: found {found}; meant is {meant}.", spot=self.spot.said, found=self.found, meant=self.meant)


@frozen
class ReadAs:
    """Something that was read otherwise than it is written."""

    spot: Spot
    found: Value
    meant: Value

    @property
    def said(self) -> Said:
        """How it was read, as a sentence."""
        return said("{spot}: {found} is read as {meant}.", spot=self.spot.said, found=self.found, meant=self.meant)


@frozen
class Question:
    """What only the lead can answer.

    The answer goes to ``path`` of the answers; where ``value`` is given, the answer is the last step of the path and
    ``value`` stands there.  ``choices`` are the answers there are (none: any text), ``rows`` what it is about.
    """

    path: tuple[str, ...]
    asked: Said
    choices: tuple[str, ...] = ()
    value: str | None = None
    rows: tuple[Said, ...] = ()

    def answer(self, given: str) -> tuple[tuple[str, ...], str]:
        """The path and the value that an answer stands for."""
        return (self.path, given) if self.value is None else ((*self.path, given), self.value)
