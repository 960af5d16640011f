"""The shifts gone by on a line nobody signed, counted reading by reading, are those of walking shift by shift."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.shop_counters import START
from tests.shop_floor import Act, acts, do_all
from tests.shop_plant import MOVED, PRESSES, opened_copy, shop
from upkeep.answers.read_ahead import ReadAhead
from upkeep.counting.strokes import reached_by_count, strokes_between
from upkeep.due.facts import Setting
from upkeep.due.in_shift import LATE_READING, used_after
from upkeep.keeping.definitions import Known
from upkeep.keeping.judging import Judge
from upkeep.plant.model import Task
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.units.shifts import ShiftSpan

_SECOND = timedelta(seconds=1)


@pytest.fixture(scope="module")
def shop_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of a shop floor on which nothing has been done yet."""
    return shop(tmp_path_factory.mktemp("shop"))


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    day=st.lists(acts, min_size=20, max_size=60),
    asked=st.lists(
        st.tuples(st.integers(-10, 60), st.integers(0, 400), st.sampled_from([1, 40])), min_size=1, max_size=8
    ),
)
def test_shifts_missed_are_those_of_a_walk(shop_file: Path, day: list[Act], asked: list[tuple[int, int, int]]) -> None:
    """With days off, items in storage, counts told late, strokes no counter counted: on whatever was done."""
    with opened_copy(shop_file) as book:
        do_all(book, day)
        path = book.path
    file = BookFile.open(path)
    rows, known = Projections(file), Known(Projections(file).definitions())
    looked_up = Judge(rows, known).setting
    ahead = replace(looked_up, counts=ReadAhead(rows, known.calendar))
    each_shift = next(task for task in known.tasks.values() if task.each_shift)
    for back, hours, used_from in asked:
        moment = START + timedelta(hours=8 * back)
        shift = known.calendar.next_from(moment)
        for item in (*MOVED, *PRESSES):
            task = replace(each_shift, used_from=used_from)
            if shift is not None:
                now = shift.end + timedelta(hours=hours)
                walked = {one.key for one in _walked(task, item, looked_up, shift.end) if one.end <= now} - {shift.key}
                assert used_after(task, item, looked_up, shift.key, now) == len(walked)
                assert used_after(task, item, ahead, shift.key, now) == len(walked)
    file.close()


def _walked(task: Task, item: str, setting: Setting, start: datetime) -> Iterator[ShiftSpan]:
    """Reading by reading, each looked up by the strokes done since the one before, and shift by shift; then what was
    made though the counter stood still."""
    counts, calendar = setting.counts, setting.calendar
    for shift in [*_moved(setting, item, start), *_uncounted(setting, item, start), *_by_pieces(setting, item, start)]:
        done = strokes_between(counts, item, shift.start, shift.end).best
        if shift.end > start and (task.used_from == 1 or done >= task.used_from):
            assert calendar.named(shift.key) == shift
            yield shift
    for since, until in counts.made_while_still(item, start):
        yield from (shift for shift in _worked(setting, since, until) if shift.end > start)


def _uncounted(setting: Setting, item: str, start: datetime) -> Iterator[ShiftSpan]:
    for moment, strokes in setting.counts.uncounted_from(item, start):
        shift = setting.calendar.at(moment) or setting.calendar.next_from(moment)
        if strokes > 0 and shift is not None:
            yield shift


def _by_pieces(setting: Setting, item: str, start: datetime) -> Iterator[ShiftSpan]:
    for since, until in setting.counts.made_while_still(item, start):
        yield from _worked(setting, since, until)


def _moved(setting: Setting, item: str, start: datetime) -> Iterator[ShiftSpan]:
    counts, since = setting.counts, start
    while (moved := reached_by_count(counts, item, since, 1)) is not None:
        stay = counts.stay_from(item, moved - _SECOND)
        before = (counts.read_before(stay.press, moved) if stay else None) or since
        before = max(before, stay.start) if stay else before
        yield from _worked(setting, before, moved)
        if moved <= since:
            return
        since = moved


def _worked(setting: Setting, before: datetime, moved: datetime) -> Iterator[ShiftSpan]:
    shifts = list(setting.calendar.between(before, moved))
    if not shifts and (following := setting.calendar.next_from(before)):
        yield following
    covered = [min(shift.end, moved) - max(shift.start, before) for shift in shifts]
    whole = sum(covered, timedelta())
    yield from (one for one, part in zip(shifts, covered, strict=True) if not whole or part / whole >= LATE_READING)
