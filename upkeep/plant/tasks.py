"""The tasks of a tasks.toml: each read, joined to the catalogue task it is like, and checked as a whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from typing import Any

from upkeep.errors import Unreadable
from upkeep.plant.definition import Defined, Definition, Given, Problem, near, quoted, unknown_key
from upkeep.plant.fields import what_it_says
from upkeep.plant.model import Kind
from upkeep.plant.point_problems import points_problems
from upkeep.plant.schema import TaskPointRow, TaskRow, checked, missing_from
from upkeep.plant.toml_tables import Toml, toml_of
from upkeep.said import Clause, Numeral, Quoted, all_of, listed, said
from upkeep.units.recurrence import Recurrence, interval_after

TRIGGERS = (
    "each_shift", "every", "rule", "strokes", "strokes_for", "after_grade", "after_warning", "after", "life",
)  # fmt: skip
"""The fields of a task that make it due by themselves; a task with none of them comes on request."""

_TIMED = ("each_shift", "every", "rule", "after_grade", "after_warning")
"""The triggers that do not count strokes; a task has at most one of them."""

_LATEST = ("every", "rule", "strokes", "strokes_for", "life")
"""The triggers that have a window before the day or stroke at which they fall due."""

_USAGE = ("each_shift", "strokes", "strokes_for")
"""The triggers that ask whether the item did strokes."""

_SOME_DAY = date(2001, 1, 1)


def tasks_of(
    file: str, text: str, catalogue: Mapping[str, Definition], problems: list[Problem]
) -> list[tuple[Given, Definition]]:
    """The tasks of a file, each with where it stands; ``like`` takes over a task of the catalogue.

    A field of a task that is like another replaces the catalogue's, and an empty text takes it away.  A measured point
    replaces the given fields of the point with the same id.
    """
    toml = toml_of(file, text, problems)
    if toml is None:
        return []
    top = toml.table()
    problems += [
        Problem(file, top.line_of(name), None, unknown_key(name, ["task"]), "[[task]]")
        for name in top.values
        if name != "task"
    ]
    count = len(toml.tables("task", problems=problems))
    return [_task(toml, index, catalogue, problems) for index in range(count)]


def _task(
    toml: Toml, index: int, catalogue: Mapping[str, Definition], problems: list[Problem]
) -> tuple[Given, Definition]:
    given = toml.table("task", index)
    return given, task_from(given, _points(toml, index, problems), catalogue, problems)


def task_from(
    given: Given,
    points: list[tuple[Given, dict[str, Any]]],
    catalogue: Mapping[str, Definition],
    problems: list[Problem],
) -> Definition:
    """A task as its fields and measured points say, joined to the task of the catalogue that it is ``like``."""
    emptied = {name for name, value in given.values.items() if value == "" and "like" in given.values}
    kept = {name: value for name, value in given.values.items() if name != "point" and name not in emptied}
    own = checked(TaskRow, Given(given.file, given.line, kept, given.lines), problems)
    base = _taken_over(own.pop("like", None), given, catalogue, problems)
    off = {point.get("id") for _, point in points if point.get("off")}
    problems += _off_problems([(row, point) for row, point in points if point.pop("off", False)], base)
    points = [(row, point) for row, point in points if point.get("id") not in off]
    asked = own.pop("on_request", False)
    problems += _request_problems(given, own, asked)
    base = _without_replaced_triggers(base, own, asked)
    content = {name: value for name, value in {**base, **own}.items() if name not in emptied}
    if points or off:
        measured = [point for point in base.get("points", []) if point["id"] not in off]
        content["points"] = _joined(measured, [point for _, point in points])
    problems += missing_from(TaskRow, given, content)
    comes_on_request = asked or ("like" in given.values and not _triggers_of(base))
    problems += _task_problems(given, content, comes_on_request)
    whole = {point.get("id"): point for point in content.get("points", [])}
    problems += points_problems(points, whole, "task")
    problems += _text_problems(given, content)
    return Definition(Defined.TASK, str(content.get("id", "")), content)


def _taken_over(
    like: str | None, given: Given, catalogue: Mapping[str, Definition], problems: list[Problem]
) -> dict[str, Any]:
    if like is None:
        return {}
    if like not in catalogue:
        allowed = said("the id of a task in the shipped catalogue{near}", near=near(like, list(catalogue)))
        problems.append(given.problem("like", quoted(like), allowed))
        return {}
    return dict(catalogue[like].content)


def _without_replaced_triggers(base: dict[str, Any], own: Mapping[str, Any], asked: bool) -> dict[str, Any]:
    """What is taken over: no trigger where the plant asks on request, no timed one where it gives its own."""
    replaced = TRIGGERS if asked else _TIMED if any(own.get(name) for name in _TIMED) else ()
    return {name: value for name, value in base.items() if name not in replaced}


def _points(toml: Toml, index: int, problems: list[Problem]) -> list[tuple[Given, dict[str, Any]]]:
    rows = toml.tables("task", index, "point", problems=problems)
    return [(row, checked(TaskPointRow, row, problems)) for row in rows]


def _off_problems(points: list[tuple[Given, dict[str, Any]]], base: Mapping[str, Any]) -> Iterator[Problem]:
    """Points switched off that the catalogue's task has not, or of which more is said than that."""
    shipped = [point["id"] for point in base.get("points", [])]
    for given, point in points:
        key = point.get("id")
        if key is not None and key not in shipped:
            found = said("{id}, which is not among the points taken over", id=quoted(key))
            yield given.problem("off", found, said("a point of the task it is like{near}", near=near(key, shipped)))
        elif set(point) - {"id"}:
            yield given.problem("off", said("true beside other fields"), said("an id and off = true, nothing else"))


def _joined(base: list[dict[str, Any]], own: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The points of the catalogue's task with the plant's own figures, and then the plant's further points."""
    by_id = {point["id"]: dict(point) for point in base}
    for position, point in enumerate(own):
        key = point.get("id", position)
        by_id[key] = {**by_id.get(key, {}), **point}
    return list(by_id.values())


def _text_problems(given: Given, content: Mapping[str, Any]) -> Iterator[Problem]:
    """Texts of another language that do not go with those of the task."""
    steps, known = len(content.get("steps", [])), {point.get("id") for point in content.get("points", [])}
    for language, texts in content.get("texts", {}).items():
        if "steps" in texts and len(texts["steps"]) != steps:
            found, wanted = said("{n} steps", n=len(texts["steps"])), said("{n} steps, as many as its own", n=steps)
            yield given.problem(f"texts.{language}", found, wanted)
        for point in texts.get("points", {}).keys() - known:
            yield given.problem(f"texts.{language}", quoted(point), said("the ids of its points"))


def _triggers_of(content: Mapping[str, Any]) -> list[str]:
    return [name for name in TRIGGERS if content.get(name)]


def _request_problems(given: Given, own: Mapping[str, Any], asked: bool) -> Iterator[Problem]:
    triggers = _triggers_of(own)
    if asked and triggers:
        yield given.problem(
            "on_request",
            said("true beside {triggers}", triggers=all_of(triggers)),
            said("either triggers or on_request"),
        )


def _task_problems(given: Given, content: Mapping[str, Any], comes_on_request: bool) -> Iterator[Problem]:
    wrongly_given = set(given.values) & {*TRIGGERS, "on_request", "like"} - set(content)
    if not (_triggers_of(content) or comes_on_request or wrongly_given):
        yield given.problem(
            None,
            said("a task that never comes"),
            said("one of {triggers}, or on_request = true", triggers=listed(TRIGGERS)),
        )
    timed = [name for name in _TIMED if content.get(name)]
    if len(timed) > 1:
        yield given.problem(
            timed[1], said("{timed} in one task", timed=all_of(timed)), said("one of {timed}", timed=listed(_TIMED))
        )
    if content.get("applies_to") == Kind.GAUGE:
        for name in (name for name in _USAGE if content.get(name)):
            yield given.problem(
                name, said("a trigger by strokes on a gauge, which does not make strokes"), said("every or rule")
            )
    if content.get("energy") in ("unplug", "lock") and not content.get("caution") and "caution" not in given.values:
        allowed = said("the caution to read before hands go in (how energy is controlled)")
        yield given.problem(
            "caution", said("nothing, although energy is {energy}", energy=Quoted(content["energy"])), allowed
        )
    yield from _time_problems(given, content)
    if content.get("at_next_stop"):
        yield from _stop_problems(given, content)
    yield from _edge_problems(given, content)
    if content.get("hold_when_out") and content.get("graded"):
        yield given.problem(
            "hold_when_out",
            said("a graded task, which holds its item with grade 4"),
            said("a task that is not graded"),
        )


def _time_problems(given: Given, content: Mapping[str, Any]) -> Iterator[Problem]:
    every, rule, start = content.get("every"), content.get("rule"), content.get("start")
    if every:
        yield from _unreadable(given, "every", every, lambda: interval_after(_SOME_DAY, every))
    if rule:
        first = datetime.combine(date.fromisoformat(start) if start else _SOME_DAY, time())
        yield from _unreadable(given, "rule", rule, lambda: _check_that_it_comes(rule, first))
    if "on_day_off" in given.values and not (every or rule):
        yield given.problem(
            "on_day_off",
            said("a rule for days off in a task that has no due days"),
            said("'every' or 'rule' beside it"),
        )
    if rule and not start and "start" not in given.values:
        yield given.problem(
            "start",
            said("nothing, although there is a rule"),
            said("the day the rule is counted from, like 2026-03-02"),
        )


def _check_that_it_comes(rule: str, first: datetime) -> None:
    """Raises :class:`Unreadable` for a rule that cannot be read, or that no day ever meets."""
    if Recurrence(rule, first).next_after(first, inclusive=True) is None:
        raise Unreadable(
            said(
                "From {first} on the rule comes on no day: the calendar has none that it asks for.", first=first.date()
            )
        )


def _unreadable(given: Given, field: str, text: str, read: Any) -> Iterator[Problem]:
    try:
        read()
    except Unreadable as error:
        says = what_it_says(TaskRow, field)
        yield given.problem(field, said("{text} ({why})", text=quoted(text), why=Clause(error.said)), says)


def _stop_problems(given: Given, content: Mapping[str, Any]) -> Iterator[Problem]:
    """What keeps a task from being done at a stop before it falls due."""
    planned = [name for name in _LATEST if content.get(name)]
    if not planned:
        yield given.problem(
            "at_next_stop",
            said("a task that never has to be done at the latest"),
            said("one of {planned} beside it", planned=listed(_LATEST)),
        )
    if content.get("while_resting") or content.get("applies_to") == Kind.GAUGE:
        yield given.problem(
            "at_next_stop",
            said("a task on what does not run and so never stops"),
            said("a task on a press or its tools while they run"),
        )
    early = content.get("early_days") or content.get("early_percent")
    if planned and not early and (set(planned) <= {"every", "rule"} or content.get("plan_from") == 100):
        yield given.problem(
            "at_next_stop",
            said("a window that opens when the task falls due, so that no stop comes before"),
            said("'early_days', 'early_percent' or, by strokes, 'plan_from' below 100 beside it"),
        )


def _edge_problems(given: Given, content: Mapping[str, Any]) -> Iterator[Problem]:
    late, stop = content.get("late_days", 0), content.get("stop_days")
    if stop is not None and stop < late:
        yield given.problem(
            "stop_days",
            said("{stop} before late_days {late}", stop=Numeral(stop), late=Numeral(late)),
            said("a stop at late_days or later"),
        )
    strokes, over, stop_at = content.get("strokes"), content.get("late_strokes", 0), content.get("stop_at")
    if strokes and stop_at is not None and strokes * stop_at < 100 * (strokes + over):
        early_stop = said(
            "{stop_at} percent of {strokes} strokes, before late_strokes {over} have passed",
            stop_at=Numeral(stop_at),
            strokes=strokes,
            over=over,
        )
        yield given.problem("stop_at", early_stop, said("a stop at late_strokes or later"))
