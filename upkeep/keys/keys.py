"""The keys of a book, as its door holds them: one object for any thread."""

from __future__ import annotations

from pathlib import Path

from upkeep.keys.codes import Codes
from upkeep.keys.file import KeysFile, path_of
from upkeep.keys.held import Held
from upkeep.keys.sessions import Sessions


class Keys:
    """Codes and passwords, badges and tokens, sessions: what stands in the file of keys beside a book.

    Using them raises :class:`upkeep.errors.Refused` where the file cannot be used; where there is none it is made.
    """

    def __init__(self, book_path: Path, book: str) -> None:
        self._file = KeysFile(path_of(book_path), book)
        self.codes, self.held, self.sessions = Codes(self._file), Held(self._file), Sessions(self._file)

    @property
    def path(self) -> Path:
        """The file."""
        return self._file.path

    @property
    def exist(self) -> bool:
        """Whether there is a file of keys."""
        return self._file.path.exists()

    def close(self) -> None:
        """Lets go of the file."""
        self._file.close()
