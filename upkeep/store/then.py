"""A book's tables by the facts of a moment and all counts there are: what lines were judged by, and answered by, then.

Figures and gauges ask about thousands of moments, so nothing is set up for one: each query names the tables it reads
anew, as they stood (:mod:`upkeep.store.shown`), and the moment goes with it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping
from functools import lru_cache
from sqlite3 import Cursor

from upkeep.store.file import BookFile
from upkeep.store.queries import Parameters
from upkeep.store.shown import SHOWN, Dial, entries, select

LAST = 2**62
"""Above every entry's number: all that was told for the moment."""

_FACTS = {shown.table.name: shown for shown in SHOWN if not shown.counted}
_NAMED = re.compile(rf"\b({'|'.join([*_FACTS, 'entries'])})\b")
_INDEXED = re.compile(r" INDEXED BY \w+")
_DIAL = "then_at", "then_entry", "then_unknown"


class FileThen(BookFile):
    """A book's file before an entry of a moment, but for its counts, which are those of later too.

    It reads by the connection of ``file`` and shows what that shows: what a write has added, or another past.  Of what
    was told at the moment only what has a lower number than ``entry`` is shown; of what moved or wore an item, all.
    What is known of the time before the book, and who gave a second signature, is that of ``file`` as well.  It keeps
    no lines, and no holds and pauses.  ``unknown`` are the items that nobody had defined by then.
    """

    def __init__(self, file: BookFile, moment: str, entry: int = LAST, unknown: Collection[str] = ()) -> None:
        super().__init__(file.path, file.connection, in_file=False)
        self.schema = file.schema
        self._dial = moment, entry, json.dumps(sorted(unknown)) if unknown else None

    def _run(self, sql: str, parameters: Parameters) -> Cursor:
        by_name = isinstance(parameters, Mapping)
        query = _as_it_stood(sql, self.schema, any_unknown=self._dial[-1] is not None, by_name=by_name)
        if query is None:
            return super()._run(_INDEXED.sub("", sql) if self.schema == "temp" else sql, parameters)
        if isinstance(parameters, Mapping):
            return super()._run(query, {**parameters, **dict(zip(_DIAL, self._dial, strict=True))})
        return super()._run(query, (*self._dial, *parameters))


@lru_cache(maxsize=512)
def _as_it_stood(sql: str, schema: str, *, any_unknown: bool, by_name: bool) -> str | None:
    """A query in front of which stands how the tables it names stood; None: it asks for no facts."""
    named = dict.fromkeys(_NAMED.findall(sql))
    if not named:
        return None
    values = ", ".join(f":{name}" if by_name else "?" for name in _DIAL)
    dial = Dial("(SELECT at FROM dial)", "unknown" if any_unknown else None, "(SELECT entry FROM dial)")
    parts = [f"dial (at, entry, items) AS (VALUES ({values}))"]
    if any_unknown:
        parts.append("unknown (item) AS (SELECT value FROM dial, json_each(dial.items))")
    for name in named:
        stood = entries(schema, dial) if name == "entries" else select(_FACTS[name], schema, dial, confirmed=False)
        parts.append(f"{name} AS NOT MATERIALIZED ({stood})")
    return f"WITH {', '.join(parts)} {_INDEXED.sub('', sql)}"
