"""Files that commands write: never over a book, over another file only when asked, and whole or not at all."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

import click

from upkeep.cli.saying import say
from upkeep.errors import Refused
from upkeep.said import said

replace_option = click.option(
    "--replace", "replacing", is_flag=True, help="Replace the file if it is there; a book never is."
)

_DATABASE_BEGINS = b"SQLite format 3\0"

_BESIDE_A_BOOK = ("-wal", "-shm", "-journal")
"""The endings of the files that SQLite keeps beside a book."""


def save(target: Path, document: bytes, *, replacing: bool) -> None:
    """Writes a document to a file and says so; raises as :func:`put` does."""
    put(target, document, replacing=replacing)
    say(said("{target}: written.", target=target))


def put(target: Path, document: bytes, *, replacing: bool) -> None:
    """Writes a document beside the file of its name and then gives it that name, so that a full disk leaves what was
    there; to what is no file (a pipe, a printer) it is written as it stands.

    Raises :class:`Refused` where a book is or belongs to one, where another file is and ``replacing`` is not asked for,
    and where it cannot be written.
    """
    try:
        if target.exists() and not target.is_file():
            target.write_bytes(document)
            return
        _refuse_what_is_there(target, replacing)
        _put(target.resolve(), document)
    except OSError as error:
        raise Refused(said("{target} cannot be written: {why}.", target=target, why=str(error.strerror))) from error


def _refuse_what_is_there(target: Path, replacing: bool) -> None:
    books = [target, *(Path(str(target).removesuffix(end)) for end in _BESIDE_A_BOOK if target.name.endswith(end))]
    if any(map(is_database, books)):
        raise Refused(
            said("{target} is a book, or belongs to one, and is never replaced. Choose another name.", target=target)
        )
    if target.exists() and not replacing:
        raise Refused(
            said("{target} is already there. Choose another name, or replace it with --replace.", target=target)
        )


def _put(target: Path, document: bytes) -> None:
    partial = target.with_name(f".{target.name}.part")
    try:
        with partial.open("wb") as file:
            file.write(document)
            file.flush()
            os.fsync(file.fileno())
        os.replace(partial, target)
    finally:
        with suppress(OSError):
            partial.unlink(missing_ok=True)


def is_database(path: Path) -> bool:
    """Whether a file is a database like a book, of this program or another; raises OSError where it cannot be read."""
    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(len(_DATABASE_BEGINS)) == _DATABASE_BEGINS


def private(file: Path) -> int:
    """A new file that its owner alone reads, open for writing."""
    try:
        return os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, stat.S_IRUSR | stat.S_IWUSR)
    except OSError as error:
        raise Refused(said("{file} cannot be made: {why}.", file=file, why=str(error.strerror))) from None
