"""Whether a reading can be true: against the readings around it, the counter's figures and the press's fastest rate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from upkeep.counting.marks import COUNTDOWN, NONE, RESETTABLE, CounterTerms, Reading, increment
from upkeep.errors import Refused
from upkeep.units.quantities import grouped, strokes

SLACK_STROKES = 60
"""Strokes a rate check forgives, since readings are written down to the minute.  Plant default, no source."""


class Counter(NamedTuple):
    """What has to be known to judge a step: whose counter, its terms at the step's begin, its rate (strokes/hour)."""

    press: str
    terms: CounterTerms
    max_rate: int | None


def is_plausible(counter: Counter, before: Reading | None, reading: Reading) -> bool:
    """Whether a reading can follow another without a second look; the quick half of :func:`check_reading`."""
    terms = counter.terms
    if terms.way == NONE or (terms.digits is not None and reading.value >= 10**terms.digits):
        return reading.pieces is not None
    if reading.after_reset and terms.way == COUNTDOWN:
        return False
    if before is None:
        return True
    step = increment(before, reading, terms)
    if step < 0 or counter.max_rate is None:
        return step >= 0
    hours = (reading.at - before.at).total_seconds() / 3600
    return step <= counter.max_rate * hours + SLACK_STROKES


def check_reading(
    counter: Counter, before: Reading | None, reading: Reading, shown: str, neighbours: Sequence[str]
) -> None:
    """Raises :class:`Refused` where a reading cannot be true after the one before it.

    ``shown`` is the moment of the reading before, as people here write it; ``neighbours`` are presses whose counter
    the figure would fit ("P-08 (last 2,094,050)").
    """
    if is_plausible(counter, before, reading):
        return
    terms = counter.terms
    if terms.way == NONE:
        raise Refused(f"{counter.press} has no counter; write the quantities made on it instead.")
    if terms.digits is not None and reading.value >= 10**terms.digits:
        raise Refused(
            f"{grouped(reading.value)} has more figures than the counter of {counter.press} ({terms.digits}). "
            "Read it again, figure by figure."
        )
    if reading.after_reset and terms.way == COUNTDOWN:
        raise Refused(
            f"{counter.press} counts down, so it is not set back to zero. Write what it showed and what it shows now "
            "as a restart."
        )
    if before is None:
        return
    against = f"the reading {grouped(before.base)} of {shown}"
    if increment(before, reading, terms) < 0:
        raise Refused(_backwards(counter, before, reading, against, neighbours))
    raise Refused(_too_fast(counter, before, reading, against, neighbours))


def _too_fast(counter: Counter, before: Reading, reading: Reading, against: str, neighbours: Sequence[str]) -> str:
    step = increment(before, reading, counter.terms)
    hours = (reading.at - before.at).total_seconds() / 3600
    rate = f"{grouped(round(step / hours))} strokes an hour" if hours > 0 else "no time between them"
    again = _again(counter, before, reading, neighbours)
    return (
        f"{counter.press}: {strokes(step)} against {against} would be {rate}; "
        f"this press does at most {grouped(counter.max_rate or 0)} an hour. {again}"
    )


def _backwards(counter: Counter, before: Reading, reading: Reading, against: str, neighbours: Sequence[str]) -> str:
    went = f"from {grouped(before.base)} to {grouped(reading.value)}"
    sentence = f"{counter.press}: the count goes back {went} ({against})."
    if counter.terms.way == RESETTABLE:
        return (
            f"{sentence} If it was set back to zero since, confirm with 'after reset': {strokes(reading.value)} count, "
            "and what it showed before the reset is written as a restart if anybody saw it."
        )
    rolled = replace(reading, rolled_over=True)
    if not neighbours and counter.terms.digits is not None and is_plausible(counter, before, rolled):
        return (
            f"{sentence} If the {counter.terms.digits}-figure counter rolled over, that is "
            f"{strokes(increment(before, rolled, counter.terms))}: confirm with 'rolled over'."
        )
    return f"{sentence} {_again(counter, before, reading, neighbours)}"


def _again(counter: Counter, before: Reading, reading: Reading, neighbours: Sequence[str]) -> str:
    """What to do: read it again, with the press or the figures that may have been meant."""
    told = "Nothing was changed; read the counter again, figure by figure."
    if before.at == reading.at:
        told += (
            f" Entry #{before.entry} says {grouped(before.base)} for the same moment: a wrong figure that stands in "
            "both is corrected in both at once, as lines of one file."
        )
    if neighbours:
        return f"{told} It would fit {' or '.join(neighbours)}: is it that press?"
    for swapped in _swapped(reading.value):
        if swapped > before.base and is_plausible(counter, before, replace(reading, value=swapped)):
            return f"{told} With two figures swapped it would be {grouped(swapped)}."
    return told


def _swapped(value: int) -> list[int]:
    """The numbers that differ from one by two neighbouring figures swapped."""
    text = str(value)
    pairs = range(len(text) - 1)
    return [int(text[:n] + text[n + 1] + text[n] + text[n + 2 :]) for n in pairs if text[n] != text[n + 1]]
