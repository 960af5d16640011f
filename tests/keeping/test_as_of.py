"""As it stood at a moment, known with some entry: what is read from the tables is what a replay makes."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import opened_copy, shop
from upkeep.entries.planning import Define
from upkeep.keeping.as_of import AsOf
from upkeep.keeping.in_force import DefinedThen
from upkeep.keeping.replay import Replay
from upkeep.store.entries import EntryStore
from upkeep.store.rows.definitions import WITHOUT_EFFECT
from upkeep.store.rows.projections import PROJECTIONS

EXAMPLES = 25


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shop's book, copied for every day."""
    return shop(tmp_path_factory.mktemp("shop"))


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
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
