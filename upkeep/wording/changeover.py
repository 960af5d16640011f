"""A change of tools in words: its steps, what waits, what is void, what to know before."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.said import Figure, Moment, Said, in_turn, listed, said, said_many
from upkeep.units.instants import Zone
from upkeep.views.changeover import Candidate, Change, ChangeStep, SettingThen, Step
from upkeep.wording.holds import hold_said

STOOD: Mapping[str, Said] = {
    "no-order": said("the press stood: no order"),
    "no-material": said("the press stood: no wire or no terminals"),
    "fault": said("the press stood: a fault"),
    "not-run": said("nothing was made since the last check"),
}
"""Why there is no last piece to measure.  Common practice, no source."""

PAUSES: Mapping[str, Said] = {
    "called": said("called away"),
    "part": said("waits for a part"),
    "people": said("waits for somebody who may sign"),
    "shift": said("the shift ends"),
}
"""Why a change is paused.  Common practice, no source."""


def step_said(step: ChangeStep) -> Said:
    """The name of a step."""
    match step.step:
        case Step.OUT:
            return said("{item} out, with its last piece", item=step.about)
        case Step.IN:
            return said("{item} in, with its settings", item=step.about)
        case Step.TOOL | Step.GUARD:
            return said("{work} ({line})", work=step.title, line=step.about)
        case Step.SLUG:
            return said("the solder slug of {item}", item=step.about)
        case Step.FIRST_OFF if step.again:
            return said("what was left of {item} after adjusting", item=step.about)
        case Step.FIRST_OFF:
            return said("the first piece of {item}", item=step.about)
        case Step.RELEASE:
            return said("the release of {press}", press=step.about)


def change_said(change: Change, zone: Zone) -> Said:
    """What is changed, who began it and who has it in hand."""
    begun = said(
        "{item} goes into {inside} on {press}: begun by {name}, {at}.", item=change.item, inside=change.inside,
        press=change.press, name=change.begun_by[1], at=Moment(change.begun_at, zone),
    )  # fmt: skip
    taken = None
    if change.in_hand_of[0] != change.begun_by[0]:
        taken = said("{name} has it in hand now.", name=change.in_hand_of[1])
    return in_turn(begun, taken)


def waits_said(change: Change, zone: Zone) -> tuple[Said, ...]:
    """That a change is paused, and why; what has become void meanwhile."""
    said_so: list[Said] = []
    if change.waits is not None:
        waits = change.waits
        said_so.append(said("PAUSED by {name}, {at}: {why}.", name=waits.by, at=Moment(waits.since, zone),
                            why=waits.why or said("no reason given")))  # fmt: skip
        if waits.strokes > 0:
            said_so.append(_void(waits.strokes))
    elif change.voided is not None:
        said_so.append(_void(change.voided[1]))
    return tuple(said_so)


def _void(strokes: int) -> Said:
    return said_many(
        "VOID: the press ran {n} stroke while the change was paused. Do anew what was signed and measured before.",
        "VOID: the press ran {n} strokes while the change was paused. Do anew what was signed and measured before.",
        n=strokes,
    )


def candidate_said(candidate: Candidate) -> Said:
    """What may go in: what it is, where it is, for which orders."""
    what = said("{item} {title}, now at {place}", item=candidate.item, title=candidate.title, place=candidate.place)
    if not candidate.orders:
        return what
    return said("{what}, for {orders}", what=what, orders=listed(candidate.orders))


def warnings_said(candidate: Candidate) -> tuple[Said, ...]:
    """What to know before it goes in: that it is held or must not run, what is overdue, what will not last."""
    held: tuple[Said, ...] = ()
    if candidate.hold is not None and not candidate.bars:
        held = (said("{item} is held: {why}.", item=candidate.item, why=hold_said(candidate.hold)),)
    return (*candidate.bars, *held, *candidate.notes)


def setting_said(setting: SettingThen, zone: Zone) -> Said:
    """A setting as it was last time."""
    value = said("last time {value} {unit}", value=Figure(setting.value, "g"), unit=setting.unit)
    at = Moment(setting.at, zone)
    if setting.press is None:
        return said("{value}, {at}", value=value, at=at)
    return said("{value}, on {press}, {at}", value=value, press=setting.press, at=at)
