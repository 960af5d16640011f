"""Days off in plant.toml: public holidays by country and year, shutdowns, and where a due day moves."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from upkeep.errors import DefinitionProblems
from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.files import read_definitions
from upkeep.plant.model import Task, task_from
from upkeep.plant.values.facts import PlantFacts, facts_from
from upkeep.plant.values.shutdowns import Shutdown
from upkeep.units.instants import Zone
from upkeep.units.shifts import ShiftCalendar
from upkeep.units.weeks import week_days
from upkeep.units.workdays import WorkingDays

HOLIDAYS = ('holidays = "DE-BE"', "holiday_years = [2026]")
SHUTDOWN = ("[[shutdown]]", "from = 2026-07-27", "to = 2026-08-07", 'title = "Summer shutdown"')
SHIFTS = (
    "[[shift]]",
    'name = "early"',
    'start = "06:00"',
    'end = "14:00"',
    'days = ["MO", "TU", "WE", "TH", "FR"]',
)
TABLES = {
    "places.csv": "id,title,area\nR-01,Rack 1,Hall A\n",
    "people.csv": "id,name,roles\nana,Ana Lindqvar,operator\nbo,Bo Feldweg,maintenance lead\n",
    "items.csv": "id,kind,title,place\nM-12,module,Module 12,R-01\n",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in TABLES.items():
        (tmp_path / name).write_text(text)
    return tmp_path


def plant_content(folder: Path, *lines: str, task: str = "") -> str:
    (folder / "plant.toml").write_text(
        "\n".join(['[plant]\nname = "Test plant"\nzone = "Europe/Berlin"\nkeepers = ["ana", "bo"]', *lines])
    )
    (folder / "tasks.toml").write_text(task)
    return next(definition.text for definition in read_definitions(folder) if definition.what == "plant")


def facts_of(folder: Path, *lines: str) -> PlantFacts:
    return facts_from(json.loads(plant_content(folder, *lines)))


def task_of(folder: Path, *lines: str) -> Task:
    head = ["[[task]]", 'id = "t"', 'title = "T"', 'applies_to = "module"', 'by = ["operator"]']
    plant_content(folder, task="\n".join([*head, *lines]))
    return next(task_from(each.content) for each in read_definitions(folder) if each.what == "task")


def one_problem_in(folder: Path, *lines: str, task: str = "") -> str:
    with pytest.raises(DefinitionProblems) as caught:
        plant_content(folder, *lines, task=task)
    (problem,) = caught.value.problems
    return str(problem)


# Public holidays ------------------------------------------------------------------------------------------------------


def test_holidays_are_written_into_the_definition_by_day(folder: Path) -> None:
    """The country and the years are gone; what is kept no longer asks the library."""
    content = json.loads(plant_content(folder, *HOLIDAYS))
    assert content["holidays"]["2026-10-03"] == "Tag der Deutschen Einheit"
    assert content.keys() == {"name", "zone", "keepers", "holidays"}
    assert facts_from(content).holidays[date(2026, 3, 8)] == "Frauentag"


def test_reading_twice_gives_the_same_definition(folder: Path) -> None:
    """To the letter, so loading the files again changes nothing."""
    assert plant_content(folder, *HOLIDAYS) == plant_content(folder, *HOLIDAYS)


def test_a_country_without_a_part_has_the_days_of_the_whole_country(folder: Path) -> None:
    """Women's day is Berlin's own."""
    facts = facts_of(folder, 'holidays = "DE"', "holiday_years = [2026, 2027]")
    assert date(2026, 3, 8) not in facts.holidays
    assert {day.year for day in facts.holidays} == {2026, 2027}


NAMES = """
from upkeep.plant.days_off import public_holidays
print(public_holidays("DE", [2026])["2026-01-01"])
"""


@pytest.mark.parametrize("language", ["de_DE.UTF-8", "th_TH.UTF-8", "C"])
def test_names_do_not_follow_the_language_of_the_machine(language: str) -> None:
    """The same files give the same book everywhere."""
    settings = {"LANG": language, "LC_ALL": language, "LANGUAGE": language, "PYTHONUTF8": "1"}
    done = subprocess.run(
        [sys.executable, "-c", NAMES], env={**os.environ, **settings}, capture_output=True, text=True, check=True
    )
    assert done.stdout == "Neujahr\n"


def test_the_library_is_loaded_only_where_a_plant_names_a_country() -> None:
    """Starting the program does not wait for it."""
    asked = "import sys, upkeep.plant.files; print('holidays' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


@pytest.mark.parametrize(
    ("region", "pieces"),
    [
        ("de-BE", ["found 'de-BE'", "did you mean 'DE'"]),
        ("Germany", ["found 'Germany'", "did you mean 'DE'"]),
        ("GBR-ENNG", ["with one of ENG, NIR, SCT, WLS", "did you mean 'ENG'"]),
        ("DE-be", ["with one of BB, BE, BW", "did you mean 'BE'"]),
        ("MC-01", ["allowed: MC alone"]),
        ("QQ", ["an ISO 3166 country"]),
        ("HM", ["none are in 2026"]),
    ],
)
def test_a_region_nobody_knows_is_answered_with_near_ones(folder: Path, region: str, pieces: list[str]) -> None:
    """On its line; a country is told from a part of one."""
    problem = one_problem_in(folder, f'holidays = "{region}"', "holiday_years = [2026]")
    assert problem.startswith("plant.toml line 5, field holidays: found")
    assert [piece for piece in pieces if piece not in problem] == []


@pytest.mark.parametrize(
    ("lines", "start"),
    [
        (['holidays = "US"'], "plant.toml line 1, field holiday_years: found nothing, although holidays is given"),
        (["holiday_years = [2026]"], "plant.toml line 1, field holidays: found nothing, although"),
        (['holidays = "US"', "holiday_years = []"], "plant.toml line 6, field holiday_years: found a list"),
        (['holidays = "US"', "holiday_years = [26]"], "plant.toml line 6, field holiday_years: found 26"),
    ],
)
def test_country_and_years_come_together(folder: Path, lines: list[str], start: str) -> None:
    """Years are written down, so no definition changes with the calendar on the wall."""
    assert one_problem_in(folder, *lines).startswith(start)


# Shutdowns ------------------------------------------------------------------------------------------------------------


def test_a_shutdown_holds_its_first_and_its_last_day(folder: Path) -> None:
    """Two weeks of summer are twelve days from a Monday to a Friday."""
    facts = facts_of(folder, *SHUTDOWN)
    assert facts.shutdowns == (Shutdown(date(2026, 7, 27), date(2026, 8, 7), "Summer shutdown"),)
    assert len(facts.days_off) == 12
    assert {date(2026, 7, 27), date(2026, 8, 7)} <= facts.days_off


@pytest.mark.parametrize(
    ("first", "last", "start"),
    [
        ("2026-08-07", "2026-07-27", "plant.toml line 7, field to: found 2026-07-27 before from 2026-08-07"),
        ("2026-07-27", "2027-08-07", "plant.toml line 7, field to: found 2027-08-07, more than a year after"),
        ("2026-07-27", '"soon"', "plant.toml line 7, field to: found 'soon'"),
    ],
)
def test_a_shutdown_that_cannot_be_is_refused(folder: Path, first: str, last: str, start: str) -> None:
    """On the line of its last day."""
    lines = ("[[shutdown]]", f"from = {first}", f"to = {last}", 'title = "Summer"')
    assert one_problem_in(folder, *lines).startswith(start)


def test_a_shutdown_needs_a_title_and_knows_no_other_key(folder: Path) -> None:
    """A title is what people ask for; a slip of a key is answered with the near one."""
    assert "field title: found nothing" in one_problem_in(folder, *SHUTDOWN[:3])
    problem = one_problem_in(folder, *SHUTDOWN, "form = 2026-07-27")
    assert "an unknown key 'form' (did you mean 'from'?); allowed: from, to, title" in problem


def test_a_table_of_another_name_is_answered_with_the_near_one(folder: Path) -> None:
    """Among those that plant.toml may hold."""
    problem = one_problem_in(folder, "[[shutdwon]]", "from = 2026-07-27")
    assert "'shutdwon' (did you mean 'shutdown'?); allowed: [plant], [[shift]], [[shutdown]]" in problem


# What a day off means -------------------------------------------------------------------------------------------------


def test_every_kind_of_day_off_is_off(folder: Path) -> None:
    """Closed days, public holidays and shutdowns together; each stays what it is."""
    facts = facts_of(folder, "closed = [2026-12-24]", *HOLIDAYS, *SHUTDOWN)
    assert facts.closed == (date(2026, 12, 24),)
    assert {date(2026, 12, 24), date(2026, 10, 3), date(2026, 8, 7)} <= facts.days_off
    assert len(facts.days_off) == 1 + 10 + 12


def test_no_shift_begins_on_a_day_off(folder: Path) -> None:
    """Good Friday, Easter Monday and Labour Day have none; the Thursday before Easter has."""
    facts = facts_of(folder, *HOLIDAYS, *SHIFTS)
    calendar = ShiftCalendar(Zone(facts.zone), facts.shifts, facts.days_off)
    start, end = datetime(2026, 4, 1, tzinfo=UTC), datetime(2026, 5, 2, tzinfo=UTC)
    begun = {span.day for span in calendar.between(start, end)}
    assert {date(2026, 4, 3), date(2026, 4, 6), date(2026, 5, 1)} & begun == set()
    assert {date(2026, 4, 2), date(2026, 4, 7), date(2026, 4, 30)} <= begun


def test_a_week_of_shutdown_has_no_working_day(folder: Path) -> None:
    """2026-W31 and 2026-W32 lie in it; the week before and the one after are whole."""
    facts = facts_of(folder, *SHUTDOWN, *SHIFTS)
    days = WorkingDays(ShiftCalendar(Zone(facts.zone), facts.shifts, facts.days_off))
    weeks = [week_days(f"2026-W{number}") for number in (30, 31, 32, 33)]
    assert [days.count(monday, sunday) for monday, sunday in weeks] == [5, 0, 0, 5]
    assert days.on_or_after(date(2026, 7, 27)) == date(2026, 8, 10)


@pytest.mark.parametrize(
    ("lines", "move"),
    [
        ([], "after"),
        (["statutory = true"], "before"),
        (['on_day_off = "keep"', "statutory = true"], "keep"),
        (['on_day_off = "Before"'], "before"),
    ],
)
def test_a_due_day_moves_as_the_plant_says_or_the_law_needs(folder: Path, lines: list[str], move: str) -> None:
    """What law sets is done before, the rest after, unless the task says otherwise."""
    assert task_of(folder, 'every = "7 days"', *lines).day_off_move == move


def test_the_catalogue_calibrates_before_a_day_off() -> None:
    """A gauge past its date gives no result that counts."""
    tasks = {definition.key: task_from(definition.content) for definition in shipped_tasks()}
    assert tasks["gauge-calibration"].day_off_move == "before"


def test_a_task_without_a_due_day_has_none_to_move(folder: Path) -> None:
    """A field that would do nothing is a problem; so is a word that is none of the three."""
    with pytest.raises(
        DefinitionProblems, match="field on_day_off: found a rule for days off in a task that has no due days"
    ):
        task_of(folder, "strokes = 5", 'on_day_off = "before"')
    with pytest.raises(DefinitionProblems, match="one of before, after, keep"):
        task_of(folder, 'every = "7 days"', 'on_day_off = "befor"')


def test_a_task_may_name_the_parts_to_bring(folder: Path) -> None:
    """Its kit, in the plant's own words."""
    task = task_of(folder, "on_request = true", 'kit = ["cut-off blade", "two M4 screws"]')
    assert task.kit == ("cut-off blade", "two M4 screws")
