"""Where a question is asked from: the book as it is, or as it stood at a moment."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakSet, ref

from upkeep.keeping.context import Context, Stores
from upkeep.keeping.definitions import Known
from upkeep.keeping.tallies import Tallies
from upkeep.plant.names import Names
from upkeep.store.file import BookFile
from upkeep.units.instants import NEVER, from_utc_text

if TYPE_CHECKING:
    from upkeep.keeping.in_force import DefinedThen
    from upkeep.store.past import PastFile


class _Past(NamedTuple):
    """A past that was asked for: by moment and knowledge, in which version of the file, and what answers."""

    asked: tuple[datetime, int, datetime]
    version: tuple[int, ...]
    file: PastFile
    context: Context


class Standpoints:
    """Gives contexts of one file, of now and of the past; keeps the last past until another is asked for."""

    def __init__(self, file: BookFile) -> None:
        self.stores = Stores(file)
        """What reads the file itself, whatever moment is asked about."""
        self._file = file
        self._known: Known | None = None
        self._names: Names | None = None
        self._past: _Past | None = None
        self._left: tuple[tuple[int, ...], PastFile] | None = None
        self._definitions: tuple[object, DefinedThen] | None = None
        self._pasts: WeakSet[BookFile] = WeakSet()
        self._tallies = Tallies(file)

    @property
    def known(self) -> Known:
        """All definitions in force, read again when somebody has changed them.

        Raises :class:`KeptByNewer` where a newer program keeps the book by now: every question comes by here.
        """
        self._file.look()
        return self.in_force

    @property
    def in_force(self) -> Known:
        """The same, inside a transaction that has looked by itself."""
        last = (
            self._file.value("SELECT max(id) FROM entries INDEXED BY entries_of_definitions WHERE kind = 'define'") or 0
        )
        if self._known is None or self._known.last_entry != last:
            self._known, self._names = Known(self.stores.rows.definitions()), None
        return self._known

    @property
    def names(self) -> Names:
        """What people are called, and were called when they signed; read again with the definitions."""
        if self.known is not None and self._names is None:
            self._names = Names(self.stores.rows.names_given())
        return self._names

    def forget(self) -> None:
        """Drops what is kept: the file was written to, and what was written taken back."""
        self._known = self._names = self._past = self._left = self._definitions = None

    def close(self) -> None:
        """Closes the connections of all pasts that somebody may still hold: an open one keeps the file's log open."""
        self.forget()
        for past in self._pasts:
            past.close()

    def last_moment(self) -> datetime | None:
        """The moment of the latest entry in effect; None in an empty book."""
        last = self.stores.rows.last_moment()
        return from_utc_text(last) if last else None

    def now(self, moment: datetime = NEVER) -> Context:
        """The book with all that is written in it, asked about a moment."""
        self._leave()
        return Context(self._file, self.known, moment, self._tallies)

    def at(self, moment: datetime, known_at: datetime | None = None) -> Context:
        """The book as it stood at a moment, without what was written after ``known_at``."""
        last = self.last_moment()
        if known_at is None and (last is None or moment >= last):
            return self.now(moment)
        return self._past_at(moment, None, known_at or NEVER)

    def at_revision(self, revision: int, moment: datetime) -> Context:
        """The book at a moment as its entries up to a number make it."""
        return self._past_at(moment, revision, NEVER)

    def _past_at(self, moment: datetime, revision: int | None, written_by: datetime) -> Context:
        from upkeep.keeping.as_of import ALL, AsOf  # with all that plays entries, which the present needs nothing of

        through = ALL if revision is None else revision
        asked, version = (moment, through, written_by), self._file.version()
        if self._past is not None and (self._past.asked, self._past.version) == (asked, version):
            return self._past.context
        known = self._defined(through, written_by, version).at(moment)
        past = AsOf(
            self._file, moment, known, self.known, through=through, written_by=written_by, spare=self._spare(version)
        )
        self._pasts.add(past.file)
        self._past = _Past(asked, version, past.file, Context(past.file, past.known, moment))
        return self._past.context

    def _defined(self, through: int, written_by: datetime, version: tuple[int, ...]) -> DefinedThen:
        """The definitions over time, as known with an entry; read again where anybody wrote or other ones are known."""
        from upkeep.keeping.in_force import DefinedThen

        asked = (through, written_by, version)
        if self._definitions is None or self._definitions[0] != asked:
            defined = [
                recorded
                for recorded in self.stores.entries.definitions()
                if recorded.id <= through and (recorded.entry.recorded_at or recorded.entry.at) <= written_by
            ]
            self._definitions = asked, DefinedThen(defined)
        return self._definitions[1]

    def _leave(self) -> None:
        """Leaves the last past; its file is kept for the next one, unless somebody still holds it."""
        past, self._past = self._past, None
        if past is not None:
            version, file, held = past.version, past.file, ref(past.context)
            del past
            self._left = (version, file.left()) if held() is None else None

    def _spare(self, version: tuple[int, ...]) -> PastFile | None:
        """The file of a past that was left, where the book is as it was then."""
        self._leave()
        left, self._left = self._left, None
        return left[1] if left is not None and left[0] == version else None
