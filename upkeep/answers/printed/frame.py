"""What every paper says of itself: as of which counts, which entry it knows last, who prints it."""

from __future__ import annotations

from datetime import datetime

from upkeep.answers.board import Boards
from upkeep.entries.origin import Proof
from upkeep.keeping.context import Context
from upkeep.plant.model import Kind
from upkeep.views.printed import Printed, Seal


def printed(context: Context, by: str, proof: Proof | None, known_at: datetime | None = None) -> Printed:
    """What a paper of the moment of the context says of itself, printed by somebody (an id; "": nobody said)."""
    known = context.known
    oldest, press = Boards(context).oldest_count() or (None, None)
    number, link = context.entries.last()
    return Printed(
        plant=known.facts.name,
        zone=known.zone.name,
        at=context.moment,
        known_at=known_at,
        by=context.names.now(by),
        proof=proof if by else None,
        counts_as_of=oldest,
        oldest_press=press,
        never_read=never_read(context),
        seal=Seal(number, link.hex()),
    )


def never_read(context: Context) -> tuple[str, ...]:
    """The presses in use of which no count is known."""
    read = {row.press for row in context.tallies.last_marks()}
    items = context.known.items.values()
    return tuple(sorted(i.id for i in items if i.kind is Kind.PRESS and not i.scrapped and i.id not in read))
