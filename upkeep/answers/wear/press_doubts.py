"""Whether what is about to be written says that a press is at fault, and not the die on it."""

from __future__ import annotations

from upkeep.answers.life import press_at
from upkeep.answers.wear.hints import Hints
from upkeep.entries.checking import Check
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.plant.model import Item, Kind
from upkeep.said import Said, said
from upkeep.wear.separation import Suspect
from upkeep.wear.shown import SLUG


def doubted_press(new: Check | Sign, item: Item, context: Context) -> tuple[str | None, list[Said]]:
    """The press whose shut height a check or sign-off asks for, with the sentence for whoever measured; None for none.

    A press is doubted anew when the slug on it is measured bad again, not by each good one on another press.
    """
    if SLUG not in dict(new.measured) or item.kind not in (Kind.DIE_SET, Kind.MODULE):
        return None, []
    hint = Hints(context, new).of(item)
    if hint is None or hint.suspect is not Suspect.PRESS or hint.shut_height_of is None:
        return None, []
    press, hints = hint.shut_height_of, Hints(context)
    if not hints.asks_shut_height(press):
        return None, []
    before = hints.of(item)
    known = before is not None and before.suspect is Suspect.PRESS and before.about == press
    on = (new.press if isinstance(new, Check) else None) or press_at(context, item.id, new.at)
    if known and on != press:
        return None, []
    notice = said(
        "The measured points point to the press, not the die: {why}. The shut height of {press} is asked for, and "
        "{item} is held "
        "on {press} until it is measured; on another press it may run.",
        why=hint.why,
        press=press,
        item=item.id,
    )
    return press, [notice]
