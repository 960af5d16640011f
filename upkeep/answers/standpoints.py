"""Where a view is taken from: the book as it is, or as some of its entries make it when played again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from upkeep.answers import board as reading
from upkeep.answers.tallies import Tallies
from upkeep.entries.kinds import Recorded
from upkeep.keeping.definitions import Known
from upkeep.keeping.replay import Replay
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER, from_utc_text, utc_text


class Standpoints:
    """Gives views of one file, of now and of the past; keeps the last past until another is asked for."""

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._known: Known | None = None
        self._past: tuple[object, reading.Views] | None = None
        self._tallies = Tallies(file)

    @property
    def known(self) -> Known:
        """All definitions in force, read again when somebody has changed them.

        Raises :class:`KeptByNewer` where a newer program keeps the book by now: every question comes by here.
        """
        self._file.look()
        last = (
            self._file.value("SELECT max(id) FROM entries INDEXED BY entries_of_definitions WHERE kind = 'define'") or 0
        )
        if self._known is None or self._known.last_entry != last:
            self._known = Known(Projections(self._file).definitions())
        return self._known

    def forget(self) -> None:
        """Drops what is kept: the file was written to, and what was written taken back."""
        self._known = self._past = None

    def last_moment(self) -> datetime | None:
        """The moment of the latest entry in effect; None in an empty book."""
        found = EntryStore(self._file).last_moment()
        return from_utc_text(found) if found else None

    def now(self) -> reading.Views:
        """Views of the book with all that is written in it."""
        return reading.Views(self._file, self.known, self._tallies)

    def at(self, moment: datetime, known_at: datetime | None = None) -> reading.Views:
        """Views of the book as it stood at a moment, without what was written after ``known_at``."""
        last = self.last_moment()
        if known_at is None and (last is None or moment >= last):
            return self.now()
        asked = (utc_text(moment), utc_text(known_at or NEVER))
        return self._of_past(asked, lambda one: one.entry.at <= moment and _was_written(one, known_at))

    def at_revision(self, revision: int, moment: datetime) -> reading.Views:
        """Views of the book at a moment as its entries up to a number make it."""
        asked = (revision, utc_text(moment))
        return self._of_past(asked, lambda one: one.id <= revision and one.entry.at <= moment)

    def _of_past(self, asked: tuple[object, ...], wanted: Callable[[Recorded], bool]) -> reading.Views:
        asked = (*asked, self._file.version())
        if self._past is not None:
            kept, views = self._past
            if kept == asked:
                return views
        views = reading.Views(*self._as_it_stood(wanted))
        self._past = (asked, views)
        return views

    def _as_it_stood(self, wanted: Callable[[Recorded], bool]) -> tuple[BookFile, Known]:
        entries = [one for one in EntryStore(self._file).all() if wanted(one)]
        replay = Replay(entries)
        past = BookFile.in_memory()
        with past.writing():
            EntryStore(past).copy(entries, EntryStore(self._file))
            Projections(past).fill(replay.tables)
        return past, replay.known


def _was_written(one: Recorded, by: datetime | None) -> bool:
    return by is None or (one.entry.recorded_at or one.entry.at) <= by
