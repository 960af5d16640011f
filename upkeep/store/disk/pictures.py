"""The pictures of a book: in the folder ``pictures`` beside it, each named by the checksum of its content.

So a name never lies about what it holds, the books and backups of one folder can share it, and copying a picture twice
changes nothing.  A picture kept by an earlier program has no place there yet: it is looked for where it was.
"""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Literal

from upkeep.store.disk.place import make_private

Trouble = Literal["", "MISSING: no such file can be read", "ALTERED: it is not the file that was kept"]
"""What has become of the file of a picture; empty: it is as it was."""

_CHUNK = 1 << 20


def keep(book_path: Path, file: Path, ending: str) -> str:
    """Copies a picture to its place and gives its checksum (SHA-256, hexadecimal); raises OSError."""
    sha256 = checksum(file)
    _put(file, _home(book_path) / f"{sha256}{ending}")
    return sha256


def place_of(book_path: Path, name: str, sha256: str) -> Path:
    """Where a picture of a book lies, by its checksum, or where it was kept by its name."""
    kept = sorted(_home(book_path).glob(f"{sha256}.*"))
    return kept[0] if kept else book_path.resolve().parent / name


def trouble_of(book_path: Path, name: str, sha256: str) -> Trouble:
    """What has become of the file of a picture."""
    try:
        unchanged = checksum(place_of(book_path, name, sha256)) == sha256
    except OSError:
        return "MISSING: no such file can be read"
    return "" if unchanged else "ALTERED: it is not the file that was kept"


def copy_all(book_path: Path, target: Path, pictures: Iterable[tuple[str, str]]) -> None:
    """Copies the pictures of a book, by name and checksum, to those of another book, where they are as they were.

    Raises OSError where one cannot be written.
    """
    for name, sha256 in pictures:
        if trouble_of(book_path, name, sha256) == "":
            found = place_of(book_path, name, sha256)
            _put(found, _home(target) / f"{sha256}{found.suffix.lower() or '.picture'}")


def checksum(file: Path) -> str:
    """The SHA-256 of a file, hexadecimal; raises OSError."""
    made = hashlib.sha256()
    for chunk in _chunks(file):
        made.update(chunk)
    return made.hexdigest()


def _chunks(file: Path) -> Iterator[bytes]:
    with file.open("rb") as opened:
        while chunk := opened.read(_CHUNK):
            yield chunk


def _home(book_path: Path) -> Path:
    return book_path.resolve().parent / "pictures"


def _put(file: Path, place: Path) -> None:
    """Copies beside its place and then gives it the name, so that a killed copy is no picture."""
    if place.exists() and checksum(place) == checksum(file):
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    partial = place.with_name(f".{place.name}.part")
    partial.unlink(missing_ok=True)
    make_private(partial)
    shutil.copyfile(file, partial)
    os.replace(partial, place)
