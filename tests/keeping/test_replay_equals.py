"""Days told in any order: what the book kept entry by entry is what a full replay of the entries makes of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.by_hand import hand_of
from tests.examples import examples
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import MOVED, PRESSES, opened_copy, shop
from upkeep.book import Book
from upkeep.plant.model import Kind

days = st.lists(acts, min_size=60, max_size=120)
"""About 90 acts each, of which three in four are taken: 600 entries and more, and with ``--long`` 4,000."""


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@examples(10, 60)
@given(days)
def test_what_is_kept_entry_by_entry_is_what_a_replay_makes(shop_file: Path, day: list[Act]) -> None:
    """Late readings, corrected fittings, struck strikes, changed definitions, nested items, rollovers: no difference.

    And strokes worked out by hand from the exported lines are those the book tells, for every item; what the modules
    on a press did and what nobody did always add up to what its counter says.
    """
    with opened_copy(shop_file) as book:
        do_all(book, day)
        assert book.prove().differences == ()
        by_hand_and_told_agree(book)


def by_hand_and_told_agree(book: Book) -> None:
    """Compares every item and press."""
    last = book.last_moment()
    assert last is not None
    hand = hand_of(book)
    for item in (*PRESSES, *MOVED):
        told = book.life(item, last)
        assert told.since_new == hand.strokes(item, last), item
        assert told.estimated == (told.since_new[0] != told.since_new[2])
    modules = [one.id for one in book.items() if one.kind is Kind.MODULE]
    for press in PRESSES:
        nobody = book.life(press, last).unattributed
        assert nobody == hand.by_nobody(press, modules, last)
        assert nobody >= 0
