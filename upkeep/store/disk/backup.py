"""Copies of a book made while it is in use."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from upkeep.errors import BookUnavailable
from upkeep.said import said
from upkeep.store.disk.connecting import spoken
from upkeep.store.disk.place import make_private, refuse_what_is_left
from upkeep.store.file import BookFile


def copy_to(file: BookFile, target: Path) -> None:
    """Writes a complete copy of the book to a new file; others may go on writing meanwhile.

    The copy appears under its name only when it is whole.  Raises :class:`BookUnavailable` where a file is already.
    """
    if target.exists():
        raise BookUnavailable(
            said("{target} already exists, and a backup never overwrites. Choose another name.", target=target)
        )
    refuse_what_is_left(target)
    partial = target.with_name(f".{target.name}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        partial.unlink(missing_ok=True)
        make_private(partial)
        with spoken(target), closing(sqlite3.connect(partial, isolation_level=None)) as copy:
            file.connection.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        os.replace(partial, target)
    except OSError as error:
        raise BookUnavailable(
            said(
                "{target} cannot be written: {why}. The book itself is untouched.",
                target=target,
                why=str(error.strerror),
            )
        ) from error
    finally:
        with suppress(OSError):
            partial.unlink(missing_ok=True)
