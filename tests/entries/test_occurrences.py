"""What the word of an occurrence names, and that every one is written as it is read."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.entries.occurrences import (
    Day,
    Occurrence,
    OfEvent,
    OfShift,
    OfShutdown,
    Strokes,
    Unplanned,
    occurrence_of,
)
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Event

MONDAY = date(2026, 3, 9)
WORDS: dict[str, Occurrence] = {
    "200000": Strokes(200_000),
    "2026-03-09": Day(MONDAY),
    "2026-03-09/early": OfShift(MONDAY, "early"),
    "fitting.812": OfEvent("fitting", 812),
    "tool-setting.7": OfEvent("tool setting", 7),
    "shutdown.2026-03-09": OfShutdown(MONDAY),
    "extra": Unplanned("extra"),
    "2026-02-30": Unplanned("2026-02-30"),
    "soon/early": Unplanned("soon/early"),
    "v1.x": Unplanned("v1.x"),
    "²": Unplanned("²"),
    "": Unplanned(""),
}


@pytest.mark.parametrize("word", WORDS)
def test_a_word_names_one_kind_of_occurrence(word: str) -> None:
    """A word that names none of them names nothing planned, and stays as it is."""
    assert occurrence_of(word) == WORDS[word]
    assert str(WORDS[word]) == word


SHIFTS = st.text("abcdefg 0123456789/.-", min_size=1)
PLANNED: st.SearchStrategy[Occurrence] = st.one_of(
    st.builds(Strokes, st.integers(0, 10**12)),
    st.builds(Day, st.dates()),
    st.builds(OfShift, st.dates(), SHIFTS),
    st.builds(OfEvent, st.sampled_from([event.value for event in Event]), st.integers(1, 10**9)),
    st.builds(OfShutdown, st.dates()),
)


@given(PLANNED)
def test_every_occurrence_reads_back_from_its_word(occurrence: Occurrence) -> None:
    """Whatever the shift is called."""
    assert occurrence_of(str(occurrence)) == occurrence


def test_a_line_is_named_by_item_and_task() -> None:
    """And read back; what has no slash names no task."""
    assert str(LineName("M-12", "clean")) == "M-12/clean"
    assert LineName.read("M-12/clean") == ("M-12", "clean")
    assert LineName.read("M-12") == ("M-12", "")
