"""Who is here: the field for a short id, and the places to choose from."""

from __future__ import annotations

from collections.abc import Iterable

from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.station.pages.page import Person


@frozen
class WhoPage:
    """``meaning`` says what the name will stand for; ``typed`` what was typed and refused."""

    question: Said
    meaning: Said
    typed: str = ""


@frozen
class PlaceLink:
    """A place to go to."""

    id: str
    title: str


@frozen
class PlacesPage:
    """The presses and the other places."""

    presses: tuple[PlaceLink, ...]
    others: tuple[PlaceLink, ...]


def who_page(typed: str = "") -> WhoPage:
    """Asks who is here."""
    return WhoPage(
        said("Who is here? Type your short id in full, then Go on."),
        said("Your name stands under what you count, sign and report here until you leave."),
        typed,
    )


def named_in_full(people: Iterable[Person], typed: str) -> Person | None:
    """The one person with exactly this id, in whatever case it was typed; part of an id is nobody."""
    wanted = typed.strip().casefold()
    fitting = [person for person in people if person.id.casefold() == wanted]
    return fitting[0] if wanted and len(fitting) == 1 else None


def nobody_said(typed: str) -> Said:
    """Why nobody was found."""
    if not typed.strip():
        return said("Type your short id, then press Go on.")
    return said("Nobody who may sign here has the short id {typed}. Type it in full.", typed=typed.strip())
