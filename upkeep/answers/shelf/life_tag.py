"""The life tag: what a part has done and may still do, to go with it where this book does not reach."""

from __future__ import annotations

from upkeep.answers.life import before_the_book, life
from upkeep.answers.shelf.batches import received
from upkeep.answers.shelf.outside import outside
from upkeep.keeping.context import Context
from upkeep.views.overview.shelf import Away, LifeTag


def life_tag(context: Context, item: str) -> LifeTag:
    """The tag of an item as it stands; raises :class:`NotFound`."""
    known, numbers = context.known.item(item), life(context, item)
    came, rework = received(context, item), context.rows.last_rework(item)
    sent = next((one for one in outside(context) if one.item == item and one.state is Away.OUT), None)
    return LifeTag(
        plant=context.known.facts.name,
        at=context.moment,
        item=item,
        title=known.title,
        kind=known.kind,
        owner=known.owner,
        batch=came.batch if came else None,
        since_new=numbers.since_new,
        before_book=before_the_book(context, item),
        since_rework=numbers.since_rework,
        reworks=numbers.reworks,
        granted=rework.granted if rework else known.life,
        counted_until=numbers.counted_until,
        life_unknown=numbers.life_unknown,
        to=sent.to if sent else None,
        text=sent.text if sent else "",
        expected=sent.expected if sent else None,
    )
