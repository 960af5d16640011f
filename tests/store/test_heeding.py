"""A statement that takes long can be broken off by whoever watches the work."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest

from upkeep.progress import Progress
from upkeep.store.disk.heeding import Heeding

ENDLESS = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT max(i) FROM n"


class Enough(Exception):
    """Raised by a watch."""


def _read_endlessly(connection: sqlite3.Connection, heeding: Heeding) -> None:
    with heeding.over(connection):
        heeding.tell(Progress("comparing", 3, 7))
        with pytest.raises(sqlite3.OperationalError, match="interrupted"):
            connection.execute(ENDLESS).fetchone()


def test_an_endless_statement_ends_when_the_watch_has_enough() -> None:
    """What it raises comes out, though somebody made something of the statement that was broken off."""
    told: list[Progress] = []

    def watch(progress: Progress) -> None:
        told.append(progress)
        if len(told) > 3:
            raise Enough

    heeding = Heeding(watch)
    with closing(sqlite3.connect(":memory:")) as connection:
        with pytest.raises(Enough):
            _read_endlessly(connection, heeding)
        assert told == [Progress("comparing", 3, 7)] * 4
        assert connection.execute("SELECT 1").fetchone() == (1,)


def test_a_watch_that_lets_it_go_on_changes_nothing() -> None:
    """And nobody is told any more once the work is over."""
    told: list[Progress] = []
    with closing(sqlite3.connect(":memory:")) as connection:
        with Heeding(told.append).over(connection):
            counted = connection.execute(ENDLESS.replace("FROM n)", "FROM n WHERE i < 200000)")).fetchone()
        assert counted == (200_000,)
        before = len(told)
        assert before > 0
        connection.execute(ENDLESS.replace("FROM n)", "FROM n WHERE i < 200000)")).fetchone()
        assert len(told) == before
