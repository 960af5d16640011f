"""The number of a form: what it writes is written once, however often it is sent.

A form gets its number when it is shown, and is sent again with the same number where the answer was lost on the way.
The number makes the salts of the entries that the form writes (see :mod:`upkeep.entries.chain`), so it stands in the
book with them, whatever becomes of the program; and as it is as random as any salt, it hides as much.
"""

from __future__ import annotations

import hashlib
import re

from upkeep.entries.row import SALT_BYTES
from upkeep.errors import Unreadable
from upkeep.frozen import frozen
from upkeep.said import said

_TEXT = re.compile(r"([0-9]{1,12})-([0-9a-f]{32})\Z")


@frozen
class FormNumber:
    """``after`` is the number of the book's last entry when the form was made: what it writes comes later.  ``random``
    are the bytes nobody else has."""

    after: int
    random: bytes

    @classmethod
    def read(cls, text: str) -> FormNumber:
        """The number as :func:`str` wrote it; raises :class:`Unreadable` for anything else."""
        match = _TEXT.match(text)
        if match is None:
            raise Unreadable(said("This form has no number. Open it again and fill it in once more."))
        return cls(int(match[1]), bytes.fromhex(match[2]))

    def __str__(self) -> str:
        return f"{self.after}-{self.random.hex()}"

    def next(self) -> FormNumber:
        """The number of what the same form writes after its entries, and may write alone: a photo, say."""
        return FormNumber(self.after, hashlib.sha256(b"strokebook next form %s" % self.random).digest()[:16])

    def salts(self, number: int) -> tuple[bytes, ...]:
        """The salts of as many entries as the form writes, in their order."""
        return tuple(
            hashlib.sha256(b"strokebook form %d %s" % (place, self.random)).digest()[:SALT_BYTES]
            for place in range(number)
        )
