"""Days told in any order: what is found open by an index is what all faults, looked through one by one, leave open."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.examples import examples
from tests.shop_floor import Act, do_all
from tests.shop_plant import opened_copy, shop

_NUMBER = st.integers(0, 4095)
_MOSTLY = ("listed-fault", "repair", "repair", "repair", "fault", "release", "strike", "correct", "count", "crash")
days = st.lists(st.tuples(st.sampled_from(_MOSTLY), _NUMBER, _NUMBER, _NUMBER, _NUMBER), min_size=20, max_size=60)


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("faults"))


@examples(6, 40)
@given(days)
def test_open_faults_are_those_of_all_that_have_not_ended(shop_file: Path, day: list[Act]) -> None:
    """And none that is open is without something missing, unless it only waits for its release or closing."""
    with opened_copy(shop_file) as book:
        do_all(book, day)
        last = book.last_moment()
        assert last is not None
        found = book.faults(last)
        everything = found.listing().faults
        assert found.listing(only_open=True).faults == tuple(one for one in everything if one.open)
        for one in everything:
            assert one == found.case(one.number)
            assert not (one.missing and not one.open)
            assert (one.state == "verified") <= (one.verified_at is not None)
            assert one.restoration is None or one.restoration >= 0
        assert book.prove().differences == ()
