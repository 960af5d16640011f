"""Which deed: all that can be done on what is selected by who is here, found by a few letters of its name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tui.screens.acts import items, lines, mending, tools
from tui.screens.acts.deed import Deed, Subject
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.kinds import VERBS, kind_named
from upkeep.plant.rights import Act, roles_for
from upkeep.said import Said, either, in_turn, listed, said

DEEDS: Mapping[str, Deed] = {deed.key: deed for deed in (*lines.DEEDS, *tools.DEEDS, *mending.DEEDS, *items.DEEDS)}
"""Every deed by its key, in the order in which the palette lists them."""

_ASKED_AT_MOST = 3
"""People named as those to ask."""


def offered(book: BookDoor, subject: Subject, person: str) -> Sequence[Deed]:
    """The deeds that can be done on what is selected, and that the person may do."""
    return [deed for deed in DEEDS.values() if deed.fits(subject) and why_not(book, deed, person) is None]


def why_not(book: BookDoor, deed: Deed, person: str) -> Said | None:
    """Why somebody may not do a deed, and whom to ask instead; None: they may."""
    right = Act.TASKS if deed.verb == "define" else kind_named(deed.verb).act if deed.verb in VERBS else None
    if right is None or deed.verb == "strike":
        return None
    who, roles = book.known.person(person), roles_for(right, book.facts)
    if set(who.roles) & set(roles):
        return None
    has = listed(who.roles) if who.roles else said("no role")
    others = [one.name for one in book.people() if set(one.roles) & set(roles) and one.until is None]
    ask = said("Ask {people}.", people=either(others[:_ASKED_AT_MOST])) if others else None
    needs = said(
        "{person} ({has}) may not do this ({what}): it needs the role of {roles}.", person=who.name, has=has,
        what=deed.name, roles=either(roles),
    )  # fmt: skip
    return in_turn(needs, ask)
