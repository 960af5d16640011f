"""Writing the entries of a check, and what they have in common."""

from __future__ import annotations

from datetime import datetime

from tui.screens.frame.desk import Desk, Here, Signed
from upkeep.entries.checking import Check
from upkeep.said import Said, listed, said, term

MEANING = said("measured by me.")
"""What a name under a check stands for."""


async def checked_as(desk: Desk, by: Here, entries: tuple[Check, ...], typed: Said | None) -> Signed:
    """Writes a check and remembers it at the desk, for the proof and for undo; raises what the book refuses.

    ``typed`` is what the typed values say; None: nothing.
    """
    written = await desk.written(*entries, by=by)
    first = entries[0]
    numbers = listed(f"#{number}" for number in written.entries)
    what = said(
        "{occasion} of {item}, {entries}", occasion=term(first.occasion, "occasion"), item=first.item, entries=numbers
    )
    if typed is not None:
        what = said("{what}: {typed}", what=what, typed=typed)
    desk.here = by
    return desk.remember(written, by, first.at, what, MEANING, first.item)


def head_of(at: datetime, by: Here, item: str, occasion: str, crimp: str, named: dict[str, str]) -> Check:
    """What all entries of a check have in common."""
    order, reel, wire = (named[key] or None for key in ("order", "reel", "wire"))
    return Check(
        at=at, by=by.id, item=item, occasion=occasion, crimp=crimp, order=order, reel=reel, wire=wire,
        remark=named["remark"],
    )  # fmt: skip
