"""Something was found: its number, whether it stands still for it, and the name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at, foot_at
from tui.present.findings import finding_rows, finding_typed, first_rows
from tui.present.words import wrapped
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk
from tui.screens.who.identify import person_at
from tui.widgets.fields import Field
from upkeep.entries.faults import Fault
from upkeep.quality.symptoms import IN_WORDS, Symptom, item_of
from upkeep.said import Numeral, Said, in_turn, said, said_as, term
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.cautions import caution
from upkeep.wording.text import padded

_WIDTH = 70


class FaultScreen(Asker[Said]):
    """What was found on which item; the answer says what was written.  Who signs is asked last, where nobody has said
    so yet."""

    BINDINGS = bindings_at(Where.FAULT, Where.FOUND)
    WHERE = Where.FAULT

    def __init__(self, desk: Desk, items: Sequence[str]) -> None:
        super().__init__(desk)
        self._items, self._place = tuple(items), 0
        self._picked_item = self._all = False
        self._field = Field(id="symptom", longest=120)
        self._finding: tuple[Symptom | None, str] | None = None
        self._stopped: bool | None = None

    def asks(self) -> Iterable[Widget]:
        """The item, the symptoms or the one picked with its caution, the field, the question that is next."""
        yield self.rows("question", "-strong")
        yield self.rows("words")
        yield self.rows("caution", "-loud")
        yield self._field
        yield self.rows("next", "-strong")

    def keys_now(self) -> Foot:
        """Those of the list while a symptom is picked; then the answers, and Enter once it can sign."""
        if self._finding is None:
            return ((term("enter", "key"), said_as("foot", "next")), *foot_at(Where.FOUND))
        return (
            *([(term("enter", "key"), said_as("foot", "sign"))] if self._stopped is not None else []),
            *foot_at(Where.FAULT),
        )

    def on_mount(self) -> None:
        """Waits for a number or words."""
        self._show()

    def _show(self) -> None:
        item, picked = self._items[self._place], self._finding
        seen = (picked[0] or IN_WORDS) if picked else None
        mind = wrapped(self.desk.words(caution(seen.cautions)), _WIDTH) if seen else ()
        self.rows("question").show([self.desk.words(said("Found on {item}: {what}", item=item, what=self._what()))])
        listed = finding_rows if self._all else first_rows
        self.rows("words").show(() if picked else listed(self.desk.reader))
        self.rows("caution").show([f" {padded(row, _WIDTH)} " for row in mind])
        self._field.display = picked is None
        self.rows("next").show([self.desk.words(self._next(item))] if picked else ())
        self.show_keys()

    def _what(self) -> Said:
        if self._finding is None:
            return said("type its number, or your own words")
        return term(self._finding[1])

    def _next(self, item: str) -> Said:
        if self._stopped is None:
            return said("Does {item} have to stop?  y: held until released   n: keeps running", item=item)
        here = self.desk.here
        does = said("stopped, held until released") if self._stopped else said("goes on running")
        if here is None:
            return said("{item} {does}. Enter signs.", item=item, does=does)
        return said("{item} {does}. Enter signs as {name}.", item=item, does=does, name=here.name)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes the number or the words; what maintenance alone may touch stands still at once."""
        event.stop()
        self._finding = finding_typed(event.value)
        if self._finding is None:
            self.say(said("Type a number from the list, or what you see in your own words."))
            return
        self.say(None)
        seen = self._finding[0]
        self._stopped = True if seen is not None and seen.maintenance_only else None
        self.set_focus(None)
        self._field.can_focus = False
        self.do(self._meet_item)

    async def _meet_item(self) -> None:
        """Goes to the item the symptom is mostly about, unless another one was chosen."""
        if self._finding is not None and self._finding[0] is not None and not self._picked_item:
            kinds = {item.id: item.kind for item in await self.desk.clerk.ask(lambda book: book.items())}
            item = item_of(self._finding[0].id, ((item, kinds.get(item, "")) for item in self._items))
            self._place = self._items.index(item) if item in self._items else self._place
        self._show()

    def action_all_symptoms(self) -> None:
        """Shows all symptoms, or the first ones again."""
        self._all = not self._all
        self._show()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        """A symptom is picked first, whether it stands and who signs comes after."""
        if action in ("stands", "sign_found") and self._finding is None:
            return False
        return not (action == "all_symptoms" and self._finding is not None) and super().check_action(action, parameters)

    def action_stands(self, stands: bool) -> None:
        """Says whether the item stands still for it."""
        if self._finding is not None:
            self._stopped = stands
            self._show()

    def action_other_item(self) -> None:
        """Goes on to the next item here."""
        self._place, self._picked_item = (self._place + 1) % len(self._items), True
        self._show()

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes the item it was found on, if it is one of those here."""
        if isinstance(scanned, ScannedItem) and scanned.item in self._items:
            self._place = self._items.index(scanned.item)
            self.say(None)
            self._show()
        else:
            super().take_scanned(scanned)

    def action_sign_found(self) -> None:
        """Signs and writes the finding, once it is said whether the item stands still."""
        if self._finding is not None and self._stopped is not None:
            self.save(self._write)
        else:
            self.say(said("First say whether it has to stop: y or n."))

    async def _write(self) -> None:
        by = await person_at(self)
        if by is None or self._finding is None:
            return
        item, (seen, words) = self._items[self._place], self._finding
        fault = Fault(
            at=self.desk.now(), by=by.id, item=item, symptom=words, listed=seen.id if seen else None,
            stopped=bool(self._stopped),
        )  # fmt: skip
        reported = await self.desk.written(fault, by=by)
        number = reported.entries[0]
        self.desk.remember(reported, by, fault.at, said("report on {item}: {words}", item=item, words=words), item=item)
        written = said(
            "REPORTED on {item}: {words}. Written as #{entry} by {name}.",
            item=item,
            words=words,
            entry=Numeral(number),
            name=by.name,
        )
        self.leave(in_turn(written, said("It is held until it is released.") if self._stopped else None))
