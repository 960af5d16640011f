"""Wear that is hidden by adjusting: the height is dialled back at each set-up, so the height stays flat while the dial
drifts.

Method.  The settings written down at set-up are taken as a trend of their own over the strokes of the part.  Where
their slope can be told from none while that of the crimp height cannot, wear is being adjusted away: the punch may be
finished though every height is good.  A setting that has steps only (positions of a cam) moves late and then by a whole
step.

The alarm is asked for anew at every set-up, so it takes more than a trend that is only looked at: a slope that is rarer
than 4 in 1,000 where there is none, and a drift of half a step of the dial at least, since less cannot be set.

How good it is, by simulation (tests/wear/test_hidden_wear_rates.py): of steady sets, 5 in 100 get it within 30 set-ups
at the most, whatever their settings scatter.  A drift of one step over ten set-ups has raised it by the tenth in 8 of
10 sets whose settings scatter by a fifth of a step, and in nearly all two set-ups later.  Where a dial stands on whole
steps only, 6 in 10 are found by the twelfth and nearly all by the fifteenth.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from upkeep.frozen import frozen
from upkeep.said import Said, Value, in_turn, listed, said
from upkeep.stats.few import TooFew
from upkeep.stats.trend import Line, least_squares
from upkeep.units.measures import measured
from upkeep.wear.trend import LEAST_POINTS, LEVEL
from upkeep.wear.wording import figures, slope_text

ALARM_LEVEL = 0.996
"""Asked at each of 30 set-ups, it leaves 95 % of steady sets without an alarm (by simulation)."""

LOOKED_BACK = 30
"""Set-ups that are looked at while somebody waits; the page of the part looks at all."""

STEP = "step"
"""The unit of a setting that is counted in steps: one step is 1."""

_MATTERS = 0.5
"""Steps of drift from which on the next whole step is the nearer one."""


@frozen
class Drift:
    """How a setting moved.  ``line`` is None below four values; ``alarm`` is None where no hidden wear is seen;
    ``why`` is the arithmetic or the reason why there is none."""

    n: int
    line: Line | None
    why: Said
    alarm: Said | None = None


def drift(
    title: Value, done: Sequence[int], settings: Sequence[float], unit: str,
    heights: Callable[[], tuple[Sequence[int], Sequence[float]]], steps: Sequence[float] = (),
) -> Drift:  # fmt: skip
    """How a setting drifts over strokes, and whether it hides wear; ``heights`` gives strokes and values of the crimp
    height over the same run, and is asked where the setting drifts."""
    line = _line(done, settings)
    n = len(settings)
    if line is None:
        few = said(
            "{title}: no trend of the setting; values at set-up: {n}, needed: {needed}.",
            title=title,
            n=n,
            needed=LEAST_POINTS,
        )
        return Drift(n, None, few)
    coarse = (
        said("It can only be set in steps ({steps}), so it shows wear late.", steps=listed(map(figures, steps)))
        if steps
        else None
    )
    slope = said("{title}: {slope} from {n} set-ups", title=title, slope=slope_text(line.slope, unit), n=n)
    if not line.is_sloped(1 - LEVEL):
        return Drift(n, line, in_turn(said("{slope}; no drift stands out from the scatter.", slope=slope), coarse))
    flat = _line(*heights())
    if flat is None or flat.is_sloped(1 - LEVEL):
        return Drift(n, line, in_turn(said("{slope}; the setting is drifting.", slope=slope), coarse))
    moved = line.at(max(done)) - line.at(min(done))
    if not line.is_sloped(1 - ALARM_LEVEL) or abs(moved) < _MATTERS * _step(unit, steps):
        why = said(
            "{slope}; the setting is drifting and the crimp height is not, but by less than half a step or not surely "
            "enough yet for an alarm.",
            slope=slope,
        )
        return Drift(n, line, in_turn(why, coarse))
    alarm = said(
        "ALARM: {title} has drifted by {moved} over {strokes} strokes while the crimp height stays "
        "flat: wear is being adjusted away. Look at punch and anvil and crush a slug before the next order.",
        title=title,
        moved=measured(float(figures(moved)), unit),
        strokes=max(done) - min(done),
    )
    why = said(
        "{slope}; the setting is drifting and the crimp height is not. Of steady sets, 5 in 100 get this alarm within "
        "30 set-ups.",
        slope=slope,
    )
    return Drift(n, line, in_turn(why, coarse), alarm)


def _step(unit: str, steps: Sequence[float]) -> float:
    """The smallest step of a setting in its unit; 0 where it can be set to anything."""
    if len(steps) > 1:
        return min(high - low for low, high in pairwise(sorted(steps)))
    return 1.0 if unit == STEP else 0.0


def _line(done: Sequence[int], values: Sequence[float]) -> Line | None:
    if len(values) < LEAST_POINTS:
        return None
    try:
        return least_squares(done, values, LEVEL)
    except TooFew:
        return None
