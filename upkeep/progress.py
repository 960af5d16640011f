"""How far long work has come, and who is told of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Literal, TypeVar

from upkeep.frozen import frozen

T = TypeVar("T")

Stage = Literal[
    "waiting",
    "following",
    "reading",
    "judging",
    "filling",
    "comparing",
    "days",
    "lines",
    "checking",
    "adding",
    "entered",
    "figures",
    "calling",
    "ahead",
    "gathered",
    "rows",
    "pages",
    "worded",
    "copying",
    "taking",
    "settling",
    "lined",
    "entries-worded",
    "asked",
    "cases",
    "answers",
    "played",
    "weeks",
]


@frozen
class Progress:
    """How far long work has come: ``done`` of ``of`` entries followed along the chain or read, lines judged, rows
    filled in, tables compared, or days written; lines of a file read, entries checked or added before all are
    ``entered``; lines of the board gone through for figures, or for a week (those ``calling`` somebody now, then those
    ``ahead``) until all are ``gathered``; rows of a paper ``worded`` and set, and pages of it drawn; megabytes
    of the file, while ``copying`` it; later entries that a view of the past is ``taking`` back, of which it is
    ``settling`` what hung on them, and the lines it judges then (``lined``); entries of a history or an export put into
    words (``worded entries``), open questions ``asked``, faults gone through (``cases``), questions of an auditor
    answered (``answers``), days of a year to come ``played``, and past ``weeks`` planned again.

    ``waiting``: another process makes them, and this one waits for it (0 of 1) or has waited (1 of 1).
    """

    stage: Stage
    done: int
    of: int


Watch = Callable[[Progress], None]
"""Is told now and then how far the work has come."""


def nobody(progress: Progress) -> None:
    """A watch that shows nothing: where nobody waits, or output goes to a file."""


MANY = 500
"""A watch is told at so many; work on fewer is done before anybody wonders."""


def watched(things: Iterable[T], stage: Stage, of: int, watch: Watch, each: int = MANY) -> Iterator[T]:
    """The same things, telling a watch at every 500th (or where one takes long, oftener: ``each``) and at the last how
    many have gone through."""
    for number, thing in enumerate(things, 1):
        yield thing
        if number % each == 0 or number == of:
            watch(Progress(stage, number, of))
