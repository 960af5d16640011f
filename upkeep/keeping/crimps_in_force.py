"""Crimps and pull tables as they were defined at a moment: what was checked is judged by the limits that held then."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any, TypeVar

from upkeep.keeping.definitions import Known
from upkeep.plant.crimps import Crimp, PullTable, crimp_from, pull_table_from
from upkeep.store.file import BookFile
from upkeep.store.measurements import Measurements
from upkeep.units.instants import utc_text

T = TypeVar("T")


class DefinitionsThen:
    """Looks up a crimp or a pull table as it was defined when a check was made."""

    def __init__(self, file: BookFile, known: Known) -> None:
        self._measurements, self._known = Measurements(file), known

    def crimp(self, key: str, at: datetime) -> Crimp:
        """A crimp as it was defined at a moment (as it is now, where it came into the book later)."""
        now = self._known.crimp(key)
        return self._defined("crimp", key, at, crimp_from) or now

    def pull_tables(self, at: datetime) -> Mapping[str, PullTable]:
        """All tables of pull forces as they were defined at a moment."""
        now = self._known.pull_tables
        return {key: self._defined("pull-table", key, at, pull_table_from) or now[key] for key in now}

    def _defined(self, what: str, key: str, at: datetime, read: Callable[[Mapping[str, Any]], T]) -> T | None:
        """None where the definition in force now held then as well, or where there was none."""
        content = self._measurements.earlier_definition(what, key, utc_text(at))
        return None if content is None else read(json.loads(content))
