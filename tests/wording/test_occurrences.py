"""What a sign-off is for, how often a task is planned, in the words of people."""

from __future__ import annotations

import pytest

from upkeep.wording.occurrences import every_said, occurrence_said, rule_said


@pytest.mark.parametrize(
    ("occurrence", "text"),
    [
        ("2026-03-02/early", "the early shift of Mon 2026-03-02"),
        ("2026-03-09", "Mon 2026-03-09"),
        ("200000", "200,000 strokes"),
        ("tool-setting.1381", "the tool setting (#1381)"),
        ("shutdown.2026-08-14", "the shutdown until Fri 2026-08-14"),
        ("extra", "an extra"),
    ],
)
def test_an_occurrence_is_said_as_people_say_it(occurrence: str, text: str) -> None:
    """A shift, a day, strokes, an event, or nothing planned."""
    assert str(occurrence_said(occurrence)) == text


@pytest.mark.parametrize(("every", "text"), [("1 day", "1 day"), ("7 days", "7 days"), ("1 month", "1 month")])
def test_an_interval_is_said_with_its_unit(every: str, text: str) -> None:
    assert str(every_said(every)) == text


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("FREQ=DAILY", "every day"),
        ("FREQ=YEARLY", "every year"),
        ("FREQ=MONTHLY;INTERVAL=3", "every 3 months"),
        ("FREQ=WEEKLY;BYDAY=MO,WE,FR", "every week on Mon, Wed and Fri"),
        ("FREQ=MONTHLY;BYDAY=1MO", "by the rule FREQ=MONTHLY;BYDAY=1MO"),
        ("FREQ=DAILY;UNTIL=20260401", "by the rule FREQ=DAILY;UNTIL=20260401"),
        ("FREQ=WEEKLY;BYMONTH=3", "by the rule FREQ=WEEKLY;BYMONTH=3"),
    ],
)
def test_a_rule_is_said_in_words_where_words_say_all_of_it(rule: str, text: str) -> None:
    """RFC 5545, section 3.3.10; whatever is more than a step and days of the week stands as it was written."""
    assert str(rule_said(rule)) == text
