"""Taking a count: one number, and one key where the book asks how the counter came to it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from textual.widget import Widget

from tui.keys import Where, bindings_at, foot_at
from tui.messages import CountTyped
from tui.present.walk import count_rows, not_a_count_said, read_count
from tui.screens.frame.base import Asker, Foot
from tui.screens.frame.desk import Desk, Here
from tui.widgets.count_entry import CountEntry, Offer, TypedCount
from upkeep.entries.counting import Count
from upkeep.errors import Contradicted, PerhapsReset, PerhapsRolledOver, Refused
from upkeep.said import Said, in_turn, said, said_as, term


async def take_count(desk: Desk, entry: CountEntry, press: str, by: Here, count: TypedCount) -> Said | None:
    """Writes a count and tells what was written; None if the book refused, and then the entry shows why."""
    written_at = desk.now()
    value = count.value
    try:
        written = await desk.written(
            Count(
                at=written_at, by=by.id, press=press, value=value, rolled_over=count.confirmed == "rolled over",
                after_reset=count.confirmed == "set back", disputes=count.disputes,
            ),
            by=by,
        )  # fmt: skip
    except Contradicted as refusal:
        entry.refuse(desk.words(refusal.said), offered=offered(refusal, count))
        return None
    except Refused as refusal:
        entry.refuse(desk.words(refusal.said))
        return None
    entry.clear()
    desk.remember(written, by, written_at, said("count {count} of {press}", count=value, press=press))
    counted = said("COUNTED {press}: {count}, by {name}.", press=press, count=value, name=by.name)
    return in_turn(counted, *written.notes)


def offered(refusal: Contradicted, count: TypedCount) -> Offer:
    """What may be answered to a refusal, each with a key."""
    if isinstance(refusal, PerhapsRolledOver) and count.confirmed is None:
        return Offer(count.value, refusal.entry, "rolled over")
    if isinstance(refusal, PerhapsReset) and count.confirmed is None:
        return Offer(count.value, refusal.entry, "set back")
    return Offer(count.value, refusal.entry, None)


def answers_at(offer: Offer) -> Foot:
    """The keys that answer a refused count, with their words."""
    keys = foot_at(Where.REFUSED)
    return keys if offer.confirms is not None else keys[1:]


def typed_count(desk: Desk, entry: CountEntry, text: str) -> int | None:
    """The typed count; None if it is none, and then the entry says so."""
    value = read_count(text)
    if value is None:
        entry.refuse(desk.words(not_a_count_said(text)))
    return value


class CountScreen(Asker[Said]):
    """The count of the press at a place, asked in front of another screen; the answer says what was written."""

    BINDINGS = bindings_at(Where.COUNT, Where.REFUSED)
    WHERE = Where.COUNT

    def __init__(self, desk: Desk, place: str, by: Here) -> None:
        super().__init__(desk)
        self._place, self._by = place, by
        self._press: str | None = None
        self._entry = CountEntry(desk.reader)

    def asks(self) -> Iterable[Widget]:
        """Which press, and its count."""
        yield self.rows("question", "-strong")
        yield self._entry

    def keys_now(self) -> Foot:
        """Enter writes here; where the book asks, the answers."""
        if self._entry.offered is not None:
            return (*answers_at(self._entry.offered), *super().keys_now()[1:])
        return ((term("enter", "key"), said_as("foot", "write")), *super().keys_now()[1:])

    def on_mount(self) -> None:
        """Fetches the last count."""
        self._entry.field.focus()
        self.do(self._learn)

    async def _learn(self) -> None:
        at = self.desk.now()
        walk = await self.desk.clerk.ask(lambda book: book.round(self._place, at))
        self._press = walk.press
        question = said("Count of {press}, by {name}", press=walk.press or self._place, name=self._by.name)
        self.rows("question").show([self.desk.words(question)])
        self._entry.show_range(count_rows(walk, self.desk.standing_at(at)))

    def on_count_typed(self, message: CountTyped) -> None:
        """Writes what was typed."""
        message.stop()
        value = typed_count(self.desk, self._entry, message.text)
        if value is not None:
            self.save(partial(self._take, TypedCount(value)))

    def action_count_again(self) -> None:
        """Takes another count."""
        self._entry.count_again()

    def action_confirmed(self) -> None:
        """Writes the offered count again, confirmed."""
        offer = self._entry.offered
        if offer is not None and offer.confirms is not None:
            self.save(partial(self._take, offer.confirmed))

    def action_earlier_wrong(self) -> None:
        """Writes the count as a question for the lead."""
        if self._entry.offered is not None:
            self.save(partial(self._take, self._entry.offered.disputing))

    async def _take(self, count: TypedCount) -> None:
        if self._press is None:
            await self._learn()
        if self._press is None:
            self.say(said("There is no press at {place}, so there is nothing to count.", place=self._place))
            return
        written = await take_count(self.desk, self._entry, self._press, self._by, count)
        if written is not None:
            self.leave(written)
