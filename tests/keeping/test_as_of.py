"""As it stood at a moment, known with some entry: what is read from the tables is what a replay makes.

That goes for every table, for what lines were judged by at any moment before it, and for figures and gauges.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.book_of_then import ended
from tests.examples import examples
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import opened_copy, shop
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.figures.on_time import figures
from upkeep.book import Book
from upkeep.entries.entry import Recorded
from upkeep.entries.planning import Define
from upkeep.entries.signing import Verify
from upkeep.keeping.as_of import AsOf
from upkeep.keeping.context import Context
from upkeep.keeping.effect import without_effect
from upkeep.keeping.in_force import DefinedThen
from upkeep.keeping.judging import Judge
from upkeep.keeping.replay import Replay
from upkeep.keeping.rows_then import RowsThen
from upkeep.store.entries import EntryStore
from upkeep.store.rows.definitions import WITHOUT_EFFECT
from upkeep.store.rows.projections import PROJECTIONS


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@examples(8, 50)
@given(
    day=st.lists(acts, min_size=20, max_size=80),
    points=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1.3)), min_size=4, max_size=4),
)
def test_any_moment_known_with_any_entry_is_what_a_replay_makes(
    shop_file: Path, day: list[Act], points: list[tuple[float, float]]
) -> None:
    """Late counts, corrections of corrections, struck fittings, changed definitions: every table, every row.

    A replay takes the entries up to a number, lets them take one another's effect, and plays those that had happened.
    """
    with opened_copy(shop_file) as book:
        do_all(book, day)
        entries = list(EntryStore(book._file).all())
        moments = sorted({one.entry.at for one in entries})
        for share, part in points:
            moment = moments[min(int(share * len(moments)), len(moments) - 1)]
            through = 30 + int(part * len(entries))
            known = [one for one in entries if one.id <= through]
            then = DefinedThen([one for one in known if isinstance(one.entry, Define)]).at(moment)
            past = AsOf(book._file, moment, then, book.known, through=through).file
            made = Replay(known, until=moment).tables
            past.lines_wanted()
            past.standings_wanted()
            for table in (table for table in PROJECTIONS if table is not WITHOUT_EFFECT):
                read = past.rows(table.whole)
                assert sorted(read, key=str) == sorted(map(tuple, made[table.name]), key=str), (table.name, moment)


class Judged:
    """What lines were judged by before an entry of a moment, from three replays: all counts; what had moved or worn an
    item by the minute; and what had been told with a lower number.

    Who gave a second signature is known from later, too.
    """

    TOLD = (
        "last_sign_offs", "last_graded", "standings_of", "done_before", "points_measured", "last_checked", "gauge_of",
        "last_measured",
    )  # fmt: skip
    MOVED = (
        "deferrals_of", "last_happening", "last_change_in", "inside_now", "last_rework", "last_fitting", "fittings_of",
        "came_after_rest", "out_of_tolerance", "all_out_of_tolerance",
    )  # fmt: skip

    def __init__(self, known: Sequence[Recorded], until: datetime, moment: datetime, number: int) -> None:
        happened = [recorded for recorded in known if recorded.entry.at <= until]
        lost = without_effect(known)
        self._counts = Replay(known, until=until)
        moved = [
            recorded
            for recorded in happened
            if recorded.id not in lost and (recorded.entry.at <= moment or isinstance(recorded.entry, Verify))
        ]
        told = [recorded for recorded in moved if recorded.entry.at < moment or _comes_before(recorded, moment, number)]
        self._moved, self._told = Replay(moved), Replay(told)
        self.known = self._moved.known

    def __getattr__(self, name: str) -> Any:
        replay = self._told if name in self.TOLD else self._moved if name in self.MOVED else self._counts
        return getattr(replay, name)


def _comes_before(recorded: Recorded, moment: datetime, number: int) -> bool:
    return recorded.entry.at > moment or isinstance(recorded.entry, Define | Verify) or recorded.id < number


@examples(8, 50)
@given(
    day=st.lists(acts, min_size=20, max_size=80),
    points=st.lists(st.tuples(*[st.floats(0, 1)] * 3), min_size=2, max_size=2),
)
def test_lines_of_any_moment_are_judged_as_a_replay_judges_them(
    shop_file: Path, day: list[Act], points: list[tuple[float, float, float]]
) -> None:
    """By the facts of a moment and the counts of a later one; from the book, and from a past of it."""
    with opened_copy(shop_file) as book:
        do_all(book, day)
        entries = list(EntryStore(book._file).all())
        moments = sorted({recorded.entry.at for recorded in entries})
        for early, share, part in points:
            until = moments[int(share * (len(moments) - 1))]
            moment = moments[int(early * share * (len(moments) - 1))]
            known = entries[: 30 + int(part * len(entries))]
            number = known[int(early * (len(known) - 1))].id
            context = past_of(book, known, until)
            judged = Judged(known, until, moment, number)
            unknown = context.known.items.keys() - judged.known.items.keys()
            judge = Judge(RowsThen(context.file, moment, number, unknown), judged.known)
            oracle = Judge(judged, judged.known)
            for item in judged.known.items.values():
                for task in judged.known.tasks_on(item):
                    assert judge.line(item, task) == oracle.line(item, task), (item.id, task.id, moment, number)


def past_of(book: Book, known: Sequence[Recorded], moment: datetime) -> Context:
    """The book at a moment, as its first entries make it."""
    then = DefinedThen(known).at(moment)
    past = AsOf(book._file, moment, then, book.known, through=known[-1].id)
    return Context(past.file, then, moment)


@examples(8, 50)
@given(
    day=st.lists(acts, min_size=20, max_size=80),
    points=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1.3)), min_size=2, max_size=2),
)
def test_figures_and_gauges_of_any_moment_are_those_of_a_book_that_ended_then(
    shop_file: Path, day: list[Act], points: list[tuple[float, float]]
) -> None:
    """The other book has the tables that a replay made of its entries."""
    with opened_copy(shop_file) as book:
        do_all(book, day)
        entries = list(EntryStore(book._file).all())
        moments = sorted({recorded.entry.at for recorded in entries})
        for share, part in points:
            moment = moments[int(share * (len(moments) - 1))]
            known = entries[: 30 + int(part * len(entries))]
            past, other = past_of(book, known, moment), ended(book.path, known, moment)
            try:
                first = other.known.zone.day(moments[0])
                assert figures(past, moment, first, None, None) == figures(other, moment, first, None, None)
                assert list(_gauge_states(past, moments)) == list(_gauge_states(other, moments))
            finally:
                other.file.close()


def _gauge_states(context: Context, moments: Sequence[datetime]) -> Iterator[object]:
    states = GaugeStates(context)
    yield states.doubts("G-1")
    for moment in moments:
        if moment <= context.moment:
            state = states.at("G-1", moment)
            yield moment, state.valid, str(state.why), state.until
