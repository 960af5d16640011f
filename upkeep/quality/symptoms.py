"""Symptoms a person at the press picks from, with their likely causes, checks and cautions: the table beside this file.

What it says is common practice or a plant default, and each cause carries which; none of it has a published source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.plant.energy import CONTROL, LOCAL_LAW
from upkeep.plant.model import Energy, Kind
from upkeep.said import Quoted, Said, said, term

PRACTICE = "common practice, no source"
DEFAULT = "plant default, no source"

OTHER = "other"
"""A cause that is not in the list (described in words), or a symptom described in words."""

ADJUSTED = "adjusted"
"""What was done where no cause was found: it confirms none, and ends no cause analysis."""


@frozen
class Cause:
    """A cause as it shows under a symptom, and where that comes from."""

    id: str
    title: str
    source: str


@frozen
class Question:
    """A check: answered yes where all is well, no where it found something."""

    id: str
    asks: str


@frozen
class Symptom:
    """What somebody sees.  ``number`` is its place in the list, from 1; ``causes`` stand in the order of the table.

    ``suspect``: product may be bad.  ``crimp``: it is about the crimp, so that a pull test belongs to the proof.
    ``safety``: somebody may get hurt.  ``maintenance_only``: the press is stopped and locked, and only maintenance
    touches it.  ``cautions`` come before any work, the last one being that local law decides.
    """

    id: str
    number: int
    title: str
    causes: tuple[Cause, ...]
    checks: tuple[Question, ...]
    suspect: bool
    crimp: bool
    safety: bool
    maintenance_only: bool
    cautions: tuple[Said, ...]


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads(Path(__file__).with_name("symptoms.toml").read_text(encoding="utf-8"))


@cache
def symptoms() -> tuple[Symptom, ...]:
    """All symptoms, in the order of their numbers."""
    return tuple(_symptom(number, row) for number, row in enumerate(_table()["symptom"], 1))


def _symptom(number: int, row: Mapping[str, Any]) -> Symptom:
    table = _table()
    cautions = {**{key: term(says) for key, says in table["caution"].items()}, **CONTROL}
    causes = tuple(
        Cause(
            cause["id"], cause.get("says", table["cause"][cause["id"]]), PRACTICE if cause.get("practice") else DEFAULT
        )
        for cause in row["causes"]
    )
    return Symptom(
        id=row["id"],
        number=number,
        title=row["title"],
        causes=causes,
        checks=tuple(Question(key, table["check"][key]) for key in row["checks"]),
        suspect=row["suspect"],
        crimp=row["crimp"],
        safety=row.get("safety", False),
        maintenance_only=row.get("maintenance_only", False),
        cautions=(*(cautions[key] for key in row["cautions"]), LOCAL_LAW),
    )


FIRST = (
    "burr-one-side", "height-high", "not-fed", "insulation", "parts", "dirt", "guard", "double-cycles",
)  # fmt: skip
"""The symptoms that are shown first.  Common practice, no source."""

_PRESS = {"double-cycles", "no-cycle", "ram-stuck", "no-count", "noise-heat", "guard", "leak"}
_MODULE = {"not-fed", "terminal-bent", "cut-off-tab", "feeds-by-hand-only"}
"""What a symptom is mostly about; any other is about the die set, where one hangs here.  Common practice, no source."""


def item_of(symptom: str, hanging: Iterable[tuple[str, str]]) -> str | None:
    """The item a symptom is mostly about, among those that hang here with their kinds; None: nothing does."""
    wanted = Kind.PRESS if symptom in _PRESS else Kind.MODULE if symptom in _MODULE else Kind.DIE_SET
    order = (wanted, Kind.DIE_SET, Kind.MODULE, Kind.PRESS)
    here = list(hanging)
    return next((item for kind in order for item, of_kind in here if of_kind == kind), here[0][0] if here else None)


IN_WORDS = Symptom(
    id=OTHER, number=0, title="described in words", causes=(), checks=(), suspect=False, crimp=False, safety=False,
    maintenance_only=False, cautions=(CONTROL[Energy.LOCK], LOCAL_LAW),
)  # fmt: skip
"""Stands for every symptom that was described in words instead of picked."""


def symptom(listed: str | None) -> Symptom:
    """The symptom a fault was listed under; that described in words for None, and for one the list no longer has."""
    return next((candidate for candidate in symptoms() if candidate.id == listed), IN_WORDS)


def named(key: str) -> Symptom:
    """The symptom of the list with an id; raises :class:`Refused` where it is none."""
    symptom_named = next((candidate for candidate in symptoms() if candidate.id == key), None)
    if symptom_named is None:
        raise Refused(
            said(
                "{key} is not a symptom in the list; see 'strokebook causes', or describe it in your own words.",
                key=Quoted(key),
            )
        )
    return symptom_named


def picked(text: str) -> Symptom | None:
    """The symptom a person meant by its number or id; None: these are words of their own."""
    wanted = text.strip().casefold()
    return next((candidate for candidate in symptoms() if wanted in (str(candidate.number), candidate.id)), None)


def reported(text: str) -> Symptom | None:
    """The symptom a person meant; raises :class:`Refused` for a number that the list does not have."""
    meant = picked(text)
    if meant is None and not any(character.isalpha() for character in text):
        raise Refused(
            said(
                "{text} is not a symptom. Give its number from the list, 1 to {last} ('strokebook causes'), or say in "
                "your own words what you see.",
                text=Quoted(text),
                last=len(symptoms()),
            )
        )
    return meant


@cache
def causes() -> Mapping[str, str]:
    """Every cause that can be confirmed, by id: the list, and :data:`OTHER` with a text of its own."""
    return {**_table()["cause"], OTHER: "another cause, described in words"}


def questions() -> Mapping[str, str]:
    """Every check, by id."""
    sentences: Mapping[str, str] = _table()["check"]
    return sentences
