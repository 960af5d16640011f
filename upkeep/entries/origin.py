"""How an entry came into the book: the way in, the station, the proof of the name, and who typed it.

Together they are the head of an entry.  What somebody did not say, or an entry lacks, reads as "not known".
"""

from __future__ import annotations

from enum import StrEnum

from upkeep.frozen import frozen


class WayIn(StrEnum):
    """The way by which an entry came in; "not known" stands first."""

    NOT_KNOWN = "not known"
    SCREEN = "screen"
    """A screen of this program on a terminal."""
    PAGE = "page"
    """A page in the browser of a tablet or phone on the plant's network."""
    SHELL = "shell"
    """A command typed in a shell."""
    FILE = "file"
    """A file: definitions, a table, entry lines, a file dropped into a folder."""
    SHEET = "sheet"
    """A printed sheet that was filled in by hand and typed in later."""
    SERVICE = "service"
    """The service itself, from a counter it reads; nobody typed it."""


class Proof(StrEnum):
    """How the name under an entry was proven; "not known" stands first."""

    NOT_KNOWN = "not known"
    NONE = "none"
    """Somebody gave a name, and nothing proved it."""
    CODE = "code"
    PASSWORD = "password"
    TOKEN = "token"
    PAPER = "paper"
    """Signed by hand on paper, which the plant keeps."""


@frozen
class Origin:
    """The head of an entry.

    ``station`` is the place at which it was written, in the plant's words; None: not known.  ``entered_by`` is the id
    of the person who typed it, where that is another one than who signed it; None: who signed it, or not known.
    """

    way_in: WayIn = WayIn.NOT_KNOWN
    station: str | None = None
    proof: Proof = Proof.NOT_KNOWN
    entered_by: str | None = None


NOT_KNOWN = Origin()
"""The head of an entry of which nothing is known but itself."""

IN_A_SHELL = Origin(WayIn.SHELL, proof=Proof.NONE)
ON_A_SCREEN = Origin(WayIn.SCREEN, proof=Proof.NONE)
FROM_A_FILE = Origin(WayIn.FILE, proof=Proof.NONE)


@frozen
class Proven:
    """Whose name was proven, and how, before something is written in it: handed to the book's door.

    ``Proof.NONE`` where a plant takes names alone.
    """

    person: str
    proof: Proof
