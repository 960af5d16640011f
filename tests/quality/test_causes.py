"""The list of symptoms, and likely causes by the plant's own records.

The order of causes is worked out by hand here: (confirmed + 4 x prior) / (all + 4), the prior 1, 1/2, 1/3 ... scaled to
1.  That is the mean of a Dirichlet distribution after counting (C. M. Bishop, Pattern Recognition and Machine Learning,
2006, section 2.2.1, from memory).
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import dirichlet

from upkeep.plant.energy import LOCAL_LAW
from upkeep.quality.causes import TABLE_WEIGHT, Confirmed, likely
from upkeep.quality.symptoms import (
    ADJUSTED,
    DEFAULT,
    IN_WORDS,
    OTHER,
    PRACTICE,
    Symptom,
    causes,
    named,
    picked,
    questions,
    symptom,
    symptoms,
)

CONFIRMED = st.sampled_from([*causes()]).map(lambda cause: Confirmed(cause, None, None))
PULL, NOT_FED = named("pull-low"), named("not-fed")


def by_hand(seen: Symptom, records: list[str]) -> dict[str, Fraction]:
    """The share of each cause the table names."""
    ranks = {one.id: rank for rank, one in enumerate(seen.causes, 1)}
    whole = sum(Fraction(1, rank) for rank in ranks.values())
    return {
        cause: (records.count(cause) + TABLE_WEIGHT * Fraction(1, rank) / whole) / (len(records) + TABLE_WEIGHT)
        for cause, rank in ranks.items()
    }


# The list


def test_a_person_picks_from_eighteen_symptoms_of_a_run_and_four_of_a_round() -> None:
    """Numbered without a gap, each id once."""
    assert [one.number for one in symptoms()] == list(range(1, 23))
    assert len({one.id for one in symptoms()}) == 22
    assert symptoms()[17].title == "Feeds by hand but not under power"


def test_there_are_at_most_25_causes_and_words_for_another() -> None:
    """More than that nobody reads at a press."""
    assert len(causes()) == 25 + 1
    assert {OTHER, ADJUSTED} < set(causes())


@pytest.mark.parametrize("seen", [*symptoms(), IN_WORDS], ids=lambda seen: seen.id)
def test_every_symptom_says_its_cautions_and_whose_law_decides(seen: Symptom) -> None:
    """And what it names is in the lists."""
    assert seen.cautions[-1] == LOCAL_LAW
    assert len(seen.cautions) > 1
    assert {one.id for one in seen.causes} <= set(causes())
    assert {one.id for one in seen.checks} <= set(questions())
    assert {one.source for one in seen.causes} <= {PRACTICE, DEFAULT}


def test_what_is_common_practice_says_so_and_the_rest_is_a_plant_default() -> None:
    """Common practice of crimp shops, no source: five causes of a low pull force, three of a terminal not fed."""
    assert [one.id for one in PULL.causes if one.source == PRACTICE] == [
        "not-bottoming", "worn", "wrong-dies", "arrangement", "tape",
    ]  # fmt: skip
    assert [one.id for one in NOT_FED.causes if one.source == PRACTICE] == ["air-low", "debris", "feed-speed"]
    assert sum(one.source == PRACTICE for seen in symptoms() for one in seen.causes) == 8


def test_a_press_that_double_cycles_is_for_maintenance_only_and_has_no_check_for_others() -> None:
    """Stop and lock come first."""
    seen = named("double-cycles")
    assert (seen.maintenance_only, seen.safety, seen.checks) == (True, True, ())
    assert str(seen.cautions[0]).startswith("STOP the press now and lock it off. Maintenance only")


def test_no_caution_tells_anybody_to_run_without_a_guard() -> None:
    """Guards are named to be kept."""
    assert all("bypass" not in str(one).replace("Never bypass a guard", "") for s in symptoms() for one in s.cautions)


def test_a_symptom_is_picked_by_its_number_or_its_id_and_all_else_is_words() -> None:
    """The list is read with numbers; scripts write ids."""
    assert picked("9") == picked(" not-fed ") == NOT_FED
    assert picked("0") is picked("23") is picked("feeds badly") is None
    assert symptom(None) == IN_WORDS
    assert symptom("no-longer-listed") == IN_WORDS


# The order of causes


def test_without_records_the_causes_stand_in_the_order_of_the_table() -> None:
    """The first of nine has 1 / (1 + 1/2 + ... + 1/9) of the weight."""
    found = likely(PULL, [])
    assert [one.cause for one in found] == list(PULL.causes)
    assert found[0].share == pytest.approx(float(1 / sum(Fraction(1, rank) for rank in range(1, 10))))
    assert {(one.confirmed, one.of) for one in found} == {(0, 0)}


def test_after_five_records_the_order_is_the_plants_own() -> None:
    """The last cause of the table, confirmed three times of five, comes first."""
    records = ["gauge", "gauge", "stripping", "gauge", "not-bottoming"]
    found = likely(PULL, [Confirmed(cause, None, None) for cause in records])
    assert [one.cause.id for one in found][:3] == ["gauge", "not-bottoming", "stripping"]
    assert (found[0].confirmed, found[0].of) == (3, 5)
    hand = by_hand(PULL, records)
    assert {one.cause.id: one.share for one in found} == pytest.approx({key: float(hand[key]) for key in hand})


def test_one_record_moves_the_order_less_than_the_table() -> None:
    """A single finding does not turn the list over."""
    assert likely(PULL, [Confirmed("gauge", None, None)])[0].cause.id == "not-bottoming"


def test_adjusting_confirms_no_cause() -> None:
    """Nine times adjusted say as much as nothing."""
    assert likely(NOT_FED, [Confirmed(ADJUSTED, None, None)] * 9) == likely(NOT_FED, [])


def test_a_cause_told_in_words_counts_as_another_one_and_stands_in_the_list() -> None:
    """So does one of the list that the table does not name under the symptom."""
    found = likely(NOT_FED, [Confirmed(OTHER, None, None)] * 6 + [Confirmed("bearing", None, None)])
    assert (found[0].cause.id, found[0].confirmed, found[0].of) == (OTHER, 6, 7)
    assert "bearing" in [one.cause.id for one in found]


def test_the_checks_that_found_a_cause_and_its_median_minutes_stand_beside_it() -> None:
    """The most frequent check first; a record without minutes says nothing of them."""
    records = [
        Confirmed("air-low", "air", 10), Confirmed("air-low", "clean", 30), Confirmed("air-low", "air", 12),
        Confirmed("air-low", None, None), Confirmed("debris", "clean", None),
    ]  # fmt: skip
    by_cause = {one.cause.id: one for one in likely(NOT_FED, records)}
    assert by_cause["air-low"].found_by == (("air", 2), ("clean", 1))
    assert by_cause["air-low"].minutes == 12
    assert by_cause["debris"].minutes is None


@given(st.lists(st.sampled_from([one.id for one in PULL.causes]), max_size=30))
def test_shares_are_the_mean_of_the_dirichlet_distribution_a_reference_library_gives(records: list[str]) -> None:
    """scipy.stats.dirichlet with the table's weights and the records as its parameters."""
    whole = sum(1 / rank for rank in range(1, 10))
    alpha = [TABLE_WEIGHT / rank / whole + records.count(one.id) for rank, one in enumerate(PULL.causes, 1)]
    told = {one.cause.id: one.share for one in likely(PULL, [Confirmed(cause, None, None) for cause in records])}
    assert [told[one.id] for one in PULL.causes] == pytest.approx(list(dirichlet.mean(alpha)))


@given(st.sampled_from(symptoms()), st.lists(CONFIRMED, max_size=40))
def test_shares_add_up_and_fall_and_more_of_the_same_never_lowers_a_cause(
    seen: Symptom, records: list[Confirmed]
) -> None:
    """For any records: one more record of a cause lifts its share."""
    found = likely(seen, records)
    assert sum(one.share for one in found) == pytest.approx(1)
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    first = found[-1].cause.id
    again = {one.cause.id: one.share for one in likely(seen, [*records, Confirmed(first, None, None)])}
    assert again[first] >= found[-1].share
