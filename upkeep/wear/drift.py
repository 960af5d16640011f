"""Wear that is hidden by adjusting: the height is dialled back at each set-up, so the height stays flat while the dial
drifts.

Method.  The settings written down at set-up are taken as a trend of their own over the strokes of the part.  Where
their slope can be told from none while that of the crimp height cannot, wear is being adjusted away: the punch may be
finished though every height is good.  A setting that has steps only (positions of a cam) moves late and then by a whole
step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from upkeep.stats.few import TooFew
from upkeep.stats.trend import Line, least_squares
from upkeep.wear.trend import LEAST_POINTS, LEVEL
from upkeep.wear.wording import figures, slope_text


@dataclass(frozen=True, slots=True)
class Drift:
    """How a setting moved.  ``line`` is None below four values; ``alarm`` is empty where no hidden wear is seen;
    ``why`` is the arithmetic or the reason why there is none."""

    n: int
    line: Line | None
    why: str
    alarm: str = ""


def drift(
    title: str, done: Sequence[int], settings: Sequence[float], unit: str,
    heights: tuple[Sequence[int], Sequence[float]], steps: Sequence[float] = (),
) -> Drift:  # fmt: skip
    """How a setting drifts over strokes, and whether it hides wear; ``heights`` are strokes and values of the crimp
    height over the same run."""
    line = _line(done, settings)
    n = len(settings)
    if line is None:
        return Drift(n, None, f"{title}: no trend of the setting, {n} values at set-up; {LEAST_POINTS} are needed.")
    coarse = f" It has steps only ({', '.join(map(figures, steps))}): it moves late." if steps else ""
    told = f"{title}: {slope_text(line.slope, unit)} from {n} set-ups"
    if not line.is_sloped(1 - LEVEL):
        return Drift(n, line, f"{told}; cannot be told from none.{coarse}")
    flat = _line(*heights)
    if flat is None or flat.is_sloped(1 - LEVEL):
        return Drift(n, line, f"{told}; the setting drifts.{coarse}")
    moved = figures(line.at(done[-1]) - line.at(done[0]))
    alarm = (
        f"ALARM: {title} drifted by {moved} {unit} over {max(done) - min(done):,} strokes while the crimp height stays "
        "flat: wear is being adjusted away. Look at punch and anvil, and crush a slug, before the next order."
    )
    return Drift(n, line, f"{told}; the setting drifts and the crimp height does not.{coarse}", alarm)


def _line(done: Sequence[int], values: Sequence[float]) -> Line | None:
    if len(values) < LEAST_POINTS:
        return None
    try:
        return least_squares(done, values, LEVEL)
    except TooFew:
        return None
