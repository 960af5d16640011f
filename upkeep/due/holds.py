"""Why an item must not run, as data: one class for each thing that holds an item.  Sentences are made elsewhere."""

from __future__ import annotations

from upkeep.frozen import frozen


@frozen
class ByHand:
    """Somebody held it, for a reason in their own words; "" for none."""

    because: str


@frozen
class Stopped:
    """A fault stopped it: the symptom as it was told."""

    symptom: str


@frozen
class LifeUnknown:
    """Nobody knows what it has done, so it has no life left until it is inspected."""


@frozen
class GaugeOutOfTolerance:
    """A gauge was found to read wrong by so much, written as a signed decimal number: "+0.02".

    ``unit`` is the one such gauges measure in; "" where the plant does not say one.
    """

    off: str
    unit: str = ""


@frozen
class Gone:
    """It has left for ever, and how that came (``upkeep.entries.lives.ENDS``); nobody lifts this hold."""

    end: str


@frozen
class GradedOut:
    """An inspection graded it 4, out."""


@frozen
class OutOfLimits:
    """A task that is not graded measured points out of their limits, and says that this holds the item."""

    task: str
    points: tuple[str, ...]


@frozen
class FailedCheck:
    """Characteristics were measured bad at an occasion; ``again``: found so before adjusting, twice in a row."""

    occasion: str
    points: tuple[str, ...]
    again: bool


@frozen
class ToAdjust:
    """Characteristics were measured bad while setting, and have to be adjusted and measured again."""

    points: tuple[str, ...]


@frozen
class PressInDoubt:
    """On one press only, until the shut height of that press is measured good: what was measured says that this press
    is at fault, not the die."""

    press: str
    entry: int


HoldReason = (
    ByHand
    | Stopped
    | LifeUnknown
    | GaugeOutOfTolerance
    | Gone
    | GradedOut
    | OutOfLimits
    | FailedCheck
    | ToAdjust
    | PressInDoubt
)
"""Why an item is held."""
