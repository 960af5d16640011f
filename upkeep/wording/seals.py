"""What a seal says of a book, in words."""

from __future__ import annotations

from upkeep.said import Numeral, Said, said
from upkeep.seals.judging import SealFound, Verdict


def seal_said(found: SealFound) -> Said:
    """How the book stands to a seal, and what to do where it is not the one that was sealed."""
    entry, ends = Numeral(found.seal.entry), Numeral(found.ends)
    match found.verdict:
        case Verdict.FITS:
            return said("The seal fits: #{entry} stands in this book as it did when it was printed.", entry=entry)
        case Verdict.LOST_TAIL:
            return said(
                "THE BOOK HAS LOST ITS TAIL: a seal knows #{entry}, and this book ends with #{ends}. It is an older "
                "copy, or another book. Write nothing into it; keep it and the seal, tell a keeper, and restore the "
                "newest backup.",
                entry=entry, ends=ends,
            )  # fmt: skip
        case Verdict.DIFFERS:
            return said(
                "THE SEAL DOES NOT FIT: #{entry} stands otherwise in this book than when it was sealed. It is an older "
                "copy that was written on, an altered book or another one. Write nothing into it; keep it and the "
                "seal, and tell a keeper.",
                entry=entry,
            )  # fmt: skip
        case Verdict.RESTORED:
            note = 0 if found.restored is None else found.restored.number
            return said(
                "#{entry} was sealed before this book was restored from a backup (#{note}). What was written after "
                "that backup was lost then; the entries from #{note} on are others.",
                entry=entry, note=Numeral(note),
            )  # fmt: skip
        case Verdict.OTHER_BOOK:
            return said("This is a seal of another book (#{entry} of {book}).", entry=entry, book=found.seal.book)
