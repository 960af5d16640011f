"""Admission of what is put into what: whether it fits, and whether it may run there."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import ClassVar

from upkeep.admission import rules as checks
from upkeep.admission.lives import check_not_gone
from upkeep.admission.readings import with_fastest
from upkeep.admission.resting import check_not_resting, holders_of, press_over
from upkeep.admission.spares.outside import check_is_here, without_record
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.alarms import Alarms, Bar
from upkeep.answers.before_running import before_fitting
from upkeep.entries.fitting import Fit, Put, Unfit
from upkeep.errors import Refused
from upkeep.plant.model import Kind
from upkeep.said import Said, said
from upkeep.units.quantities import in_strokes


class FittingAdmission(SubjectAdmission):
    """Judges what goes in and comes out: kind, place, count, holds and hard stops."""

    def _with_press(self, entry: Fit | Unfit) -> Fit | Unfit:
        item = self._known.item(entry.item)
        inside = None
        if isinstance(entry, Fit):
            inside = self._known.item(entry.inside)
            checks.check_fits(item, inside, self._known.zone.day(entry.at))
            for key in (item, inside):
                check_not_gone(self._context, key.id, entry.at, said("fitted again"))
            check_is_here(self._context, item.id, said("fitted"))
            self._check_may_run(entry)
            unknown = without_record(self._context, item, inside)
            self.notes += [] if unknown is None else [unknown]
            self.notes += before_fitting(self._context, item.id, entry.at)
        elif entry.to is not None:
            self._known.place(entry.to)
        if entry.count is None:
            return replace(entry, press=None, rolled_over=False, after_reset=False, fastest=None)
        press = entry.press or self._counter.press_at(inside.id if inside else item.id, entry.at)
        if press is None:
            raise Refused(
                said(
                    "{item} is not on a press at that moment; leave out the count, or first fit what it sits in.",
                    item=item.id,
                )
            )
        self._known.press(press)
        return with_fastest(replace(entry, press=press), self._known)

    def _check_put(self, entry: Put) -> None:
        """A place for what sits in nothing; what sits in something comes out first."""
        item = self._known.item(entry.item)
        self._known.place(entry.to)
        check_not_gone(self._context, item.id, entry.at, said("put anywhere"))
        if item.kind is Kind.PRESS:
            raise Refused(
                said(
                    "{item} is a press; where it stands is in the definition files. That it was moved is entered with "
                    "'happened'.",
                    item=item.id,
                )
            )
        inside = next(holders_of(self._context, item.id, entry.at), None)
        if inside is not None:
            raise Refused(
                said(
                    "{item} sits in {inside} then; take it out first ('unfit', which says where it goes).",
                    item=item.id,
                    inside=inside,
                )
            )

    def _check_may_run(self, fit: Fit) -> None:
        """Neither the item nor anything in it may rest, be held or be past a hard stop by then, unless a named person
        gave a permit or somebody vouches that it hangs there all the same; what was fitted before, was fitted."""
        self._check_in_use(fit.item, fit.at)
        self._check_place_in_use(fit.inside, fit.at)
        alarms = Alarms(self._context)
        press = press_over(self._context, fit.inside, fit.at)
        for bar in alarms.bars_on(press, fit.item, fit.at) if press else alarms.bars(fit.item, fit.at):
            permitted = alarms.permitted(bar, fit.at)
            if permitted:
                self.notes.append(
                    said(
                        "{item} must not run ({reason}); its deviation permit is good for {strokes} more.",
                        item=bar.item,
                        reason=bar.reason,
                        strokes=in_strokes(permitted),
                    )
                )
            elif fit.because:
                self.notes.append(
                    said(
                        "ALARM: {item} must not run ({reason}). It was entered because it is already on the "
                        "press; take it off before it makes a piece.",
                        item=bar.item,
                        reason=bar.reason,
                    )
                )
            else:
                raise Refused(_must_not_run(bar))

    def _check_in_use(self, item: str, at: datetime) -> None:
        """Neither an item nor anything in it may rest."""
        check_not_resting(self._context, item, at)
        for content in self._rows.inside_now(item):
            self._check_in_use(content.item, at)

    def _check_place_in_use(self, inside: str, at: datetime) -> None:
        """Nothing is hung on a press that rests, nor on it by a module that does."""
        if press_over(self._context, inside, at) is not None:
            for key in (inside, *holders_of(self._context, inside, at)):
                check_not_resting(self._context, key, at)

    JUDGES: ClassVar[Judges] = {Fit: _with_press, Unfit: _with_press, Put: _check_put}


def _must_not_run(bar: Bar) -> Said:
    if bar.on is not None:
        return said(
            "{item} is held on {press} until its shut height is measured: what was measured says that the press is at "
            "fault. On another press it may run. If it is already on this one, enter it with a reason; that raises an "
            "alarm.",
            item=bar.item,
            press=bar.on,
        )
    if bar.hold:
        return said(
            "{item} is held: {reason}. It must not run until it is released. If it is already on the press, "
            "enter it with a reason; that raises an alarm.",
            item=bar.item,
            reason=bar.reason,
        )
    return said(
        "{item} is {reason}. It must not run until that is done, or until the lead or quality grants a "
        "deviation permit ('permit'). If it is already on the press, enter it with a reason; that raises an "
        "alarm.",
        item=bar.item,
        reason=bar.reason,
    )
