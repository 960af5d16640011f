"""The crimps and tables of pull forces of a crimps.toml: each read and checked as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from upkeep.plant.crimps import PULL
from upkeep.plant.definition import Defined, Definition, Given, Problem, quoted, unknown_key
from upkeep.plant.fields import ID_SAYS, Id, Line, Number, says, text
from upkeep.plant.point_problems import points_problems
from upkeep.plant.rows import Sheet
from upkeep.plant.schema import PointRow, Row, checked, missing_from
from upkeep.plant.toml_tables import Toml, toml_of
from upkeep.plant.wire import SIZE_SAYS, belong_together, sizes_in
from upkeep.said import Figure, Quoted, all_of, listed, said

_TABLES = {"pull-table": "[[pull-table]]", "crimp": "[[crimp]]"}


def _size(value: object) -> str:
    if not isinstance(value, str):
        raise ValueError("no wire size")
    sizes_in(value)
    return " ".join(value.split())


SizeText = Annotated[str, BeforeValidator(_size)]
Force = Annotated[Number, Field(gt=0, le=100_000)]


class CrimpRow(Row):
    """``[[crimp]]`` in crimps.toml, without its points."""

    required = ("id", "title", "family")
    id: Id | None = says(ID_SAYS)
    title: Line | None = text(80)
    family: Line | None = says(said("a family of die sets in items.csv"), max_length=40)
    terminal: Line | None = text(60)
    wire: Line | None = text(60)
    size: SizeText | None = says(SIZE_SAYS)
    looks: list[Id] | None = says(said("ids of what is judged by eye, like ['burr', 'bellmouth']"), max_length=20)
    pull_table: Id | None = says(said("the id of a [[pull-table]]"))
    source: Line | None = text(160)


class PullTableRow(Row):
    """``[[pull-table]]`` in crimps.toml."""

    required = ("id", "title", "edition", "source", "forces")
    id: Id | None = says(ID_SAYS)
    title: Line | None = text(80)
    edition: Line | None = text(60)
    source: Line | None = text(160)
    checked_by: Id | None = says(said("the id of a quality technician in people.csv"))
    forces: dict[SizeText, Force] | None = says(
        said("wire sizes with the smallest force in N each, like {{ '0.5 mm2' = 60 }}"), min_length=1, max_length=100
    )


def crimps_of(file: str, text: str, problems: list[Problem]) -> Sheet:
    """The tables of pull forces and the crimps of a file, each with where it stands."""
    toml = toml_of(file, text, problems)
    if toml is None:
        return Sheet((), whole=False)
    top = toml.table()
    problems += [
        Problem(file, top.line_of(name), None, unknown_key(name, list(_TABLES)), listed(_TABLES.values()))
        for name in top.values
        if name not in _TABLES
    ]
    tables = [_table(given, problems) for given in toml.tables("pull-table", problems=problems)]
    count = len(toml.tables("crimp", problems=problems))
    return Sheet((*tables, *(_crimp(toml, index, problems) for index in range(count))))


def _table(given: Given, problems: list[Problem]) -> tuple[Given, Definition]:
    content = checked(PullTableRow, given, problems)
    problems += missing_from(PullTableRow, given, content)
    for size in content.get("forces", {}):
        problems += _size_problems(given, "forces", size)
    return given, Definition(Defined.PULL_TABLE, str(content.get("id", "")), content)


def _crimp(toml: Toml, index: int, problems: list[Problem]) -> tuple[Given, Definition]:
    given = toml.table("crimp", index)
    kept = {name: value for name, value in given.values.items() if name != "point"}
    content = checked(CrimpRow, Given(given.file, given.line, kept, given.lines), problems)
    problems += missing_from(CrimpRow, given, content)
    rows = toml.tables("crimp", index, "point", problems=problems)
    points = [(row, checked(PointRow, row, problems)) for row in rows]
    problems += points_problems(points, {}, "crimp")
    if points:
        content["points"] = [point for _, point in points]
    problems += _size_problems(given, "size", content.get("size", ""))
    problems += _look_problems(given, content)
    problems += _pull_problems(given, content, points)
    return given, Definition(Defined.CRIMP, str(content.get("id", "")), content)


def _size_problems(given: Given, field: str, size: str) -> Iterator[Problem]:
    sizes = sizes_in(size) if size else ()
    if len(sizes) > 1 and not belong_together(sizes):
        areas = all_of(said("{size} ({area} mm2)", size=size.text, area=Figure(size.area, ".3g")) for size in sizes)
        allowed = said("sizes that belong together (areas of AWG sizes by ASTM B258, of solid wire)")
        yield given.problem(field, said("{areas} as one wire", areas=areas), allowed)


def _look_problems(given: Given, content: Mapping[str, Any]) -> Iterator[Problem]:
    looks, points = content.get("looks", []), {point.get("id") for point in content.get("points", [])}
    for place, look in enumerate(looks):
        if look in looks[:place] or look in points:
            yield given.problem(
                "looks",
                said("{look} listed twice for the same crimp", look=quoted(look)),
                said("each look and each point by its own id"),
            )


def _pull_problems(
    given: Given, content: Mapping[str, Any], points: list[tuple[Given, dict[str, Any]]]
) -> Iterator[Problem]:
    pulls = [(row, point) for row, point in points if point.get("id") == PULL]
    for row, point in pulls:
        if point.get("unit", "N") != "N":
            yield row.problem("unit", quoted(point["unit"]), said("N, in which pull forces are kept"))
    table = content.get("pull_table")
    if table is not None and not pulls:
        yield given.problem(
            "pull_table",
            said("{table} without a point to use it", table=quoted(table)),
            said("a [[crimp.point]] {point}", point=Quoted(PULL)),
        )
    if table is not None and "size" not in given.values:
        yield given.problem(
            "size", said("nothing, although there is a pull_table {table}", table=Quoted(table)), SIZE_SAYS
        )
