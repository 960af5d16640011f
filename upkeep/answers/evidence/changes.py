"""What changed in the definitions: tasks, limits, rights, people, gauges, the plant's rules, in words."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import datetime

from upkeep.errors import NotFound
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.said import said
from upkeep.store.evidence.asked import Asked
from upkeep.store.rows.definitions import DefinedRow
from upkeep.units.instants import from_utc_text
from upkeep.views.evidence.changes import Change, Changes, FieldChange, Stood
from upkeep.wording.evidence.fields import field_said
from upkeep.wording.evidence.values import value_said

_NAMED_BY = ("id", "name", "work")
"""What tells the members of a list apart: points by id, shifts by name, training by work."""

Path = tuple[str, ...]


class ChangeViews:
    """The definitions of one book over time, up to the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._at = context, context.moment
        self._asked = Asked(context.file)

    def all(
        self, key: str | None = None, *, what: str | None = None, by: str | None = None, first: datetime | None = None,
        limit: int | None = None, every: bool = False,
    ) -> Changes:  # fmt: skip
        """What was defined under an id (None: any) of a kind, by somebody; what was first defined counts where a key is
        asked for or ``every`` is.

        Raises :class:`NotFound` where nothing was ever defined under that id, or nobody is known by that one.
        """
        if by is not None:
            self._context.known.person(by)
        rows = self._asked.all_defined(what, key)
        if key is not None and not rows:
            known = sorted({row.key for row in self._asked.all_defined(what, None)})
            raise NotFound(said("definition"), key, near_misses(key, known))
        found = [change for change in self._changes(rows) if first is None or change.at >= first]
        shown = [
            one for one in found
            if by in (None, one.by) and (one.fields or one.first) and (not one.first or every or key is not None)
        ]  # fmt: skip
        shown.sort(key=lambda one: one.entry, reverse=True)
        kept = tuple(shown[:limit])
        stood = tuple(self._stood(rows)) if key is not None else ()
        return Changes(first, self._at, kept, len(shown) - len(kept), stood)

    def _changes(self, rows: list[DefinedRow]) -> Iterator[Change]:
        before: DefinedRow | None = None
        for row in rows:
            if before is not None and (before.what, before.key) != (row.what, row.key):
                before = None
            recorded = self._context.entries.by_number(row.entry)
            assert recorded is not None
            entry = recorded.entry
            old = {} if before is None else json.loads(before.content)
            yield Change(
                what=row.what,
                key=row.key,
                entry=row.entry,
                at=entry.at,
                by=entry.by,
                by_name=self._context.names.of(entry.by, row.entry),
                proof=entry.origin.proof,
                because=entry.because,
                first=before is None,
                fields=() if before is None else tuple(_moved(old, json.loads(row.content))),
            )
            before = row

    def _stood(self, rows: list[DefinedRow]) -> Iterator[Stood]:
        """The last of each thing's definitions."""
        last = {(row.what, row.key): row for row in rows}
        for row in last.values():
            told = tuple(
                (".".join(path), field_said(path), value_said(path[-1], value))
                for path, value in _fields(json.loads(row.content))
            )
            yield Stood(row.what, row.key, row.entry, from_utc_text(row.at), told)


def _moved(before: dict[str, object], after: dict[str, object]) -> Iterator[FieldChange]:
    """Each field that is not the same, in the order in which it is read."""
    old, new = dict(_fields(before)), dict(_fields(after))
    for path in dict.fromkeys([*old, *new]):
        if old.get(path) != new.get(path):
            yield FieldChange(
                ".".join(path), field_said(path), value_said(path[-1], old.get(path)),
                value_said(path[-1], new.get(path)),
            )  # fmt: skip


def _fields(content: dict[str, object], path: Path = ()) -> Iterator[tuple[Path, object]]:
    """The fields of a definition with their paths; members of a list go by what names them."""
    for key, value in content.items():
        if key == "id" and not path:
            continue
        here = (*path, key)
        if isinstance(value, dict) and value:
            yield from _fields(value, here)
        elif isinstance(value, list) and value and all(_name(one) is not None for one in value):
            for one in value:
                name = str(_name(one))
                inner = {field: inside for field, inside in one.items() if field not in _NAMED_BY}
                yield from _fields(inner, (*here, name)) if inner else [((*here, name), "+")]
        else:
            yield here, value


def _name(member: object) -> object | None:
    """What a member of a list is named by; None: it is no table, or has no name."""
    if not isinstance(member, dict):
        return None
    return next((member[key] for key in _NAMED_BY if key in member), None)
