"""Entries about who can prove their name: codes, badges and tokens given and withdrawn, and waits after wrong codes.

They say that it was done, and by whom; never what a code is.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_nothing
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.said import said


class Key(StrEnum):
    """What proves or gives a name, or signs seals."""

    CODE = "code"
    PASSWORD = "password"
    BADGE = "badge"
    TOKEN = "token"
    SEAL = "seal"


@frozen(kw_only=True)
class Given(Entry):
    """Somebody got a first code or password, a badge or a token, or has chosen a code of their own.

    ``name`` is that of a token, or the public key with which seals are signed; ``until`` the last day of what was
    given, None: with no end.
    """

    key: Key
    person: str
    name: str = ""
    until: date | None = None


@frozen(kw_only=True)
class Withdrawn(Entry):
    """Somebody's code or password, all their badges, or a token were made void; ``name`` is that of the token."""

    key: Key
    person: str
    name: str = ""


@frozen(kw_only=True)
class WrongCodes(Entry):
    """After ``wrong`` wrong codes a wait of ``seconds`` began: for the name they were given under, which is the one
    under this entry and which nothing has proven, or for the whole station."""

    wrong: int
    seconds: int
    whole_station: bool = False


def _words(e: Given | Withdrawn) -> str:
    return f"{e.key} {quoted(e.person)}{f' named {quoted(e.name)}' if e.name else ''}"


def _given(e: Given) -> str:
    return f"{_words(e)}{'' if e.until is None else f' until {e.until}'}"


def _read_withdrawn(r: Reader) -> dict[str, Any]:
    key = Key(r.one_of(tuple(Key)))
    person = r.json(str, said("a person's id in quotes"))
    name = r.json(str, said("a quoted name")) if r.keyword("named") else ""
    return {"key": key, "person": person, "name": name}


def _read_given(r: Reader) -> dict[str, Any]:
    return {**_read_withdrawn(r), "until": date.fromisoformat(r.day()) if r.keyword("until") else None}


def _wrong(e: WrongCodes) -> str:
    return f"{e.wrong} wait {e.seconds}{' station' * e.whole_station}"


def _read_wrong(r: Reader) -> dict[str, Any]:
    wrong = r.figure(said("how many wrong codes"))
    r.expect("wait")
    return {"wrong": wrong, "seconds": r.figure(said("seconds")), "whole_station": r.keyword("station")}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Given,
        "given",
        'key person ["named" text] ["until" day]',
        _given,
        _read_given,
        under_nothing,
    ),
    EntryKind(
        Withdrawn,
        "withdrawn",
        'key person ["named" text]',
        _words,
        _read_withdrawn,
        under_nothing,
    ),
    EntryKind(
        WrongCodes,
        "wrong-codes",
        'figure "wait" figure ["station"]',
        _wrong,
        _read_wrong,
        under_nothing,
    ),
)
