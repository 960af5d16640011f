"""Whatever was done on a shop floor, in whatever order it was told: wear answers, and its numbers add up."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import MOVED, PARTS, opened_copy, shop
from upkeep.plant.model import Kind
from upkeep.views.wear import ItemWear

KINDS = (Kind.CONDUCTOR_PUNCH, Kind.INSULATION_PUNCH, Kind.CUT_OFF_BLADE, Kind.DIE_SET)


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The floor's book with nothing done yet."""
    return shop(tmp_path_factory.mktemp("wear"))


@examples(8, 50)
@given(day=st.lists(acts, min_size=20, max_size=60))
def test_every_item_has_an_answer_and_no_value_more_strokes_than_its_run(shop_file: Path, day: list[Act]) -> None:
    """Values are in order of their strokes, the run ends with what the item has done by now."""
    with opened_copy(shop_file) as book:
        now = do_all(book, day).now
        for key in MOVED:
            found = book.wear(now).item(key)
            assert isinstance(found, ItemWear)
            for one in found.points:
                assert all(value.strokes[0] <= value.strokes[1] <= value.strokes[2] for value in one.values)
                assert [value.at for value in one.values] == sorted(value.at for value in one.values)
                assert one.trend.n == len(one.values)
        for advice in book.wear(now).advice():
            assert advice.proposal.why


@examples(8, 50)
@given(day=st.lists(acts, min_size=20, max_size=60))
def test_the_lives_of_a_part_follow_one_another_and_the_last_alone_may_run(shop_file: Path, day: list[Act]) -> None:
    """One for each rework and the last; each is counted once, as failed or cut off."""
    with opened_copy(shop_file) as book:
        now = do_all(book, day).now
        families = {item.family for item in book.items() if item.family}
        for family in sorted(families):
            for kind in KINDS:
                found = book.wear(now).lives(family, kind, shape=2.0, cost_ratio=5)
                assert sum(report.failures + report.suspensions for _, report in found.reports) == len(found.lives)
                for part in PARTS:
                    lives = [life for life in found.lives if life.item == part]
                    assert all(not life.failed for life in lives if str(life.how) == "running")
                    for before, after in pairwise(lives):
                        assert before.end is not None
                        assert after.start is not None
                        assert before.end <= after.start
