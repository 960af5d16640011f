"""The sign-off in words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tui.fake_book import BURR, MORNING, SLUG, FakeBook
from tui.present.findings import finding_rows, finding_typed
from tui.present.people import found_text, meant, unknown_text
from tui.present.signing import (
    GRADES,
    is_short,
    proof_rows,
    reading_label,
    reading_words,
    signed_said,
    step_rows,
)  # fmt: skip
from upkeep.plant.model import Point
from upkeep.quality.symptoms import picked, symptoms
from upkeep.said import said
from upkeep.units.measures import read_number
from upkeep.wording.points import limits_said
from upkeep.wording.sentences import ENGLISH

PEOPLE = (("ana", "Ana Example"), ("anton", "Anton Other"), ("ben", "Ben Sample"))


@pytest.mark.parametrize(
    ("text", "value"),
    [("1.25", 1.25), ("1,25", 1.25), (" 1,25 ", 1.25), ("-0,5", -0.5), ("+3", 3.0), ("12", 12.0)],
)
def test_a_number_has_a_decimal_point_or_a_decimal_comma(text: str, value: float) -> None:
    """Both are one number."""
    assert read_number(text) == value


@pytest.mark.parametrize("text", ["", "1.2.3", "1,234.5", "1,2,3", "abc", "nan", "inf", "1e5", "1 2", "-", "٣"])
def test_what_is_no_number_is_not_guessed(text: str) -> None:
    """Grouped thousands could be decimals: nobody guesses."""
    assert read_number(text) is None


@given(st.text(max_size=12))
def test_a_read_number_is_finite(text: str) -> None:
    """Whatever is typed."""
    value = read_number(text)
    assert value is None or math.isfinite(value)


@pytest.mark.parametrize(
    ("point", "text", "words"),
    [
        (SLUG, "1.25", "in limits"),
        (SLUG, "1,20", "in limits, past the warning value"),
        (SLUG, "1.295", "in limits, past the warning value"),
        (SLUG, "1.19", "OUT: 0.01 mm under the limit"),
        (SLUG, "1.4", "OUT: 0.1 mm over the limit"),
        (BURR, "0", "in limits"),
        (BURR, "0.06", "OUT: 0.01 mm over the limit"),
        (Point("t", "Setting", "step"), "7", "noted"),
        (SLUG, "abc", "a number in mm, like 1.25 or 1,25; in another unit with its sign"),
        (SLUG, " ", ""),
    ],
)
def test_a_reading_is_judged_in_words(point: Point, text: str, words: str) -> None:
    """In limits, past a warning, out and by how much, or no number."""
    assert reading_words(point, text, ENGLISH) == words


@pytest.mark.parametrize(
    ("point", "text"),
    [
        (SLUG, "1.2 to 1.3 mm"),
        (BURR, "at most 0.05 mm"),
        (Point("f", "Pull", "N", lower=50), "at least 50 N"),
        (Point("t", "Setting", "step"), "no limits, in step"),
    ],
)
def test_limits_carry_their_unit(point: Point, text: str) -> None:
    """Also where there is one limit or none."""
    assert str(limits_said(point)) == text


def test_several_readings_of_a_point_are_numbered() -> None:
    """One reading is not."""
    assert reading_label(SLUG, 2, ENGLISH) == "Slug height 2 of 2 (1.2 to 1.3 mm)"
    assert reading_label(BURR, 1, ENGLISH) == "Burr (at most 0.05 mm)"


def test_every_grade_has_a_meaning() -> None:
    """Nought to four."""
    assert list(GRADES) == [0, 1, 2, 3, 4]


def test_a_long_step_goes_on_below_its_first_word() -> None:
    """So that the numbers stand alone."""
    assert step_rows(("Brush it off", "Wipe"), 12, ENGLISH) == (" 1  Brush it", "    off", " 2  Wipe")


def test_the_proof_names_moment_person_and_meaning() -> None:
    """And how long it can be taken back."""
    rows = proof_rows(signed_said("Ana Example", "06:05", said("done by me")), said("Clean on M-12"), 60, ENGLISH)
    assert "SIGNED 06:05 Ana Example: done by me." in rows[1]
    assert "Press u within 60 s to undo." in rows[3]
    assert "undo" not in " ".join(proof_rows(said("x"), said("y"), 0, ENGLISH))


@pytest.mark.parametrize(
    ("typed", "person"),
    [("ana", "ana"), ("ANA", "ana"), ("ant", None), ("b", None), ("an", None), ("example", None), ("", None)],
)
def test_a_person_is_meant_by_the_whole_id_alone(typed: str, person: str | None) -> None:
    """A stray letter is nobody, and a name is no signature."""
    person_meant = meant(PEOPLE, typed)
    assert (person_meant and person_meant[0]) == person


def test_who_types_a_name_is_told_the_id() -> None:
    """And who types nothing known is told what is."""
    assert found_text(PEOPLE, "sample", ENGLISH) == "ben Ben Sample"
    assert found_text(PEOPLE, "an", ENGLISH) == "ana Ana Example and anton Anton Other"
    assert "Known ids: ana, anton and ben" in str(unknown_text(PEOPLE, "zoe"))
    assert "'an' is only part of an id. Type all of it: ana and anton." in str(unknown_text(PEOPLE, "an"))


def test_all_symptoms_stand_with_their_numbers_in_a_box_of_a_small_terminal() -> None:
    """Eleven rows of two, each number before its title."""
    rows = finding_rows(ENGLISH)
    assert len(rows) == 11
    assert max(map(len, rows)) <= 76
    assert all(f"{one.number:>2} {one.title}" in "\n".join(rows) for one in symptoms())


def test_what_is_typed_is_a_number_a_number_with_words_or_words() -> None:
    """A number that the list does not have is nothing."""
    loose = picked("21")
    assert finding_typed("21 left screw ") == (loose, "Loose, broken or missing part: left screw")
    assert finding_typed(" 21") == (loose, "Loose, broken or missing part")
    assert finding_typed(" squeaks at 9 ") == (None, "squeaks at 9")
    assert finding_typed("99") is finding_typed(" ") is None


def test_a_form_without_readings_is_short() -> None:
    """It asks for a name only."""
    book = FakeBook(forms={"DS-031/wear-inspection": {"graded": True}})
    assert is_short(book.sign_form("M-12/daily-clean", MORNING))
    assert not is_short(book.sign_form("DS-031/wear-inspection", MORNING))
