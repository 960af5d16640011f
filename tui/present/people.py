"""Finding a person by the short id they type, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from upkeep.plant.people import Person
from upkeep.said import Quoted, Said, Value, enumerated, said
from upkeep.wording.sentences import Reader, text

Named = tuple[str, str]
"""A short id and the name behind it."""

_NAMED_AT_MOST = 6


def at_work(people: Iterable[Person], today: date) -> tuple[Named, ...]:
    """The people whose account is open today."""
    return tuple(
        (person.id, person.name)
        for person in people
        if (person.until is None or today <= person.until) and (person.since is None or person.since <= today)
    )


def meant(people: Sequence[Named], typed: str) -> Named | None:
    """The person whose short id was typed whole; None: nobody.  A stray letter is never a person."""
    wanted = typed.strip().casefold()
    return next((person for person in people if person[0].casefold() == wanted), None)


def beginning_so(people: Sequence[Named], typed: str) -> tuple[Named, ...]:
    """Everybody whose short id begins as typed; nobody for no text."""
    wanted = typed.strip().casefold()
    return tuple(person for person in people if wanted and person[0].casefold().startswith(wanted))


def found_text(people: Sequence[Named], typed: str, reader: Reader) -> str:
    """What stands beside the field while a short id is typed: the name, or who may be meant by it or is called so."""
    if not typed.strip():
        return text(said("type your short id"), reader)
    person = meant(people, typed)
    if person is not None:
        return person[1]
    wanted = typed.strip().casefold()
    close = beginning_so(people, typed) or tuple(one for one in people if wanted in one[1].casefold())
    if not close:
        return text(said("nobody"), reader)
    named = enumerated(f"{id_} {name}" for id_, name in close[:_NAMED_AT_MOST])
    return text(said("{people}", people=named), reader)


def unknown_text(people: Sequence[Named], typed: str) -> Said:
    """Why nobody was found, and what to type instead."""
    if not typed.strip():
        return said("Type your short id, then press Enter.")
    fitting = beginning_so(people, typed)
    if fitting:
        return said(
            "{typed} is only part of an id. Type all of it: {ids}.",
            typed=Quoted(typed.strip()),
            ids=_ids(fitting),
        )
    return said(
        "Nobody who may sign here has the short id {typed}. Known ids: {ids}.",
        typed=Quoted(typed.strip()),
        ids=_ids(people),
    )


def _ids(people: Sequence[Named]) -> Value:
    ids: Value = enumerated(id_ for id_, _ in people[:_NAMED_AT_MOST]) if people else said("none yet")
    return said("{ids} ...", ids=ids) if len(people) > _NAMED_AT_MOST else ids
