"""The checks of one characteristic of an item in order, ready to be charted or judged together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice

from upkeep.answers.checks.results import Results
from upkeep.entries.checking import Check
from upkeep.errors import NotFound, Refused
from upkeep.frozen import frozen
from upkeep.keeping.context import Context
from upkeep.keeping.definitions import near_misses
from upkeep.plant.crimps import PULL
from upkeep.plant.model import Point
from upkeep.quality.capability import capable, pulled
from upkeep.quality.control import Measured, control
from upkeep.said import Join, Numeral, Said, listed, said
from upkeep.units.instants import utc_text
from upkeep.views.charts import CapabilityReport, Charted, PullReport

_BEFORE = ("set-up", "as-found")
"""Occasions whose pieces were not let go as they were."""


@frozen
class _Row:
    entry: int
    check: Check
    values: tuple[float, ...]

    @property
    def measured(self) -> Measured:
        return Measured(self.entry, self.check.at, self.check.crimp, self.values)


class CheckSeries:
    """Reads such series from one book, as it stands at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._measurements, self._entries = context.measurements, context.entries
        self._defined, self._results = context.defined, Results(context)
        self._left: Counter[Said] = Counter()

    def chart(self, item: str, point: str, kind: str | None, of_nominal: bool, crimp: str | None, last: int) -> Charted:
        """The charts of a characteristic over its last checks; raises :class:`Refused` where they would say nothing."""
        rows = self._rows(item, point, crimp, last)
        crimps = tuple(dict.fromkeys(row.check.crimp for row in rows if row.check.crimp))
        if len(crimps) > 1 and not of_nominal:
            raise Refused(
                said(
                    "{point} of {item} was checked on {crimps}, each with its own nominal. Chart the "
                    "deviation from nominal (--of-nominal), or one crimp (--crimp).",
                    point=point,
                    item=item,
                    crimps=listed(crimps),
                )
            )
        if of_nominal:
            rows = [moved for row in rows if (moved := self._from_nominal(row, point)) is not None]
        checks = tuple(row.measured for row in rows)
        limits = {_limits(row.check, point) for row in rows}
        lower, upper = limits.pop() if len(limits) == 1 and not of_nominal else (None, None)
        drawn = control(checks, kind)
        return Charted(
            item, point, self._unit(rows, point), of_nominal, crimps, checks, lower, upper, drawn, self._left_out()
        )

    def capability(self, item: str, point: str, crimp: str | None, last: int) -> CapabilityReport:
        """The capability of a characteristic; raises :class:`Refused` with the reason where none is given."""
        rows = self._under_one_limit(self._rows(item, point, crimp, last), point)
        lower, upper = _limits(rows[-1].check, point)
        values = [value for row in rows for value in row.values]
        return CapabilityReport(
            item, point, rows[-1].check.crimp, self._unit(rows, point), lower, upper, len(rows), rows[0].check.at,
            rows[-1].check.at, capable(values, lower, upper), self._left_out(),
        )  # fmt: skip

    def pulls(self, item: str, crimp: str | None, last: int) -> PullReport:
        """What the last pulls of a crimp say."""
        rows = self._under_one_limit(self._rows(item, PULL, crimp, last), PULL)
        newest = rows[-1].check
        minimum, _ = _limits(newest, PULL)
        forces = [value for row in rows for value in row.values]
        broke = [how for row in rows for how in row.check.broke]
        size = self._defined.crimp(newest.crimp, newest.at).size if newest.crimp else ""
        return PullReport(
            item, newest.crimp, size, newest.table, len(rows), rows[0].check.at, newest.at,
            pulled(rows[-1].values, newest.broke, minimum), pulled(forces, broke, minimum), self._left_out(),
        )  # fmt: skip

    # Rows

    def _rows(self, item: str, point: str, crimp: str | None, last: int) -> list[_Row]:
        self._known.item(item)
        if crimp is not None:
            self._known.crimp(crimp)
        rows = list(islice(self._read(item, point, crimp), last))[::-1]
        let_go = [row for row in rows if row.check.occasion not in _BEFORE]
        counting = [row for row in let_go if not self._results.doubt(row.check.gauge, row.check.at)]
        self._left[said("as found, before adjusting")] += len(rows) - len(let_go)
        self._left[said("with a gauge that was not valid")] += len(let_go) - len(counting)
        if not counting:
            raise self._nothing(item, point, crimp)
        return counting

    def _nothing(self, item: str, point: str, crimp: str | None) -> NotFound:
        """Why no value of a point counts: all were left out, all were of other crimps or by eye, or it has none."""
        what = (
            said("check of {item} with readings of", item=item)
            if crimp is None
            else said("check of {item} on {crimp} with readings of", item=item, crimp=crimp)
        )
        known = self._measurements.points_checked(item)
        if left_out := self._left_out():
            return NotFound(what, point, hint=said("Left out: {left_out}.", left_out=listed(left_out, Join.SEMICOLON)))
        if point in known:
            return NotFound(what, point, hint=said("It was judged by eye only.") if crimp is None else None)
        points = listed(known) if known else said("nothing")
        hint = said("Checked on {item}: {points}.", item=item, points=points)
        return NotFound(what, point, near_misses(point, known), hint)

    def _read(self, item: str, point: str, crimp: str | None) -> Iterator[_Row]:
        """Newest first."""
        for row in self._measurements.series(item, point, utc_text(self._at)):
            recorded = self._entries.by_number(row.entry)
            if recorded is None or not isinstance(recorded.entry, Check) or crimp not in (None, recorded.entry.crimp):
                continue
            values = dict(recorded.entry.points).get(point)
            if values is not None:
                yield _Row(recorded.id, recorded.entry, values)

    def _under_one_limit(self, rows: Sequence[_Row], point: str) -> list[_Row]:
        """The checks of the crimp made last, under the limits of its last check."""
        newest = rows[-1].check
        alike = [
            row for row in rows
            if row.check.crimp == newest.crimp and _limits(row.check, point) == _limits(newest, point)
        ]  # fmt: skip
        self._left[said("for another crimp, or under other limits")] += len(rows) - len(alike)
        return alike

    def _from_nominal(self, row: _Row, point: str) -> _Row | None:
        nominal = self._nominal(row.check, point)
        if nominal is None:
            self._left[said("without a nominal or two limits")] += 1
            return None
        return replace(row, values=tuple(round(value - nominal, 9) for value in row.values))

    def _nominal(self, check: Check, point: str) -> float | None:
        """What the characteristic should be: the nominal of its crimp then, else the middle of its limits."""
        defined = self._point(check, point)
        if defined is not None and defined.nominal is not None:
            return defined.nominal
        lower, upper = _limits(check, point)
        return None if lower is None or upper is None else (lower + upper) / 2

    def _point(self, check: Check, point: str) -> Point | None:
        points = self._defined.crimp(check.crimp, check.at).points if check.crimp else ()
        return next((candidate for candidate in points if candidate.id == point), None)

    def _unit(self, rows: Sequence[_Row], point: str) -> str:
        defined = self._point(rows[-1].check, point) if rows else None
        return defined.unit if defined else ""

    def _left_out(self) -> tuple[Said, ...]:
        return tuple(said("{n} {why}", n=Numeral(number), why=why) for why, number in self._left.items() if number)


def _limits(check: Check, point: str) -> tuple[float | None, float | None]:
    return next(((lower, upper) for key, lower, upper in check.limits if key == point), (None, None))
