"""What keeps a book safe: its proof, its backup, its export."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.book.seals import Sealed
from upkeep.errors import BookDamaged, BookUnavailable
from upkeep.progress import Watch, nobody, watched
from upkeep.said import Said, said, term

if TYPE_CHECKING:
    from upkeep.entries.entry import Recorded
    from upkeep.keeping.proof import ProofReport


class Copies(Sealed):
    """A book that can be proven, copied, and written down as text."""

    _tables_made_again = False

    @property
    def path(self) -> Path:
        """The book's file."""
        return self._file.path

    def prove(self, watch: Watch = nobody) -> ProofReport:
        """Re-plays all entries, compares every projection, follows the chain and looks whether the file is sound;
        ``watch`` is told how far it is.  What that finds is told to everybody who opens the book from then on.  Whether
        the book is the one that was sealed is compared as well, by the seals that stand beside it."""
        from upkeep.keeping.proof import prove

        try:
            with self._file.reading():
                report = replace(prove(self._file, watch), tables_made_again=self._tables_made_again)
        except BookDamaged as error:
            self.tell_everybody((error.said,))
            raise
        self.tell_everybody(report.differences)
        went_back = self.went_back  # told with every answer as it is, with no mark
        return report if went_back is None else replace(report, differences=(*report.differences, went_back))

    def tell_everybody(self, differences: Sequence[Said]) -> None:
        """Has everybody who opens this book from here on told what a proof of it, or of a copy, has found; nothing
        where it found nothing."""
        if self._file.unproven is not None:
            self._file.unproven.set(differences)

    def refill(self) -> int:
        """Throws away all that was computed and computes it again from the entries; how many rows that makes.

        Raises :class:`BookDamaged` where the entries cannot be replayed; then nothing was changed.
        """
        from upkeep.keeping.refill import refill

        self._seen_from.forget()
        return refill(self._file)

    def backup(self, target: Path, watch: Watch = nobody) -> None:
        """A complete copy of the book in a new file, while others go on writing, with its pictures beside it.

        ``watch`` is told how far the copy of the book has come; what it raises ends it, and no copy is left.
        """
        from upkeep.store.disk.backup import copy_to
        from upkeep.store.disk.pictures import copy_all

        copy_to(self._file, target, watch)
        try:
            copy_all(self.path, target, self.kept_pictures())
        except OSError as error:
            target.unlink(missing_ok=True)
            raise BookUnavailable(
                said("The pictures cannot be copied beside {target}: {why}.", target=target, why=str(error.strerror))
            ) from error

    def picture_troubles(self) -> tuple[Said, ...]:
        """What is wrong with the files of the pictures kept: each that is missing or altered."""
        from upkeep.store.disk.pictures import trouble_of

        troubles = ((name, sha256, trouble_of(self.path, name, sha256)) for name, sha256 in self.kept_pictures())
        return tuple(
            said("Picture {file} ({sha256}): {trouble}.", file=name, sha256=sha256[:12], trouble=term(trouble))
            for name, sha256, trouble in troubles
            if trouble
        )

    def kept_pictures(self) -> list[tuple[str, str]]:
        """Name and checksum of each picture kept."""
        kept = self._file.rows("SELECT DISTINCT file, sha256 FROM pictures ORDER BY entry")
        return [(str(name), str(sha256)) for name, sha256 in kept]

    def written_after(self, number: int, link: str) -> Iterator[Recorded]:
        """The entries after a number, in order, each proven to follow from the link (hexadecimal) before it.

        Raises :class:`BookDamaged` at the first that does not; those before it were given already.
        """
        return self._stores.entries.after(number, bytes.fromhex(link))

    def export(self, watch: Watch = nobody) -> Iterator[str]:
        """Every entry as its one-line text with its salt and its link, in the order written: from these the very same
        book can be made again (:meth:`bring_back`).  ``watch`` is told how many it has come to.

        Raises :class:`BookDamaged` at the end, with the number of the first entry that does not follow from those
        before it, or where an entry cannot be read at all.
        """
        from upkeep.entries.text import line_of

        zone = self.zone
        for recorded in self._all_followed(watch):
            yield f"{line_of(recorded.entry, zone)} salt {recorded.salt.hex()} link {recorded.hash}"

    def rows_of_entries(self, watch: Watch = nobody) -> Iterator[tuple[object, ...]]:
        """Every entry as plain values, moments in UTC: number, at, recorded at, shift day, kind, by, words, the entry
        it corrects, because, way in, station, proof, entered by, link.  Raises as :meth:`export` does."""
        from upkeep.store.entry_rows import plain_values

        return map(plain_values, self._all_followed(watch))

    def _all_followed(self, watch: Watch) -> Iterator[Recorded]:
        entries = self._stores.entries
        number, _ = entries.last()
        return watched(entries.all_followed(), "entries-worded", number + 1, watch)
