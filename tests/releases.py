"""Later releases, as tests need them: with another table, rule, sentence or step of the entries."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest

from upkeep.due.reasons import NeverSigned
from upkeep.keeping.judging import Judge
from upkeep.said import said
from upkeep.store import schema
from upkeep.wording import reasons as wording

if TYPE_CHECKING:
    from sqlite_utils import Database
    from sqlite_utils.migrations import Migrations


def release(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on the next release runs, which has a table more."""
    statements = [*schema.statements(), "CREATE TABLE remarks (remark TEXT) STRICT"]
    monkeypatch.setattr(schema, "TABLES", schema.TABLES + 1)
    monkeypatch.setattr(schema, "statements", lambda: tuple(statements))


def another_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on every item without a place stands in the yard: a rule whose result is kept."""
    place_of = Judge.place_of
    monkeypatch.setattr(Judge, "place_of", lambda judge, item: place_of(judge, item).replace("rack", "yard"))


@contextmanager
def other_words() -> Iterator[str]:
    """A release that says something else of a line nobody has ever signed."""
    of_today = wording.reason_said.dispatch(NeverSigned)
    wording.reason_said.register(NeverSigned, lambda reason, plant: said("nobody has ever done it"))
    try:
        yield "nobody has ever done it"
    finally:
        wording.reason_said.register(NeverSigned, of_today)


def another_step(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here on entries have a crew, and a view shows it."""
    steps, statements = schema.steps, [*schema.statements(), "CREATE VIEW crews AS SELECT id, crew FROM entries"]

    def more() -> Migrations:
        ordered = steps()

        @ordered(name="m999_crew")
        def m999_crew(db: Database) -> None:
            db.execute("ALTER TABLE entries ADD COLUMN crew TEXT")

        return ordered

    monkeypatch.setattr(schema, "steps", more)
    monkeypatch.setattr(schema, "VERSION", schema.VERSION + 1)
    monkeypatch.setattr(schema, "TABLES", schema.TABLES + 1)
    monkeypatch.setattr(schema, "statements", lambda: tuple(statements))
