"""What a book answers to somebody who has the tools in hand."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.book.under_way import UnderWay
from upkeep.said import Said

if TYPE_CHECKING:
    from upkeep.answers.press.changing import Changing
    from upkeep.answers.press.step_forms import StepForms
    from upkeep.answers.whereabouts.moves import Moves
    from upkeep.scan_codes import ScanCode
    from upkeep.views.scanned import Scanned
    from upkeep.views.signing import SignForm


class AtThePress(UnderWay):
    """The questions of a form before it is filled in: a sign-off, a fitting, a scan."""

    def sign_form(self, line: str, at: datetime, *, known_at: datetime | None = None) -> SignForm:
        """All that a sign-off of a line asks for."""
        from upkeep.answers.sign_form import sign_form

        return sign_form(self._seen_from.at(at, known_at), line)

    def occurrence_signed(self, line: str, at: datetime) -> str:
        """What a sign-off of a line answers where its writer names no occurrence and did the work at a moment."""
        from upkeep.answers.sign_form import occurrence_signed

        last = self.last_moment()
        return occurrence_signed(self.line(line, max(at, last) if last else at), self.calendar, at)

    def before_fitting(self, item: str, at: datetime) -> tuple[Said, ...]:
        """What to know before an item is fitted: overdue work, a first use, orders that run past a limit."""
        from upkeep.answers.before_running import before_fitting

        return tuple(before_fitting(self._seen_from.at(at), item, at))

    def moves(self, at: datetime, by: str, because: str = "") -> Moves:
        """What is written where somebody changes tools at a moment."""
        from upkeep.answers.whereabouts.moves import Moves

        return Moves(self._seen_from.at(at), by, because)

    def changing(self, at: datetime) -> Changing:
        """Changes of tools: which is open on a press, and what to know before one begins."""
        from upkeep.answers.press.changing import Changing

        return Changing(self._seen_from.at(at))

    def step_forms(self, at: datetime) -> StepForms:
        """What the next step of a change of tools asks for, and the entries that it writes."""
        from upkeep.answers.press.step_forms import StepForms

        return StepForms(self._seen_from.at(at))

    def scanned(self, code: ScanCode, at: datetime) -> Scanned:
        """What a scanned code stands for: an item, a row of a printed week, a seal; :attr:`naming` knows badges."""
        from upkeep.answers.press.scanned import scanned

        return scanned(self._seen_from.now(at), code)
