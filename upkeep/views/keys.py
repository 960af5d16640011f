"""Frozen view of who can prove their name, and of the tokens that programs have; never of what they are."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.frozen import frozen


@frozen
class KeyHolder:
    """Somebody who may sign, and what proves their name.

    ``has``: "code", "password", or None where there is neither; ``is_first``: it is the one that was given to them, and
    proves nothing until they choose their own; ``since`` when that was (UTC), ``until`` its last day; how many badges
    they have; whether a short code is not enough for them.
    """

    person: str
    name: str
    has: str | None
    is_first: bool
    since: datetime | None
    until: date | None
    badges: int
    needs_password: bool


@frozen
class TokenLine:
    """A token by its name: for whom it speaks, since when (UTC), and its last day."""

    name: str
    person: str
    since: datetime
    until: date | None


@frozen
class KeysList:
    """Everybody who may sign now, and all tokens; ``asked``: whether this plant goes by codes."""

    asked: bool
    holders: tuple[KeyHolder, ...]
    tokens: tuple[TokenLine, ...]
