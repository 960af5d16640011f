"""Copies of a book made while it is in use."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from upkeep.errors import BookUnavailable
from upkeep.progress import Progress, Watch, nobody
from upkeep.said import said
from upkeep.store.disk.connecting import spoken
from upkeep.store.disk.place import make_private, refuse_what_is_left
from upkeep.store.file import BookFile

_MEGABYTE = 1_000_000

_PAGES_AT_ONCE = 2_000
"""Pages copied before a watch is told: a disk writes these 8 MB in a moment."""


def copy_to(file: BookFile, target: Path, watch: Watch = nobody) -> None:
    """Writes a complete copy of the book to a new file; others may go on writing meanwhile.

    The copy appears under its name only when it is whole.  ``watch`` is told how far it has come; what it raises ends
    the copy, of which nothing is left.  Raises :class:`BookUnavailable` where a file is already.
    """
    if target.exists():
        raise BookUnavailable(
            said("{target} already exists, and a backup never overwrites. Choose another name.", target=target)
        )
    refuse_what_is_left(target)
    partial = target.with_name(f".{target.name}.part")
    page_size: int = file.value("PRAGMA page_size")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        partial.unlink(missing_ok=True)
        make_private(partial)
        with spoken(target), closing(sqlite3.connect(partial, isolation_level=None)) as copy:
            with file.reading():  # one state of the book, or each entry written meanwhile would begin the copy anew
                file.connection.backup(copy, pages=_PAGES_AT_ONCE, progress=_told(watch, page_size))
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


def _told(watch: Watch, page_size: int) -> Callable[[int, int, int], None]:
    def tell(status: int, remaining: int, pages: int) -> None:
        done, of = ((number * page_size + _MEGABYTE - 1) // _MEGABYTE for number in (pages - remaining, pages))
        watch(Progress("copying", done, of))

    return tell
