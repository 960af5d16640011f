"""Who is here: the field for a badge or short id, the code that proves it, and the places to choose from."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.frozen import frozen
from upkeep.said import Said, in_turn, said, said_as
from upkeep.station.pages.options import Option
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
class LanguageChoice:
    """A language the tablet may be read in, under its own name."""

    code: str
    name: str


ITS_NAME = said_as("the name of this language in itself", "English")


@frozen
class PlacesPage:
    """The presses, the other places, and the languages this tablet may have."""

    presses: tuple[PlaceLink, ...]
    others: tuple[PlaceLink, ...]
    languages: tuple[LanguageChoice, ...]


@frozen
class CodePage:
    """The accounts of whoever was named, one of them chosen, and the field for what proves it.

    ``asks`` is what proves it (None: nothing does in this plant).  ``chooses``: it was right and only the first one, so
    the page asks for one of their own too.  ``digits``: a code of digits is asked for, not a password.
    """

    question: Said
    meaning: Said
    accounts: tuple[Option, ...]
    asks: Said | None
    asks_new: Said
    asks_again: Said
    chooses: bool
    digits: bool


def who_page(typed: str = "", *, proven: bool = False) -> WhoPage:
    """Asks who is here; ``proven``: a code is asked for next."""
    meaning = said("Your name goes under what you count, sign and report here until you leave.")
    if proven:
        return WhoPage(said("Who is here? Scan your badge, or type your short id in full."), meaning, typed)
    not_proven = said("Names are not proven in this plant.")
    return WhoPage(said("Who is here? Type your short id in full."), in_turn(meaning, not_proven), typed)


def code_page(accounts: Sequence[tuple[Person, bool]], chosen: str, *, proven: bool, chooses: bool = False) -> CodePage:
    """Asks for the code of somebody, each account with whether it takes a password; ``proven``: names are proven at
    all."""
    person, password = next((one for one in accounts if one[0].id == chosen), accounts[0])
    several = len(accounts) > 1
    secret = said("Your password") if password else said("Your code")
    return CodePage(
        question=said("{name}?", name=person.name) if not several else said("In which of your jobs are you here?"),
        meaning=said("Your name goes under what you count, sign and report here until you leave."),
        accounts=tuple(
            Option(one.id, said("{name} ({id})", name=one.name, id=one.id), one.id == person.id) for one, _ in accounts
        ),
        asks=secret if proven else None,
        asks_new=said("A new password of your own") if password else said("A new code of your own, digits only"),
        asks_again=said("The same again"),
        chooses=chooses,
        digits=not password,
    )


def nobody_said(typed: str, *, badges: bool) -> Said:
    """Why nobody was found."""
    if not typed.strip():
        return said("Type your short id, then press Go on.")
    if badges:
        return said("Nobody who may sign here has this badge or short id. Type the short id in full.")
    return said("Nobody who may sign here has the short id {typed}. Type it in full.", typed=typed.strip())
