"""The definition files of a plant: what is read from them, and every problem a person gets named."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from upkeep.errors import DefinitionProblems
from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.files import FILES, Definition, Problem, read_definitions
from upkeep.plant.model import Energy, Kind, item_from, place_from, task_from
from upkeep.plant.people import person_from
from upkeep.plant.values.facts import PlantFacts, facts_from
from upkeep.plant.values.gauging import gauge_class_of

PLANT = """\
[plant]
name = "Test plant"
zone = "Europe/Berlin"
closed = [2026-12-24, 2026-12-25]
undo_seconds = 60
keepers = ["ana", "bo"]

[[shift]]
name = "early"
start = "06:00"
end = "14:00"
days = ["MO", "TU", "WE", "TH", "FR"]
"""
PLACES = """\
id,title,area,route
P-07,Press 7,Hall A,10
R-01,Rack 1,Hall A,
"""
PEOPLE = """\
id,name,roles
ana,Ana Lindqvar,operator;set-up technician
bo,Bo Feldweg,maintenance lead
"""
ITEMS = """\
id,kind,title,place,family,digits,max_rate,gauge_class
P-07,press,Press 7,P-07,,7,7200,
M-12,module,Module 12,R-01,,,,
DS-031,die set,Tab 6.3,R-01,tab-63,,,
G-01,gauge,Micrometer 1,R-01,,,,crimp micrometer
"""
TASKS = """\
[[task]]
id = "clean-module"
title = "Clean the module"
applies_to = "module"
by = ["operator"]
each_shift = true
energy = "unplug"
caution = "Plug pulled and in your hand."

[[task]]
id = "die-inspection"
title = "Inspect the die set"
applies_to = "die set"
by = ["maintenance lead"]
strokes = 200000
gauge_class = "crimp micrometer"

[task.strokes_for]
tab-63 = 150000

[[task.point]]
id = "slug-height"
title = "Height of the solder slug"
unit = "mm"
lower = 1.15
warn_upper = 1.2
upper = 1.25
"""
SOUND = dict(zip(FILES, (PLANT, PLACES, PEOPLE, ITEMS, TASKS), strict=True))

Folder = Callable[..., Path]


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    """A folder of sound files, those named by keyword (``items_csv=...``) written otherwise; None leaves one out."""

    def written(**changed: str | bytes | None) -> Path:
        for name, sound in SOUND.items():
            text = changed.get(name.replace(".", "_"), sound)
            if text is not None:
                (tmp_path / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        return tmp_path

    return written


def problems_in(folder: Path) -> list[str]:
    with pytest.raises(DefinitionProblems) as caught:
        read_definitions(folder)
    return [str(problem) for problem in caught.value.problems]


def one_problem_in(folder: Path) -> str:
    (problem,) = problems_in(folder)
    return problem


def read_by_id(folder: Path) -> dict[tuple[str, str], Definition]:
    return {(definition.what, definition.key): definition for definition in read_definitions(folder)}


# What is read ---------------------------------------------------------------------------------------------------------


def test_definitions_come_in_loading_order(folder: Folder) -> None:
    """Plant, places, people, items, tasks: each may lean on those before it."""
    read = [(definition.what, definition.key) for definition in read_definitions(folder())]
    assert read == [
        ("plant", "plant"),
        ("place", "P-07"),
        ("place", "R-01"),
        ("person", "ana"),
        ("person", "bo"),
        ("item", "P-07"),
        ("item", "M-12"),
        ("item", "DS-031"),
        ("item", "G-01"),
        ("task", "clean-module"),
        ("task", "die-inspection"),
    ]


def test_only_given_values_are_kept(folder: Folder) -> None:
    """Defaults stay out, so a later default of the program reaches old definitions."""
    read = read_by_id(folder())
    assert read["place", "R-01"].content == {"id": "R-01", "title": "Rack 1", "area": "Hall A"}
    assert read["item", "M-12"].content == {"id": "M-12", "kind": "module", "title": "Module 12", "place": "R-01"}


def test_definitions_are_what_the_model_reads(folder: Folder) -> None:
    """Every content becomes the frozen value the rules work with, also after a round through its text."""
    read = read_by_id(folder())

    def content(what: str, key: str) -> dict[str, object]:
        loaded: dict[str, object] = json.loads(read[what, key].text)
        return loaded

    facts = facts_from(content("plant", "plant"))
    assert isinstance(facts, PlantFacts)
    assert [day.isoformat() for day in facts.closed] == ["2026-12-24", "2026-12-25"]
    assert facts.shifts[0].days == ("MO", "TU", "WE", "TH", "FR")
    assert place_from(content("place", "P-07")).route == 10
    assert person_from(content("person", "ana")).roles == ("operator", "set-up technician")
    assert item_from(content("item", "P-07")).max_rate == 7200
    clean = task_from(content("task", "clean-module"))
    assert (clean.applies_to, clean.energy, clean.each_shift) == (Kind.MODULE, Energy.UNPLUG, True)
    inspection = task_from(content("task", "die-inspection"))
    assert inspection.strokes_for == {"tab-63": 150_000}
    assert inspection.points[0].upper == 1.25
    assert inspection.points[0].warn_lower is None


def test_the_text_of_a_definition_is_canonical() -> None:
    """The same content always gives the same text, whatever the order it was written in."""
    one = Definition("place", "R-01", {"id": "R-01", "title": "Säge"})
    other = Definition("place", "R-01", {"title": "Säge", "id": "R-01"})
    assert one.text == other.text == '{"id":"R-01","title":"Säge"}'


def test_semicolons_byte_order_mark_blanks_and_empty_lines_are_read(folder: Folder) -> None:
    """A spreadsheet's own habits change nothing."""
    rows = ["\ufeffID ; Kind; Title ;Place;;", "", "M-12;Module ; Module 12 ;R-01;;", ";;;;;"]
    read = read_by_id(folder(items_csv="\r\n".join(rows), tasks_toml="\n"))
    assert read["item", "M-12"].content == {"id": "M-12", "kind": "module", "title": "Module 12", "place": "R-01"}


def test_roles_in_a_semicolon_file_stand_in_quotes(folder: Folder) -> None:
    """The separator inside a cell is the cell's own once it is quoted."""
    read = read_by_id(folder(people_csv='id;name;roles\nana;Ana;"operator;set-up technician"\nbo;Bo;operator\n'))
    assert read["person", "ana"].content["roles"] == ["operator", "set-up technician"]


# What is refused ------------------------------------------------------------------------------------------------------


def test_a_problem_is_one_sentence_with_file_line_and_field(folder: Folder) -> None:
    """Where, what stands there, what may stand there."""
    assert one_problem_in(folder(items_csv=ITEMS.replace(",7,7200,", ",six,7200,"))) == (
        "items.csv line 2, field digits: found 'six'; allowed: a whole number 3 to 10, or 0 for a press without a "
        "counter."
    )


def test_all_problems_of_all_files_come_in_one_go(folder: Folder) -> None:
    """Nobody has to mend and run again to see the next one."""
    problems = problems_in(
        folder(
            plant_toml=PLANT.replace("Europe/Berlin", "Europe/Berlinn"),
            places_csv=PLACES.replace(",10", ",ten"),
            people_csv=PEOPLE.replace("maintenance lead", "maintenance laed"),
            items_csv=ITEMS.replace("DS-031,die set", "DS-031,diset").replace("7200", "0"),
            tasks_toml=TASKS.replace("each_shift = true", "each_shift = 1").replace('"operator"', '"operater"'),
        )
    )
    starts = [problem.partition(": found")[0] for problem in problems]
    assert starts == [
        "plant.toml line 3, field zone",
        "places.csv line 2, field route",
        "people.csv line 3, field roles",
        "items.csv line 2, field max_rate",
        "items.csv line 4, field kind",
        "tasks.toml line 5, field by",
        "tasks.toml line 6, field each_shift",
    ]
    assert "(did you mean 'maintenance lead'?)" in problems[2]
    assert "(did you mean 'die set'?)" in problems[4]


@pytest.mark.parametrize("name", FILES)
def test_a_missing_file_is_named(folder: Folder, name: str) -> None:
    """One sentence for the file, none for what leans on it."""
    problem = one_problem_in(folder(**{name.replace(".", "_"): None}))
    assert problem.startswith(f"{name}: found no such file")


def test_a_missing_column_is_named_once(folder: Folder) -> None:
    """Not once for each row."""
    problem = one_problem_in(folder(places_csv="id,title\nP-07,Press 7\nR-01,Rack 1\n"))
    assert problem == "places.csv line 1: found no column 'area'; allowed: the columns id, title, area, route."


def test_an_unknown_column_is_answered_with_the_near_one(folder: Folder) -> None:
    """A slip of a key is told from a wish for more."""
    assert "an unknown column 'rout' (did you mean 'route'?)" in one_problem_in(
        folder(places_csv=PLACES.replace("route", "rout"))
    )


def test_a_cell_beside_the_header_is_not_dropped(folder: Folder) -> None:
    """A value nobody would read is a problem."""
    assert "items.csv line 3: found 'stray' with no column name above it" in one_problem_in(
        folder(items_csv=ITEMS.replace("M-12,module,Module 12,R-01,,,,", "M-12,module,Module 12,R-01,,,,,stray"))
    )


def test_an_unknown_key_is_named_on_its_line(folder: Folder) -> None:
    """In the task it stands in, not at the top of the file."""
    problem = one_problem_in(folder(tasks_toml=TASKS.replace("strokes = 200000", "strokes = 200000\nstokes = 5")))
    assert problem.startswith("tasks.toml line 16: found an unknown key 'stokes' (did you mean 'strokes'?)")


def test_both_lines_of_a_double_id_are_named(folder: Folder) -> None:
    """Also when the two differ only in upper and lower case."""
    (twin, cased) = problems_in(folder(places_csv=PLACES + "R-01,Rack again,Hall B,\nr-01,rack,Hall B,\n"))
    assert twin == (
        "places.csv line 4, field id: found 'R-01' again (first on line 3); allowed: each id once in a file."
    )
    assert "line 5" in cased
    assert "spelled 'R-01'" in cased


def test_a_place_nobody_knows_is_answered_with_the_near_one(folder: Folder) -> None:
    """References lead somewhere."""
    problem = one_problem_in(folder(items_csv=ITEMS.replace("Tab 6.3,R-01", "Tab 6.3,R-1")))
    assert problem == (
        "items.csv line 4, field place: found 'R-1'; allowed: the id of a place in places.csv (did you mean 'R-01'?)."
    )


def test_one_name_with_two_accounts_is_asked_about(folder: Folder) -> None:
    """Two people need two names; one person with two accounts says so, and signs nothing twice."""
    problem = one_problem_in(folder(people_csv=f"{PEOPLE.rstrip()}\nana2,Ana Lindqvar,operator\n"))
    assert "field name: found 'Ana Lindqvar', as ana is called; allowed: a name that tells two people apart" in problem


def test_one_mistake_gives_one_problem(folder: Folder) -> None:
    """A class misspelled where the gauge is listed: not one problem for each task and point that asks for it."""
    items = ITEMS.replace("crimp micrometer", "crimp micrometre")
    more = task_text('gauge_class = "crimp micrometer"', "strokes = 5")
    problem = one_problem_in(folder(items_csv=items, tasks_toml=f"{TASKS}\n{more}"))
    assert "found 'crimp micrometer', here and 1 time more; allowed: the gauge_class of a gauge in items.csv" in problem
    assert "'crimp micrometre'" in problem


def test_a_press_needs_its_counter(folder: Folder) -> None:
    """Figures of the counter and fastest rate are what a count is judged by."""
    digits, rate = problems_in(folder(items_csv=ITEMS.replace(",7,7200,", ",,,")))
    assert digits.startswith("items.csv line 2, field digits: found nothing")
    assert rate.startswith("items.csv line 2, field max_rate: found nothing")


def test_only_a_press_has_a_counter(folder: Folder) -> None:
    """A figure in the wrong row shows a shifted row."""
    problem = one_problem_in(folder(items_csv=ITEMS.replace("tab-63,,,", "tab-63,7,,")))
    assert problem.startswith("items.csv line 4, field digits: found '7' on a die set")


def test_a_comma_in_a_number_is_explained(folder: Folder) -> None:
    """Decimal commas and thousands are what spreadsheets write."""
    problem = one_problem_in(folder(items_csv=ITEMS.replace(",7200,", ',"7,200",')))
    assert "found '7,200'" in problem
    assert "a point, not a comma" in problem
    toml = one_problem_in(folder(tasks_toml=TASKS.replace("1.25", "1,25")))
    assert toml == "tasks.toml line 27: found 'upper = 1,25'; allowed: a decimal point in numbers, not a comma."


def test_lines_are_right_after_a_cell_of_several_lines(folder: Folder) -> None:
    """A quoted cell may hold line ends; its text becomes one line, and later rows keep their own numbers."""
    rows = 'id,title,area\nP-07,"Press 7\n\nby the door",Hall A\n\nR-01,Rack,Hall A\nR-01,Rack,Hall A\n'
    assert one_problem_in(folder(places_csv=rows)).startswith(
        "places.csv line 7, field id: found 'R-01' again (first on line 6)"
    )


def test_a_quote_left_open_is_a_problem_and_not_a_lost_file(folder: Folder) -> None:
    """The row that opens it is named."""
    problem = problems_in(folder(places_csv=PLACES + '"R-02,Rack 2,Hall A,\nR-03,Rack 3,Hall A,\n'))[0]
    assert problem.startswith("places.csv line 4: found a row that cannot be split into cells")


def test_another_encoding_is_named_with_its_line(folder: Folder) -> None:
    """The file is read on as Windows-1252, so its other problems are told as well."""
    rows = PEOPLE.replace("Feldweg", "Müller").replace("ana,", ",")
    problems = problems_in(folder(people_csv=rows.encode("cp1252")))
    assert problems == [
        "people.csv line 2, field id: found nothing; allowed: 1 to 32 letters, digits, '.', '_' or '-', "
        "beginning with a letter or digit.",
        "people.csv line 3: found a character that is not UTF-8, near 'bo,Bo Müller,maintenance le'; "
        "allowed: text saved as UTF-8.",
    ]


def test_utf_16_is_named(folder: Folder) -> None:
    """Some spreadsheets call it "Unicode text"."""
    assert "found text in UTF-16" in one_problem_in(folder(people_csv=PEOPLE.encode("utf-16")))


def test_a_syntax_error_in_toml_is_named_with_its_line(folder: Folder) -> None:
    """TOML says where it stopped making sense."""
    problem = one_problem_in(folder(plant_toml=PLANT.replace('zone = "Europe/Berlin"', "zone = Europe/Berlin")))
    assert problem.startswith("plant.toml line 3: found 'zone = Europe/Berlin'")


def test_text_that_does_not_print_is_refused(folder: Folder) -> None:
    """No title carries a terminal's control sequence into a screen."""
    problem = one_problem_in(folder(places_csv=PLACES.replace("Rack 1", "Rack \x1b[31m1")))
    assert "found 'Rack \\x1b[31m1'" in problem


# Tasks ----------------------------------------------------------------------------------------------------------------


def task_text(*lines: str) -> str:
    return "\n".join(["[[task]]", 'id = "t"', 'title = "T"', 'applies_to = "module"', 'by = ["operator"]', *lines])


@pytest.mark.parametrize(
    ("lines", "start", "piece"),
    [
        ([], "tasks.toml line 1", "a task that never comes"),
        (["strokes = 5", "on_request = true"], "tasks.toml line 7, field on_request", "either triggers or on_request"),
        (['every = "7 dayz"'], "tasks.toml line 6, field every", "an interval like '7 days'"),
        (['rule = "FREQ=SOMETIMES"', "start = 2026-03-02"], "tasks.toml line 6, field rule", "RFC 5545"),
        (
            ['rule = "FREQ=MONTHLY;BYMONTH=2;BYMONTHDAY=30"', "start = 2026-03-02"],
            "tasks.toml line 6, field rule",
            "no day",
        ),
        (
            ['rule = "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=31"', "start = 2026-03-02"],
            "tasks.toml line 6, field rule",
            "no day",
        ),
        (['rule = "FREQ=DAILY;UNTIL=20260301"', "start = 2026-03-02"], "tasks.toml line 6, field rule", "no day"),
        (['rule = "FREQ=WEEKLY"'], "tasks.toml line 1, field start", "the day the rule is counted from"),
        (["each_shift = true", 'every = "7 days"'], "tasks.toml line 7, field every", "each_shift and every"),
        (["each_shift = true", 'energy = "lock"'], "tasks.toml line 1, field caution", "although energy is 'lock'"),
        (["strokes = 5", "strokes_for = {tab-36 = 7}"], "tasks.toml line 7, field strokes_for", "'tab-63'"),
        (["strokes_for = {DS-031 = 7}"], "tasks.toml line 6, field strokes_for", "'DS-031', a die set"),
        (["strokes = 5", "late_days = 4", "stop_days = 3"], "tasks.toml line 8, field stop_days", "before late_days"),
        (["strokes = 100", "late_strokes = 20", "stop_at = 110"], "tasks.toml line 8, field stop_at", "late_strokes"),
        (["each_shift = true", "at_next_stop = true"], "tasks.toml line 7, field at_next_stop", "at the latest"),
        (['every = "7 days"', "at_next_stop = true"], "tasks.toml line 7, field at_next_stop", "no stop comes before"),
        (["strokes = 5", "plan_from = 100", "at_next_stop = true"], "tasks.toml line 8", "no stop comes before"),
        (
            ['every = "7 days"', "early_days = 2", "while_resting = true", "at_next_stop = true"],
            "tasks.toml line 9, field at_next_stop",
            "does not run",
        ),
        (["strokes = 5", "graded = true", "hold_when_out = true"], "tasks.toml line 8, field hold_when_out", "grade 4"),
        (["strokes = 5", 'gauge_class = "micrometer"'], "tasks.toml line 7, field gauge_class", "'micrometer'"),
        (["strokes = 5", 'like = "clean-modul"'], "tasks.toml line 7, field like", "'clean-module'"),
        (["strokes = 5", f"steps = {['x'] * 10}"], "tasks.toml line 7, field steps", "at most 9"),
        (["strokes = 5", "[task.point]"], "tasks.toml line 7, field point", "[[task.point]]"),
        (["strokes = 0"], "tasks.toml line 6, field strokes", "1 to 999,999,999"),
        (["strokes = 5", 'covers = ["x"]'], "tasks.toml line 7, field covers", "the id of another task"),
        (["strokes = 5", 'covers = ["t"]'], "tasks.toml line 7, field covers", "'t', the task itself"),
    ],
)
def test_a_task_that_cannot_work_is_refused(folder: Folder, lines: list[str], start: str, piece: str) -> None:
    """Each with the line of the field, or of the task where a field is missing."""
    problem = one_problem_in(folder(tasks_toml=task_text(*lines)))
    assert problem.startswith(start)
    assert piece in problem


@pytest.mark.parametrize(
    ("own", "why"),
    [
        ("statutory = true", "it is required by law"),
        ('second_signature = "quality technician"', "it needs a second signature"),
        ('applies_to = "press"', "'u', done on a press"),
    ],
)
def test_a_cover_that_can_never_work_is_named_on_its_line(folder: Folder, own: str, why: str) -> None:
    """Nobody finds out years later that the big work never stood for the guard test."""
    covered = f'\n[[task]]\nid = "u"\ntitle = "U"\nby = ["operator"]\nstrokes = 9\n{own}\n'
    if "applies_to" not in own:
        covered += 'applies_to = "module"\n'
    problem = one_problem_in(folder(tasks_toml=task_text("strokes = 5", 'covers = ["u"]') + covered))
    assert problem.startswith("tasks.toml line 7, field covers")
    assert why in problem


def test_limits_out_of_order_are_refused_on_their_line(folder: Folder) -> None:
    """In the point they belong to, of the task they belong to."""
    problem = one_problem_in(folder(tasks_toml=TASKS.replace("warn_upper = 1.2\n", "warn_upper = 1.3\n")))
    assert problem == (
        "tasks.toml line 26, field warn_upper: found warn_upper 1.3 above upper 1.25; "
        "allowed: limits in order: lower <= warn_lower <= warn_upper <= upper."
    )


def test_a_gauge_has_no_strokes_to_wait_for(folder: Folder) -> None:
    """Such a task would never come round."""
    text = task_text("each_shift = true").replace("module", "gauge")
    assert "a trigger by strokes on a gauge" in one_problem_in(folder(tasks_toml=text))


def test_shift_bound_tasks_need_shifts(folder: Folder) -> None:
    """A plant without shifts would never see them."""
    plant = PLANT.partition("[[shift]]")[0]
    assert "true in a plant without shifts" in one_problem_in(folder(plant_toml=plant))


def test_on_request_is_not_written_into_the_definition(folder: Folder) -> None:
    """It is the absence of triggers, said on purpose."""
    read = read_by_id(folder(tasks_toml=task_text("on_request = true")))
    assert read["task", "t"].content.keys() == {"id", "title", "applies_to", "by"}


def test_a_task_like_one_of_the_catalogue_takes_it_over(folder: Folder) -> None:
    """Single fields are the plant's own, the rest stays the catalogue's."""
    text = '[[task]]\nlike = "lube-press"\nminutes = 20\nsource = "own figure"\n'
    task = task_from(read_by_id(folder(tasks_toml=text))["task", "lube-press"].content)
    assert (task.minutes, task.source, task.every, task.energy) == (20, "own figure", "7 days", Energy.LOCK)
    assert task.caution
    assert task.steps


def test_the_plants_own_timing_replaces_the_catalogues(folder: Folder) -> None:
    """A fixed rule instead of the floating interval, a stroke trigger beside it, nothing at all on request."""
    text = "\n".join(
        [
            '[[task]]\nid = "fixed"\nlike = "lube-press"\nrule = "FREQ=WEEKLY"\nstart = 2026-03-02',
            '[[task]]\nid = "both"\nlike = "thorough-clean"\nstrokes = 100000',
            '[[task]]\nid = "asked"\nlike = "lube-press"\non_request = true',
            '[[task]]\nid = "bare"\nlike = "thorough-clean"\nstrokes = 100000\nevery = ""',
        ]
    )
    read = read_by_id(folder(tasks_toml=text))
    fixed, both, asked, bare = (read["task", key].content for key in ("fixed", "both", "asked", "bare"))
    assert (fixed["rule"], "every" in fixed) == ("FREQ=WEEKLY", False)
    assert (both["every"], both["strokes"]) == ("7 days", 100_000)
    assert "every" not in asked
    assert (bare["strokes"], "every" in bare) == (100_000, False)


def inspection(*kept: str) -> str:
    """The shipped die inspection with all its points switched off but some."""
    (shipped,) = (each for each in shipped_tasks() if each.key == "die-inspection")
    off = [point["id"] for point in shipped.content["points"] if point["id"] not in kept]
    switched = "".join(f'[[task.point]]\nid = "{point}"\noff = true\n' for point in off)
    return f'[[task]]\nlike = "die-inspection"\nstrokes = 9\n{switched}'


def test_a_point_with_a_known_id_gets_the_plants_limits(folder: Folder) -> None:
    """The catalogue's points keep their title, unit and gauge; a new one is added after them; what is off is gone."""
    text = (
        f'{inspection("slug-height", "crimp-width")}[[task.point]]\nid = "crimp-width"\nupper = 2.57\n'
        '[[task.point]]\nid = "twist"\ntitle = "Twist"\nunit = "mm"\n'
    )
    points = read_by_id(folder(tasks_toml=text))["task", "die-inspection"].content["points"]
    assert [point["id"] for point in points] == ["slug-height", "crimp-width", "twist"]
    taken = {"id": "crimp-width", "title": "Crimp width", "unit": "mm", "readings": 3, "part": "conductor punch"}
    assert points[1] == {**taken, "gauge_class": "crimp micrometer", "upper": 2.57}


def test_a_new_point_needs_its_unit(folder: Folder) -> None:
    """Only a point taken over may leave it out."""
    text = f'{inspection()}[[task.point]]\nid = "twist"\ntitle = "Twist"\n'
    assert ", field unit: found nothing" in one_problem_in(folder(tasks_toml=text))


def test_a_point_that_is_off_is_one_of_the_catalogues_and_nothing_else(folder: Folder) -> None:
    """Its name may be mistyped; limits of what is not measured are a mistake."""
    text = f'{inspection("slug-height", "burr")}[[task.point]]\nid = "bur"\noff = true\n'
    first = next(problem for problem in problems_in(folder(tasks_toml=text)) if "field off" in problem)
    assert "field off: found 'bur'" in first
    assert "burr" in first
    text = f'{inspection()}[[task.point]]\nid = "slug-height"\noff = true\nupper = 1.2\n'
    assert any("true beside other fields" in problem for problem in problems_in(folder(tasks_toml=text)))


def test_a_point_whose_gauge_the_plant_has_not_may_be_switched_off(folder: Folder) -> None:
    """The problem says so."""
    problem = one_problem_in(folder(tasks_toml=inspection("slug-height", "burr")))
    assert "gauge_class 'microscope' of point 'burr'" in problem
    assert "off = true for the point" in problem


def test_the_shipped_die_inspection_carries_all_that_is_measured_at_one() -> None:
    """Slug, height, setting, width, insulation, burr, bellmouth, tab, brush, pull, section, shut height, photo: with
    unit, readings and what measures it.  The list and its numbers are common practice, no source."""
    (shipped,) = (task_from(each.content) for each in shipped_tasks() if each.key == "die-inspection")
    asked = {point.id: (point.unit, point.readings, gauge_class_of(shipped, point)) for point in shipped.points}
    assert asked == {
        "slug-height": ("mm", 3, "crimp micrometer"), "crimp-height": ("mm", 5, "crimp micrometer"),
        "dial": ("step", 1, None), "crimp-width": ("mm", 3, "crimp micrometer"),
        "insulation-height": ("mm", 3, "crimp micrometer"), "insulation-width": ("mm", 3, "crimp micrometer"),
        "cam": ("step", 1, None), "burr": ("mm", 2, "microscope"), "burr-width": ("mm", 2, "microscope"),
        "bellmouth-rear": ("mm", 2, "microscope"), "bellmouth-front": ("mm", 2, "microscope"),
        "cut-off-tab": ("mm", 2, "microscope"), "tab-burr": ("mm", 2, "microscope"), "brush": ("mm", 5, "lens"),
        "window-empty": ("pieces", 1, None), "pull": ("N", 3, "pull tester"),
        "compaction": ("%", 1, "cross-section laboratory"), "section-faults": ("faults", 1, None),
        "shut-height": ("mm", 1, "shut-height gauge"),
    }  # fmt: skip
    assert shipped.photo == "Punch faces, same distance and light"


def test_keys_inside_a_long_text_are_not_taken_for_keys(folder: Folder) -> None:
    """The line of a field is that of the field, not of a word in a caution above it."""
    text = task_text('caution = """', "strokes = 7", '"""', "strokes = 0")
    assert one_problem_in(folder(tasks_toml=text)).startswith("tasks.toml line 9, field strokes")


# Whatever bytes -------------------------------------------------------------------------------------------------------

_WORDS = """id title , ; " = ' [ { } . # [[task]] [task.point] [plant] P-07 press name zone each_shift true 1 -0 1e400
by nan point strokes_for like 2026-02-30 0xffffffffffffffffffffffff rule start every FREQ=DAILY"""
_PIECES = st.sampled_from([*_WORDS.split(), '"""', "\n", "\r", "\x00", "\ud7ff"])
_TEXTS = st.one_of(st.binary(max_size=200), st.lists(_PIECES, max_size=40).map(lambda pieces: "".join(pieces).encode()))


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.sampled_from(FILES), head=st.booleans(), content=_TEXTS)
def test_no_bytes_lead_to_anything_but_definitions_or_problems(
    folder: Folder, name: str, head: bool, content: bytes
) -> None:
    """Whatever a file holds, a person gets sentences, each on one line that prints."""
    written = SOUND[name].encode() + content if head else content
    try:
        read_definitions(folder(**{name.replace(".", "_"): written}))
    except DefinitionProblems as refused:
        for problem in refused.problems:
            assert isinstance(problem, Problem)
            assert str(problem).isprintable()
    finally:
        folder()


@pytest.mark.parametrize(
    "deep",
    ["a = " + "[" * 5000, "a." * 3000 + "a = 1", "a = 0x" + "f" * 9000, "[" * 3000],
    ids=["lists", "keys", "figures", "tables"],
)
def test_deep_and_long_toml_is_a_problem(folder: Folder, deep: str) -> None:
    """No nesting or number is large enough to end in a traceback."""
    assert problems_in(folder(tasks_toml=deep))
    assert problems_in(folder(plant_toml=PLANT.replace("[plant]\n", f"[plant]\n{deep}\n")))
