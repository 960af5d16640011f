"""Tasks of a plant's sheet: those the shipped catalogue or the book knows by id or title, and the plant's own.

A task of the plant's own says nothing of energy; until somebody writes its caution, it has the strictest one, for hands
may be at the point of operation.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.definition import Defined, Definition, Given, Problem
from upkeep.plant.model import Kind
from upkeep.plant.rows import Sheet as Rows
from upkeep.plant.tasks import task_from
from upkeep.said import Quoted, Said, said
from upkeep.sources.first_load.cell_values import EACH_SHIFT
from upkeep.sources.first_load.columns import Read, SheetRow
from upkeep.sources.first_load.things import Kept, slug
from upkeep.sources.first_load.wanted import Sheet, plain

_CAUTIOUS = "clean-module"
"""The task of the catalogue whose caution goes with work of which nobody said how energy is controlled."""

OWN_SOURCE = "the plant's own sheet"


def known_tasks(kept: Kept) -> dict[str, Definition]:
    """The tasks somebody can name: those of the book, and of the shipped catalogue."""
    ours = {
        key: Definition(Defined.TASK, key, dict(content))
        for (what, key), content in kept.items()
        if what == Defined.TASK
    }
    return {task.key: task for task in shipped_tasks()} | ours


def tasks_read(reads: list[Read], kept: Kept, classes: set[str], problems: list[Problem]) -> tuple[Rows, list[Said]]:
    """The tasks of the sheets, and what there is to tell of them; ``classes`` are those of the gauges there are."""
    known = known_tasks(kept)
    titles = {plain(str(task.content.get("title", ""))): key for key, task in known.items()}
    rows, notes = [], []
    for read in (read for read in reads if read.sheet is Sheet.TASKS):
        for row in read.rows:
            given = _given(read, row, known, titles)
            task = task_from(given, [], known, problems)
            without, told = _without_gauges(task, classes)
            notes += told
            if "like" not in given.values and task.content.get("applies_to") != Kind.GAUGE:
                notes.append(_cautioned(task))
            rows.append((given, without))
    return Rows(tuple(rows)), notes


def _given(read: Read, row: SheetRow, known: Mapping[str, Definition], titles: Mapping[str, str]) -> Given:
    values: dict[str, Any] = dict(row.values)
    named = str(values.get("id", "")), str(values.get("title", ""))
    like = next((key for key in named if key in known), None) or titles.get(plain(named[1]))
    if values.get("every") == EACH_SHIFT:
        del values["every"]
        values["each_shift"] = True
    if like is not None:
        same = "id" not in values or values["id"] == like
        values = {**values, "like": like, **({} if same else {"id": values["id"]})}
        values.pop("title", None) if same else None
    else:
        values = {"id": slug(named[1].casefold()), **values, **_caution(values)}
        if not {"every", "each_shift", "strokes"} & set(values):
            values["on_request"] = True
    return Given(read.name, row.number, values, {})


def _caution(values: Mapping[str, Any]) -> dict[str, Any]:
    if values.get("applies_to") == Kind.GAUGE:
        return {"source": OWN_SOURCE}
    cautious = next(task for task in shipped_tasks() if task.key == _CAUTIOUS).content
    texts = {
        language: {"caution": told["caution"]}
        for language, told in cautious.get("texts", {}).items()
        if "caution" in told
    }
    return {"energy": "unplug", "caution": cautious["caution"], "source": OWN_SOURCE} | (
        {"texts": texts} if texts else {}
    )


def _cautioned(task: Definition) -> Said:
    return said(
        "Task {task} is the plant's own, and the sheet does not say how energy is controlled: until tasks.toml says "
        "otherwise it opens with the caution to switch off, unplug and bleed the air.",
        task=Quoted(str(task.content.get("title", task.key))),
    )


def _without_gauges(task: Definition, classes: set[str]) -> tuple[Definition, list[Said]]:
    """The task without the classes of gauges the plant has not: its points are measured, and no gauge is asked for."""
    points = task.content.get("points", [])
    lacking = sorted({each["gauge_class"] for each in [*points, task.content] if each.get("gauge_class")} - classes)
    if not lacking:
        return task, []
    content = {name: value for name, value in task.content.items() if name != "gauge_class" or value in classes}
    if points:
        content["points"] = [
            {name: value for name, value in point.items() if name != "gauge_class" or value in classes}
            for point in points
        ]
    told = [
        said(
            "Task {task} is measured with a {gauge}, and no such gauge is known yet: until one is entered, no gauge is "
            "asked for.",
            task=task.key,
            gauge=gauge,
        )
        for gauge in lacking
    ]
    return Definition(task.what, task.key, content), told
