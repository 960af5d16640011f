"""Strokes over any span, and the moment at which a number of them was reached, against the same worked out by hand."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.by_hand import ByHand
from tests.shop_floor import PRESSES, START, Act, days, do_all, opened_copy, shop
from upkeep.book.lookups import LookedUp, ReadAhead
from upkeep.counting.strokes import first_stroke, reached, strokes_between, strokes_since_new
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER

MINUTE = timedelta(minutes=1)
SHARES = st.integers(0, 100)
asked = st.lists(st.tuples(SHARES, SHARES, st.integers(1, 2000)), min_size=3, max_size=6)
"""Two moments, in hundredths of the time told, and a number of strokes."""


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(day=days(30, 60), asked=asked)
def test_strokes_of_any_span_and_when_they_were_reached(
    shop_file: Path, day: list[Act], asked: list[tuple[int, int, int]]
) -> None:
    """Least, best and most, for every item and press; the looked-up way and the read-ahead way are the same."""
    with opened_copy(shop_file) as book:
        passed = do_all(book, day).now - START
        figures = {one.id: one.digits for one in book.items() if one.id in PRESSES}
        hand, rows = ByHand(book.export(), book.zone, figures), Projections(book._file)
        counts, ahead = LookedUp(rows), ReadAhead(rows)
        for item in (one.id for one in book.items()):
            for first, last, number in asked:
                start, end = (START + (passed * share // 100 // MINUTE) * MINUTE for share in sorted((first, last)))
                by_hand = hand.between(item, start, end, NEVER)
                assert tuple(strokes_between(counts, item, start, end)) == by_hand, (item, start, end)
                assert tuple(strokes_between(ahead, item, start, end)) == by_hand
                wanted = hand.first_shown(item, start, number, NEVER)
                assert reached(counts, item, start, number) == wanted, (item, start, number)
                latest = hand.first_shown(item, start, 1, NEVER)
                bounds = first_stroke(counts, item, start)
                assert (bounds[1] if bounds else None) == latest
                if bounds is not None:
                    assert start <= bounds[0] <= bounds[1]
                    assert hand.between(item, start, bounds[0], NEVER)[1] == 0
            assert strokes_since_new(counts, item, NEVER) == strokes_between(counts, item, START, NEVER)
