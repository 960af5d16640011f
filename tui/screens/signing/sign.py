"""The sign-off form: caution, steps, points, gauge, grade, certificate, remark, name.  Nothing typed is lost."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from tui.keys import Where, bindings_at
from tui.messages import Chosen
from tui.present.people import found_text, meant, unknown_text
from tui.present.signing import (
    GRADES,
    answers_text,
    grade_text,
    meaning_said,
    step_rows,
    work_said,
)  # fmt: skip
from tui.present.words import wrapped
from tui.screens.frame.base import DeskScreen
from tui.screens.frame.desk import Desk, Here, Signed
from tui.screens.signing.signing import as_extra, extra_text, sign_off, signed_as
from tui.screens.who.identify import proven
from tui.widgets.fields import Field
from tui.widgets.folded_choice import FoldedChoice
from tui.widgets.labelled_field import LabelledField
from tui.widgets.measured_rows import POINT_WIDTH, MeasuredRows
from tui.widgets.save_bar import SaveBar
from tui.widgets.unfilled import Unfilled
from upkeep.entries.signing import Calibration, Sign
from upkeep.errors import AlreadySigned
from upkeep.said import said
from upkeep.views.scanned import Scanned, ScannedItem
from upkeep.views.signing import SignForm, with_measured
from upkeep.wording.cautions import caution
from upkeep.wording.certificates import CERTIFICATE, certificate_of, lacking
from upkeep.wording.evidence.late_reasons import is_late, picked, why_late
from upkeep.wording.scanned import gauge_not_valid, not_wanted_said, scanned_said
from upkeep.wording.text import fit


class SignScreen(DeskScreen[Signed | None]):
    """Asks for all that a sign-off needs; on save it is written, or the reason why not is shown below."""

    BINDINGS = bindings_at(Where.FORM)
    WHERE = Where.FORM
    DEFAULT_CSS = """
    SignScreen VerticalScroll { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    SignScreen #caution { margin-top: 1; }
    """

    def __init__(self, desk: Desk, form: SignForm) -> None:
        super().__init__(desk)
        self._form = form
        self._leaving = False
        self._measured = MeasuredRows(form, desk.reader, desk.standing_at(desk.now()).zone)
        grades = [grade_text(grade, desk.reader) for grade in GRADES]
        self._grade = FoldedChoice(desk.words(said("Grade")), grades, None, desk.reader, POINT_WIDTH)
        asked = CERTIFICATE if form.calibrates else {}
        self._certificate = {name: LabelledField(desk.words(label)) for name, label in asked.items()}
        self._late = is_late(form.line)
        self._remark = LabelledField(
            desk.words(said("Why it is late") if self._late else said("Remark, if there is one"))
        )
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
            yield self.rows("answers")
            yield self.rows("steps")
            yield self._measured
            if self._form.graded:
                yield self._grade
            yield self.rows("photo")
            if self._certificate:
                yield self.rows("certificate", "-strong")
                yield from self._certificate.values()
            yield self._remark
            yield self._signer
            yield self.rows("meaning", "-strong")
            yield SaveBar(self.desk.words(said("[ Save: press Enter ]")))
        yield self.rows("said", "-strong")
        yield self.key_line()

    def on_mount(self) -> None:
        """Names the choices; the first thing to fill in waits for input, the caution stays in sight."""
        self.rows("certificate").show([self.desk.words(said("Its certificate; all empty where none came with it"))])
        self._measured.show_asked()
        first = self._measured.open_field() or (self._grade if self._form.graded else self._typed_into()[0])
        first.focus(scroll_visible=False)

    def on_resize(self) -> None:
        """Breaks the texts for the width."""
        form, width = self._form, max(self.app.size.width - 3, 20)
        head = said("Sign off: {work}", work=work_said(form.line))
        self.rows("head").show([fit(f" {self.desk.words(head)}", self.app.size.width)])
        mind = wrapped(self.desk.words(caution([form.caution])), width - 2)
        self.rows("caution").show([f" {fit(row, width - 2)} " for row in mind])
        answers = wrapped(answers_text(form.line, self.desk.standing_at(self.desk.now())), width)
        late = wrapped(self.desk.words(why_late()), width) if self._late else []
        self.rows("answers").show([*answers, *late])
        self.rows("steps").show(step_rows(form.steps, width, self.desk.reader))
        if form.photo:
            photo = said(
                "Photo: {what}. Take it, sign, then press a on the page behind: it goes with the sign-off.",
                what=form.photo,
            )
            self.rows("photo").show(wrapped(self.desk.words(photo), width))
        self.rows("meaning").show(wrapped(self.desk.words(meaning_said(form.meaning)), width))

    # From field to field

    def action_next_field(self) -> None:
        """Goes on to the next field; on the last one it saves."""
        if isinstance(self.focused, SaveBar):
            self.action_save()
        else:
            self._go_on()

    def on_chosen(self, message: Chosen) -> None:
        """Goes on after a number: to the next thing that is asked."""
        message.stop()
        self._go_on()

    def _go_on(self) -> None:
        self._measured.show_asked()
        opened = self._measured.opened_by(self.focused)
        if opened is not None:
            opened.focus()
        else:
            self.focus_next()

    def action_leave(self) -> None:
        """Goes back; asks for a second press once something was typed."""
        if (self._measured.typed or any(field.value for field in self._typed_into())) and not self._leaving:
            self._leaving = True
            self.say(said("Press Esc once more to go back; what you typed will be lost."))
        else:
            super().action_leave()

    def _typed_into(self) -> list[Field]:
        return [row.field for row in (*self._certificate.values(), self._remark)]

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes the gauge, if it counts; whatever else was scanned is told."""
        ids = {gauge.id for gauges in self._form.gauges for gauge in gauges.choices}
        if not isinstance(scanned, ScannedItem) or scanned.item not in ids:
            self.say(not_wanted_said(scanned, work_said(self._form.line)))
        elif scanned.gauge is None or not scanned.gauge.valid:
            self.say(gauge_not_valid(scanned))
        elif self._measured.choose_gauge(scanned.item):
            self.say(scanned_said(scanned))
        else:
            self.say(not_wanted_said(scanned, work_said(self._form.line)))

    # Saving

    def action_save(self) -> None:
        """Writes the sign-off."""
        self.save(partial(self._save, extra=False))

    def action_save_extra(self) -> None:
        """Writes the work as an extra."""
        self.save(partial(self._save, extra=True))

    async def _save(self, extra: bool) -> None:
        try:
            by, entry = self._filled()
        except Unfilled as missing:
            missing.go_there()
            self.say(missing.said)
            return
        proven_by = await proven(self, by, meaning_said(self._form.meaning))
        if proven_by is None:
            return
        by = proven_by
        try:
            signed = await signed_as(self.desk, self._form, by, as_extra(entry) if extra else entry)
        except AlreadySigned as refusal:
            self.say(extra_text(refusal))
        else:
            self.leave(signed)

    def _filled(self) -> tuple[Here, Sign]:
        """Who signs and what; raises :class:`Unfilled` at the first field that lacks something."""
        values, gauges = self._measured.values(), self._measured.gauges()
        if self._form.graded and self._grade.chosen is None:
            raise Unfilled(said("Give the grade: 0 to 4."), self._grade)
        certificate = self._told_of_certificate()
        typed = self._signer.field.value
        person = meant(self._form.signers, typed)
        if person is None:
            raise Unfilled(unknown_text(self._form.signers, typed), self._signer.field)
        by = Here(*person)
        entry = replace(
            sign_off(self.desk, self._form, by),
            grade=self._grade.chosen,
            remark=picked(self._remark.field.value) if self._late else self._remark.field.value.strip(),
            calibration=certificate,
        )
        return by, with_measured(entry, self._form, values, gauges)

    def _told_of_certificate(self) -> Calibration | None:
        typed = {name: row.field.value for name, row in self._certificate.items()}
        if (lack := lacking(typed)) is not None:
            name, sentence = lack
            raise Unfilled(sentence, self._certificate[name].field)
        return certificate_of(typed)
