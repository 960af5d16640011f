"""The seals that stand outside the reach of who keeps the book: compared, and one added each night."""

from __future__ import annotations

import logging
from datetime import datetime
from pathlib import Path

from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.service.failures import words

log = logging.getLogger(__name__)


def compare_outside(book: Book, at: datetime) -> None:
    """Compares the book with the file of seals that plant.toml names, and adds the seal of now at its end.

    A seal that does not fit is kept beside the book, where every program finds it; nothing is added then.  Where the
    file cannot be used, the log says so and the book is kept all the same.
    """
    book.keep_seal(at)
    if not book.facts.seals_file:
        return
    file = Path(book.facts.seals_file)
    try:
        outside = list(book.seals_outside(file)) if file.exists() else []
        lost = next((found for found in map(book.seal_found, reversed(outside)) if found.alarms), None)
        if lost is not None:
            book.learn_seal(lost.seal)
        elif book.went_back is None and (not outside or outside[-1].entry != book.seal(at).entry):
            book.add_seal_outside(file, at)
    except Refused as error:
        log.warning("%s", words(error.said))
