"""The book as front ends see it: one object for one thread, with verbs that answer with frozen views."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from datetime import datetime
from json import loads
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from upkeep.book.copies import Copies
from upkeep.entries.origin import NOT_KNOWN, Origin, Proven
from upkeep.errors import BookNotWritable, NotProven, StrokebookError
from upkeep.keeping.definitions import PLANT_KEY
from upkeep.plant.definition import Defined
from upkeep.progress import Watch, nobody
from upkeep.said import Moment, Said, said
from upkeep.store.file import BookFile, Random

if TYPE_CHECKING:
    from upkeep.book.bringing_back import Exported
    from upkeep.book.naming import Naming
    from upkeep.book.writing import Writer
    from upkeep.entries.entry import Entry
    from upkeep.entries.form import FormNumber
    from upkeep.entries.planning import Define
    from upkeep.keys.keys import Keys
    from upkeep.plant.definition import Definition
    from upkeep.views.written import StateChange, Written


Clock = Callable[[], datetime]
"""Gives the aware UTC moment at which it is asked, in whole seconds."""


def asked(clock: datetime | Clock) -> datetime:
    """The moment a clock gives now; of one that stands, its moment."""
    return clock() if callable(clock) else clock


class _NotKept(Exception):
    """Ends a transaction whose only purpose was to see what it would do."""


class Book(Copies):
    """One plant's book: what it answers, and the verbs that write into it.

    Use it as a context manager, from one thread.  Moments are aware UTC datetimes and always come from the caller.
    """

    @classmethod
    def create(cls, path: Path, random: Random | None = None) -> Book:
        """A new, empty book; raises :class:`BookUnavailable` where a file already is.

        ``random`` gives the bytes of its id and its salts, the same ones where the same book is to be made twice; None:
        the system's source for secrets.
        """
        return cls(BookFile.create(path, random))

    @classmethod
    def bring_back(cls, path: Path, exported: Iterable[Exported]) -> Book:
        """A new book from the lines of an export: the same entries, links and board as the one it came from.

        Raises :class:`BookUnavailable` where a file already is, :class:`BookDamaged` at the first line that does not
        follow from those before it; what was made so far is of no use then.
        """
        from upkeep.book.bringing_back import bring_back

        file = BookFile.create(path)
        try:
            bring_back(file, exported)
        except BaseException:
            file.close()
            raise
        return cls(file)

    @classmethod
    def open(cls, path: Path, watch: Watch = nobody) -> Book:
        """An existing book, its tables made again first if an older program made them.

        ``watch`` is told how far that has come, and now and later when this book waits for another process that does
        it.  Where nothing can be written it is opened to be read (:attr:`cannot_write`).  Raises
        :class:`BookUnavailable` or :class:`BookDamaged` with what to do.
        """
        try:
            file = BookFile.open(path)
        except BookNotWritable as why:
            return cls._opened_to_read(BookFile.open_to_read(path, why), watch)
        file.watch = watch
        try:
            return cls(file, tables_made_again=file.tables_are_older() and _bring_up(file))
        except BaseException:
            file.close()
            raise

    @classmethod
    def open_entries(cls, path: Path) -> Book:
        """A book of which only the entries will be read; its tables may be of an older program, or damaged."""
        return cls(BookFile.open(path))

    @classmethod
    def open_copy(cls, path: Path, watch: Watch = nobody) -> Book:
        """A backup to look into and prove; nothing is written, not even beside it.

        If its tables are of an older program, it is read into memory and they are made again there.
        """
        return cls._opened_to_read(BookFile.open_copy(path), watch)

    @classmethod
    def _opened_to_read(cls, file: BookFile, watch: Watch) -> Book:
        if not file.tables_are_older():
            return cls(file)
        with closing(file):
            in_memory = file.in_memory_copy()
        in_memory.watch = watch
        return cls(in_memory, tables_made_again=_bring_up(in_memory))

    def __init__(self, file: BookFile, *, tables_made_again: bool = False) -> None:
        super().__init__(file)
        self._tables_made_again = tables_made_again
        self._told = self._clock_is_right = False
        self._keys: Keys | None = None

    @property
    def tables_made_again(self) -> bool:
        """Whether an older program had made the tables, and they were made again for this opening."""
        return self._tables_made_again

    @property
    def cannot_write(self) -> Said | None:
        """Why this book can only be read; None: it can be written."""
        why = self._file.cannot_write
        return None if why is None else why.said

    @property
    def on_network(self) -> Said | None:
        """That this book lies on the disk of another computer, where it is not safe; None: it does not."""
        from upkeep.store.disk.network import network_kind

        kind = network_kind(self.path)
        if kind is None:
            return None
        return said(
            "{path} is on a network drive ({kind}), where two computers can damage a book without noticing. Keep it on "
            "a disk of the one computer that runs 'strokebook serve', and let all others come by its pages.",
            path=self.path,
            kind=kind,
        )

    @property
    def unproven(self) -> Said | None:
        """That this is not the book that was sealed, by a seal known of it; else that the last proof of it, or of a
        copy of it, was not clean, and what it found; None: neither."""
        went_back = self.went_back
        if went_back is not None:
            return went_back
        finding = None if self._file.unproven is None else self._file.unproven.finding()
        if finding is None:
            return None
        return said(
            "This book did not prove clean on {at}: {finding} What it shows may be wrong: go by the last printed list. "
            "'strokebook prove' says how to mend it.",
            at=Moment(finding.at, self.zone),
            finding=finding.first,
        )

    def write_all_the_same(self, *, clock: bool = False) -> None:
        """Takes entries from here on although the book did not prove clean, or (``clock``) although the clock is far
        ahead of the last entry: whoever writes was told."""
        if clock:
            self._clock_is_right = True
        else:
            self._told = True

    def _refuse_untold(self) -> None:
        if not self._told and (finding := self.unproven) is not None:
            raise NotProven(finding)

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Closes the file."""
        self._seen_from.close()
        self._file.close()
        if self._keys is not None:
            self._keys.close()

    # Who is here

    @property
    def naming(self) -> Naming:
        """Who is meant by an id or a badge, and how that is proven; for any thread, with the people known now."""
        return self.naming_by_keys_of(self.path)

    def naming_by_keys_of(self, path: Path) -> Naming:
        """The same, by the keys that stand beside the book's file at another path, where this one is going to be."""
        from upkeep.book.naming import Naming
        from upkeep.entries.bookkeeping import Begin
        from upkeep.keys.keys import Keys

        if self._keys is None:
            first = self._stores.entries.by_number(0)
            self._keys = Keys(path, first.entry.book if first and isinstance(first.entry, Begin) else "")
        return Naming(self.known, self._keys)

    # Writing

    def write(
        self, entries: Sequence[Entry], recorded_at: datetime | Clock, origin: Origin = NOT_KNOWN,
        proven: Proven | None = None, form: FormNumber | None = None,
    ) -> Written:  # fmt: skip
        """Writes entries, all or none, and answers with their numbers and the lines that changed state.

        ``recorded_at`` stamps entries that carry no such moment; a clock is asked once nobody else can write, so that
        the numbers of entries and their moments run the same way.  ``origin`` is that of entries that do not say how
        they came in; ``proven`` is who writes, and how their name was proven (:attr:`naming`), without which a plant
        that goes by codes takes nothing.  What a ``form`` has written before is not written again: the numbers it got
        then are given.  Raises :class:`Refused` (or :class:`AlreadySigned`, :class:`NotFound`) with the sentence for
        the writer, or :class:`NotProven` or :class:`ClockAhead` before whoever writes was told; then nothing was
        changed.
        """
        from upkeep.views.written import Written

        if not entries:
            return Written(())
        self._refuse_untold()
        salts = form.salts(len(entries)) if form else ()
        with self._file.writing():
            if form is not None and (before := self._stores.entries.salted(salts, form.after)):
                return Written(tuple(before))
            return self._writer(recorded_at, origin, proven).write(entries, salts)

    def write_fresh(
        self,
        entries: Sequence[Entry],
        fresh: Callable[[Sequence[Entry]], Sequence[Entry]],
        recorded_at: datetime | Clock,
        origin: Origin = NOT_KNOWN,
        proven: Proven | None = None,
    ) -> Written:
        """Writes those entries that ``fresh`` leaves, as :meth:`write` does.

        ``fresh`` is asked inside the transaction, when nobody else can write: the same entries given by two programs
        at the same moment are written once.
        """
        from upkeep.views.written import Written

        self._refuse_untold()
        with self._file.writing():
            left = fresh(entries)
            return self._writer(recorded_at, origin, proven).write(left) if left else Written(())

    def load(
        self,
        definitions: Sequence[Definition],
        at: datetime,
        by: str,
        recorded_at: datetime | Clock,
        because: str = "",
        origin: Origin = NOT_KNOWN,
        proven: Proven | None = None,
    ) -> Written:
        """Writes the definitions that differ from those in force; the same files twice change nothing."""
        from upkeep.views.written import Written

        with self._file.writing():
            entries = self.defining(definitions, at, by, because)
            return self._writer(recorded_at, origin, proven).write(entries) if entries else Written(())

    def defining(self, definitions: Sequence[Definition], at: datetime, by: str, because: str = "") -> list[Define]:
        """The entries for those definitions that differ from those in force."""
        return [self._define(one, at, by, because or self._rephrased(one)) for one in self.changed(definitions)]

    def _rephrased(self, definition: Definition) -> str:
        """The reason of a change that nobody made: the shipped catalogue says a task in other words; else none."""
        before = next(
            (row.content for row in self.known.rows if (row.what, row.key) == (Defined.TASK, definition.key)), None
        )
        if definition.what != Defined.TASK or before is None:
            return ""
        from upkeep.plant.catalogue import only_rephrased  # its file is read where a task has changed

        same = only_rephrased(loads(before), definition.content)
        return "the shipped catalogue says it in other words" if same else ""

    def preview(
        self, definitions: Sequence[Definition], at: datetime, by: str, recorded_at: datetime
    ) -> tuple[StateChange, ...]:
        """The lines that loading definitions would move, with nothing written."""
        return self.tried(self.defining(definitions, at, by, "looked at"), recorded_at).changes

    def tried(self, entries: Sequence[Entry], recorded_at: datetime, origin: Origin = NOT_KNOWN) -> Written:
        """What the book would answer to entries, with nothing written; raises what it would refuse them with.

        Nobody is asked to prove their name for it.
        """
        from upkeep.views.written import Written

        written = Written(())
        try:
            with self._file.writing():
                if entries:
                    written = self._writer(recorded_at, origin, only_tries=True).write(entries)
                raise _NotKept
        except _NotKept:
            self._seen_from.forget()
        return written

    def refusals(self, entries: Sequence[Entry], recorded_at: datetime) -> dict[int, Said]:
        """Which of some entries the book would refuse, by their place, and why; each tried alone, nothing written."""
        refused: dict[int, Said] = {}
        for place, entry in enumerate(entries):
            try:
                with self._file.writing():
                    self._writer(recorded_at, only_tries=True).write([entry])
                    raise _NotKept
            except _NotKept:
                self._seen_from.forget()
            except StrokebookError as error:
                refused[place] = error.said
        return refused

    def changed(self, definitions: Sequence[Definition]) -> tuple[Definition, ...]:
        """The definitions that are new or differ from those in force."""
        kept = {(row.what, row.key): row.content for row in self._stores.rows.definitions()}
        return tuple(
            definition for definition in definitions if kept.get((definition.what, _key(definition))) != definition.text
        )

    def left_out(self, definitions: Sequence[Definition]) -> tuple[tuple[str, str], ...]:
        """What is in force and not among some definitions, by what it is and its id: it stays in force.

        Without what has left for good: scrapped items and people who may not sign any more.
        """
        given = {(definition.what, _key(definition)) for definition in definitions}
        gone = {(Defined.ITEM, item.id) for item in self.items() if item.scrapped}
        gone |= {(Defined.PERSON, person.id) for person in self.people() if person.until}
        kept = {(row.what, row.key) for row in self._stores.rows.definitions()}
        return tuple(sorted(kept - given - gone))

    def _writer(
        self,
        recorded_at: datetime | Clock,
        origin: Origin = NOT_KNOWN,
        proven: Proven | None = None,
        *,
        only_tries: bool = False,
    ) -> Writer:
        """What writes inside the running transaction."""
        from upkeep.book.writing import Writer  # with all rules of admission, which no question needs

        moment = asked(recorded_at)
        return Writer(
            self._file,
            self._seen_from.in_force,
            moment,
            origin,
            proven,
            clock_is_right=self._clock_is_right,
            only_tries=only_tries,
        )

    @staticmethod
    def _define(definition: Definition, at: datetime, by: str, because: str = "") -> Define:
        from upkeep.entries.planning import Define

        return Define(
            at=at, by=by, what=definition.what, key=_key(definition), content=definition.text, because=because
        )


def _bring_up(file: BookFile) -> bool:
    """Makes the tables of an older program again; whether that was needed."""
    from upkeep.keeping.refill import bring_up  # with the replay of all entries: once for each new program

    return bring_up(file)


def _key(definition: Definition) -> str:
    return PLANT_KEY if definition.what == Defined.PLANT else definition.key
