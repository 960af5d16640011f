"""Who may do what: each act that asks for a role, the roles that have it, and those a plant may give it to.

Which work somebody may sign stands at each task, not here.  The roles are common practice, no source; a plant changes
them in plant.toml, within what the table leaves open: nobody can be let to release what is held but the lead or
quality.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Protocol

from upkeep.frozen import frozen
from upkeep.plant.definition import Defined
from upkeep.plant.model import Role
from upkeep.said import Said, said


class Act(StrEnum):
    """What asks for a role, by the word plant.toml names it with."""

    FIT = "fit"
    ORDER = "order"
    PAUSE = "pause"
    REWORK = "rework"
    SHELF = "shelf"
    OUTSIDE = "outside"
    COUNTER = "counter"
    PLAN = "plan"
    WEEK = "week"
    LATE = "late"
    STRIKE = "strike"
    SEEN = "seen"
    GAUGE_OUT = "gauge_out"
    RELEASE = "release"
    UNLOCK = "unlock"
    PERMIT = "permit"
    DISPOSE = "dispose"
    RESTRICT = "restrict"
    ROOT_CAUSE = "root_cause"
    TASKS = "tasks"
    PEOPLE = "people"
    RULES = "rules"
    PLACES = "places"
    ITEMS = "items"
    GAUGES = "gauges"
    LIMITS = "limits"


@frozen
class Right:
    """What an act is, the roles that have the right where a plant says nothing, and those it may be given to."""

    what: Said
    roles: tuple[Role, ...]
    choice: tuple[Role, ...]


class HasRights(Protocol):
    """A plant's facts that may give rights to other roles."""

    @property
    def rights(self) -> Mapping[str, tuple[str, ...]]:
        """The roles that have a right, by its act."""
        ...


_LEAD, _QUALITY = Role.LEAD, Role.QUALITY
_BOTH = (_LEAD, _QUALITY)
_ANYBODY = tuple(Role)

RIGHTS: Mapping[Act, Right] = {
    Act.FIT: Right(
        said("put items in or take them out"), (Role.SETUP, Role.TECHNICIAN, Role.APPOINTED, *_BOTH), _ANYBODY
    ),
    Act.ORDER: Right(said("plan orders"), (Role.SETUP, Role.STORES, Role.MANAGER, *_BOTH), _ANYBODY),
    Act.PAUSE: Right(
        said("put items out of use or bring them back"), (Role.STORES, _LEAD), (Role.STORES, *_BOTH)
    ),
    Act.REWORK: Right(said("enter a rework"), (Role.TECHNICIAN, *_BOTH), (Role.TECHNICIAN, Role.STORES, *_BOTH)),
    Act.SHELF: Right(
        said("receive, count and order spares"), (Role.STORES, _LEAD), (Role.STORES, Role.TECHNICIAN, *_BOTH)
    ),
    Act.OUTSIDE: Right(
        said("send items to outside rework and take them in again"), (Role.STORES, Role.TECHNICIAN, *_BOTH),
        (Role.STORES, Role.TECHNICIAN, *_BOTH),
    ),
    Act.COUNTER: Right(
        said("say how a counter counts"), (Role.TECHNICIAN, _LEAD), (Role.TECHNICIAN, Role.SETUP, *_BOTH)
    ),
    Act.PLAN: Right(
        said("defer or cancel work, or state work done before the book began"), (_LEAD, Role.MANAGER),
        (*_BOTH, Role.MANAGER),
    ),
    Act.WEEK: Right(
        said("plan, agree or freeze the week, or say who is absent"), (_LEAD, Role.MANAGER), (*_BOTH, Role.MANAGER)
    ),
    Act.LATE: Right(said("enter what happened longer ago than the plant's limit"), (_LEAD,), _BOTH),
    Act.STRIKE: Right(said("strike somebody else's entry"), _BOTH, _BOTH),
    Act.SEEN: Right(
        said("say that a question or alarm was seen"), (*_BOTH, Role.MANAGER, Role.SAFETY),
        (*_BOTH, Role.MANAGER, Role.SAFETY, Role.APPOINTED, Role.TECHNICIAN),
    ),
    Act.GAUGE_OUT: Right(said("declare a gauge out of tolerance"), _BOTH, (Role.TECHNICIAN, *_BOTH)),
    Act.RELEASE: Right(said("release what is held"), _BOTH, _BOTH),
    Act.UNLOCK: Right(said("take somebody else's lock off the list"), (_LEAD,), (_LEAD, Role.SAFETY)),
    Act.PERMIT: Right(said("grant a deviation permit"), _BOTH, _BOTH),
    Act.DISPOSE: Right(said("decide about suspect product"), _BOTH, _BOTH),
    Act.RESTRICT: Right(said("let a suspect window begin later"), (_QUALITY,), (_QUALITY,)),
    Act.ROOT_CAUSE: Right(said("sign a root cause"), _BOTH, _BOTH),
    Act.TASKS: Right(said("add or change tasks"), _BOTH, _BOTH),
    Act.PEOPLE: Right(said("add or change people and their roles"), _BOTH, _BOTH),
    Act.RULES: Right(said("change the plant's rules and shifts"), _BOTH, _BOTH),
    Act.PLACES: Right(said("add or change places"), _BOTH, (Role.STORES, Role.MANAGER, *_BOTH)),
    Act.ITEMS: Right(said("add or change items"), (Role.STORES, *_BOTH), (Role.STORES, Role.TECHNICIAN, *_BOTH)),
    Act.GAUGES: Right(said("add or change gauges"), _BOTH, _BOTH),
    Act.LIMITS: Right(said("add or change crimps, their limits and pull tables"), (_QUALITY,), (_QUALITY,)),
}  # fmt: skip
"""The table: every act, in the order in which it is shown."""


PROVEN_BY_PASSWORD = (Role.LEAD, Role.QUALITY, Role.MANAGER)
"""The roles whose names a short code does not prove; beside them the keepers of the book."""


class HasKeepers(Protocol):
    """A plant's facts that name the keepers of its book."""

    @property
    def keepers(self) -> tuple[str, ...]:
        """Their ids."""
        ...


class HasRoles(Protocol):
    """Somebody with an id and roles."""

    @property
    def id(self) -> str:
        """Their short id."""
        ...

    @property
    def roles(self) -> tuple[str, ...]:
        """Their roles."""
        ...


def needs_password(person: HasRoles, facts: HasKeepers) -> bool:
    """Whether a short code is not enough to prove somebody's name."""
    return bool(set(person.roles) & set(PROVEN_BY_PASSWORD)) or person.id in facts.keepers


def roles_for(act: Act, facts: HasRights) -> tuple[str, ...]:
    """The roles that may do something in a plant."""
    return facts.rights.get(act, RIGHTS[act].roles)


def act_of_definition(what: str, is_gauge: bool) -> Act:
    """The act of adding or changing a definition, by what it defines; items that are gauges are apart."""
    if what == Defined.ITEM:
        return Act.GAUGES if is_gauge else Act.ITEMS
    return {
        Defined.PLANT: Act.RULES, Defined.PLACE: Act.PLACES, Defined.PERSON: Act.PEOPLE, Defined.TASK: Act.TASKS,
        Defined.CRIMP: Act.LIMITS, Defined.PULL_TABLE: Act.LIMITS, Defined.SPARE: Act.ITEMS,
    }[Defined(what)]  # fmt: skip
