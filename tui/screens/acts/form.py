"""The form of a deed: its fields one below the other, what it would move, and then it is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from functools import partial

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.messages import Chosen
from tui.present.effect import effect_rows
from tui.present.typed import option_text
from tui.present.words import wrapped
from tui.screens.acts.deed import Ask, Asks, Deed, Filled, Subject, Typed
from tui.screens.acts.reading import read
from tui.screens.frame.base import DeskScreen
from tui.screens.frame.book_door import BookDoor
from tui.screens.frame.desk import Desk, Here, Signed
from tui.widgets.folded_choice import FoldedChoice
from tui.widgets.labelled_field import LabelledField
from tui.widgets.save_bar import SaveBar
from tui.widgets.unfilled import Unfilled
from upkeep.entries.entry import Entry
from upkeep.entries.origin import ON_A_SCREEN
from upkeep.errors import StrokebookError
from upkeep.said import Said, said
from upkeep.views.written import Written
from upkeep.wording.cautions import caution
from upkeep.wording.text import fit

WHEN = Ask("when", said("When, if not now, like 6:05"), Asks.MOMENT, needed=False)
"""Asked in the form of every deed that may have happened at another time."""

_EFFECT_ROWS = 9


class DeedScreen(DeskScreen[Signed | None]):
    """Asks for all that a deed needs.  What it would move is shown before it is written: Enter then writes it."""

    BINDINGS = bindings_at(Where.DEED)
    WHERE = Where.DEED
    DEFAULT_CSS = """
    DeedScreen VerticalScroll { height: 1fr; padding: 1 1 0 1; scrollbar-size-vertical: 1; }
    DeedScreen LabelledField.-short Field { width: 22; }
    DeedScreen #effect { margin-top: 1; }
    """

    def __init__(
        self, desk: Desk, deed: Deed, subject: Subject, asks: Sequence[Ask], by: Here, minds: Sequence[Said] = ()
    ) -> None:
        super().__init__(desk)
        self._deed, self._subject, self._by, self._minds = deed, subject, by, tuple(dict.fromkeys(minds))
        self._asks = (*asks, *([WHEN] if deed.when else ()))
        self._fields = [(ask, self._field_for(ask)) for ask in self._asks]
        self._shown_effect: Mapping[str, Typed] | None = None
        self._leaving = False

    def _field_for(self, ask: Ask) -> LabelledField | FoldedChoice:
        words, label = self.desk.words, self.desk.words(_label_said(ask))
        if ask.asks is Asks.PICK:
            keys = [key for key, _ in ask.options]
            rows = [f"{place}  {words(option)}" for place, (_, option) in enumerate(ask.options, 1)]
            return FoldedChoice(label, rows, keys.index(ask.preset) if ask.preset in keys else None, self.desk.reader)
        judge = partial(option_text, ask.options, reader=self.desk.reader) if ask.asks is Asks.NAMED else None
        if ask.beside is not None:
            judge = partial(_beside, words(ask.beside))
        return LabelledField(label, ask.preset, judge)

    def compose(self) -> ComposeResult:
        """The head, the fields, what it would move, the sentences, the keys."""
        yield self.rows("head", "-loud")
        with VerticalScroll(can_focus=False):
            yield self.rows("caution", "-loud")
            yield from (field for _, field in self._fields)
            yield SaveBar(self.desk.words(said("[ Write: press Enter ]")))
            yield self.rows("effect", "-strong")
        yield self.rows("said", "-strong")
        yield self.key_line()

    def on_mount(self) -> None:
        """The first field that nothing stands in takes the keys."""
        empty = [field for _, field in self._fields if not self._typed(field)]
        _takes_keys(empty[0] if empty else self.query_one(SaveBar)).focus()

    def on_resize(self) -> None:
        """Says at the head what is done to what, and by whom."""
        about = [line.line for line in self._subject.lines] or [self._subject.item or ""]
        what = said("{deed}: {item}", deed=self._deed.name, item=", ".join(filter(None, about)))
        head = said("{what}   by {name}", what=what if any(about) else self._deed.name, name=self._by.name)
        width = self.app.size.width
        self.rows("head").show([fit(f" {self.desk.words(head)}", width)])
        mind = wrapped(self.desk.words(caution(self._minds)), max(width - 5, 20)) if self._minds else ()
        self.rows("caution").show([f" {fit(row, max(width - 5, 20))} " for row in mind])

    # From field to field

    def action_next_field(self) -> None:
        """Goes on to the next field; on the last one it writes."""
        if isinstance(self.focused, SaveBar):
            self.action_save()
        else:
            self.focus_next()

    def on_chosen(self, message: Chosen) -> None:
        """Goes on from what a number chose."""
        message.stop()
        self.focus_next()

    def on_input_changed(self, event: Input.Changed) -> None:
        """What was shown of the effect holds no more."""
        self._forget_effect()

    def action_leave(self) -> None:
        """Goes back; asks for a second press once something was typed."""
        typed = any(self._typed(field) != ask.preset for ask, field in self._fields if isinstance(field, LabelledField))
        if typed and not self._leaving:
            self._leaving = True
            self.say(said("Press Esc once more to go back; what you typed will be lost."))
        else:
            super().action_leave()

    # Reading what was filled in

    def _typed(self, field: LabelledField | FoldedChoice) -> str:
        """What stands in a field: text, or the key of what is chosen."""
        if isinstance(field, LabelledField):
            return field.field.value.strip()
        ask = next(ask for ask, one in self._fields if one is field)
        return "" if field.chosen is None else ask.options[field.chosen][0]

    def _filled(self, at: datetime) -> Filled:
        values = dict(self._values(at))
        when = values.pop(WHEN.key, None) if self._deed.when else None
        return Filled(self._subject, when if isinstance(when, datetime) else at, self._by.id, values)

    def _values(self, at: datetime) -> Iterator[tuple[str, Typed]]:
        for ask, field in self._fields:
            typed = self._typed(field)
            if typed:
                yield ask.key, self._read(ask, field, typed, at)
            elif ask.needed:
                raise Unfilled(said("Fill in: {label}.", label=ask.label), _takes_keys(field))

    def _read(self, ask: Ask, field: LabelledField | FoldedChoice, typed: str, at: datetime) -> Typed:
        try:
            return read(ask, typed, self.desk.standing_at(at))
        except StrokebookError as refusal:
            raise Unfilled(refusal.said, _takes_keys(field)) from None

    # What it would move, and writing

    def action_save(self) -> None:
        """Shows what it would move, and writes once that was seen."""
        self.save(self._save)

    async def _save(self) -> None:
        at = self.desk.now()
        try:
            filled = self._filled(at)
        except Unfilled as missing:
            self._forget_effect()
            missing.go_there()
            self.say(missing.said)
            return
        entries, would = await self.desk.clerk.ask(lambda book: self._tried(book, filled))
        self.say(None)
        if not self._deed.at_once and (would.changes or would.notes) and self._shown_effect != filled.values:
            self._show_effect(filled, would)
            return
        written = await self.desk.written(*entries, by=self._by)
        told = self._deed.told(filled)
        item = self._subject.item if len(self._subject.lines) < 2 else None
        self.leave(self.desk.remember(written, self._by, at, told, None, item))

    def _tried(self, book: BookDoor, filled: Filled) -> tuple[Sequence[Entry], Written]:
        entries = self._deed.entries(book, filled)
        return entries, book.tried(entries, self.desk.recording(), ON_A_SCREEN)

    def _show_effect(self, filled: Filled, would: Written) -> None:
        self._shown_effect = filled.values
        now, width = self.desk.standing_at(self.desk.now()), max(self.app.size.width - 4, 20)
        self.rows("effect").show(effect_rows(would, now, width, _EFFECT_ROWS))
        self.query_one(SaveBar).focus()
        self.say(said("Nothing is written yet. Enter writes it; Esc goes back."))

    def _forget_effect(self) -> None:
        if self._shown_effect is not None:
            self._shown_effect = None
            self.rows("effect").show(())
            self.say(None)


def _label_said(ask: Ask) -> Said:
    label = ask.label if ask.unit is None else said("{label} ({unit})", label=ask.label, unit=ask.unit)
    return label if ask.needed else said("{label}, if any", label=label) if ask is not WHEN else label


def _takes_keys(field: Widget) -> Widget:
    """What of a field has the keys."""
    return field.field if isinstance(field, LabelledField) else field


def _beside(words: str, typed: str) -> str:
    """What stands beside a field whatever is typed."""
    return words
