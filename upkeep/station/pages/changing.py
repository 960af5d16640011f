"""A change of tools as one page after another: what goes in, then each step with its caution, until the release."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from upkeep.frozen import frozen
from upkeep.plant.energy import caution_said
from upkeep.plant.model import Place
from upkeep.said import Said, said, said_as
from upkeep.station.pages.checking import ADJUSTED, CheckFields, Picking, ValueField, check_fields
from upkeep.station.pages.moments import ClockTime
from upkeep.station.pages.options import Option
from upkeep.station.pages.page import Person
from upkeep.units.instants import Zone
from upkeep.views.changeover import BeforeChange, Candidate, Change, ChangeStep, Step
from upkeep.views.check_forms import CheckForm
from upkeep.wording.changeover import candidate_said, change_said, setting_said, step_said, waits_said, warnings_said

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


@frozen
class CandidateRow:
    """Something that may go in, with what to know of it before."""

    option: Option
    warnings: tuple[Said, ...]
    stops: bool


@frozen
class BeforePage:
    """Asks what goes in; ``typed`` is the id in the field of the scanner."""

    rows: tuple[CandidateRow, ...]
    hangs: Said
    caution: Said
    asks: Said
    button: Said
    title: Said


@frozen
class StepRow:
    """A step in the list: its number, its name, who did it and when (None: it is not done); ``now``: it comes next."""

    number: int
    says: Said
    done: Said | None
    now: bool


@frozen
class StepForm:
    """What a step asks for.  ``link`` is where the sign-off of a line is filled in ("" where the form is here)."""

    step: str
    about: str
    says: Said
    caution: Said
    count: ValueField | None
    checked: CheckFields
    picks: tuple[Picking, ...]
    button: Said
    link: str


@frozen
class ChangePage:
    """An open change: who has it, what waits, its steps, and the form of the next one (None: it has to be taken up
    first, by the button ``resume``)."""

    says: Said
    told: tuple[Said, ...]
    steps: tuple[StepRow, ...]
    now: StepForm | None
    resume: Said | None
    asks_count: ValueField | None
    pauses: Picking
    title: Said


def before_page(before: BeforeChange, candidates: Sequence[Candidate], chosen: str | None) -> BeforePage:
    """Asks what goes onto a press."""
    hangs = ", ".join(one.item for one in before.hanging[1:])
    return BeforePage(
        rows=tuple(
            CandidateRow(Option(one.item, candidate_said(one), one.item == chosen), warnings_said(one), bool(one.bars))
            for one in candidates
        ),
        hangs=said("On {press} now: {items}", press=before.press, items=hangs or said("nothing")),
        caution=caution_said("unplug"),
        asks=said("What goes in? Scan it, or type its id"),
        button=said_as("button", "Begin the change"),
        title=said("Change of tools on {press}", press=before.press),
    )


def change_page(
    change: Change, form: CheckForm | None, places: Sequence[Place], zone: Zone, here: Person,
    typed: Mapping[str, str],
) -> ChangePage:  # fmt: skip
    """The page of an open change."""
    mine = change.waits is None and change.in_hand_of[0] == here.id
    resume = (
        said("Take it up again as {name}", name=here.name)
        if change.waits
        else said("Take it over as {name}", name=here.name)
    )
    return ChangePage(
        says=change_said(change, zone),
        told=waits_said(change, zone),
        steps=tuple(
            StepRow(number, step_said(step), _done(step, zone), step is change.next)
            for number, step in enumerate(change.steps, start=1)
        ),
        now=_form(change, form, places, zone, here, typed) if mine else None,
        resume=None if mine else resume,
        asks_count=_count(change, typed),
        pauses=Picking("why", said("Why, if you have to stop"), _options(PAUSES, typed.get("why"))),
        title=said("Change of tools on {press}", press=change.press),
    )


def _done(step: ChangeStep, zone: Zone) -> Said | None:
    if step.done_at is None:
        return None
    return said("done {at} {name}", at=ClockTime(step.done_at, zone), name=step.done_by or "")


def _form(
    change: Change, form: CheckForm | None, places: Sequence[Place], zone: Zone, here: Person,
    typed: Mapping[str, str],
) -> StepForm:  # fmt: skip
    step = change.next
    occasion = OCCASIONS.get(step.step)
    if step.step is Step.FIRST_OFF and step.again:
        occasion = ADJUSTED
    beside = {one.point: setting_said(one, zone) for one in change.last_settings} if step.step is Step.IN else {}
    checked = check_fields(form, occasion, typed, beside) if form and occasion else CheckFields((), ())
    picks: tuple[Picking, ...] = ()
    if step.step is Step.OUT:
        picks = (
            Picking("to", said("It goes to"), _places(places, typed.get("to"))),
            *([Picking("stood", said("No last piece? Say why"), _options(STOOD, typed.get("stood")))] if form else []),
        )
    return StepForm(
        step=step.step.value,
        about=step.about,
        says=step_said(step),
        caution=caution_said(step.energy),
        count=_count(change, typed) if step.step in (Step.OUT, Step.IN) else None,
        checked=checked,
        picks=picks,
        button=_button(step, here),
        link=f"/at/{change.press}/sign/{step.about}?then=change" if step.step in (Step.TOOL, Step.GUARD) else "",
    )


OCCASIONS: Mapping[Step, str] = {
    Step.OUT: "last-off",
    Step.IN: "set-up",
    Step.SLUG: "slug",
    Step.FIRST_OFF: "first-off",
}
"""The occasion of the check that belongs to a step."""


def _button(step: ChangeStep, here: Person) -> Said:
    if step.step is Step.RELEASE:
        return said("Release {press} as {name}", press=step.about, name=here.name)
    if step.step in (Step.TOOL, Step.GUARD):
        return said_as("button", "Do")
    return said("Done: sign as {name}", name=here.name)


def _count(change: Change, typed: Mapping[str, str]) -> ValueField:
    label = said("What does the counter of {press} show?", press=change.press)
    last = None if change.last_count is None else said("Last: {count}", count=change.last_count)
    confirm = str(change.last_count) if change.next.step is Step.IN and change.last_count is not None else ""
    return ValueField("count", label, typed.get("count", confirm), last, not typed.get("count"))


def _places(places: Sequence[Place], chosen: str | None) -> tuple[Option, ...]:
    return tuple(
        Option(one.id, said("{id} {title}", id=one.id, title=one.title), one.id == chosen)
        for one in places
    )  # fmt: skip


def _options(words: Mapping[str, Said], chosen: str | None) -> tuple[Option, ...]:
    return tuple(Option(key, said, key == chosen) for key, said in words.items())
