"""Strokes over any span, and the moment at which a number of them was reached, against the same worked out by hand."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.by_hand import hand_of
from tests.examples import examples
from tests.shop_counters import START
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import opened_copy, shop
from upkeep.answers.read_ahead import ReadAhead
from upkeep.counting.strokes import possibly_reached, reached, reached_by_count, strokes_between, strokes_since_new
from upkeep.keeping.lookups import LookedUp
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER

MINUTE = timedelta(minutes=1)
OPENING: tuple[Act, ...] = (("hang", 0, 0, 0, 0), ("hang", 0, 0, 1, 1), *(("count", 0, 0, n, 0) for n in range(3)))
"""Most days begin with modules on presses, sets and punches in them, and presses read."""
SHARES = st.integers(0, 100)
asked = st.lists(st.tuples(SHARES, SHARES, st.integers(1, 2000)), min_size=3, max_size=6)
"""Two moments, in hundredths of the time told, and a number of strokes."""


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@examples(5, 40)
@given(day=st.lists(acts, min_size=30, max_size=60), asked=asked, opened=st.sampled_from((OPENING, OPENING, ())))
def test_strokes_of_any_span_and_when_they_were_reached(
    shop_file: Path, day: list[Act], asked: list[tuple[int, int, int]], opened: tuple[Act, ...]
) -> None:
    """Least, best and most, for every item and press; the looked-up way and the read-ahead way are the same.

    A number is reached at the first reading, or the end of a stay, by which it was done and from which on it stayed
    done; with strokes written besides the counter, at their moment where they made it up.
    """
    with opened_copy(shop_file) as book:
        passed = do_all(book, [*opened, *day]).now - START
        hand, rows = hand_of(book), Projections(book._file)
        counts, ahead = LookedUp(rows, book.calendar), ReadAhead(rows, book.calendar)
        for item in (one.id for one in book.items()):
            besides, moments = hand.besides(item), hand.moments(item)
            for first, last, number in asked:
                start, end = (START + (passed * share // 100 // MINUTE) * MINUTE for share in sorted((first, last)))
                by_hand = hand.between(item, start, end, NEVER)
                assert tuple(strokes_between(counts, item, start, end)) == by_hand, (item, start, end)
                assert tuple(strokes_between(ahead, item, start, end)) == by_hand
                if not besides and not hand.by_pieces(item, start, NEVER, NEVER)[1]:
                    done = (one for one in moments if hand.between(item, start, one, NEVER)[1] >= number)
                    wanted = next((one for one in done if one >= start), None)
                    assert reached(counts, item, start, number) == wanted, (item, start, number)
                    assert reached_by_count(counts, item, start, number) == wanted
                    can = (one for one in moments if one > start and hand.between(item, start, one, NEVER)[2] >= number)
                    assert possibly_reached(counts, item, start, number) == next(can, None), (item, start, number)
            assert tuple(strokes_since_new(counts, item, NEVER)) == hand.strokes(item, NEVER)
