"""The count: one number, the range it should lie in, and what may be answered where the book does not take it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from upkeep.due.states import State
from upkeep.errors import Contradicted, PerhapsReset, PerhapsRolledOver
from upkeep.frozen import frozen
from upkeep.said import Said, said, said_many
from upkeep.station.pages.labels import state_said
from upkeep.station.pages.moments import near
from upkeep.units.instants import Zone
from upkeep.views.round import Round
from upkeep.views.written import StateChange


@frozen
class Choice:
    """A button that answers a refusal: the value it sends, and what it says."""

    value: str
    says: Said


@frozen
class CountPage:
    """``last`` and ``expected`` say what the counter showed and where it should be (None: nobody knows); ``choices``
    answer the refusal over the field; ``against`` is the entry a choice is about."""

    press: str
    question: Said
    last: Said
    expected: Said | None
    typed: str = ""
    choices: tuple[Choice, ...] = ()
    against: int | None = None

    @property
    def title(self) -> Said:
        """The same as the question."""
        return self.question


def count_page(walk: Round, zone: Zone, typed: str = "", refusal: Exception | None = None) -> CountPage:
    """Asks for the count of the press of a round."""
    press = walk.press or ""
    last = said("{press} has not been counted yet.", press=press)
    if walk.last_count is not None and walk.last_count_at is not None:
        last = said("Last: {count}, {at}", count=walk.last_count, at=near(walk.last_count_at, walk.at, zone))
    expected = None
    if walk.expected is not None:
        expected = said("Expected: {low} to {high}", low=walk.expected[0], high=walk.expected[1])
    choices, against = _choices(refusal)
    question = said("What does the counter of {press} show?", press=press)
    return CountPage(press, question, last, expected, typed, choices, against)


def _choices(refusal: Exception | None) -> tuple[tuple[Choice, ...], int | None]:
    if not isinstance(refusal, Contradicted):
        return (), None
    choices = [Choice("disputes", said("I read it right: the earlier one is wrong"))]
    if isinstance(refusal, PerhapsRolledOver):
        choices.insert(0, Choice("rolled-over", said("The counter rolled over")))
    if isinstance(refusal, PerhapsReset):
        choices.insert(0, Choice("after-reset", said("The counter was set back to zero")))
    return tuple(choices), refusal.entry


def count_is_missing(walk: Round, began: datetime | None) -> bool:
    """Whether the press of a round has no count since the running shift began (None: no shift runs)."""
    if walk.press is None or began is None:
        return False
    return walk.last_count_at is None or walk.last_count_at < began


def moved_said(changes: Sequence[StateChange]) -> tuple[Said, ...]:
    """What a count moved: work that is not needed because the press stood still, and work that became due by it."""
    late = (State.OVERDUE, State.STOP, State.DUE)
    needless = [change for change in changes if change.before in late and change.after not in late]
    spared = [
        change for change in changes if change.before in (State.OVERDUE, State.STOP) and change.after is State.DUE
    ]
    urgent = [change for change in changes if change.after in late and change.before not in late]
    lines: list[Said] = []
    if needless or spared:
        lines.append(
            said_many(
                "The press did not run: {n} job of an earlier shift is not needed.",
                "The press did not run: {n} jobs of earlier shifts are not needed.",
                n=len(needless) + len(spared),
            )
        )
    lines += [
        said("{line} is {state} by this count.", line=change.line, state=state_said(change.after)) for change in urgent
    ]
    return tuple(lines)
