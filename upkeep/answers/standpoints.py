"""Where a view is taken from: the book as it is, or as it stood at a moment."""

from __future__ import annotations

from datetime import datetime
from weakref import WeakSet

from upkeep.answers import board as reading
from upkeep.answers.tallies import Tallies
from upkeep.keeping.definitions import Known
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.units.instants import NEVER, from_utc_text


class Standpoints:
    """Gives views of one file, of now and of the past; keeps the last past until another is asked for."""

    def __init__(self, file: BookFile) -> None:
        self._file = file
        self._known: Known | None = None
        self._past: tuple[object, reading.Views] | None = None
        self._tallies = Tallies(file)
        self._pasts: WeakSet[BookFile] = WeakSet()

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

    def close(self) -> None:
        """Closes the connections of all pasts that somebody may still hold: an open one keeps the file's log open."""
        self.forget()
        for past in self._pasts:
            past.close()

    def last_moment(self) -> datetime | None:
        """The moment of the latest entry in effect; None in an empty book."""
        found = EntryStore(self._file).last_moment()
        return from_utc_text(found) if found else None

    def now(self) -> reading.Views:
        """Views of the book with all that is written in it."""
        self._past = None
        return reading.Views(self._file, self.known, self._tallies)

    def at(self, moment: datetime, known_at: datetime | None = None) -> reading.Views:
        """Views of the book as it stood at a moment, without what was written after ``known_at``."""
        last = self.last_moment()
        if known_at is None and (last is None or moment >= last):
            return self.now()
        return self._past_at(moment, None, known_at or NEVER)

    def at_revision(self, revision: int, moment: datetime) -> reading.Views:
        """Views of the book at a moment as its entries up to a number make it."""
        return self._past_at(moment, revision, NEVER)

    def _past_at(self, moment: datetime, revision: int | None, written_by: datetime) -> reading.Views:
        from upkeep.keeping.as_of import ALL, AsOf  # with all that plays entries, which the present needs nothing of
        from upkeep.keeping.in_force import DefinedThen

        through = ALL if revision is None else revision
        asked = (moment, through, written_by, self._file.version())
        if self._past is not None:
            kept, views = self._past
            if kept == asked:
                return views
        defined = [
            one
            for one in EntryStore(self._file).definitions()
            if one.id <= through and (one.entry.recorded_at or one.entry.at) <= written_by
        ]
        then = DefinedThen(defined).at(moment)
        past = AsOf(self._file, moment, then, self.known, through=through, written_by=written_by)
        self._pasts.add(past.file)
        views = reading.Views(past.file, past.known)
        self._past = (asked, views)
        return views
