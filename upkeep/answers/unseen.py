"""What waits for somebody: questions and alarms that nobody has said to have seen."""

from __future__ import annotations

from upkeep.answers.faults.faults import FaultViews
from upkeep.answers.questions import questions
from upkeep.entries.bookkeeping import Seen
from upkeep.keeping.context import Context
from upkeep.units.instants import utc_text
from upkeep.views.questions import Question


def unseen(context: Context) -> tuple[Question, ...]:
    """Questions about counts, alarms, permits and calls that nobody has seen, oldest first."""
    asked = (*questions(context), *FaultViews(context).questions())
    waiting = (question for question in asked if not _is_seen(context, question))
    return tuple(sorted(waiting, key=lambda question: (question.since, question.about)))


def _is_seen(context: Context, question: Question) -> bool:
    seen = (recorded.entry for recorded in context.entries.of_item(question.about, ("seen",)))
    since = utc_text(question.since)
    return any(isinstance(one, Seen) and one.since == since and one.at <= context.moment for one in seen)
