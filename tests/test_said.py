"""What is to be said: sentences as data, and their plain English."""

from __future__ import annotations

import copy
import pickle
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from upkeep.errors import AlreadySigned, NotFound, Refused
from upkeep.said import (
    Clause,
    Figure,
    Join,
    Moment,
    Numeral,
    Quoted,
    Said,
    Value,
    all_of,
    either,
    enumerated,
    in_lines,
    in_turn,
    listed,
    said,
    said_many,
)
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes

BERLIN = Zone("Europe/Berlin")
NIGHT_OF_TWO_HOURS = datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


def shown(value: Value) -> str:
    return str(said("{value}", value=value))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("DS-031 {punch}", "DS-031 {punch}"),
        (1_204_300, "1,204,300"),
        (date(2026, 3, 2), "2026-03-02"),
        (Path("lists") / "week.txt", "lists/week.txt"),
        (Quoted("it's\n"), '"it\'s\\n"'),
        (Numeral(4812), "4812"),
        (Figure(1.25), "1.25"),
        (Figure(0.034, "+.3f"), "+0.034"),
        (Figure(0.104, ".0%"), "10%"),
        (Clause(said("It is closed.")), "It is closed"),
        (in_strokes(1), "1 stroke"),
        (in_strokes(-1), "-1 stroke"),
        (in_strokes(192_400), "192,400 strokes"),
        (listed([]), ""),
        (listed(["a", 2, Quoted("c")]), "a, 2, 'c'"),
        (listed(["a", "b"], Join.SEMICOLON), "a; b"),
        (either(["a"]), "a"),
        (either(["a", "b", "c"]), "a, b or c"),
        (all_of(["a", "b", "c"]), "a and b and c"),
        (enumerated(["a", "b"]), "a and b"),
        (enumerated(["a", "b", "c"]), "a, b and c"),
        (in_turn(said("One."), None, said("Two.")), "One. Two."),
        (in_lines([said("One."), said("Two.")]), "One.\nTwo."),
        (Moment(datetime(2026, 3, 2, 5, 10, tzinfo=UTC), BERLIN), "2026-03-02 06:10"),
        (Moment(datetime(2026, 3, 2, 5, 10, 7, tzinfo=UTC), BERLIN), "2026-03-02 06:10:07"),
        (Moment(datetime(2026, 3, 2, 5, 10, 7, tzinfo=UTC), BERLIN, to_minute=True), "2026-03-02 06:10"),
        (Moment(NIGHT_OF_TWO_HOURS, BERLIN), "2026-10-25 02:30+01:00"),
    ],
)
def test_each_kind_of_value_has_its_plain_english(value: Value, text: str) -> None:
    assert shown(value) == text


def test_a_sentence_stands_inside_another_with_its_own_values() -> None:
    inside = said("{item} is held", item="DS-031")
    outside = said("{why}, since {day}.", why=inside, day=date(2026, 3, 2))
    assert str(outside) == "DS-031 is held, since 2026-03-02."


@pytest.mark.parametrize(("n", "text"), [(0, "0 lines"), (1, "1 line"), (2, "2 lines"), (1_000, "1,000 lines")])
def test_a_number_chooses_between_one_and_many(n: int, text: str) -> None:
    assert str(said_many("{n} line", "{n} lines", n=n)) == text


def test_what_a_person_wrote_is_no_template() -> None:
    """A text with braces in it stands as it is, however deep it lies."""
    assert str(said("{text}", text=said("{text}", text="{item} {0} {}"))) == "{item} {0} {}"


def test_the_same_sentence_of_the_same_values_is_equal_and_hashes_alike() -> None:
    """The order in which values are named does not matter, nor which zone a moment comes with."""
    at = datetime(2026, 3, 2, 5, 10, tzinfo=UTC)
    one = said("{item} at {at}", item="M-12", at=Moment(at, BERLIN))
    other = said("{item} at {at}", at=Moment(at, Zone("UTC")), item="M-12")
    assert one == other
    assert len({one, other}) == 1
    assert one != said("{item} at {at}", item="M-13", at=Moment(at, BERLIN))


def test_a_sentence_is_never_changed() -> None:
    sentence = said("{item}", item="M-12")
    with pytest.raises(AttributeError):
        sentence.template = "other"  # type: ignore[misc]
    assert copy.deepcopy(sentence) == pickle.loads(pickle.dumps(sentence)) == sentence


def test_an_error_carries_its_sentence_and_shows_it_in_english() -> None:
    refused = Refused(said("{item} is not held.", item="M-12"))
    assert isinstance(refused.said, Said)
    assert str(refused) == "M-12 is not held."


def test_what_is_not_there_is_told_with_what_may_be_meant_and_what_to_do() -> None:
    plain = NotFound(said("press"), "P-7")
    assert str(plain) == "There is no press 'P-7' in this book."
    helped = NotFound(said("line"), "M-12", ["M-1/wipe", "M-2/wipe"], said("Lines are named item/task."))
    assert str(helped) == (
        "There is no line 'M-12' in this book. Did you mean M-1/wipe or M-2/wipe? Lines are named item/task."
    )


def test_a_second_signature_on_the_same_work_is_told_with_the_moment_of_the_first() -> None:
    when = Moment(NIGHT_OF_TWO_HOURS, BERLIN)
    taken = AlreadySigned("M-12/wipe", "2026-10-25/night", "Ana", when, 812)
    assert "is already signed: Ana, 2026-10-25 02:30+01:00 (#812). " in str(taken)
