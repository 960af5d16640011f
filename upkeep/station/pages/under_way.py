"""Work under way at a place: its jobs, one job, the locks on its press, and what a shift hands over."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.due.states import CALLING
from upkeep.frozen import frozen
from upkeep.said import Quoted, Said, said, said_as
from upkeep.station.pages.labels import state_said
from upkeep.station.pages.moments import near
from upkeep.station.pages.page import Person
from upkeep.station.pages.signing import work_said
from upkeep.units.instants import Zone
from upkeep.views.board import BoardLine
from upkeep.views.handover import Handover
from upkeep.views.jobs import Job, Lock
from upkeep.views.round import Round
from upkeep.views.signing import SignForm
from upkeep.wording.handover import EYES, NOTHING, parts, standing_said, title_said
from upkeep.wording.jobs import LOCK_CAUTION, begins_anew_said, job_said, lock_said
from upkeep.wording.states import SIGNS


@frozen
class Ask:
    """A field for words or a number: its name in the form, its label."""

    name: str
    label: Said
    digits: bool = False


@frozen
class Press:
    """A button: the value it sends, and what it says."""

    value: str
    says: Said
    main: bool = False


@frozen
class Form:
    """What can be written here: what to mind before, its fields, its buttons; ``about`` is the number it is about."""

    about: int | None
    fields: tuple[Ask, ...]
    buttons: tuple[Press, ...]
    notes: tuple[Said, ...] = ()
    caution: Said | None = None


@frozen
class Shown:
    """A heading and the rows under it."""

    heading: Said | None
    rows: tuple[Said, ...]


@frozen
class Link:
    """A way to another page of the place."""

    path: str
    says: Said


@frozen
class UnderWayPage:
    """What stands, then what may be written, then the ways on."""

    title: Said
    shown: tuple[Shown, ...]
    forms: tuple[Form, ...]
    links: tuple[Link, ...] = ()


def work_page(walk: Round, jobs: Sequence[Job], lines: Sequence[BoardLine], zone: Zone) -> UnderWayPage:
    """The jobs under way at a place, and all work there that whoever is here may begin or sign."""
    shown = tuple(
        Shown(None, (said("{title}, {item}", title=job.title, item=job.item), _who(job, walk, zone))) for job in jobs
    )
    links = [Link(f"work/{job.line}", said("{title}, {item}", title=job.title, item=job.item)) for job in jobs]
    begun = {job.line for job in jobs}
    links += [
        Link(f"work/{line.line}", said("{sign} {work}: {state}", sign=SIGNS[line.state], work=work_said(line),
                                       state=state_said(line.state)))
        for line in lines
        if line.line not in begun and line.state in CALLING
    ]  # fmt: skip
    none = () if jobs else (Shown(None, (said("Nobody has a job under way here."),)),)
    return UnderWayPage(said("Jobs at {place}", place=walk.place), (*shown, *none), (), tuple(links))


def job_page(form: SignForm, walk: Round, here: Person, zone: Zone) -> UnderWayPage:
    """One line: who has it, what may become of it, and the way to sign it."""
    line, job = form.line, form.line.job
    rows = [said("Nobody has begun it.")] if job is None else [_who(job, walk, zone)]
    rows += [begins_anew_said(job)] if job is not None and job.ran else []
    steps = tuple(said("{n}. {step}", n=number, step=step) for number, step in enumerate(form.steps, 1))
    return UnderWayPage(
        title=work_said(line),
        shown=(Shown(None, tuple(rows)), *([Shown(said("Steps"), steps)] if steps else [])),
        forms=_job_forms(form, here),
        links=(Link(f"sign/{line.line}", said("It is done: sign it")),),
    )


def _job_forms(form: SignForm, here: Person) -> tuple[Form, ...]:
    job = form.line.job
    if job is None:
        return (Form(None, (), (Press("start", said_as("button", "Begin the job"), main=True),), (), form.caution),)
    if job.by != here.id:
        taken = said("Take it over from {name}", name=job.name)
        return (Form(job.number, (), (Press("go-on", taken, main=True),), (), form.caution),)
    forms = []
    if job.interrupted_at is not None:
        forms.append(Form(job.number, (), (Press("go-on", said("Go on with it"), main=True),), (), form.caution))
    asks = [Ask("why", said("What does it wait for?"))]
    asks += [Ask("step", said("Which step is done? (0 to {n})", n=job.steps), digits=True)] if job.steps else []
    asks += [Ask("left", said("Where do the parts lie?"))]
    buttons = [] if job.interrupted_at is not None else [Press("interrupt", said("Leave it for a while"))]
    buttons.append(Press("give-up", said("Give it up: it will not be done")))
    forms.append(Form(job.number, tuple(asks) if job.interrupted_at is None else tuple(asks[:1]), tuple(buttons)))
    return tuple(forms)


def _who(job: Job, walk: Round, zone: Zone) -> Said:
    return job_said(job, lambda at: near(at, walk.at, zone))


def locks_page(walk: Round, locks: Sequence[Lock], here: Person, procedure: str | None, zone: Zone) -> UnderWayPage:
    """The locks on a press: each with its owner; one's own come off here, another's by the ``procedure`` alone (None:
    whoever is here may not)."""
    mine = [lock for lock in locks if lock.by == here.id]
    others = [lock for lock in locks if lock.by != here.id]
    off = [
        Form(lock.number, (), (Press("unlock", said("My lock at {point} is off", point=lock.point), main=True),))
        for lock in mine
    ]
    asks = (Ask("point", said("Where does your lock hang?")),)
    hang = Form(None, asks, (Press("lock", said("My lock hangs there"), main=not mine),), (), LOCK_CAUTION)
    removal = [_removal(lock, procedure) for lock in others] if procedure is not None else []
    rows = tuple(lock_said(lock, lambda at: near(at, walk.at, zone)) for lock in others)
    shown = [Shown(said("Other people's locks"), rows)] if rows else []
    return UnderWayPage(said("Locks on {press}", press=walk.press or ""), tuple(shown), (*off, hang, *removal))


def _removal(lock: Lock, procedure: str) -> Form:
    notes = (
        said("The lock of {name} at {point}: its owner takes it off. Only where the owner is away:", name=lock.name,
             point=lock.point),
        said("The plant's procedure: {procedure}", procedure=Quoted(procedure))
        if procedure
        else said("The plant states no procedure for it (lock_removal in plant.toml); without one it stays."),
        said("Local law and the plant's own procedure decide (United States: 29 CFR 1910.147(e)(3))."),
    )  # fmt: skip
    asks = (Ask("witness", said("Short id of the witness")), Ask("why", said("Why")))
    button = Press("unlock", said("It was taken off by this procedure"))
    return Form(lock.number, asks, (button,), notes)


def handover_page(handover: Handover, zone: Zone) -> UnderWayPage:
    """What a shift hands over, and who gives and accepts it."""
    shown = [Shown(None, tuple(standing_said(handover, zone)))]
    shown += [Shown(part.heading, (*part.rows, *([part.more] if part.more else []))) for part in parts(handover, zone)]
    shown += [] if len(shown) > 1 else [Shown(None, (NOTHING,))]
    buttons = [] if handover.accepted else [Press("accepted", said("I come: I accept it"), main=True)]
    buttons += [] if handover.given or handover.accepted else [Press("given", said("I leave: I give it"))]
    asks = (Ask("text", said("What there is to say of it")),)
    forms = (Form(None, asks, tuple(buttons), (EYES,)),) if buttons else ()
    return UnderWayPage(title_said(handover), tuple(shown), forms)
