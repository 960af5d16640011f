"""What can have become of the file of keys beside a book: each way with a part of the sentence it is told with."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping
from contextlib import closing
from pathlib import Path


def _replaced(path: Path, content: bytes) -> None:
    path.write_bytes(content)


def _of_another_book(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE book SET id = '00000000-8b86-4d01-b42d-00cf4fc964ff'")


def _folder(path: Path) -> None:
    path.unlink()
    path.mkdir(0o700)


BROKEN: Mapping[str, tuple[Callable[[Path], None], str]] = {
    "rubbish": (lambda path: _replaced(path, b"no database " * 500), "cannot be used: file is not a database"),
    "cut off": (lambda path: _replaced(path, path.read_bytes()[:5000]), "cannot be used"),
    "a folder": (_folder, "cannot be used: no regular file"),
    "open to others": (lambda path: path.chmod(0o644), "can be read by others than its owner"),
    "of another book": (_of_another_book, "belongs to another book"),
}
"""Whatever it is, the book can be read, and nobody's name is proven."""
