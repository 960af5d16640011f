"""Whether a reading can be true: against the readings around it, the counter's figures and the press's fastest rate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from upkeep.counting.marks import COUNTDOWN, NONE, RESETTABLE, CounterConfiguration, Reading, increment
from upkeep.errors import PerhapsRolledOver, Refused
from upkeep.said import Numeral, Said, Value, either, in_turn, said
from upkeep.units.quantities import in_strokes

SLACK_STROKES = 60
"""Strokes a rate check forgives, since readings are written down to the minute.  Plant default, no source."""


class Counter(NamedTuple):
    """What it takes to judge a step: whose counter, how it counts when the step begins, its rate (strokes/hour)."""

    press: str
    configuration: CounterConfiguration
    max_rate: int | None


def is_plausible(counter: Counter, before: Reading | None, reading: Reading) -> bool:
    """Whether a reading can follow another without a second look; the quick half of :func:`check_reading`."""
    configuration = counter.configuration
    if configuration.way == NONE or (configuration.digits is not None and reading.value >= 10**configuration.digits):
        return reading.pieces is not None
    if reading.after_reset and configuration.way == COUNTDOWN:
        return False
    if before is None:
        return True
    step = increment(before, reading, configuration)
    if step < 0 or counter.max_rate is None:
        return step >= 0
    hours = (reading.at - before.at).total_seconds() / 3600
    return step <= counter.max_rate * hours + SLACK_STROKES


def check_reading(
    counter: Counter, before: Reading | None, reading: Reading, shown: Value, neighbours: Sequence[Value]
) -> None:
    """Raises :class:`Refused` where a reading cannot be true after the one before it.

    ``shown`` is the moment of the reading before, as people here write it; ``neighbours`` are presses whose counter
    the figure would fit ("P-08 (last 2,094,050)").
    """
    if is_plausible(counter, before, reading):
        return
    configuration = counter.configuration
    if configuration.way == NONE:
        raise Refused(said("{press} has no counter; enter the quantities made on it instead.", press=counter.press))
    if configuration.digits is not None and reading.value >= 10**configuration.digits:
        raise Refused(
            said(
                "{count} has more digits than the counter of {press} ({digits}). Read it again, digit by digit.",
                count=reading.value,
                press=counter.press,
                digits=configuration.digits,
            )
        )
    if reading.after_reset and configuration.way == COUNTDOWN:
        raise Refused(
            said(
                "{press} counts down, so it is never set back to zero. Enter what it showed and what it shows "
                "now as a restart.",
                press=counter.press,
            )
        )
    if before is None:
        return
    against = said("the reading {count} of {moment}", count=before.base, moment=shown)
    if increment(before, reading, configuration) < 0:
        raise _backwards(counter, before, reading, against, neighbours)
    raise Refused(_too_fast(counter, before, reading, against, neighbours))


def _too_fast(counter: Counter, before: Reading, reading: Reading, against: Said, neighbours: Sequence[Value]) -> Said:
    step = increment(before, reading, counter.configuration)
    hours = (reading.at - before.at).total_seconds() / 3600
    rate = said("{rate} strokes an hour", rate=round(step / hours)) if hours > 0 else said("no time between them")
    too_fast = said(
        "{press}: {step} compared with {against} would be {rate}; this press does at most {most} an hour.",
        press=counter.press,
        step=in_strokes(step),
        against=against,
        rate=rate,
        most=counter.max_rate or 0,
    )
    return in_turn(too_fast, _again(counter, before, reading, neighbours))


def _backwards(
    counter: Counter, before: Reading, reading: Reading, against: Said, neighbours: Sequence[Value]
) -> Refused:
    goes_back = said(
        "{press}: the count goes back from {before} to {now} ({against}).",
        press=counter.press,
        before=before.base,
        now=reading.value,
        against=against,
    )
    if counter.configuration.way == RESETTABLE:
        reset = said(
            "If it has been set back to zero since, confirm with 'after reset': {strokes} count. If anybody "
            "saw what it showed before the reset, enter that as a restart.",
            strokes=in_strokes(reading.value),
        )
        return Refused(in_turn(goes_back, reset))
    rolled = replace(reading, rolled_over=True)
    if not neighbours and counter.configuration.digits is not None and is_plausible(counter, before, rolled):
        rolled_over = said(
            "If the {digits}-digit counter rolled over, that is {strokes}: confirm with 'rolled over'.",
            digits=counter.configuration.digits,
            strokes=in_strokes(increment(before, rolled, counter.configuration)),
        )
        return PerhapsRolledOver(in_turn(goes_back, rolled_over))
    return Refused(in_turn(goes_back, _again(counter, before, reading, neighbours)))


def _again(counter: Counter, before: Reading, reading: Reading, neighbours: Sequence[Value]) -> Said:
    """What to do: read it again, with the press or the figures that may have been meant."""
    same_moment = said(
        "Entry #{entry} says {count} for the same moment: if both are wrong, correct both at once, as lines "
        "of one file.",
        entry=Numeral(before.entry),
        count=before.base,
    )
    return in_turn(
        said("Nothing was changed; read the counter again, digit by digit."),
        same_moment if before.at == reading.at else None,
        _meant(counter, before, reading, neighbours),
    )


def _meant(counter: Counter, before: Reading, reading: Reading, neighbours: Sequence[Value]) -> Said | None:
    if neighbours:
        return said("It would fit {presses}: is it the right press?", presses=either(neighbours))
    for swapped in _swapped(reading.value):
        if swapped > before.base and is_plausible(counter, before, replace(reading, value=swapped)):
            return said("With two digits swapped it would be {count}.", count=swapped)
    return None


def _swapped(value: int) -> list[int]:
    """The numbers that differ from one by two neighbouring figures swapped."""
    text = str(value)
    pairs = range(len(text) - 1)
    return [int(text[:n] + text[n + 1] + text[n] + text[n + 2 :]) for n in pairs if text[n] != text[n + 1]]
