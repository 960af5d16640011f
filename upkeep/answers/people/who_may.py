"""Whether somebody may do something here, and whom to ask if not: one rule for what the book refuses, and for screens,
stations and commands that ask before anything is filled in."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, datetime

from upkeep.entries.counting import Count
from upkeep.entries.faults import Fault, Stage
from upkeep.entries.jobs import Start
from upkeep.entries.kinds import kind_named
from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import Known
from upkeep.plant.model import ABOVE_THE_ROLES, Item, Role, Task
from upkeep.plant.people import Person
from upkeep.plant.rights import RIGHTS, Act, roles_for
from upkeep.quality.symptoms import symptom
from upkeep.said import Numeral, Said, Value, either, in_turn, listed, said, term
from upkeep.views.rights import Wish

_MAINTENANCE = (Role.TECHNICIAN.value, Role.APPOINTED.value)
"""Who may work on what is for maintenance only, beside the lead."""

_ASKED_AT_MOST = 3
"""People named as those to ask."""


def why_not(context: Context, wish: Wish, person_id: str, at: datetime) -> Said | None:
    """Why somebody may not do something at a moment, and whom to ask instead; None: they may."""
    person, day = context.known.person(person_id), context.known.zone.day(at)
    closed = closed_said(person, day)
    if closed is not None:
        return closed
    lacking = next(_lacking(context, wish, person, day), None)
    if lacking is None:
        return None
    others = (one for one in context.known.people.values() if one.signs_on(day))
    may = (one.name for one in others if not any(_lacking(context, wish, one, day, above=())))
    return in_turn(lacking, _ask(may))


def who_may(context: Context, wish: Wish, at: datetime) -> tuple[tuple[str, str], ...]:
    """Everybody who may do something at a moment: id and name."""
    day = context.known.zone.day(at)
    people = (one for one in context.known.people.values() if one.signs_on(day))
    return tuple((one.id, one.name) for one in people if not any(_lacking(context, wish, one, day)))


def hands_for(context: Context, item: str, task: str, day: date) -> tuple[str, ...]:
    """Those whose work a line is on a day, by id: a role that its task names, and trained for it; nobody stands in."""
    wish = Wish("sign", item, task)
    people = (one for one in context.known.people.values() if one.signs_on(day) and one.same_as is None)
    return tuple(one.id for one in people if not any(_lacking(context, wish, one, day, above=())))


def check_may(context: Context, wish: Wish, person: Person, at: datetime) -> None:
    """Refuses somebody who may not do something."""
    day = context.known.zone.day(at)
    if any(_lacking(context, wish, person, day)):
        refused = why_not(context, wish, person.id, at)
        assert refused is not None
        raise Refused(refused)


def check_right(known: Known, person: Person, act: Act, at: datetime) -> None:
    """Refuses somebody who has none of the roles that the plant lets do something."""
    lacking = next(_without_right(known, person, act), None)
    if lacking is not None:
        day = known.zone.day(at)
        others = (one for one in known.people.values() if one.signs_on(day))
        raise Refused(in_turn(lacking, _ask(one.name for one in others if not any(_without_right(known, one, act)))))


def closed_said(person: Person, day: date) -> Said | None:
    """That somebody's account is closed on a day; None: it is open."""
    if person.until is None or person.signs_on(day):
        return None
    return said(
        "{person} ({by}) has not been allowed to sign since {until}. Sign with your own id.",
        person=person.name,
        by=person.id,
        until=person.until,
    )


def _ask(names: Iterator[str]) -> Said:
    named = list(dict.fromkeys(names))[:_ASKED_AT_MOST]
    return said("Ask {people}.", people=either(named)) if named else said("Ask the lead.")


def _lacking(
    context: Context, wish: Wish, person: Person, day: date, above: Collection[str] = ABOVE_THE_ROLES
) -> Iterator[Said]:
    """What somebody lacks for something; the roles ``above`` stand for any that a task names."""
    known = context.known
    match wish.verb:
        case "sign" if wish.item is not None and wish.task is not None:
            item, task = known.item(wish.item), known.task(wish.task)
            what = said("sign {task} on {item}", task=task.title, item=item.id)
            yield from _without_role(person, task.by, above, what)
            yield from _untrained(known, person, day, item, task)
        case "start" | "go-on":
            yield from _lacking(context, _in_the_end(context, wish), person, day, above)
        case "verify" if wish.about is not None:
            yield from _not_second(context, wish.about, person, day, above)
        case "looked-again" if wish.about is not None:
            signed = context.entries.by_number(wish.about)
            if signed is not None and known.is_one_person(person.id, signed.entry.by):
                yield said(
                    "{person} did the work of #{entry}; somebody else must look at it.",
                    person=person.name,
                    entry=Numeral(wish.about),
                )
        case "repair" if wish.about is not None:
            yield from _not_repairer(context, wish.about, wish.stage, person, day, above)
        case verb:
            for act in _acts(context, wish, person):
                yield from _without_right(known, person, act)
            if verb in ("fit", "unfit", "check"):
                for key in filter(None, (wish.item, wish.into)):
                    yield from _untrained(known, person, day, known.item(key))


def _acts(context: Context, wish: Wish, person: Person) -> Iterator[Act]:
    """The acts that something asks a role for."""
    if _is_somebody_elses(context, wish, person):
        yield Act.STRIKE
    if wish.verb == "unlock" and wish.about is not None:
        hung = context.entries.by_number(wish.about)
        if hung is not None and not context.known.is_one_person(person.id, hung.entry.by):
            yield Act.UNLOCK
    act = Act.TASKS if wish.verb == "define" and wish.task is not None else kind_named(wish.verb).act
    if act is not None:
        yield act


def _in_the_end(context: Context, wish: Wish) -> Wish:
    """The sign-off that a job ends with: whoever may not sign it does not begin it."""
    begun = context.entries.by_number(wish.about) if wish.about is not None else None
    if begun is not None and isinstance(begun.entry, Start):
        return Wish("sign", begun.entry.item, begun.entry.task)
    return Wish("sign", wish.item, wish.task)


def _is_somebody_elses(context: Context, wish: Wish, person: Person) -> bool:
    """Whether an entry of somebody else would be taken out, or a count that was kept against an earlier one settled."""
    if wish.verb == "strike":
        struck = context.entries.by_number(wish.about) if wish.about is not None else None
        return struck is None or struck.entry.by != person.id
    corrected = context.entries.by_number(wish.corrects) if wish.corrects is not None else None
    return corrected is not None and isinstance(corrected.entry, Count) and corrected.entry.disputes is not None


def _not_second(context: Context, entry: int, person: Person, day: date, above: Collection[str]) -> Iterator[Said]:
    recorded = context.entries.by_number(entry)
    if recorded is None or not isinstance(recorded.entry, Sign):
        return
    known, signed = context.known, recorded.entry
    task = known.task(signed.task)
    if known.is_one_person(person.id, signed.by):
        yield said(
            "{person} did the work of #{entry}; somebody else must give the second signature.",
            person=person.name,
            entry=Numeral(entry),
        )
    if task.second_signature is not None:
        what = said("sign {task} as the second person", task=task.title)
        yield from _without_role(person, [task.second_signature], above, what)
    yield from _untrained(known, person, day, known.item(signed.item), task)


def _not_repairer(
    context: Context, fault: int, stage: str | None, person: Person, day: date, above: Collection[str]
) -> Iterator[Said]:
    recorded = context.entries.by_number(fault)
    if recorded is None or not isinstance(recorded.entry, Fault):
        return
    seen = symptom(recorded.entry.listed)
    if stage == Stage.FIXED:
        yield from _untrained(context.known, person, day, context.known.item(recorded.entry.item))
    if stage == Stage.ANALYSED:
        yield from _without_right(context.known, person, Act.ROOT_CAUSE)
    elif seen.maintenance_only and stage in (Stage.TAKEN, Stage.CHECKED, Stage.FIXED):
        what = said("work on #{fault} ({symptom})", fault=Numeral(fault), symptom=term(seen.title))
        yield from _without_role(person, _MAINTENANCE, above, what)


def _without_right(known: Known, person: Person, act: Act) -> Iterator[Said]:
    yield from _without_role(person, roles_for(act, known.facts), (), RIGHTS[act].what)


def _without_role(person: Person, roles: Collection[str], above: Collection[str], what: Said) -> Iterator[Said]:
    if not set(person.roles) & {*roles, *above}:
        has: Value = listed(term(role, "role") for role in person.roles) if person.roles else said("no role")
        yield said(
            "{person} ({has}) may not {what}: this needs the role of {roles}.",
            person=person.name,
            has=has,
            what=what,
            roles=either(term(role, "role") for role in roles),
        )


def _untrained(known: Known, person: Person, day: date, item: Item, task: Task | None = None) -> Iterator[Said]:
    """Work on a kind of item, or of a task, by somebody who was not trained for it on that day.

    Work told late is judged by the training of the day on which it was done.
    """
    for work in (item.kind.value, task.id if task is not None else ""):
        if work in known.facts.training and not person.is_trained_for(work, day):
            yield said(
                "{person} may not work on {item}: {why}. Somebody who is trained for it does it; the lead or "
                "quality enters training in training.csv.",
                person=person.name,
                item=item.id if task is None else said("{item} ({task})", item=item.id, task=task.title),
                why=_why_untrained(person, work, day),
            )


def _why_untrained(person: Person, work: str, day: date) -> Said:
    rows = [row for row in person.training if row.work == work]
    over = max((row.until for row in rows if row.until is not None and row.until < day), default=None)
    begins = min((row.since for row in rows if row.since > day), default=None)
    if over is not None:
        return said("the training for {work} ran out on {until}", work=work, until=over)
    if begins is not None:
        return said("the training for {work} begins on {since}", work=work, since=begins)
    return said("{work} asks for training, and none is on record", work=work)
