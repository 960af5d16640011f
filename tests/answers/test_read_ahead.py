"""Counts read ahead for many questions are the counts looked up one by one."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.shop_counters import START
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import MOVED, PRESSES, opened_copy, shop
from upkeep.answers.read_ahead import ReadAhead
from upkeep.keeping.lookups import LookedUp
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of a shop floor on which nothing has been done yet."""
    return shop(tmp_path_factory.mktemp("shop"))


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    day=st.lists(acts, min_size=20, max_size=50),
    quarters=st.lists(st.integers(-40, 1500), min_size=1, max_size=20),
    at_once=st.none() | st.integers(-40, 1500),
)
def test_counts_read_ahead_are_those_looked_up(
    shop_file: Path, day: list[Act], quarters: list[int], at_once: int | None
) -> None:
    """Whatever was done on the floor, at whatever moments in whatever order they are asked for, read at once or not."""
    with opened_copy(shop_file) as book:
        do_all(book, day)
        path, calendar = book.path, book.calendar
    file = BookFile.open(path)
    one_by_one, ahead = LookedUp(Projections(file), calendar), ReadAhead(Projections(file), calendar)
    if at_once is not None:
        ahead.read({item: START + at_once * timedelta(minutes=15) for item in (*MOVED, *PRESSES)})
    for moment in (START + quarter * timedelta(minutes=15) for quarter in quarters):
        for press in PRESSES:
            total = one_by_one.total_at(press, moment)
            assert ahead.total_at(press, moment) == total
            assert ahead.read_before(press, moment) == one_by_one.read_before(press, moment)
            for wanted in (total.best, total.best + 1, total.high + 700):
                assert ahead.reached_at(press, wanted) == one_by_one.reached_at(press, wanted)
        for item in (*MOVED, *PRESSES):
            assert list(ahead.uncounted_from(item, moment)) == one_by_one.uncounted_from(item, moment)
            assert ahead.stay_from(item, moment) == one_by_one.stay_from(item, moment)
            assert ahead.stay_after(item, moment) == one_by_one.stay_after(item, moment)
        for item, strokes in ((item, abs(quarters[0]) * 7) for item in (*MOVED, *PRESSES)):
            assert ahead.stay_with(item, strokes) == one_by_one.stay_with(item, strokes)
    file.close()
