"""What is measured on the pieces of the demo plant: settings, first and last pieces, as found and as left at changes.

It draws from a seed of its own, so that the rest of the history stays what it is without it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from random import Random

from demo_plant.measuring import NEW_SLUG_MM, Points, Wear
from demo_plant.notebook import Notebook
from demo_plant.shop import Shop
from upkeep.entries.checking import Check
from upkeep.entries.counting import QuantityMade
from upkeep.frozen import frozen
from upkeep.plant.crimps import Crimp
from upkeep.plant.model import Kind, Point

_HEIGHT_SCATTER_MM = 0.006
_SLUG_SCATTER_MM = 0.0015
_MM_A_STEP = 0.01
"""How far one step of the dial moves the ram.  Invented, like every figure here."""

_PIECES_A_STROKE = 0.995
_REEL_PIECES = 8_000


@frozen
class _Running:
    """A press at a moment with the set on it and the crimp it makes, and who is there to measure."""

    press: str
    die_set: str
    crimp: Crimp
    at: datetime
    by: str

    def after(self, minutes: int) -> _Running:
        """The same some minutes later."""
        return replace(self, at=self.at + timedelta(minutes=minutes))


class Checks:
    """Measures on the pieces of each press.  ``adjusted`` is the drift of a set that its setting makes up for."""

    def __init__(self, shop: Shop, wear: Wear, notebook: Notebook, crimps: Mapping[str, Crimp], seed: int) -> None:
        self._shop, self._wear, self._notebook = shop, wear, notebook
        self._crimps = {crimp.family: crimp for crimp in crimps.values()}
        self._rng, self._at_inspections = Random(seed), Random(seed + 1)
        self._adjusted: dict[str, float] = {}
        self._orders = 0
        self._order_on: dict[str, str] = {}

    # Pieces

    def first_off(self, press: str, at: datetime, by: str) -> None:
        """Five pieces before the run, for a new order."""
        self._orders += 1
        self._order_on[press] = f"A-{self._orders:04d}"
        self._pieces(press, "first-off", at, by)

    def last_off(self, press: str, at: datetime, by: str) -> None:
        """Five pieces at the end of it."""
        self._pieces(press, "last-off", at, by)

    def pulled(self, press: str, at: datetime, by: str) -> None:
        """Quality pulls five pieces."""
        running = self._running(press, at, by)
        if running is not None:
            least = {"0.5 mm2": 55, "0.75 mm2": 80, "1.0 mm2": 100, "1.5 mm2": 140, "2.5 mm2": 210}[running.crimp.size]
            forces = tuple(round(self._rng.gauss(1.35 * least, 0.05 * least), 1) for _ in range(5))
            broke = tuple("wire-broke" if self._rng.random() < 0.7 else "pulled-out" for _ in forces)
            self._note(running, "audit", (("pull", forces),), "pull tester", broke=broke)
            self._looked_through(running.after(4))

    def _looked_through(self, running: _Running) -> None:
        """The same pieces under the micrometer and the microscope."""
        drift, gauss = self._wear.drift_mm(running.die_set), self._rng.gauss
        width = tuple(round(2.500 + drift / 2 + gauss(0, 0.004), 3) for _ in range(3))
        insulation = tuple(round(gauss(2.1, 0.02), 2) for _ in range(3))
        readings: Points = (("crimp-width", width), ("insulation-height", insulation))
        self._note(running, "audit", readings, "crimp micrometer")
        burr = tuple(round(0.012 + drift / 3 + abs(gauss(0, 0.002)), 3) for _ in range(2))
        bellmouth = tuple(round(gauss(0.3, 0.02), 2) for _ in range(2))
        tab = tuple(round(0.08 + abs(gauss(0, 0.02)), 2) for _ in range(2))
        readings = (("burr", burr), ("bellmouth-rear", bellmouth), ("cut-off-tab", tab))
        self._note(running.after(3), "audit", readings, "microscope")

    def failed_look(self, press: str, at: datetime, by: str) -> str | None:
        """A sample whose bellmouth is bad; gives the die set."""
        running = self._running(press, at, by)
        if running is not None:
            height = self._point(running.crimp, "crimp-height")
            readings = (("crimp-height", self._heights(running.die_set, height)),)
            self._note(running, "sample", readings, "crimp micrometer", bad="bellmouth")
        return running.die_set if running else None

    def made(self, press: str, begin: datetime, end: datetime, strokes: int, by: str) -> None:
        """The pieces booked on a press at the end of a stretch of its run."""
        length = round((end - begin).total_seconds() / 60)
        if strokes and length:
            pieces = int(strokes * _PIECES_A_STROKE)
            order, die_set = self._order_on.get(press), self._shop.die_set_on(press)
            self._notebook.note(
                QuantityMade(at=end, by=by, press=press, pieces=pieces, minutes=length, item=die_set, order=order)
            )

    def _pieces(self, press: str, occasion: str, at: datetime, by: str) -> None:
        running = self._running(press, at, by)
        if running is not None:
            height = self._point(running.crimp, "crimp-height")
            readings = (("crimp-height", self._heights(running.die_set, height)),)
            self._note(running, occasion, readings, "crimp micrometer", looked=True)

    # At an inspection

    def on_pieces(self, point: Point, die_set: str) -> tuple[float, ...] | None:
        """What an inspection finds on the last pieces of a set, and how it was set; None for another point."""
        drift, gauss = self._wear.drift_mm(die_set), self._at_inspections.gauss
        crimp = self._crimps.get(self._shop.items[die_set].family or "")
        heights = [each.nominal for each in crimp.points if each.id == point.id] if crimp else []
        left = max(0.0, drift - self._adjusted.get(die_set, 0.0))
        middles = {
            "crimp-height": ((heights or [None])[0] or 1.5) + left, "insulation-height": 2.1, "bellmouth-rear": 0.3,
            "cut-off-tab": 0.1,
        }  # fmt: skip
        if point.id == "dial":
            return (float(12 + round(self._adjusted.get(die_set, 0.0) / _MM_A_STEP)),)
        if point.id not in middles:
            return None
        return tuple(round(gauss(middles[point.id], _HEIGHT_SCATTER_MM), 3) for _ in range(point.readings))

    # Changes

    def as_found(self, press: str, at: datetime, by: str) -> None:
        """The height as it was found before the set comes out."""
        self._pieces(press, "as-found", at, by)

    def set_up(self, press: str, at: datetime, by: str) -> None:
        """A set that went in is set: the slug measured by hand cycle, the settings written down, five pieces measured.

        The dial makes up for the wear of the set, so that the height is as it should be and the wear shows in the dial.
        """
        running = self._running(press, at, by)
        if running is None:
            return
        drift = self._wear.drift_mm(running.die_set)
        self._adjusted[running.die_set] = drift
        slug = tuple(round(NEW_SLUG_MM + drift + self._rng.gauss(0, _SLUG_SCATTER_MM), 3) for _ in range(3))
        self._note(running, "slug", (("slug-height", slug),), "crimp micrometer")
        settings: Points = (("dial", (float(12 + round(drift / _MM_A_STEP)),)), ("cam", (2.0,)))
        self._note(running.after(2), "set-up", settings, None)
        self._pieces(press, "as-left", at + timedelta(minutes=4), by)

    # Readings

    def _running(self, press: str, at: datetime, by: str) -> _Running | None:
        die_set = self._shop.die_set_on(press)
        crimp = self._crimps.get(self._shop.items[die_set].family or "") if die_set else None
        return _Running(press, die_set, crimp, at, by) if die_set and crimp else None

    def _point(self, crimp: Crimp, key: str) -> Point:
        return next(point for point in crimp.points if point.id == key)

    def _heights(self, die_set: str, point: Point) -> tuple[float, ...]:
        left = self._wear.drift_mm(die_set) - self._adjusted.get(die_set, 0.0)
        middle = (point.nominal or 0.0) + max(0.0, left)
        return tuple(round(self._rng.gauss(middle, _HEIGHT_SCATTER_MM), 3) for _ in range(point.readings))

    def _note(
        self, running: _Running, occasion: str, points: Points, gauge_class: str | None, *, looked: bool = False,
        bad: str = "", broke: tuple[str, ...] = (),
    ) -> None:  # fmt: skip
        press, crimp = running.press, running.crimp
        looks = tuple((look, look != bad) for look in crimp.looks) if looked or bad else ()
        self._notebook.note(
            Check(
                at=running.at, by=running.by, item=running.die_set, occasion=occasion, press=press, crimp=crimp.id,
                points=points, looks=looks, gauge=self._gauge(gauge_class, press) if gauge_class else None, broke=broke,
                order=self._order_on.get(press), reel=self._reel(press),
            )
        )  # fmt: skip

    def _reel(self, press: str) -> str:
        return f"R-{press[2:]}{self._shop.totals[press] // _REEL_PIECES % 1000:03d}"

    def _gauge(self, gauge_class: str, press: str) -> str | None:
        fitting = [
            gauge
            for gauge in self._shop.of_kind(Kind.GAUGE)
            if gauge not in self._shop.away and self._shop.items[gauge].gauge_class == gauge_class
        ]
        beside = [gauge for gauge in fitting if self._shop.items[gauge].place == press]
        return (beside or fitting)[int(press[2:]) % len(beside or fitting)] if fitting else None
