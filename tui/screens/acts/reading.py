"""What was typed into a field of a deed, as the value it gives."""

from __future__ import annotations

from tui.present.moments import Now
from tui.present.typed import day_typed, meant_option, moment_typed, number_typed, value_typed
from tui.screens.acts.deed import Ask, Asks, Typed
from upkeep.errors import Unreadable
from upkeep.said import said


def read(ask: Ask, typed: str, now: Now) -> Typed:
    """The value of a field; raises :class:`Unreadable` for what cannot go into it."""
    match ask.asks:
        case Asks.NUMBER:
            return number_typed(typed)
        case Asks.VALUE:
            return value_typed(typed)
        case Asks.MOMENT:
            return moment_typed(typed, now)
        case Asks.DAY:
            return day_typed(typed)
        case Asks.NAMED:
            meant = meant_option(ask.options, typed, now.reader)
            if meant is None:
                nothing = said("{label}: nothing, or more than one, is called so. Type its whole id.", label=ask.label)
                raise Unreadable(nothing)
            return meant
    return typed
