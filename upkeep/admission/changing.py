"""Admission of how far a change of tools has come: one at a time on a press, and no release before all is done."""

from __future__ import annotations

from typing import ClassVar

from upkeep.admission import rules as checks
from upkeep.admission.jobs import check_not_locked
from upkeep.admission.lives import check_not_gone
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.press.changing import Changing
from upkeep.entries.fitting import Changeover, ChangeStage
from upkeep.errors import Refused
from upkeep.said import Moment, either, said
from upkeep.views.changeover import Change, Step
from upkeep.wording.changeover import step_said


class ChangeoverAdmission(SubjectAdmission):
    """Judges the stages of a change of tools."""

    def _check_stage(self, entry: Changeover) -> None:
        self._known.press(entry.press)
        self._counter.settle()
        changing = Changing(self._context.at(entry.at))
        change = changing.open_on(entry.press)
        if entry.stage is ChangeStage.BEGUN:
            self._check_begins(entry, changing, change)
        elif change is None:
            raise Refused(said("No change of tools is open on {press}. Begin one first.", press=entry.press))
        elif entry.item is not None:
            raise Refused(said("What goes in is said where the change begins, and only there."))
        else:
            self._check_goes_on(entry, change)

    def _check_begins(self, entry: Changeover, changing: Changing, change: Change | None) -> None:
        if change is not None:
            raise Refused(
                said(
                    "A change of tools is open on {press} already: {item} goes in, begun by {name}, {at}. Take it "
                    "over, or give it up first.",
                    press=entry.press, item=change.item, name=change.begun_by[1],
                    at=Moment(change.begun_at, self._known.zone),
                )
            )  # fmt: skip
        if entry.item is None:
            raise Refused(said("Say what goes in: the module or the die set."))
        item = self._known.item(entry.item)
        inside = self._known.item(changing.slot_on(entry.press, item))
        checks.check_fits(item, inside, self._known.zone.day(entry.at))
        check_not_gone(self._context, item.id, entry.at, said("fitted again"))
        if self._context.judge.sits_in(item.id) == inside.id:
            raise Refused(said("{item} is in {inside} already.", item=item.id, inside=inside.id))

    def _check_goes_on(self, entry: Changeover, change: Change) -> None:
        if entry.stage is ChangeStage.PAUSED and change.waits is not None:
            raise Refused(said("The change on {press} is paused already, by {name}.", press=entry.press,
                               name=change.waits.by))  # fmt: skip
        if entry.stage is ChangeStage.RESUMED and change.waits is None and entry.by == change.in_hand_of[0]:
            raise Refused(said("The change on {press} is yours already.", press=entry.press))
        if entry.stage is ChangeStage.GIVEN_UP and not entry.text.strip():
            raise Refused(said("Say why the change is given up."))
        if entry.stage is ChangeStage.RELEASED:
            self._check_is_done(entry, change)

    def _check_is_done(self, entry: Changeover, change: Change) -> None:
        check_not_locked(self._context, entry.press)
        if change.waits is not None:
            raise Refused(said("The change on {press} is paused. Take it up again first.", press=entry.press))
        open_steps = [step for step in change.steps if not step.is_done and step.step is not Step.RELEASE]
        if open_steps:
            raise Refused(
                said(
                    "{press} is not released: still to be done is {steps}.",
                    press=entry.press, steps=either(step_said(step) for step in open_steps),
                )
            )  # fmt: skip

    JUDGES: ClassVar[Judges] = {Changeover: _check_stage}
