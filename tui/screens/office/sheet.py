"""A weekly list that came back from the wall: what stands at its head, then its rows one after the other."""

from __future__ import annotations

from functools import partial

from textual.app import ComposeResult

from tui.keys import Where, bindings_at
from tui.present.sheet import list_said, sentence_rows, typed_rows
from tui.present.typed import moment_typed, number_typed
from tui.present.words import wrapped
from tui.screens.frame.base import DeskScreen, Foot
from tui.screens.frame.book_door import BookDoor
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.notes import NotesScreen
from tui.screens.who.identify import person_at
from tui.widgets.labelled_field import LabelledField
from upkeep.errors import Refused
from upkeep.said import Said, said
from upkeep.scan_codes import ScanCode, Scannable
from upkeep.sources.printed_sheet import PrintedSheet, printed_sheet
from upkeep.sources.sheet import Entered, cautions_of_sheet, enter_sheet, row_told
from upkeep.sources.sheet_rows import not_a_row, row_of
from upkeep.units.weeks import iso_week
from upkeep.views.scanned import Scanned, ScannedRow
from upkeep.wording.cautions import caution_for
from upkeep.wording.text import fit


class SheetScreen(DeskScreen[None]):
    """Asks for week, revision, time of printing and the one day of the sheet; then each line typed is a row.

    A row that is wrong stays in its field; nothing is written before Ctrl+S, and then each good row is.
    """

    BINDINGS = bindings_at(Where.SHEET)
    WHERE = Where.SHEET
    DEFAULT_CSS = "SheetScreen #typed { height: 1fr; } SheetScreen LabelledField { padding: 0 1; }"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        words = desk.words
        week = iso_week(desk.zone.day(desk.now()))
        self._week = LabelledField(words(said("Week, as printed")), week)
        self._revision = LabelledField(words(said("Revision, as printed")))
        self._printed = LabelledField(words(said("Printed at, like 2026-03-02 06:00")))
        self._letters = LabelledField(words(said("Letters of its rows, as printed")))
        self._area = LabelledField(words(said("Area, if not the whole plant")))
        self._day = LabelledField(words(said("Day of rows without one, like Wed or 4.3.")))
        self._row = LabelledField(words(said("Row, time, initials")))
        self._head = (self._week, self._revision, self._printed, self._letters, self._area, self._day)
        self._sheet: PrintedSheet | None = None
        self._lines: dict[int, str] = {}
        self._told: dict[int, Said] = {}
        self._leaving = False

    def compose(self) -> ComposeResult:
        """The head, its fields, the list, the row, what was typed, the sentences, the keys."""
        yield self.rows("head", "-loud")
        yield from self._head
        yield self.rows("list", "-strong")
        yield self._row
        yield self.rows("typed")
        yield self.rows("said", "-strong")
        yield self.key_line()

    def keys_now(self) -> Foot:
        """Those of the form; rows are saved once some were typed."""
        return tuple(key for key in super().keys_now() if self._lines or str(key[0]) != "ctrl+s")

    def on_mount(self) -> None:
        """The revision is what is typed first; the week is that of today."""
        self._row.display = False
        self._revision.field.focus()

    def on_resize(self) -> None:
        """Names the page."""
        title = self.desk.words(said("A weekly list that came back"))
        self.rows("head").show([fit(f" {title}", self.app.size.width)])
        self._show()

    def _show(self) -> None:
        width = max(self.app.size.width - 2, 20)
        sheet = self._sheet
        about = wrapped(self.desk.words(list_said(sheet.week, len(self._lines))), width) if sheet else ()
        self.rows("list").show([f" {row}" for row in about])
        self.rows("typed").show(typed_rows(self._told, width, self._room(), self.desk.reader))
        self.show_keys()

    def _room(self) -> int:
        return max(self.rows("typed").size.height, 3)

    # From field to field

    def action_next_field(self) -> None:
        """Goes on in the head; at its end the list is looked up, and below it a row is taken."""
        if self.focused is self._row.field:
            self.save(self._take_row)
        elif self.focused is self._day.field:
            self.save(self._find_list)
        else:
            self.focus_next()

    async def _find_list(self) -> None:
        at = self.desk.now()
        revision = number_typed(self._revision.field.value)
        printed = moment_typed(self._printed.field.value, self.desk.standing_at(at))
        week, area = self._week.field.value.strip(), self._area.field.value.strip() or None
        letters = self._letters.field.value
        self._sheet = await self.desk.clerk.ask(
            lambda book: printed_sheet(book, revision, week, area, printed, letters)
        )
        self._row.display = True
        self.say(None)
        self._show()
        self._row.field.focus()

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes the code of a row: its revision before the list is found, the row after; anything else is told."""
        if not isinstance(scanned, ScannedRow):
            super().take_scanned(scanned)
        elif self._sheet is None:
            self._revision.field.value = str(scanned.revision)
            self._printed.field.focus()
        else:
            self._take_code(self._sheet, scanned)

    def _take_code(self, sheet: PrintedSheet, scanned: ScannedRow) -> None:
        try:
            sheet.of_code(scanned)
        except Refused as refused:
            self.say(refused.said)
            return
        self._row.field.value = f"{_code_of(scanned)} "
        self._row.field.cursor_position = len(self._row.field.value)
        self._row.field.focus()
        self.say(None)

    # Rows

    async def _take_row(self) -> None:
        sheet, typed = self._sheet, self._row.field.value.strip()
        if sheet is None or not typed:
            return
        tick = row_of(typed)
        if tick is None:
            self.say(not_a_row(typed))
            return
        at, day = self.desk.now(), self._day.field.value.strip()
        tick = sheet.placed(tick)
        told = await self.desk.clerk.ask(lambda book: row_told(book, sheet, tick, at, day))
        for kept in (self._lines, self._told):
            kept.pop(tick.row, None)  # typed anew, it stands last
        self._lines[tick.row], self._told[tick.row] = typed, told
        self._row.field.value = ""
        self.say(None)
        self._show()

    # Writing

    def action_save(self) -> None:
        """Enters the rows."""
        self.save(self._save)

    async def _save(self) -> None:
        sheet, lines = self._sheet, list(self._lines.values())
        if sheet is None or not lines:
            self.say(said("Nothing is typed yet: find the list by its head, then type its rows."))
            return
        by = await person_at(self)
        if by is None:
            return
        cautions = await self.desk.clerk.ask(lambda book: cautions_of_sheet(book, sheet, lines))
        if cautions:
            mind = said("To be minded before this work is done:")
            await self.shown(NotesScreen(self.desk, mind, [caution_for(caution) for caution in cautions]))
        self._show_entered(await self.desk.clerk.ask(partial(self._enter, sheet, lines, by)))

    def _enter(self, sheet: PrintedSheet, lines: list[str], by: Here, book: BookDoor) -> Entered:
        day = self._day.field.value.strip()
        return enter_sheet(book, sheet, lines, by.id, self.desk.recording, by.proven, day)

    def _show_entered(self, entered: Entered) -> None:
        """What went in is gone from the rows; what did not is still there, to be typed anew."""
        self._lines = {row: self._lines[row] for row in entered.wrong if row in self._lines}
        self._told = dict(entered.wrong)
        width = max(self.app.size.width - 2, 20)
        self._show()
        told = [*entered.problems, *entered.sentences]
        self.rows("typed").show(sentence_rows(told, width, self._room(), self.desk.reader))
        left = len(entered.missing)
        self.say(
            said("{n} rows of this list are not on the sheet.", n=left)
            if not entered.problems
            else said("Rows that did not go in stand first. Type them again, as they should be.")
        )

    def action_leave(self) -> None:
        """Goes back; asks for a second press while rows are not written."""
        if self._lines and not self._leaving:
            self._leaving = True
            lost = said("{n} rows are not written. Esc once more loses them; Ctrl+S enters them.", n=len(self._lines))
            self.say(lost)
        else:
            super().action_leave()


def _code_of(scanned: ScannedRow) -> ScanCode:
    """The code of a row as it stands on the paper; those of an older program have no letters."""
    parts = filter(None, (str(scanned.revision), str(scanned.row), scanned.letters))
    return ScanCode(Scannable.ROW, ".".join(parts))
