"""The chain as lines for a stand-alone check: each entry with what is hashed of it, names and texts withheld by hash.

The first line says of which book and after which link: ``{"book": ..., "first": 0, "before": "00..."}``.  Then one line
an entry: ``{"facts": [...], "hidden": {"by": [salt, value], "because": hash, ...}}``, or its digest alone, a text.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from json import dumps

from upkeep.answers.printed.seals import book_id
from upkeep.answers.printed.withheld import Withheld
from upkeep.entries.chain import Open, digest, shown
from upkeep.entries.row import EntryRow
from upkeep.keeping.context import Stores
from upkeep.progress import Watch, watched


def chain_lines(stores: Stores, withheld: Withheld, watch: Watch, numbers: range | None = None) -> Iterator[str]:
    """The entries of some numbers with what may be shown of them, those after them by their digests; None: all.

    Raises :class:`BookDamaged` where one does not follow from the one before.
    """
    last, _ = stores.entries.last()
    first, end = (0, last + 1) if numbers is None else (numbers.start, numbers.stop)
    yield _head(stores, first)
    for row in watched(stores.entries.chained(first), "following", last - first + 1, watch):
        yield _line(row, withheld.kept_back(row) if row.id < end else None)


def path_lines(stores: Stores, number: int, kept_back: Collection[str]) -> Iterator[str]:
    """One entry, shown but for some of its hidden fields, and the digests of all that came after it."""
    yield _head(stores, number)
    for row in stores.entries.chained(number):
        yield _line(row, kept_back if row.id == number else None)


def _head(stores: Stores, first: int) -> str:
    before = stores.entries.link_of(first - 1) if first else "00" * 32
    return dumps({"book": book_id(stores), "first": first, "before": before})


def _line(row: EntryRow, kept_back: Collection[str] | None) -> str:
    """An entry as a line; None: it is withheld as a whole."""
    if kept_back is None:
        return dumps(digest(row).hex())
    told = shown(row, kept_back)
    hidden = {
        name: [field.salt.hex(), field.value] if isinstance(field, Open) else field.hex()
        for name, field in told.hidden.items()
    }
    return dumps({"facts": list(told.facts), "hidden": hidden}, ensure_ascii=False)
