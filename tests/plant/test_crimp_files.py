"""crimps.toml: what is crimped, with its limits and pull forces, and every problem a person gets named."""

from __future__ import annotations

from pathlib import Path

import pytest

from upkeep.errors import DefinitionProblems
from upkeep.plant.crimps import crimp_from, pull_table_from, smallest_force
from upkeep.plant.files import Definition, read_definitions
from upkeep.plant.model import Kind, task_from
from upkeep.plant.values.facts import facts_from

OTHERS = {
    "plant.toml": '[plant]\nname = "Test plant"\nzone = "UTC"\nkeepers = ["ana", "lea"]\n',
    "places.csv": "id,title,area\nR-01,Rack 1,Hall A\n",
    "people.csv": "id,name,roles\nana,Ana,operator\nlea,Lea,quality technician\n",
    "items.csv": (
        "id,kind,title,place,family,gauge_class\n"
        "DS-031,die set,Tab,R-01,tab-63,\nG-01,gauge,Micrometer,R-01,,crimp micrometer\n"
    ),
    "tasks.toml": "\n",
}
CRIMPS = """\
[[pull-table]]
id = "house"
title = "House table of pull forces"
edition = "2026-01"
source = "own trials, report 12"
checked_by = "lea"
forces = { "0.5 mm2" = 60, "20 AWG" = 58 }

[[crimp]]
id = "T63-05"
title = "Tab 6.3 on 0.5"
family = "tab-63"
size = "0.5 mm2"
looks = ["burr"]
pull_table = "house"

[[crimp.point]]
id = "crimp-height"
title = "Crimp height"
unit = "mm"
lower = 1.15
nominal = 1.2
upper = 1.25
readings = 5
part = "conductor anvil"
gauge_class = "crimp micrometer"

[[crimp.point]]
id = "pull"
title = "Pull force"
unit = "N"
readings = 3

[[crimp.point]]
id = "cam"
title = "Cam of the insulation crimp"
unit = "step"
steps = [1, 2, 3]
"""


def folder_with(tmp_path: Path, crimps: str | None) -> Path:
    """A plant's folder with this crimps.toml, or without one."""
    for name, text in OTHERS.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    if crimps is not None:
        (tmp_path / "crimps.toml").write_text(crimps, encoding="utf-8")
    return tmp_path


def read(tmp_path: Path, crimps: str | None) -> dict[tuple[str, str], Definition]:
    return {(one.what, one.key): one for one in read_definitions(folder_with(tmp_path, crimps))}


def test_a_plant_without_checks_needs_no_such_file(tmp_path: Path) -> None:
    """Five files are a plant."""
    assert not [key for key in read(tmp_path, None) if key[0] in ("crimp", "pull-table")]


def test_crimps_and_tables_are_what_the_model_reads(tmp_path: Path) -> None:
    """Tables come first, since crimps lean on them."""
    found = read(tmp_path, CRIMPS)
    assert [key for key in found if key[0] != "item"][-2:] == [("pull-table", "house"), ("crimp", "T63-05")]
    crimp = crimp_from(found["crimp", "T63-05"].content)
    height, _, cam = crimp.points
    assert (height.part, height.nominal, height.gauge_class) == (Kind.CONDUCTOR_ANVIL, 1.2, "crimp micrometer")
    assert cam.steps == (1, 2, 3)
    table = pull_table_from(found["pull-table", "house"].content)
    assert smallest_force(table.forces, crimp.size) == 60


def test_a_size_is_looked_up_as_given_and_never_converted(tmp_path: Path) -> None:
    """20 AWG stands in the table beside 0.5 mm2 with a force of its own; 0.52 mm2 does not stand there."""
    forces = pull_table_from(read(tmp_path, CRIMPS)["pull-table", "house"].content).forces
    assert smallest_force(forces, "20 AWG") == 58
    assert smallest_force(forces, "20 AWG (0.52 mm2)") == 58
    assert smallest_force(forces, "0.52 mm2") is None


@pytest.mark.parametrize(
    ("found", "written", "problem"),
    [
        ('family = "tab-63"', 'family = "tab-36"', "line 12, field family: found 'tab-36'"),
        ('pull_table = "house"', 'pull_table = "hose"', "line 15, field pull_table: found 'hose'"),
        (
            'checked_by = "lea"',
            'checked_by = "ana"',
            "line 6, field checked_by: found 'ana', who is not a quality tech",
        ),
        ('checked_by = "lea"', 'checked_by = "leo"', "line 6, field checked_by: found 'leo'"),
        (
            'size = "0.5 mm2"',
            'size = "0.7 mm2"',
            "line 13, field size: found '0.7 mm2', which is not in pull table 'house'",
        ),
        ('size = "0.5 mm2"\n', "", "line 9, field size: found nothing, although there is a pull_table"),
        ('size = "0.5 mm2"', 'size = "0.5"', "line 13, field size: found '0.5'; allowed: a wire size like '0.5 mm2'"),
        ('size = "0.5 mm2"', 'size = "0.5 mm2 (16 AWG)"', "16 AWG (1.31 mm2) as one wire"),
        ('"20 AWG" = 58', '"20 AWG" = 0', "line 7, field forces.20 AWG: found 0"),
        ("nominal = 1.2", "nominal = 1.3", "line 22, field nominal: found 1.3 beyond a limit"),
        ("lower = 1.15", "lower = 1.35", "field lower: found lower 1.35 above upper 1.25"),
        (
            'part = "conductor anvil"',
            'part = "module"',
            "line 25, field part: found 'module'; allowed: one of conductor",
        ),
        ('gauge_class = "crimp micrometer"', 'gauge_class = "scale"', "gauge_class 'scale' of point 'crimp-height'"),
        ('unit = "N"', 'unit = "lbf"', "line 31, field unit: found 'lbf'; allowed: N, in which"),
        ('id = "pull"', 'id = "force"', "line 15, field pull_table: found 'house' without a point to use it"),
        ('id = "cam"', 'id = "pull"', "found 'pull' again (first on line 28)"),
        ('looks = ["burr"]', 'looks = ["cam"]', "line 14, field looks: found 'cam' listed twice for the same crimp"),
        (
            "steps = [1, 2, 3]",
            "steps = [1, 2, 3]\nnominal = 4",
            "field nominal: found 4, which is not one of the steps",
        ),
        ("[[pull-table]]", "[[pull-tabel]]", "an unknown key 'pull-tabel' (did you mean 'pull-table'?)"),
        ('title = "Tab 6.3 on 0.5"', 'titel = "Tab"', "an unknown key 'titel'"),
    ],
)
def test_a_problem_names_the_place_and_what_is_allowed(tmp_path: Path, found: str, written: str, problem: str) -> None:
    """Names that lead nowhere, sizes nobody can read, limits out of order: each with its line."""
    with pytest.raises(DefinitionProblems) as caught:
        read_definitions(folder_with(tmp_path, CRIMPS.replace(found, written)))
    assert problem in "\n".join(f"{one}" for one in caught.value.problems)


def test_a_plant_says_what_becomes_of_readings_by_an_overdue_gauge(tmp_path: Path) -> None:
    """Flagged or refused; another word is a problem with its line."""
    folder = folder_with(tmp_path, None)
    plant = OTHERS["plant.toml"]
    (folder / "plant.toml").write_text(plant + 'overdue_gauge = "Refuse"\n', encoding="utf-8")
    facts = next(one for one in read_definitions(folder) if one.what == "plant")
    assert facts_from(facts.content).overdue_gauge == "refuse"
    (folder / "plant.toml").write_text(plant + 'overdue_gauge = "ignore"\n', encoding="utf-8")
    with pytest.raises(DefinitionProblems, match="line 5, field overdue_gauge: found 'ignore'; allowed: one of flag"):
        read_definitions(folder)


def test_the_points_of_tasks_say_part_nominal_steps_and_gauge_alike(tmp_path: Path) -> None:
    """One kind of point, wherever it is measured."""
    task = (
        '[[task]]\nid = "slug"\ntitle = "Slug"\napplies_to = "die set"\nby = ["operator"]\nstrokes = 5000\n'
        '[[task.point]]\nid = "slug-height"\ntitle = "Slug"\nunit = "mm"\nnominal = 1.2\npart = "Conductor punch"\n'
        'gauge_class = "{}"\n[[task.point]]\nid = "cam"\ntitle = "Cam"\nunit = "step"\nsteps = [1, 2, 3]\n'
    )
    folder = folder_with(tmp_path, None)
    (folder / "tasks.toml").write_text(task.format("crimp micrometer"), encoding="utf-8")
    read = next(one for one in read_definitions(folder) if one.what == "task")
    slug, cam = task_from(read.content).points
    assert (slug.nominal, slug.part, slug.gauge_class) == (1.2, Kind.CONDUCTOR_PUNCH, "crimp micrometer")
    assert cam.steps == (1, 2, 3)
    (folder / "tasks.toml").write_text(task.format("ruler"), encoding="utf-8")
    with pytest.raises(DefinitionProblems, match="gauge_class 'ruler' of point 'slug-height'"):
        read_definitions(folder)


def test_a_crimp_and_a_table_may_share_an_id_two_crimps_may_not(tmp_path: Path) -> None:
    """They are asked for by different words."""
    assert ("crimp", "house") in read(tmp_path, CRIMPS.replace('id = "T63-05"', 'id = "house"'))
    again = CRIMPS[CRIMPS.index("[[crimp]]") :].replace("T63-05", "t63-05")
    with pytest.raises(DefinitionProblems, match="spelled 'T63-05'"):
        read_definitions(folder_with(tmp_path, f"{CRIMPS}\n{again}"))
