"""The form of a check: occasion, crimp, gauge, readings, looks, pull test, name.  Nothing typed is lost."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.widget import Widget

from tui.keys import Where, bindings_at
from tui.messages import Chosen
from tui.present.checking import (
    BROKE_WORDS,
    OCCASIONS,
    AsTyped,
    as_typed,
    before_saving,
    caution_of,
    crimp_text,
    head_said,
    numbered,
    occasion_rows,
)  # fmt: skip
from tui.present.people import found_text, meant, unknown_text
from tui.present.signing import lacks_reading, meaning_said
from tui.present.words import wrapped
from tui.screens.checks.checking import MEANING, checked_as, head_of
from tui.screens.frame.base import DeskScreen
from tui.screens.frame.desk import Desk, Here, Signed
from tui.screens.who.identify import proven
from tui.widgets.check_rows import CheckRows, Typed
from tui.widgets.fields import Field
from tui.widgets.folded_choice import FoldedChoice
from tui.widgets.labelled_field import LabelledField
from tui.widgets.one_key import OneKey
from tui.widgets.save_bar import SaveBar
from tui.widgets.unfilled import Unfilled
from upkeep.entries.checking import Check, Measured, checks_of
from upkeep.plant.model import Point
from upkeep.said import said
from upkeep.units.measures import Shown, read_in
from upkeep.views.check_forms import CheckForm
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.wording.holds import hold_said
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said
from upkeep.wording.text import fit

_NOTHING = {"pull": said("This crimp has no pull test."), "wear": said("This crimp has no points that show wear.")}


class CheckScreen(DeskScreen[Signed | None]):
    """Asks for all that a check needs; on save it is written, or the reason why not is shown below."""

    BINDINGS = bindings_at(Where.CHECK)
    WHERE = Where.CHECK
    DEFAULT_CSS = """
    CheckScreen VerticalScroll { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    CheckScreen #rows { height: auto; }
    """

    def __init__(self, desk: Desk, form: CheckForm) -> None:
        super().__init__(desk)
        self._form = form
        self._leaving = False
        self._opened: set[str] = set()
        occasions, crimps = list(OCCASIONS), [crimp.id for crimp in form.crimps]
        chosen = occasions.index(form.occasion) if form.occasion in occasions else None
        self._occasion = FoldedChoice(desk.words(said("Occasion")), occasion_rows(desk.reader), chosen, desk.reader)
        likely = crimps.index(form.crimp) if form.crimp in crimps else None
        self._crimp = FoldedChoice(
            desk.words(said("Crimp")), numbered(map(crimp_text, form.crimps)), likely, desk.reader
        )
        self._rows_of_crimp: CheckRows | None = None
        self._box = Vertical(id="rows")
        here = desk.here.id if desk.here else ""
        self._signer = LabelledField(
            desk.words(said("Name: your short id")), here, judge=partial(found_text, form.signers, reader=desk.reader)
        )

    # Laying the form out

    def compose(self) -> ComposeResult:
        """The head, the form itself, the sentences, the keys."""
        yield self.rows("head", "-loud")
        with VerticalScroll(can_focus=False):
            yield self.rows("caution", "-loud")
            yield self.rows("held", "-strong")
            yield self._occasion
            yield self._crimp
            yield self._box
            yield self._signer
            yield self.rows("typed", "-strong")
            yield self.rows("meaning", "-strong")
            yield SaveBar(self.desk.words(said("[ Save: press Enter ]")))
        yield self.rows("said", "-strong")
        yield self.key_line()

    async def on_mount(self) -> None:
        """Shows what is asked; the first thing to fill in waits for input."""
        await self._take_crimp()
        self._go_on()

    def on_resize(self) -> None:
        """Breaks the texts for the width."""
        self._show_texts()

    def _show_texts(self) -> None:
        form, width = self._form, max(self.app.size.width - 3, 20)
        self.rows("head").show([fit(f" {self.desk.words(head_said(form))}", self.app.size.width)])
        caution = caution_of(self.occasion)
        mind = wrapped(self.desk.words(caution), width - 2) if caution else ()
        self.rows("caution").show([f" {fit(row, width - 2)} " for row in mind])
        self.rows("meaning").show([fit(self.desk.words(meaning_said(MEANING)), width).rstrip()])
        self.rows("held").show(
            wrapped(self.desk.words(said("HELD: {why}", why=hold_said(form.hold))), width, 2) if form.hold else ()
        )

    async def _take_crimp(self) -> None:
        """Lays out the rows of the chosen crimp; what was typed goes along."""
        old, chosen = self._rows_of_crimp, self._crimp.chosen
        if chosen is None or (old is not None and old.crimp is self._form.crimps[chosen]):
            self._show_asked()
            return
        rows = CheckRows(
            self._form.crimps[chosen], self._form.gauges, old.typed() if old else Typed(), self.desk.reader
        )
        rows.show(self.occasion, self._opened)
        self._rows_of_crimp = rows
        if old is not None:
            await old.remove()
        await self._box.mount(rows)
        self._show_asked()

    def _show_asked(self) -> None:
        if self._rows_of_crimp is not None:
            self._rows_of_crimp.show(self.occasion, self._opened)
        self._show_texts()
        self._show_typed()

    def _as_typed(self) -> AsTyped:
        return as_typed(
            ((point, field.value) for point, field in self._fields()), self._looked(), self.desk.reader.units
        )

    def _show_typed(self) -> None:
        typed = before_saving(self._as_typed())
        self.rows("typed").show(wrapped(self.desk.words(typed), max(self.app.size.width - 3, 20)) if typed else ())

    @property
    def occasion(self) -> str | None:
        """The occasion picked; None: none so far."""
        return None if self._occasion.chosen is None else list(OCCASIONS)[self._occasion.chosen]

    def _fields(self) -> Iterator[tuple[Point, Field]]:
        rows = self._rows_of_crimp
        return ((point, field) for point in rows.points for field in rows.fields(point)) if rows else iter(())

    def _looked(self) -> list[tuple[str, str | None]]:
        return [(look, row.key) for look, row in self._rows_of_crimp.looks()] if self._rows_of_crimp else []

    # From field to field

    def _go_on(self) -> None:
        """Goes to the first thing that is still to be filled in."""
        for choice in (self._occasion, self._crimp):
            if choice.chosen is None:
                choice.focus()
                return
        still = self._rows_of_crimp.open_field() if self._rows_of_crimp else None
        (still or self._signer.field).focus()

    async def on_chosen(self, message: Chosen) -> None:
        """Goes on after a number: to the first thing that the choice leaves open."""
        message.stop()
        await self._take_crimp()
        self._go_on()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        """A letter answers only where it is asked for; anywhere else it is typed."""
        asked = action != "answer" or (isinstance(self.focused, OneKey) and self.focused.takes(str(parameters[0])))
        return asked and super().check_action(action, parameters)

    def action_answer(self, key: str) -> None:
        """Answers the question that has the keys, and goes on to the next."""
        if isinstance(self.focused, OneKey):
            self.focused.answer(key)
            self._show_typed()
            self.focus_next()

    def on_input_changed(self) -> None:
        """Says what the values mean so far."""
        self._show_typed()

    def action_next_field(self) -> None:
        """Goes on to the next field; on the last one it saves."""
        if isinstance(self.focused, SaveBar):
            self.action_save()
        elif isinstance(self.focused, FoldedChoice):
            self.do(self._chosen_by_enter)
        else:
            self.focus_next()

    async def _chosen_by_enter(self) -> None:
        await self._take_crimp()
        self.focus_next()

    def action_occasion(self) -> None:
        """Goes to the occasion."""
        self._occasion.focus()

    def action_open_part(self, part: str) -> None:
        """Opens a part of the form and goes there."""
        rows = self._rows_of_crimp
        gate = rows.gate(part) if rows else None
        if gate is None:
            self.say(_NOTHING[part] if rows else said("First choose the crimp."))
            return
        self._opened.add(part)
        self._show_asked()
        gate.focus()

    def action_leave(self) -> None:
        """Goes back; asks for a second press once something was typed."""
        filled = any(field.value for _, field in self._fields()) or any(key for _, key in self._looked())
        if filled and not self._leaving:
            self._leaving = True
            self.say(said("Press Esc once more to go back; what you typed will be lost."))
        else:
            super().action_leave()

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes a gauge, if it counts, for the points it measures; whatever else was scanned is told."""
        rows = self._rows_of_crimp
        if not isinstance(scanned, ScannedItem) or scanned.gauge is None or rows is None:
            self.say(not_wanted_said(scanned, head_said(self._form)))
        elif not scanned.gauge.valid:
            self.say(gauge_not_valid(scanned))
        elif rows.choose_gauge(scanned.item):
            self.say(scanned_said(scanned))
        else:
            self.say(not_wanted_said(scanned, head_said(self._form)))

    # Saving

    def action_save(self) -> None:
        """Writes the check."""
        self.save(self._save)

    async def _save(self) -> None:
        try:
            by, entries = self._filled()
        except Unfilled as missing:
            missing.go_there()
            self.say(missing.said)
            return
        proven_by = await proven(self, by)
        if proven_by is not None:
            self.leave(await checked_as(self.desk, proven_by, entries, self._as_typed().words))

    def _filled(self) -> tuple[Here, tuple[Check, ...]]:
        """Who checked and what; raises :class:`Unfilled` at the first field that lacks something."""
        occasion, rows = self.occasion, self._rows_of_crimp
        if occasion is None:
            raise Unfilled(said("Choose the occasion: press its number."), self._occasion)
        if rows is None:
            raise Unfilled(said("Choose the crimp that was run: press its number."), self._crimp)
        measured, looks = tuple(_measured(rows)), tuple(_judged(rows))
        if not (measured or looks):
            raise Unfilled(
                said("Nothing was measured and nothing was looked at; type what you found."), _first(rows, self)
            )
        typed = self._signer.field.value
        person = meant(self._form.signers, typed)
        if person is None:
            raise Unfilled(unknown_text(self._form.signers, typed), self._signer.field)
        by = Here(*person)
        head = head_of(self.desk.now(), by, self._form.item, occasion, rows.crimp.id, rows.named())
        return by, checks_of(head, measured, looks)


def _first(rows: CheckRows, screen: CheckScreen) -> Widget:
    return rows.open_field() or screen


def _measured(rows: CheckRows) -> Iterator[Measured]:
    """The readings of each point; raises :class:`Unfilled` where some of a point, or its gauge, is missing."""
    asked = () if _only_besides(rows) else rows.asked
    settings = {point.id for point in rows.crimp.settings}
    for point in rows.points:
        fields = rows.fields(point)
        wanted = point in asked and point.id not in settings
        if wanted or any(field.value.strip() for field in fields):
            broke = tuple(_broke(field) for field in rows.broke()) if point == rows.crimp.pull else ()
            yield Measured(
                point.id, tuple(_value(point, field, rows.units) for field in fields), _gauge(rows, point), broke
            )


def _only_besides(rows: CheckRows) -> bool:
    """Whether pulls or points of wear were measured, and nothing of what the occasion asks for."""
    typed = [point for point in rows.points if any(field.value.strip() for field in rows.fields(point))]
    begun = any(point in rows.asked for point in typed) or any(row.key for _, row in rows.looks())
    return any(point not in rows.crimp.settings for point in typed) and not begun


def _value(point: Point, field: Field, units: Shown) -> float:
    value = read_in(field.value, point.unit, units)
    if value is None:
        raise Unfilled(lacks_reading(point, units), field)
    return value


def _gauge(rows: CheckRows, point: Point) -> str | None:
    if point.gauge_class is None:
        return None
    choice, chosen = rows.gauge(point.gauge_class)
    if chosen is None:
        raise Unfilled(
            said(
                "Choose the {gauge_class} that measured {point}: press its number.",
                gauge_class=point.gauge_class,
                point=point.title,
            ),
            choice,
        )
    return chosen


def _broke(row: OneKey) -> str:
    if row.key is None:
        raise Unfilled(said("Say how each pulled piece broke: w, p or t."), row)
    return BROKE_WORDS[row.key]


def _judged(rows: CheckRows) -> Iterator[tuple[str, bool]]:
    """The looks that were judged; raises :class:`Unfilled` at one that was not answered."""
    if _only_besides(rows):
        return
    for look, row in rows.looks():
        if row.key is None:
            raise Unfilled(said("Look at the {look}. Press g (good), b (bad) or n (not looked at).", look=look), row)
        if row.key != "n":
            yield look, row.key == "g"
