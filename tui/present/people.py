"""Finding a person by the short id they type."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from tui.present.words import listed
from upkeep.plant.people import Person
from upkeep.said import Quoted, Said, Value, enumerated, said

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


def matching(people: Sequence[Named], typed: str) -> tuple[Named, ...]:
    """Who may be meant: the exact id alone, else every id that begins so; nobody for no text."""
    wanted = typed.strip().casefold()
    if not wanted:
        return ()
    exact = tuple(person for person in people if person[0].casefold() == wanted)
    return exact or tuple(person for person in people if person[0].casefold().startswith(wanted))


def meant(people: Sequence[Named], typed: str) -> Named | None:
    """The one person meant; None while it is nobody or more than one."""
    fitting = matching(people, typed)
    return fitting[0] if len(fitting) == 1 else None


def found_text(people: Sequence[Named], typed: str) -> str:
    """What stands beside the field while a short id is typed: the name, who may be meant, or who is called so."""
    if not typed.strip():
        return "type your short id"
    fitting = matching(people, typed)
    if len(fitting) == 1:
        return fitting[0][1]
    wanted = typed.strip().casefold()
    close = fitting or tuple(person for person in people if wanted in person[1].casefold())
    return listed(tuple(f"{id_} {name}" for id_, name in close[:_NAMED_AT_MOST])) or "nobody"


def unknown_text(people: Sequence[Named], typed: str) -> Said:
    """Why nobody was found, and what to type instead."""
    if not typed.strip():
        return said("Type your short id, then press Enter.")
    fitting = matching(people, typed)
    if len(fitting) > 1:
        return said("{typed} fits {n} people. Type more of the id.", typed=Quoted(typed.strip()), n=len(fitting))
    ids: Value = enumerated(id_ for id_, _ in people[:_NAMED_AT_MOST]) if people else said("none yet")
    if len(people) > _NAMED_AT_MOST:
        ids = said("{ids} ...", ids=ids)
    return said(
        "Nobody who may sign here has the short id {typed}. Known ids: {ids}.", typed=Quoted(typed.strip()), ids=ids
    )
