"""Frozen view of who may sign what, and until when their training holds."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.frozen import frozen
from upkeep.views.rights import RightLine


@frozen
class Signer:
    """Somebody who may sign a task: roles, area, last day of the account (None: open), and each training asked for with
    its last day (None: without end)."""

    person: str
    name: str
    roles: tuple[str, ...]
    area: str | None
    until: date | None
    trained: tuple[tuple[str, date | None], ...]


@frozen
class NotTrained:
    """Somebody who has the role and whose training ran out or is not on record: the work that asks for it, and the last
    day it held (None: never)."""

    person: str
    name: str
    work: str
    ended: date | None


@frozen
class TaskSigners:
    """Who may sign a task on a day: the roles it names, who has one and is trained, who has one and is not, and the
    role of the second signature with who may give it."""

    task: str
    title: str
    applies_to: str
    roles: tuple[str, ...]
    signers: tuple[Signer, ...]
    not_trained: tuple[NotTrained, ...]
    second_role: str | None
    second: tuple[Signer, ...]


@frozen
class SignerList:
    """Who may sign what at a moment, task by task, and who has each right of the plant."""

    at: datetime
    area: str | None
    item: str | None
    tasks: tuple[TaskSigners, ...]
    rights: tuple[RightLine, ...]
