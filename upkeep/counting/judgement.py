"""Whether a reading can be true: against the readings around it, the counter's figures and the press's fastest rate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from upkeep.counting.marks import COUNTDOWN, NONE, RESETTABLE, CounterConfiguration, Reading, increment
from upkeep.errors import Contradicted, PerhapsReset, PerhapsRolledOver, Refused
from upkeep.said import Numeral, Said, Value, either, in_turn, said
from upkeep.units.quantities import in_strokes

SLACK_STROKES = 60
"""Strokes a rate check forgives, since readings are written down to the minute.  Plant default, no source."""

FASTEST = 10_000
"""Strokes an hour that a press can do where the plant states no fastest rate.  Plant default, no source."""


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


def expected_range(counter: Counter, last: Reading, running_hours: float) -> tuple[int, int]:
    """The figures between which a counter stands after so many hours in which the press may have run.

    They go from what it shows since the last reading, which is another figure where it was set back or replaced.
    """
    configuration = counter.configuration
    counts = round((counter.max_rate or 0) * running_hours / configuration.times)
    if configuration.way == COUNTDOWN:
        return max(0, last.base - counts), last.base
    return last.base, last.base + counts


class Hints(NamedTuple):
    """What helps whoever wrote a count that cannot be.

    ``shown`` is the moment of the reading before, as people here write it; ``neighbours`` are presses whose counter the
    figure would fit ("P-08 (last 2,094,050)"); ``earlier`` is the entry of the two that was written first, and
    ``about`` says who wrote it and when.
    """

    shown: Value
    neighbours: Sequence[Value]
    earlier: int
    about: Said


def check_reading(counter: Counter, before: Reading | None, reading: Reading, hints: Hints) -> None:
    """Raises :class:`Refused` where a reading cannot be true after the one before it."""
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
    against = said("the reading {count} of {moment}", count=before.base, moment=hints.shown)
    if increment(before, reading, configuration) < 0:
        raise _backwards(counter, before, reading, against, hints)
    raise Contradicted(_too_fast(counter, before, reading, against, hints), hints.earlier)


def _too_fast(counter: Counter, before: Reading, reading: Reading, against: Said, hints: Hints) -> Said:
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
    return in_turn(too_fast, _again(counter, before, reading, hints))


def _backwards(counter: Counter, before: Reading, reading: Reading, against: Said, hints: Hints) -> Contradicted:
    goes_back = said(
        "{press}: the count goes back from {before} to {now} ({against}).",
        press=counter.press,
        before=before.base,
        now=reading.value,
        against=against,
    )
    if counter.configuration.way == RESETTABLE:
        reset = said(
            "If it has been set back to zero since, confirm with 'after reset': {strokes} count (--after-reset; "
            "after-reset on a sheet, in a line or in the column 'confirmed' of a file). If anybody saw what it showed "
            "before the reset, enter that as a restart.",
            strokes=in_strokes(reading.value),
        )
        return PerhapsReset(in_turn(goes_back, reset, _earlier(hints)), hints.earlier)
    rolled = replace(reading, rolled_over=True)
    if not hints.neighbours and counter.configuration.digits is not None and is_plausible(counter, before, rolled):
        rolled_over = said(
            "If the {digits}-digit counter rolled over, that is {strokes}: confirm with 'rolled over' (--rolled-over; "
            "rolled-over on a sheet, in a line or in the column 'confirmed' of a file).",
            digits=counter.configuration.digits,
            strokes=in_strokes(increment(before, rolled, counter.configuration)),
        )
        return PerhapsRolledOver(in_turn(goes_back, rolled_over, _earlier(hints)), hints.earlier)
    return Contradicted(in_turn(goes_back, _again(counter, before, reading, hints)), hints.earlier)


def _earlier(hints: Hints) -> Said:
    """Which entry stands against the count, and what to say if that one is wrong."""
    return said(
        "Against it stands #{entry}, {about}. If that one is wrong, say so ('the earlier one is wrong'): the count is "
        "kept as read, as a question for the lead.",
        entry=Numeral(hints.earlier),
        about=hints.about,
    )


def _again(counter: Counter, before: Reading, reading: Reading, hints: Hints) -> Said:
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
        _meant(counter, before, reading, hints.neighbours),
        _earlier(hints),
    )


def _meant(counter: Counter, before: Reading, reading: Reading, neighbours: Sequence[Value]) -> Said | None:
    """The likeliest slips: two figures of a long number are swapped more often than presses are."""
    found = [
        swapped
        for swapped in _swapped(reading.value)
        if swapped > before.base and is_plausible(counter, before, replace(reading, value=swapped))
    ]
    other = said("It would fit {presses}: is it the right press?", presses=either(neighbours)) if neighbours else None
    if not found:
        return other
    return in_turn(said("With two digits swapped it would be {count}.", count=found[0]), other)


def _swapped(value: int) -> list[int]:
    """The numbers that differ from one by two neighbouring figures swapped."""
    text = str(value)
    pairs = range(len(text) - 1)
    return [int(text[:n] + text[n + 1] + text[n] + text[n + 2 :]) for n in pairs if text[n] != text[n + 1]]
