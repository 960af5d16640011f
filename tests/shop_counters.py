"""What the counters of the invented shop floor truly show: they run, roll over, are set back and exchanged."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from tests.plants import at
from tests.shop_plant import COUNTERS, FIGURES, RATES, SHOWN_FIRST

START = at("2026-03-01 00:00")
STEP = timedelta(minutes=15)


def true_strokes(counter: str, moment: datetime) -> int:
    """What a press has truly done since the start: it runs two hours in three, and not at all on every seventh day."""
    minutes = int((moment - START).total_seconds()) // 60
    days, rest = divmod(minutes, 24 * 60)
    blocks, into = divmod(rest, 180)
    running = (days - (days + 6) // 7) * 8 * 120
    if days % 7:
        running += blocks * 120 + min(into, 120)
    return running * RATES[counter] // 60


STILL = "still"
"""The way of a counter that has stopped."""


@dataclass(frozen=True)
class Regime:
    """From a moment on a counter begins at a figure and counts its own way; or stands still (STILL)."""

    since: datetime
    begins: int
    way: str
    digits: int
    times: float


class TrueCounters:
    """The counters of the floor as somebody would see them who always looked."""

    def __init__(self) -> None:
        self.regimes = {
            key: [Regime(START, SHOWN_FIRST[key], "running", FIGURES[key], 1.0)] for key in COUNTERS
        }  # fmt: skip

    def regime(self, counter: str, moment: datetime) -> Regime:
        """How a counter counts at a moment."""
        return [one for one in self.regimes[counter] if one.since <= moment][-1]

    def shown(self, counter: str, moment: datetime) -> int:
        """What a counter shows at a moment."""
        if counter not in self.regimes:
            return 0
        now = self.regime(counter, moment)
        if now.way == STILL:
            return now.begins
        done = int((true_strokes(counter, moment) - true_strokes(counter, now.since)) / now.times)
        figure = now.begins - done if now.way == "countdown" else now.begins + done
        return figure % int(f"1{'0' * now.digits}")

    def begin(self, counter: str, regime: Regime) -> None:
        """Somebody sets a counter back, exchanges it or has it count otherwise."""
        self.regimes[counter].append(regime)
        self.regimes[counter].sort(key=lambda one: one.since)
