"""The shipped task catalogue: a start, honest about what it does not know."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of
from upkeep.errors import Refused
from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.definition import Definition
from upkeep.plant.model import Energy, Task, task_from

NOW = "2026-03-02 08:00"
TASKS = [task_from(definition.content) for definition in shipped_tasks()]


def test_the_catalogue_offers_more_than_25_kinds_of_task() -> None:
    """Each under an id of its own."""
    assert len({task.id for task in TASKS}) == len(TASKS) > 25


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_no_stroke_interval_and_no_limit_is_shipped(task: Task) -> None:
    """Nobody has published one that fits; the plant sets its own."""
    assert task.strokes is None
    assert not task.strokes_for
    limits = [(point.lower, point.upper, point.warn_lower, point.warn_upper) for point in task.points]
    assert set(limits) <= {(None, None, None, None)}


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_every_task_tells_its_source(task: Task) -> None:
    """Practice says it has none; what a rule demands names the rule and its section."""
    assert task.source.startswith("plant default, no source") != task.statutory


def test_every_statutory_task_says_that_its_rule_may_not_apply() -> None:
    """Whether a press is covered is the plant's own decision."""
    statutory = [task for task in TASKS if task.statutory]
    assert len(statutory) >= 4
    assert all("applies" in task.source for task in statutory)


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_work_with_hands_in_the_press_opens_with_its_energy_caution(task: Task) -> None:
    """And leaves the decision to local law and the plant's own procedure."""
    if task.energy is not Energy.LOOK:
        assert "local law" in task.caution.lower()
        assert "own procedure" in task.caution
        assert any(word in task.caution.lower() for word in ("plug", "lock"))


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_the_steps_of_a_task_fit_a_glance(task: Task) -> None:
    """At least two, at most nine."""
    assert 2 <= len(task.steps) <= 9


def test_work_on_the_bench_and_at_the_air_unit_waits_for_the_next_change_of_tools() -> None:
    """What needs the press to stand and has weeks of room (trade practice, no source)."""
    assert [task.id for task in TASKS if task.at_next_stop] == ["spring-change", "air-filter"]


def test_the_storage_check_is_done_at_rest_and_no_other_task_is() -> None:
    """In storage it goes on, on the press it waits (trade practice, no source)."""
    assert [task.id for task in TASKS if task.while_resting] == ["storage-check"]


def test_files_that_have_not_changed_need_no_reason_where_the_catalogue_says_a_task_otherwise(tmp_path: Path) -> None:
    """An earlier program had other steps; another interval is a change and asks why."""
    shipped = next(task for task in shipped_tasks() if "every" in task.content and "steps" in task.content)
    own = {**shipped.content, "by": ["operator"]}
    before = Definition("task", shipped.key, {**own, "steps": ["As it was said before."]})
    with book_of(tmp_path, tasks=[before]) as book:
        book.load([Definition("task", shipped.key, own)], at(NOW), "lea", at(NOW))
        assert 'because "the shipped catalogue says it in other words"' in book.newest_written(1)[0].text
        for name, value in (("every", "400 days"), ("steps", ["The plant's own words."])):
            with pytest.raises(Refused, match="Say why"):
                book.load([Definition("task", shipped.key, {**own, name: value})], at(NOW), "lea", at(NOW))
