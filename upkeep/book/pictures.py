"""Pictures on their way into the folder beside a book."""

from __future__ import annotations

from pathlib import Path
from tempfile import NamedTemporaryFile

from upkeep.errors import BookUnavailable
from upkeep.said import said


def keep_picture(book: Path, content: bytes, ending: str) -> tuple[str, str]:
    """Puts a picture into its place beside a book; gives its file as the book names it, and its checksum (SHA-256,
    hexadecimal).  Raises :class:`BookUnavailable` where it cannot be written."""
    from upkeep.store.disk.pictures import keep, place_of

    try:
        with NamedTemporaryFile(suffix=ending) as file:
            file.write(content)
            file.flush()
            sha256 = keep(book, Path(file.name), ending)
    except OSError as error:
        raise BookUnavailable(said("The picture cannot be kept: {why}.", why=str(error.strerror))) from error
    return place_of(book, "", sha256).relative_to(book.resolve().parent).as_posix(), sha256
