"""Which deed: all that can be done on what is selected by who is here, found by a few letters of its name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from tui.screens.acts import items, lines, mending, shelf, tools, under_way
from tui.screens.acts.deed import Deed, Subject
from tui.screens.frame.book_door import BookDoor
from upkeep.said import Said
from upkeep.views.rights import Wish

_ALL = (*lines.DEEDS, *under_way.DEEDS, *tools.DEEDS, *mending.DEEDS, *items.DEEDS, *shelf.MOVES, *shelf.DEEDS)

DEEDS: Mapping[str, Deed] = {deed.key: deed for deed in _ALL}
"""Every deed by its key, in the order in which the palette lists them."""

_BY_ITS_ENTRY = ("correct", "strike", "repair", "unlock", "go-on")
"""Who may do these depends on the entry they are about, which is picked in their form."""


def offered(book: BookDoor, subject: Subject, person: str, at: datetime) -> Sequence[Deed]:
    """The deeds that can be done on what is selected, and that the person may do."""
    deeds = [deed for deed in DEEDS.values() if deed not in shelf.MOVES or book.keeps_spares()]
    return [deed for deed in deeds if deed.fits(subject) and why_not(book, deed, subject, person, at) is None]


def why_not(book: BookDoor, deed: Deed, subject: Subject, person: str, at: datetime) -> Said | None:
    """Why somebody may not do a deed, and whom to ask instead; None: they may, as far as it is known before the form is
    filled in."""
    if deed.verb in _BY_ITS_ENTRY or deed.verb == "sign":
        return None  # of a sign-off on somebody's paper it is their role that counts
    task = subject.line.task if len(subject.lines) == 1 else None
    return book.why_not(Wish(deed.verb, item=subject.item, task=task), person, at)
