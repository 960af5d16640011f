"""The short sign-off: a caution, what the name means, a name, Enter."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.people import found_text, meant
from tui.present.signing import answers_text, meaning_said, step_rows, work_said
from tui.present.words import wrapped
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk, Here, Signed
from tui.screens.signing.signing import as_extra, extra_text, sign_off, signed_as
from tui.screens.who.identify import badge_meant, nobody_meant, proven
from tui.widgets.fields import Field
from upkeep.errors import AlreadySigned
from upkeep.said import Said, said, said_as, term
from upkeep.views.rights import Wish
from upkeep.views.signing import SignForm
from upkeep.wording.cautions import caution
from upkeep.wording.text import padded

_WIDTH = 70
_STEP_ROWS = 6


class SignNowScreen(Asker[Signed]):
    """Signs a line that asks for a name only.  Who is known already presses Enter; anybody else types over it."""

    BINDINGS = bindings_at(Where.SIGN)
    WHERE = Where.SIGN

    def __init__(self, desk: Desk, form: SignForm) -> None:
        super().__init__(desk)
        self._form = form
        self._field = Field(desk.here.id if desk.here else "", id="person", longest=32)

    def asks(self) -> Iterable[Widget]:
        """The work, its caution, the name and its meaning."""
        yield self.rows("work", "-strong")
        yield self.rows("caution", "-loud")
        yield self.rows("steps")
        yield self.rows("answers")
        yield self.rows("meaning", "-strong")
        yield self._field
        yield self.rows("found", "-strong")

    def keys_now(self) -> Foot:
        """Enter signs here."""
        return ((term("enter", "key"), said_as("foot", "sign")), *super().keys_now()[1:])

    def on_mount(self) -> None:
        """Fills the box."""
        line = self._form.line
        self.rows("work").show(wrapped(self.desk.words(said("Sign: {work}", work=work_said(line))), _WIDTH))
        mind = wrapped(self.desk.words(caution([self._form.caution])), _WIDTH)
        self.rows("caution").show([f" {padded(row, _WIDTH)} " for row in mind])
        self.rows("answers").show(wrapped(answers_text(line, self.desk.standing_at(self.desk.now())), _WIDTH, 2))
        self.rows("steps").show(step_rows(self._form.steps, _WIDTH, self.desk.reader)[:_STEP_ROWS])
        self.rows("meaning").show(wrapped(self.desk.words(self._meaning()), _WIDTH))
        self._show_found(self._field.value)

    def _meaning(self) -> Said:
        return meaning_said(self._form.meaning)

    def _show_found(self, typed: str) -> None:
        self.rows("found").show([f" {found_text(self._form.signers, typed, self.desk.reader)}"])

    def on_input_changed(self, event: Input.Changed) -> None:
        """Shows who is meant so far."""
        self.say(None)
        self._show_found(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Signs, or says why not."""
        event.stop()
        self._sign_as(event.value, extra=False)

    def action_save_extra(self) -> None:
        """Signs the work as an extra."""
        self._sign_as(self._field.value, extra=True)

    def _sign_as(self, typed: str, extra: bool) -> None:
        self.save(partial(self._sign, typed, extra))

    async def _sign(self, typed: str, extra: bool) -> None:
        person = meant(self._form.signers, typed) or await badge_meant(self, typed)
        if person is None:
            line = self._form.line
            wish = Wish("sign", item=line.item, task=line.task)
            self.say(await nobody_meant(self, wish, self._form.signers, typed))
            return
        by = await proven(self, Here(*person), self._meaning())
        if by is None:
            return
        entry = sign_off(self.desk, self._form, by)
        try:
            signed = await signed_as(self.desk, self._form, by, as_extra(entry) if extra else entry)
        except AlreadySigned as refusal:
            self.say(extra_text(refusal))
        else:
            self.leave(signed)
