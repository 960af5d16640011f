"""In which area of the plant an item hung at a moment."""

from __future__ import annotations

from datetime import datetime

from upkeep.keeping.context import Context
from upkeep.keeping.in_force import DefinedThen
from upkeep.keeping.rows_then import RowsThen
from upkeep.keeping.whereabouts import Whereabouts


class Areas:
    """Where items hung then, by the places and presses as they were defined then."""

    def __init__(self, context: Context, definitions: DefinedThen) -> None:
        self._context, self._definitions = context, definitions
        self._areas: dict[tuple[str, datetime], str] = {}

    def of(self, item: str, moment: datetime) -> str:
        """The area of an item at a moment; "-" where nobody said."""
        if (item, moment) not in self._areas:
            known = self._definitions.at(moment)
            rows = RowsThen(self._context.file, moment, unknown=self._definitions.unknown_at(moment))
            whereabouts = Whereabouts(rows, known)
            self._areas[item, moment], _ = whereabouts.area_and_route(whereabouts.place_of(known.items[item]))
        return self._areas[item, moment]
