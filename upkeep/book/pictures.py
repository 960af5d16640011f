"""Pictures on their way into the folder beside a book."""

from __future__ import annotations

from hashlib import sha256 as sha256_of
from pathlib import Path
from string import hexdigits
from tempfile import NamedTemporaryFile

from upkeep.errors import BookUnavailable, Refused
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


KINDS = {".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".webp": "image/webp"}
"""What pages show of the pictures beside a book, by the ending of their files."""


def kept_picture(book: Path, sha256: str) -> tuple[bytes, str]:
    """A picture that is kept beside a book, by its checksum, and its media type.

    Raises :class:`Refused` where no file has that checksum as its name, or what it holds is another picture: the name
    that an entry gives its file is never followed.
    """
    from upkeep.store.disk.pictures import place_of

    file = place_of(book, "", sha256)
    if len(sha256) != _CHECKSUM or not set(sha256) <= set(hexdigits) or file.suffix.lower() not in KINDS:
        raise Refused(said("The file of this picture is not kept beside the book."))
    try:
        content = file.read_bytes()
    except OSError:
        raise Refused(said("The file of this picture cannot be read.")) from None
    if sha256_of(content).hexdigest() != sha256:
        raise Refused(said("The file of this picture was altered: it is not the one that was kept."))
    return content, KINDS[file.suffix.lower()]


_CHECKSUM = 64
"""Figures of a SHA-256."""
