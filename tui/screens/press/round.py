"""The round: one place, one shift, as an operator walks it.  A clean is signed with a number, a short id and Enter."""

from __future__ import annotations

from functools import partial

from textual.app import ComposeResult

from tui.keys import Where, bindings_at, foot_at
from tui.messages import BoardWanted, CountTyped, HomeWanted, LineSelected
from tui.present.moments import Now, clock_text
from tui.present.signing import proof_rows, signed_said
from tui.present.walk import (
    caution_rows,
    count_rows,
    done_said,
    found_rows,
    hanging_rows,
    head_row,
    hold_rows,
    to_sign_said,
)
from tui.screens.board.detail import DetailScreen
from tui.screens.frame.base import Foot
from tui.screens.frame.desk import Desk, Signed
from tui.screens.frame.doing import DoingScreen
from tui.screens.frame.pick import PickScreen
from tui.screens.press.count import answers_at, take_count, typed_count
from tui.screens.who.identify import person_at
from tui.widgets.count_entry import CountEntry, TypedCount
from tui.widgets.numbered_lines import NumberedLines
from upkeep.plant.model import Kind
from upkeep.said import Numeral, said
from upkeep.units.shifts import ShiftSpan
from upkeep.views.board import BoardLine
from upkeep.views.round import Round
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.text import padded

_TICK_SECONDS = 1.0
_FOUND_ROWS = 2
_CAUTION_ROWS, _OTHER_ROWS = 3, 20
"""Rows for the cautions at least, and what the other parts of a round take of a screen with nine lines."""


class RoundScreen(DoingScreen):
    """What an operator needs at one place: holds, count, caution, the lines to sign, and the proof."""

    BINDINGS = bindings_at(Where.ROUND, Where.REFUSED)
    WHERE = Where.ROUND

    def __init__(self, desk: Desk, place: str) -> None:
        super().__init__(desk)
        self._place = place
        self._walk: Round | None = None
        self._titles: dict[str, str] = {}
        self._typed = 0
        self._shift: str | None = None
        self._lines, self._entry = NumberedLines(), CountEntry(desk.reader)

    @property
    def selected(self) -> BoardLine | None:
        """The selected line."""
        return self._lines.selected

    def place_here(self) -> str | None:
        """The place of the round."""
        return self._place

    def check_at(self) -> str | None:
        """The place of the round."""
        return self._place

    def items_here(self) -> tuple[str, ...]:
        """The selected line's item first, then the press and whatever hangs here."""
        hanging = tuple(item.item for item in self._walk.hanging) if self._walk else ()
        press = (self._walk.press,) if self._walk and self._walk.press else ()
        first = (self.selected.item,) if self.selected else ()
        return tuple(dict.fromkeys((*first, *press, *hanging)))

    def compose(self) -> ComposeResult:
        """Place and shift, who, holds, count, caution, lines, proof, what was found, foot."""
        yield self.rows("title", "-loud")
        yield self.rows("who")
        yield self.rows("hanging")
        yield self.rows("holds", "-loud")
        yield self._entry
        yield self.rows("caution", "-strong")
        yield self._lines
        yield self.rows("proof", "-loud")
        yield self.rows("found")
        yield from self.foot()

    def keys_now(self) -> Foot:
        """Those of the count while somebody types it, or answers to a refused one; else those of the round."""
        if self.focused is self._entry.answers and self._entry.offered is not None:
            return (*answers_at(self._entry.offered), *foot_at(Where.COUNTING)[1:])
        return foot_at(Where.COUNTING if self.focused is self._entry.field else Where.ROUND)

    def on_mount(self) -> None:
        """The lines take the keys, unless the count of this shift is still to be taken."""
        self._lines.focus()
        self.do(self._open, group="open")
        self.set_interval(_TICK_SECONDS, self.tick)

    async def _open(self) -> None:
        at = self.desk.now()
        walk, shift, places, items = await self.desk.clerk.ask(
            lambda book: (book.round(self._place, at), book.calendar.at(at), book.places(), book.items())
        )
        self._titles = {**{item.id: item.title for item in items}, **{place.id: place.title for place in places}}
        self._show(walk, self.desk.standing_at(at))
        self._shift = walk.shift
        if _count_is_missing(walk, shift):
            if self.desk.here is None:
                await person_at(self)  # one question after another: who, the count, then the round
                self.look()
            if self.desk.here is not None:
                self._entry.field.focus()

    def is_home(self) -> bool:
        """The round of the place where the terminal stands."""
        return self._place == self.desk.station

    # Showing

    async def view(self) -> None:
        """Fetches the round as it is now; what is being typed stays."""
        at = self.desk.now()
        walk = await self.desk.clerk.ask(lambda book: book.round(self._place, at))
        self._show(walk, self.desk.standing_at(at))
        if walk.shift != self._shift:  # another shift begins as the first one did
            self._shift = walk.shift
            self.do(self._open, group="open")

    def _show(self, walk: Round, now: Now) -> None:
        self._walk, width = walk, self.app.size.width
        title = self._titles.get(walk.place, "")
        self.rows("title").show([head_row(walk, title, now, width)])
        self.rows("hanging").show([f" {row}" for row in hanging_rows(walk, width - 2, self.desk.reader)])
        self.rows("holds").show(hold_rows(walk, width, self.desk.reader))
        self._entry.read_by(self.desk.reader)
        self._entry.show_range(count_rows(walk, now))
        self._entry.display = walk.press is not None
        room = max(_CAUTION_ROWS, self.app.size.height - _OTHER_ROWS)
        self.rows("caution").show([f" {row}" for row in caution_rows(walk, width - 2, room, self.desk.reader)])
        self._lines.show(walk.rows, walk.shift, now)
        found = found_rows(walk, now, width, _FOUND_ROWS)
        self.rows("found").show([" " + self.desk.words(said("Found this shift:")), *found] if found else [])
        self._show_person()

    def _show_person(self) -> None:
        here = self.desk.here
        who = said("Nobody has said who is here.")
        if here:
            who = said("Here: {name} ({id}).", name=here.name, id=here.id)
        if self._walk:
            who = said("{who}   {left}.", who=who, left=to_sign_said(self._walk))
        self.rows("who").show([f" {self.desk.words(who)}"])

    def show_signed(self, signed: Signed) -> None:
        """Shows the proof, large."""
        self.say(None)
        self._show_proof()
        self.look()

    def _show_proof(self) -> None:
        signed, width = self.desk.can_undo(), self.app.size.width
        if signed is None or not signed.meaning:
            self.rows("proof").show(())
            return
        left = int((signed.undo_until - self.desk.now()).total_seconds())
        proof = signed_said(signed.by.name, clock_text(signed.at, self.desk.zone), signed.meaning)
        rows = proof_rows(proof, signed.what, left, self.desk.reader)
        self.rows("proof").show([padded(row, width) for row in rows])

    def tick(self) -> None:
        """Each second: the time left to undo, and whether to forget who was here."""
        self._show_proof()
        if self.desk.forget_after_idling():
            self._show_person()

    # Doing

    def action_number(self, number: int) -> None:
        """Signs the line that carries this number; where more figures may follow, it waits for one, or for Enter."""
        self._typed = self._typed * 10 + number
        if self._typed and self._typed * 10 <= self._lines.highest:
            waits = said("Number {number}: Enter takes it, or type its next figure.", number=Numeral(self._typed))
            self.say(waits)
        else:
            self._sign_typed()

    def _sign_typed(self) -> None:
        number, self._typed = self._typed, 0
        line = self._lines.select_number(number)
        if line is None:
            self.say(
                said("No line here has the number {number}. To enter a count, press c first.", number=Numeral(number))
            )
            return
        self._lines.focus()
        self.sign(line)

    def action_sign(self) -> None:
        """Signs the line whose number was typed, else the selected one."""
        if self._typed:
            self._sign_typed()
        else:
            self.sign(self.selected)

    def sign(self, line: BoardLine | None) -> None:
        """Opens the sign-off of a line; one that was done in this shift says by whom."""
        self._typed = 0
        if line is not None and self._walk is not None and _is_done(self._walk, line):
            self.say(done_said(line, self.desk.standing_at(self.desk.now())))
        else:
            super().sign(line)

    def action_count(self) -> None:
        """Goes to the field of the count."""
        if self._walk is not None and self._walk.press is None:
            self.say(said("There is no press at {place}, so there is nothing to count.", place=self._place))
        else:
            self._entry.field.focus()

    def action_leave_count(self) -> None:
        """Goes from the count to the lines; from the lines of another place home to the own one."""
        if self._lines.has_focus and self._place != self.desk.station:
            self.app.post_message(HomeWanted())
        self._typed = 0
        self.say(None)
        self._lines.focus()

    def on_count_typed(self, message: CountTyped) -> None:
        """Writes the count; Enter on the empty field goes to the lines."""
        message.stop()
        if not message.text.strip():
            self._lines.focus()
            return
        value = typed_count(self.desk, self._entry, message.text)
        if value is not None:
            self.save(partial(self._take_count, TypedCount(value)))

    def action_count_again(self) -> None:
        """Takes another count."""
        self._entry.count_again()

    def action_confirmed(self) -> None:
        """Writes the offered count again, confirmed."""
        offer = self._entry.offered
        if offer is not None and offer.confirms is not None:
            self.save(partial(self._take_count, offer.confirmed))

    def action_earlier_wrong(self) -> None:
        """Writes the count as a question for the lead."""
        if self._entry.offered is not None:
            self.save(partial(self._take_count, self._entry.offered.disputing))

    async def _take_count(self, count: TypedCount) -> None:
        if self._walk is None:
            await self.view()
        press = self._walk.press if self._walk else None
        by = await person_at(self)
        if press is None or by is None:
            return
        written = await take_count(self.desk, self._entry, press, by, count)
        if written is not None:
            self.say(written)
            self._lines.focus()
            self.look()

    async def _undo(self) -> None:
        await super()._undo()
        self._show_proof()

    def on_line_selected(self, message: LineSelected) -> None:
        """Nothing else depends on which line is selected."""
        message.stop()

    # Going on

    def action_open_line(self) -> None:
        """Opens the page of the selected line."""
        if self.selected is not None:
            self.app.push_screen(DetailScreen(self.desk, self.selected.line))

    def action_change(self) -> None:
        """Changes the tools on the press here."""
        from tui.screens.changeover.change import ChangeScreen

        press = self._walk.press if self._walk else None
        if press is None:
            self.say(said("There is no press at {place}, so there are no tools to change.", place=self._place))
        else:
            self.app.push_screen(ChangeScreen(self.desk, press))

    def action_board(self) -> None:
        """Shows the board of the whole plant."""
        self.app.post_message(BoardWanted())

    def action_place(self) -> None:
        """Asks for another place."""
        self.do(self._pick_place)

    def take_scanned(self, scanned: Scanned) -> None:
        """Goes to the press that was scanned, or selects the first line of what hangs here."""
        if isinstance(scanned, ScannedItem) and scanned.kind == Kind.PRESS and scanned.item != self._place:
            self.do(partial(self._go_to, scanned.item))
            return
        if isinstance(scanned, ScannedItem):
            self._lines.select_item(scanned.item)
        super().take_scanned(scanned)

    async def _pick_place(self) -> None:
        places, items = await self.desk.clerk.ask(lambda book: (book.places(), book.items()))
        presses = {item.id: item.title for item in items if item.kind is Kind.PRESS}
        stands = {**{place.id: place.title for place in places}, **presses}
        options = [(key, said("{place}  {title}", place=key, title=title)) for key, title in sorted(stands.items())]
        place = await self.asked(PickScreen(self.desk, said("Which place?"), options))
        if place is not None:
            await self._go_to(place)

    async def _go_to(self, place: str) -> None:
        self._place = place
        self._entry.clear()
        await self._open()


def _is_done(walk: Round, line: BoardLine) -> bool:
    return any(row.done and row.line.line == line.line for row in walk.rows)


def _count_is_missing(walk: Round, shift: ShiftSpan | None) -> bool:
    """Whether the press here has no count since the running shift began."""
    if walk.press is None or shift is None:
        return False
    return walk.last_count_at is None or walk.last_count_at < shift.start
