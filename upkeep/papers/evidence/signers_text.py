"""Who may sign what, as text - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Said, Value, listed, minute, said, term
from upkeep.units.instants import Zone
from upkeep.views.evidence.signers import NotTrained, Signer, SignerList, TaskSigners
from upkeep.views.rights import RightLine
from upkeep.wording.sentences import Reader, lines, text


def signers_text(found: SignerList, zone: Zone, reader: Reader) -> str:
    """Who may sign each task and until when, then who has each right."""
    page = [text(said("WHO MAY SIGN WHAT  {at}", at=minute(found.at, zone)), reader)]
    for task in found.tasks:
        page += ["", *_task(task, reader)]
    if found.rights:
        page += ["", *lines(said("RIGHTS"), reader)]
    for right in found.rights:
        page += lines(_right(right), reader, 2, 4)
    return "\n".join(page) + "\n"


def _task(task: TaskSigners, reader: Reader) -> Iterator[str]:
    asks: Value = listed(term(role, "role") for role in task.roles)
    head = said("{task}, {title} ({kind}): {roles}", task=task.task, title=task.title,
                kind=term(task.applies_to, "kind"), roles=asks)  # fmt: skip
    yield from lines(head, reader, 0, 4)
    for one in task.signers:
        yield from lines(_signer(one), reader, 4, 6)
    if not task.signers:
        yield from lines(said("NOBODY may sign it."), reader, 4)
    for lack in task.not_trained:
        yield from lines(_lacking(lack), reader, 4, 6)
    if task.second_role is not None:
        names = listed(one.name for one in task.second) if task.second else said("nobody")
        second = said("second signature ({role}): {names}", role=term(task.second_role, "role"), names=names)
        yield from lines(second, reader, 4, 6)


def _signer(one: Signer) -> Said:
    told = said("{name} ({id}), {roles}", name=one.name, id=one.person,
                roles=listed(term(role, "role") for role in one.roles))  # fmt: skip
    for work, last in one.trained:
        until = said("until {day}", day=last) if last is not None else said("without end")
        told = said("{told}; trained for {work} {until}", told=told, work=work, until=until)
    return said("{told}; account until {day}", told=told, day=one.until) if one.until is not None else told


def _lacking(lack: NotTrained) -> Said:
    if lack.ended is None:
        return said("NOT {name} ({id}): no training for {work} on record", name=lack.name, id=lack.person,
                    work=lack.work)  # fmt: skip
    return said("NOT {name} ({id}): training for {work} ran out {day}", name=lack.name, id=lack.person, work=lack.work,
                day=lack.ended)  # fmt: skip


def _right(right: RightLine) -> Said:
    people: Value = listed(right.people) if right.people else said("nobody")
    return said("{what}: {roles}; now {people}", what=right.what,
                roles=listed(term(role, "role") for role in right.roles), people=people)  # fmt: skip
