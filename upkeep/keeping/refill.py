"""The tables of a book made again from its entries, when they are of an older program or somebody asks for it."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.entries.bookkeeping import Begin
from upkeep.entries.entry import Recorded
from upkeep.errors import BookDamaged, StrokebookError
from upkeep.keeping.replay import Replay
from upkeep.progress import Progress, watched
from upkeep.said import said
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections


def refill(file: BookFile) -> int:
    """Throws the tables away and fills today's from the entries, in one transaction; how many rows they have.

    Raises :class:`BookDamaged` where the entries cannot be replayed; then the tables are as they were.
    """
    with file.refilling():
        return _refilled(file)


def bring_up(file: BookFile) -> bool:
    """Makes the tables again if they are of an older program; whether this was so."""
    if not file.tables_are_older():
        return False
    with file.refilling():
        if file.tables_are_older():  # else somebody else has made them while this one waited
            _refilled(file)
    return True


def _refilled(file: BookFile) -> int:
    try:
        replay = Replay(_entries(file), file.watch)
    except StrokebookError as error:
        raise BookDamaged(
            said(
                "The entries of {path} cannot be replayed: {error} Its tables were left as they are. Keep "
                "this file and restore the last good backup.",
                path=file.path,
                error=error.said,
            )
        ) from error
    rows = sum(len(table) for table in replay.tables.values())
    file.watch(Progress("filling", 0, rows))
    file.make_tables_again()
    Projections(file).fill(replay.tables)
    begun = EntryStore(file).by_number(0)
    if begun is not None and isinstance(begun.entry, Begin):
        Projections(file).set_wall_clock(begun.entry.zone)
    file.make_indexes()
    file.watch(Progress("filling", rows, rows))
    return rows


def _entries(file: BookFile) -> Iterator[Recorded]:
    store = EntryStore(file)
    return watched(store.all(), "reading", store.last()[0], file.watch)
