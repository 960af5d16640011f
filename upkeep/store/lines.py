"""The board in the file: one row a line, indexed by each edge, so that a window of it costs the window."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, TypeVar

from upkeep.store.file import BookFile
from upkeep.store.rows.lines import LINES, LineRow, Stopped

S = TypeVar("S", bound=str)
"""A state, as whoever asks has it."""

_ALL = LINES.named

_GROUPS: dict[str, tuple[str, str]] = {
    "stop": ("standing = 'active' AND stop_at <= :now", "stop_at, line"),
    "held": ("standing = 'held'", "line"),
    "overdue": ("standing = 'active' AND overdue_at <= :now AND stop_at > :now", "overdue_at, line"),
    "due": ("standing = 'active' AND due_at <= :now AND overdue_at > :now", "due_at, line"),
    "open": ("standing = 'active' AND opens_at <= :now AND due_at > :now", "due_at, line"),
    "later": ("standing = 'active' AND opens_at > :now", "opens_at, due_at, line"),
    "paused": ("standing = 'paused'", "line"),
    "not required": ("standing = 'not required'", "line"),
}
"""How each state is found at an instant, and its order within; edges never lie out of order."""

STATES = tuple(_GROUPS)

_PASSED = {"stop": "stop_at", "overdue": "overdue_at", "due": "due_at", "open": "opens_at"}
"""The states of active lines with the edge that leads into each, last edge first."""

_STATE = (
    "CASE WHEN standing <> 'active' THEN standing "
    + " ".join(f"WHEN {edge} <= :now THEN '{state}'" for state, edge in _PASSED.items())
    + " ELSE 'later' END"
)

_PLACES = {state: place for place, state in enumerate(STATES)}

_BY_STATE = (
    "CASE state " + " ".join(f"WHEN '{state}' THEN {place}" for state, place in _PLACES.items()) + " END, "
    "CASE state WHEN 'stop' THEN stop_at WHEN 'overdue' THEN overdue_at WHEN 'later' THEN opens_at "
    "WHEN 'due' THEN due_at WHEN 'open' THEN due_at END, CASE state WHEN 'later' THEN due_at END, line"
)
"""The order of lines of several states, each state within as its group has it."""

_INDEXED = frozenset({"item", "place", "words"})
"""Filters with an index of their own."""

_FEW = 5_000
"""So many lines that such a filter leaves are found by it and sorted; of more, a walk in order meets enough soon."""


class LineStore:
    """Rows of lines: written by whoever evaluates them, read by state, window and filter."""

    def __init__(self, file: BookFile) -> None:
        self._file = file

    def add(self, rows: Iterable[LineRow]) -> None:
        """Writes new lines; each is one task on one item that the table does not have yet."""
        self._file.connection.executemany(LINES.insert, rows)

    def change(self, old: LineRow, new: LineRow) -> None:
        """Writes what has changed of a line that is there; an index whose columns stay as they are is left alone."""
        named = zip(LineRow._fields, old, new, strict=True)
        changed = {column: after for column, before, after in named if before != after}
        setting = ", ".join(f"{column} = :{column}" for column in changed)
        self._file.connection.execute(f"UPDATE lines SET {setting} WHERE line = :line", {**changed, "line": new.line})

    def drop(self, lines: Iterable[str]) -> None:
        """Removes lines that no longer exist (a scrapped item, a withdrawn task)."""
        self._file.connection.executemany("DELETE FROM lines WHERE line = ?", ((line,) for line in lines))

    def all_names(self) -> list[str]:
        """The names of all lines, ``item/task``, in alphabetical order."""
        self._file.lines_wanted()
        return self._file.values("SELECT line FROM lines ORDER BY line")

    def row(self, line: str) -> LineRow | None:
        """The row of one line, by its name (``item/task``); None where there is no such line."""
        self._file.lines_wanted(line.partition("/")[0])
        return self._file.first(LineRow, f"SELECT {_ALL} FROM lines WHERE line = ?", (line,))

    def of_items(self, items: Sequence[str]) -> list[LineRow]:
        """All lines of some items by name, brought up to the moment where the file shows the past."""
        for item in items:
            self._file.lines_wanted(item)
        marks = ", ".join("?" * len(items))
        sql = f"SELECT {_ALL} FROM lines WHERE item IN ({marks}) ORDER BY line"
        return self._file.all(LineRow, sql, tuple(items))

    def tally(self, now: str, where: str, filters: dict[str, Any]) -> dict[str, int]:
        """How many matching lines are in each state at an instant."""
        self._wanted(filters)
        if where:
            sql = f"SELECT {_STATE}, count(*) FROM lines WHERE 1{where} GROUP BY 1"
            counted = dict(self._file.rows(sql, {"now": now, **filters}))
        else:
            counted = self._whole_tally(now)
        return {state: counted.get(state, 0) for state in STATES}

    def _wanted(self, filters: dict[str, Any]) -> None:
        self._file.lines_wanted()
        if "words" in filters:
            self._file.search_wanted()

    def _whole_tally(self, now: str) -> dict[str, int]:
        """The same for all lines: what has passed an edge but not the next one, counted in the index of each edge."""
        tally = dict(self._file.rows("SELECT standing, lines FROM tallies"))
        further = 0
        for state, edge in _PASSED.items():
            sql = f"SELECT count(*) FROM lines WHERE standing = 'active' AND {edge} <= ?"
            passed = self._file.value(sql, (now,))
            tally[state], further = passed - further, passed
        tally["later"] = tally.pop("active", 0) - further
        return tally

    def items_held(self, where: str, filters: dict[str, Any]) -> int:
        """How many items have a matching line that is held."""
        self._wanted(filters)
        held: int = self._file.value(
            f"SELECT count(DISTINCT item) FROM lines WHERE standing = 'held'{where}", {**filters}
        )
        return held

    def held_of(self, items: Iterable[str]) -> dict[str, int]:
        """How many lines of each of some items are held."""
        named = tuple(items)
        marks = ", ".join("?" * len(named))
        return dict(
            self._file.rows(
                f"SELECT item, count(*) FROM lines WHERE item IN ({marks}) AND standing = 'held' GROUP BY item", named
            )
        )

    def window(
        self, now: str, states: Sequence[S], where: str, filters: dict[str, Any], offset: int, limit: int,
        counts: dict[str, int],
    ) -> Iterator[tuple[S, LineRow]]:  # fmt: skip
        """Rows ``offset`` to ``offset + limit`` of the wanted states in order of state, each with its state."""
        self._wanted(filters)
        asked = {"now": now, "limit": limit, "offset": offset, **filters}
        if not _INDEXED.isdisjoint(filters) and sum(counts.values()) <= _FEW:
            yield from self._found(states, where, asked)
        else:
            yield from self._walked(states, where, asked, counts)

    def _found(self, states: Sequence[S], where: str, asked: dict[str, Any]) -> Iterator[tuple[S, LineRow]]:
        """The same for a filter that finds few lines: looked for once, whatever their states, and sorted."""
        wanted = ", ".join(f"'{state}'" for state in states)
        rows = self._file.rows(
            f"SELECT {_STATE} AS state, {_ALL} FROM lines WHERE state IN ({wanted}){where} "
            f"ORDER BY {_BY_STATE} LIMIT :limit OFFSET :offset",
            asked,
        )
        named = {str(state): state for state in states}
        for state, *row in rows:
            yield named[state], LineRow._make(row)

    def _walked(
        self, states: Sequence[S], where: str, asked: dict[str, Any], counts: dict[str, int]
    ) -> Iterator[tuple[S, LineRow]]:
        """The same along the index of each state, as far as the window reaches."""
        limit, offset = asked["limit"], asked["offset"]
        for state in states:
            here = counts[state]
            if offset >= here:
                offset -= here
                continue
            # Each state has an index in its own order, so a page costs its rows; sorting all would cost the board.
            condition, order = _GROUPS[state]
            rows = self._file.each(
                LineRow,
                f"SELECT {_ALL} FROM lines WHERE {condition}{where} ORDER BY {order} LIMIT :limit OFFSET :offset",
                {**asked, "limit": limit, "offset": offset},
            )
            seen = 0
            for row in rows:
                yield state, row
                seen += 1
            limit, offset = limit - seen, 0
            if limit <= 0:
                return

    def stopped_by_strokes(self, item: str, at: str) -> list[Stopped]:
        """The lines of an item past their hard stop by strokes at a moment, the longest first."""
        self._file.lines_wanted(item)
        return self._file.all(
            Stopped,
            "SELECT line, stop_at FROM lines WHERE item = ? AND standing = 'active' AND stop_at <= ? "
            "AND due_strokes IS NOT NULL ORDER BY stop_at",
            (item, at),
        )

    def next_edge(self, after: str) -> str | None:
        """The first moment after one at which some active line changes its state by itself."""
        self._file.lines_wanted()
        edge: str | None = self._file.value(
            "SELECT min(edge) FROM ("
            + " UNION ALL ".join(
                f"SELECT min({column}) AS edge FROM lines WHERE standing = 'active' AND {column} > :after"
                for column in ("opens_at", "due_at", "overdue_at", "stop_at")
            )
            + ")",
            {"after": after},
        )
        return edge

    def changed_between(self, after: str, until: str) -> list[str]:
        """The lines that change state by themselves within (after, until]."""
        self._file.lines_wanted()
        changed = self._file.values(
            " UNION ".join(
                f"SELECT line FROM lines WHERE standing = 'active' AND {column} > :after AND {column} <= :until"
                for column in ("opens_at", "due_at", "overdue_at", "stop_at")
            ),
            {"after": after, "until": until},
        )
        return sorted(changed)


def first_of_holds(where: str) -> str:
    """The same condition, and of the held lines of an item that match the first by name alone."""
    earlier = "other.item = lines.item AND other.standing = 'held' AND other.line < lines.line"
    return f"{where} AND (standing <> 'held' OR NOT EXISTS (SELECT 1 FROM lines other WHERE {earlier}{where}))"


_FOUND = "id IN (SELECT rowid FROM lines_fts WHERE lines_fts MATCH :words)"

_LEAST = 3
"""Letters from which on the search finds a part of a word; shorter ones are looked for line by line."""


def conditions(
    place: str | None, area: str | None, item: str | None, task: str | None, role: str | None, search: str,
    also: Sequence[tuple[str, Sequence[str]]] = (),
) -> tuple[str, dict[str, Any]]:  # fmt: skip
    """The SQL condition (starting with AND, or empty) and its parameters for a filter.

    ``also``: the tasks that a word of the search names besides those in whose lines it stands.
    """
    parts, values = [], {}
    for column, value in (("place", place), ("area", area), ("item", item), ("task", task)):
        if value is not None:
            parts.append(f"{column} = :{column}")
            values[column] = value
    if role is not None:
        parts.append("instr(roles, :role) > 0")
        values["role"] = f";{role};"
    words = search.casefold().split()
    named = dict(also)
    indexed = [word for word in words if len(word) >= _LEAST and "\0" not in word and word not in named]
    if indexed:
        parts.append(_FOUND)
        values["words"] = " ".join(_quoted(word) for word in indexed)
    for number, word in enumerate(word for word in words if word not in indexed):
        found = f"instr(searched, :word{number}) > 0"
        values[f"word{number}"] = word
        if word in named:
            found = f"({found} OR task IN (SELECT value FROM json_each(:tasks{number})))"
            values[f"tasks{number}"] = json.dumps(list(named[word]))
        parts.append(found)
    return "".join(f" AND {part}" for part in parts), values


def _quoted(word: str) -> str:
    """A word as the search takes it literally, whatever signs are in it."""
    doubled = word.replace('"', '""')
    return f'"{doubled}"'
