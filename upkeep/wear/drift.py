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

from upkeep.said import Said, Value, in_turn, listed, said
from upkeep.stats.few import TooFew
from upkeep.stats.trend import Line, least_squares
from upkeep.wear.trend import LEAST_POINTS, LEVEL
from upkeep.wear.wording import figures, slope_text


@dataclass(frozen=True, slots=True)
class Drift:
    """How a setting moved.  ``line`` is None below four values; ``alarm`` is None where no hidden wear is seen;
    ``why`` is the arithmetic or the reason why there is none."""

    n: int
    line: Line | None
    why: Said
    alarm: Said | None = None


def drift(
    title: Value, done: Sequence[int], settings: Sequence[float], unit: str,
    heights: tuple[Sequence[int], Sequence[float]], steps: Sequence[float] = (),
) -> Drift:  # fmt: skip
    """How a setting drifts over strokes, and whether it hides wear; ``heights`` are strokes and values of the crimp
    height over the same run."""
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
    flat = _line(*heights)
    if flat is None or flat.is_sloped(1 - LEVEL):
        return Drift(n, line, in_turn(said("{slope}; the setting is drifting.", slope=slope), coarse))
    alarm = said(
        "ALARM: {title} has drifted by {moved} {unit} over {strokes} strokes while the crimp height stays "
        "flat: wear is being adjusted away. Look at punch and anvil and crush a slug before the next order.",
        title=title,
        moved=figures(line.at(done[-1]) - line.at(done[0])),
        unit=unit,
        strokes=max(done) - min(done),
    )
    why = said("{slope}; the setting is drifting and the crimp height is not.", slope=slope)
    return Drift(n, line, in_turn(why, coarse), alarm)


def _line(done: Sequence[int], values: Sequence[float]) -> Line | None:
    if len(values) < LEAST_POINTS:
        return None
    try:
        return least_squares(done, values, LEVEL)
    except TooFew:
        return None
