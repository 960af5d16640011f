"""What waits for somebody: questions and alarms that nobody has said to have seen."""

from __future__ import annotations

from functools import cache

from upkeep.answers.faults.faults import FaultViews
from upkeep.answers.questions import questions
from upkeep.entries.bookkeeping import Seen
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.said import said
from upkeep.units.instants import utc_text
from upkeep.views.questions import Question


def unseen(context: Context) -> tuple[Question, ...]:
    """Questions about counts, alarms, permits and calls that nobody has seen, oldest first."""
    seen = cache(lambda about: _seen_since(context, about))
    asked = (
        *questions(context, lambda about, since: since in seen(about)),
        *(one for one in FaultViews(context).questions() if utc_text(one.since) not in seen(one.about)),
    )
    return tuple(sorted(asked, key=lambda question: (question.since, question.about)))


def seen(context: Context, about: str, by: str) -> list[Seen]:
    """The entries by which somebody says to have seen all that waits about an item or task at the moment of a context.

    Raises :class:`NotFound` for what is neither, :class:`Refused` where nothing waits.
    """
    if about not in context.known.tasks:
        context.known.item(about)
    since = dict.fromkeys(utc_text(one.since) for one in unseen(context) if one.about == about)
    if not since:
        raise Refused(said("Nothing about {item} waits to be seen.", item=about))
    return [Seen(at=context.moment, by=by, item=about, since=one) for one in since]


def _seen_since(context: Context, about: str) -> set[str]:
    """The moments from which what stands about an item or task was seen."""
    told = (recorded.entry for recorded in context.entries.of_item(about, ("seen",)))
    return {one.since for one in told if isinstance(one, Seen) and one.at <= context.moment}
