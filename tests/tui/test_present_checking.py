"""A check in words, before anything is written.  Limits are invented."""

from __future__ import annotations

import pytest

from tui.present.checking import as_typed, before_saving, caution_of, numbered, reading_label, reading_words
from upkeep.entries.checking import OCCASIONS as KNOWN
from upkeep.plant.model import Point
from upkeep.wording.sentences import ENGLISH

HEIGHT = Point("crimp-height", "Crimp height", "mm", 1.24, 1.34, readings=5)
CAM = Point("cam", "Cam", "position", steps=(1, 2, 3))


def test_a_label_carries_the_limits() -> None:
    """Of a range, of positions, and of nothing but a unit."""
    assert reading_label(HEIGHT, 2, ENGLISH) == "Crimp height 2/5 (1.24 to 1.34 mm)"
    assert reading_label(CAM, 1, ENGLISH) == "Cam (one of 1, 2, 3)"
    assert reading_label(Point("dial", "Dial", "step"), 1, ENGLISH) == "Dial (in step)"


@pytest.mark.parametrize(
    ("text", "words"),
    [("1,24", "in limits"), ("1.35", "OUT: 0.01 mm over the limit"), ("", ""), ("1..2", "a number in mm, like")],
)
def test_a_typed_height_is_judged_in_words(text: str, words: str) -> None:
    """The limit itself is good."""
    assert reading_words(HEIGHT, text, ENGLISH).startswith(words)


def test_a_position_that_does_not_exist_is_named() -> None:
    """With those that do."""
    assert reading_words(CAM, "4", ENGLISH) == "no such position: 1, 2, 3"
    assert reading_words(CAM, "2", ENGLISH) == "noted"


def test_what_is_typed_is_summed_up() -> None:
    """What is bad first of all, and what follows from it; nothing for an empty form."""
    good, looks = [(HEIGHT, "1.3"), (HEIGHT, "1.31"), (HEIGHT, "")], [("brush", "g"), ("burr", None)]
    assert str(before_saving(as_typed(good, looks))) == "As typed: 2 readings, 1 look: none is bad."
    bad = as_typed([(HEIGHT, "1.4"), (HEIGHT, "1.5")], [("brush", "b"), ("burr", "n")])
    assert str(before_saving(bad)) == "As typed: Crimp height OUT and brush BAD. If saved like this, the set is held."
    assert before_saving(as_typed([(HEIGHT, "x")], [("burr", None)])) is None


def test_a_half_filled_form_is_summed_up_too() -> None:
    """Readings alone, and looks alone."""
    assert (
        str(before_saving(as_typed([(HEIGHT, "1.3")], [("burr", None)])))
        == "As typed: 1 reading, 0 looks: none is bad."
    )
    assert str(before_saving(as_typed([(HEIGHT, "")], [("burr", "g")]))) == "As typed: 0 readings, 1 look: none is bad."


@pytest.mark.parametrize("occasion", KNOWN)
def test_where_hands_go_in_the_caution_says_who_decides(occasion: str) -> None:
    """Slugs and adjusting; pieces are measured away from the press."""
    near = occasion in ("slug", "set-up", "as-found", "as-left")
    assert ("Local law and your plant's own procedure decide." in str(caution_of(occasion))) is near
    assert ("BY HAND ONLY" in str(caution_of(occasion))) is (occasion == "slug")


def test_after_the_ninth_there_is_no_number_to_press() -> None:
    """A second figure would pick the first row."""
    rows = numbered(f"CR-{number}" for number in range(12))
    assert rows[8].startswith("9  ")
    assert {row[0] for row in rows[9:]} == {"-"}
