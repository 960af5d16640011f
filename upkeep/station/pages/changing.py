"""A change of tools as one page after another: what goes in, then each step with its caution, until the release."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from upkeep.frozen import frozen
from upkeep.plant.energy import caution_said
from upkeep.said import Said, enumerated, said, said_as
from upkeep.station.pages.moments import ClockTime
from upkeep.station.pages.options import Option
from upkeep.station.pages.page import Person
from upkeep.units.instants import Zone
from upkeep.views.changeover import BeforeChange, Candidate, Change, ChangeStep, Kept, Step, StepAsk, StepForm
from upkeep.wording.changeover import candidate_said, change_said, step_said, waits_said, warnings_said


@frozen
class CandidateRow:
    """Something that may go in, with what to know of it before; ``stops``: it must not run."""

    option: Option
    warnings: tuple[Said, ...]
    stops: bool


@frozen
class BeforePage:
    """Asks what goes in: one of the rows, or what is scanned."""

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
class Field:
    """A field of a step: a value that is typed, or one of some options; ``first``: it is the first empty one."""

    key: str
    label: Said
    beside: Said | None
    typed: str
    options: tuple[Option, ...]
    first: bool


@frozen
class NowForm:
    """The form of the step that comes next.  ``link`` is where a line is signed in it ("": the form is here)."""

    step: str
    about: str
    says: Said
    caution: Said
    fields: tuple[Field, ...]
    types: bool
    button: Said
    link: str


@frozen
class ChangePage:
    """An open change: who has it, what waits, its steps, and the form of the next one (None: it waits, or
    somebody else has it in hand); the button ``resume`` takes it up, with ``counts`` where the count is asked first."""

    says: Said
    told: tuple[Said, ...]
    steps: tuple[StepRow, ...]
    now: NowForm | None
    resume: Said | None
    counts: tuple[Field, ...]
    pausing: tuple[Field, ...]
    title: Said


def before_page(before: BeforeChange, candidates: Sequence[Candidate], chosen: str) -> BeforePage:
    """Asks what goes onto a press."""
    here = enumerated(one.item for one in before.hanging[1:]) if before.hanging[1:] else said("nothing")
    return BeforePage(
        rows=tuple(
            CandidateRow(Option(one.item, candidate_said(one), one.item == chosen), warnings_said(one), bool(one.bars))
            for one in candidates
        ),
        hangs=said("On {press} now: {items}", press=before.press, items=here),
        caution=caution_said("unplug"),
        asks=said("What goes in? Scan it, or type its id"),
        button=said_as("button", "Begin the change"),
        title=said("Change of tools on {press}", press=before.press),
    )


def change_page(
    change: Change, form: StepForm, pausing: Sequence[StepAsk], zone: Zone, here: Person, typed: Mapping[str, str]
) -> ChangePage:  # fmt: skip
    """The page of an open change; ``pausing`` is what is asked where it is paused, the count last."""
    mine = change.waits is None and change.in_hand_of[0] == here.id
    again, over = said("Take it up again as {name}", name=here.name), said("Take it over as {name}", name=here.name)
    return ChangePage(
        says=change_said(change, zone),
        told=waits_said(change, zone),
        steps=tuple(
            StepRow(number, step_said(step), _done(step, zone), step is change.next)
            for number, step in enumerate(change.steps, start=1)
        ),
        now=_now(form, here, typed) if mine or (form.step.is_anybodys and not change.waits) else None,
        resume=None if mine else again if change.waits else over,
        counts=tuple(_fields(pausing[-1:], typed)) if change.waits else (),
        pausing=tuple(_fields(pausing, typed)),
        title=said("Change of tools on {press}", press=change.press),
    )


def _done(step: ChangeStep, zone: Zone) -> Said | None:
    if step.done_at is None:
        return None
    return said("done {at} {name}", at=ClockTime(step.done_at, zone), name=step.done_by or "")


def _now(form: StepForm, here: Person, typed: Mapping[str, str]) -> NowForm:
    fields = tuple(_fields(form.asks, typed))
    return NowForm(
        step=form.step.step.value,
        about=form.step.about,
        says=step_said(form.step),
        caution=form.caution,
        fields=fields,
        types=any(not field.options for field in fields),
        button=_button(form.step, here),
        link=form.line,
    )


def _button(step: ChangeStep, here: Person) -> Said:
    if step.step is Step.RELEASE:
        return said("Release {press} as {name}", press=step.about, name=here.name)
    if step.step in (Step.TOOL, Step.GUARD):
        return said_as("button", "Do")
    return said("Done: sign as {name}", name=here.name)


def _fields(asks: Iterable[StepAsk], typed: Mapping[str, str]) -> Iterator[Field]:
    waiting = True
    for ask in asks:
        given = typed.get(ask.key, ask.preset)
        first = waiting and ask.kept is not Kept.PICK and not given.strip()
        waiting = waiting and not first
        options = tuple(Option(one.key, one.says, one.key == given, one.valid) for one in ask.options)
        yield Field(ask.key, ask.label, ask.beside, given, options, first)
