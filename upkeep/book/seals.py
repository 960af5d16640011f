"""The seals of a book: its own, and what those known from outside say of it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date, datetime
from functools import cached_property
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.book.evidence import Evidence
from upkeep.errors import Refused
from upkeep.progress import Watch, nobody, watched
from upkeep.said import Numeral, Said, said
from upkeep.units.instants import NEVER, utc_text

if TYPE_CHECKING:
    from upkeep.answers.printed.withheld import Withheld
    from upkeep.entries.entry import Recorded
    from upkeep.entries.keys import Given
    from upkeep.seals.judging import SealFound
    from upkeep.seals.line import SealLine


class Sealed(Evidence):
    """A book that gives its seal, and is compared with those that stand outside it."""

    @cached_property
    def id(self) -> str:
        """The id of the book, as its first entry has it; "" while it has none."""
        from upkeep.answers.printed.seals import book_id

        return book_id(self._stores)

    def seal(self, at: datetime) -> SealLine:
        """The seal of the last entry, as it stands at a moment."""
        from upkeep.seals.line import seal_of

        number, link = self._stores.entries.last()
        return seal_of(self.id, number, link.hex(), at)

    def seal_found(self, seal: SealLine) -> SealFound:
        """How this book stands to a seal."""
        from upkeep.answers.printed.seals import seal_found

        return seal_found(self._stores, seal)

    def known_seals(self) -> tuple[SealLine, ...]:
        """The seals that stand beside this book and are its own, in the order in which they became known."""
        beside = self._file.seals
        seals = () if beside is None else beside.all()
        return tuple(seal for seal in seals if seal.book == self.id)

    @property
    def went_back(self) -> Said | None:
        """That this is not the book that was sealed, by a seal that stands beside it; None: no seal says so."""
        found = next((one for one in map(self.seal_found, self._newest_first()) if one.alarms), None)
        return None if found is None else _said(found)

    def _newest_first(self) -> Sequence[SealLine]:
        return sorted(self.known_seals(), key=lambda seal: -seal.entry)

    def keep_seal(self, at: datetime) -> None:
        """Keeps the seal of now beside the book, unless it is there or the book is not the one that was sealed."""
        number, _ = self._stores.entries.last()
        known = self.known_seals()
        if number >= 0 and (not known or known[-1].entry != number) and self.went_back is None:
            self.learn_seal(self.seal(at))

    def learn_seal(self, seal: SealLine) -> None:
        """Keeps a seal from outside beside the book: by it an older copy is noticed from now on."""
        if self._file.seals is not None and self.cannot_be_kept is None:
            self._file.seals.add(seal)

    @property
    def cannot_be_kept(self) -> Said | None:
        """Why nothing can be kept beside this book; None: it can."""
        why = self._file.cannot_write
        return None if why is None else why.said

    def forget_seal(self, entry: int) -> None:
        """Forgets the seals of an entry that stand beside the book; raises :class:`Refused` where there is none."""
        if self._file.seals is None or not self._file.seals.remove(entry):
            raise Refused(said("No seal of #{entry} is known of this book.", entry=Numeral(entry)))

    def seals_outside(self, file: Path) -> Iterator[SealLine]:
        """The seals of this book in a file of seals; raises :class:`Refused` where it cannot be read."""
        from upkeep.store.disk.seals_beside import read_seals

        try:
            yield from (seal for seal in read_seals(file) if seal.book == self.id)
        except OSError as error:
            raise Refused(
                said("The file of seals {file} cannot be read: {why}.", file=file, why=str(error.strerror))
            ) from error

    # What leaves the house

    @property
    def withheld(self) -> Withheld:
        """Whose names are withheld in what is handed out, by the rule of the plant, on the day of the last entry."""
        from upkeep.answers.printed.withheld import left_long_ago

        last = self.last_moment()
        after = self.facts.leavers_withheld_after
        return left_long_ago(self.people() if last else (), self.zone.day(last or NEVER), after)

    def chain_lines(self, watch: Watch = nobody, numbers: range | None = None) -> Iterator[str]:
        """The chain as lines for a stand-alone check, the names that are withheld by their hashes; ``watch`` is told
        how far it is.  Of ``numbers`` the entries are shown, those after them are digests; None: all are shown.  Raises
        :class:`BookDamaged` at the first entry that does not follow."""
        from upkeep.answers.printed.chain_lines import chain_lines

        return chain_lines(self._stores, self.withheld, watch, numbers)

    def numbers_of_year(self, year: int) -> range:
        """The numbers of the entries written in a year of the plant's calendar; none where there are none."""
        start, end = (self.zone.start_of(date(each, 1, 1)) for each in (year, year + 1))
        return self._stores.entries.written_between(utc_text(start), utc_text(end))

    def recorded(self, numbers: range, watch: Watch = nobody) -> Iterator[Recorded]:
        """Entries by number, in order; ``watch`` is told how many were given."""
        first = numbers.start - 1
        before = self._stores.entries.link_of(first) or "00" * 32
        following = islice(self._stores.entries.after(first, bytes.fromhex(before)), len(numbers))
        return watched(following, "entries-worded", len(numbers), watch)

    # Items that leave with what is in them

    def sits_in(self, item: str) -> str | None:
        """What an item sits in now; None: in nothing."""
        return self._seen_from.now().whereabouts.sits_in(item)

    def with_what_is_inside(self, item: str, inside: str | None = None) -> Iterator[tuple[str, str | None]]:
        """An item and all that sits in it now, each with what it sits in; the item itself first, with None."""
        yield item, inside
        for content in self._stores.rows.inside_now(item):
            yield from self.with_what_is_inside(content.item, item)

    def path_lines(self, number: int, kept_back: Collection[str] = ()) -> Iterator[str]:
        """The path of one entry to the seal of the last: the entry but for some hidden fields, then digests."""
        from upkeep.answers.printed.chain_lines import path_lines

        self.entry(number)
        return path_lines(self._stores, number, {*kept_back, *self._hidden_names(number)})

    def _hidden_names(self, number: int) -> Collection[str]:
        row = next(iter(self._stores.entries.chained(number)))
        return self.withheld.kept_back(row) or ()

    def signing_keys(self) -> dict[str, Given]:
        """The public keys (hexadecimal) with which seals may be signed, each with the entry that gave it, without those
        withdrawn."""
        from upkeep.entries.keys import Given, Key, Withdrawn

        keys: dict[str, Given] = {}
        for kind in (Given, Withdrawn):
            for entry in (recorded.entry for recorded in self._stores.entries.of_kind(kind, "", "~")):
                if isinstance(entry, Given) and entry.key is Key.SEAL:
                    keys[entry.name] = entry
                elif isinstance(entry, Withdrawn) and entry.key is Key.SEAL:
                    keys.pop(entry.name, None)
        return keys

    def add_seal_outside(self, file: Path, at: datetime) -> None:
        """Adds the seal of now at the end of a file of seals; raises :class:`Refused` where it cannot be written."""
        from upkeep.store.disk.seals_beside import append_seal

        try:
            append_seal(file, self.seal(at))
        except OSError as error:
            raise Refused(
                said("The file of seals {file} cannot be written: {why}.", file=file, why=str(error.strerror))
            ) from error


def _said(found: SealFound) -> Said:
    from upkeep.wording.seals import seal_said  # only where something is wrong

    return seal_said(found)
