"""Checks as a person asks for them: gauges, set-ups, charts, capability, pulls."""

from __future__ import annotations

from upkeep.answers.checks.gauges import GaugeReports
from upkeep.answers.checks.series import CheckSeries
from upkeep.answers.checks.set_ups import SetUps
from upkeep.keeping.context import Context
from upkeep.views.charts import CapabilityReport, Charted, PullReport
from upkeep.views.checks import GaugeLine, GaugeReport, SetUp

LAST = 50
"""How many checks are looked back on, unless somebody says otherwise."""


class CheckViews:
    """Checks of one book as it stands (or stood) at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._at = context, context.moment

    def gauges(self) -> tuple[GaugeLine, ...]:
        """The register of gauges: whether each counts, those that do not first."""
        return GaugeReports(self._context).register()

    def gauge(self, gauge: str) -> GaugeReport:
        """A gauge with what vouches for it, who uses it, and which results turn where it was found to read wrong."""
        return GaugeReports(self._context).report(gauge)

    def set_up(self, item: str) -> SetUp:
        """The set-up of an item as one page; raises :class:`NotFound` where nothing was checked in it."""
        return SetUps(self._context).page(item)

    def chart(
        self,
        item: str,
        point: str,
        kind: str | None = None,
        *,
        of_nominal: bool = False,
        crimp: str | None = None,
        last: int = LAST,
    ) -> Charted:
        """The control charts of a characteristic over its last checks; raises :class:`Refused` below 8 of them."""
        return CheckSeries(self._context).chart(item, point, kind, of_nominal, crimp, last)

    def capability(self, item: str, point: str, *, crimp: str | None = None, last: int = LAST) -> CapabilityReport:
        """The capability of a characteristic; raises :class:`Refused` below 25 readings, with the reason."""
        return CheckSeries(self._context).capability(item, point, crimp, last)

    def pulls(self, item: str, *, crimp: str | None = None, last: int = LAST) -> PullReport:
        """What the last pulls on an item say, and what they leave open."""
        return CheckSeries(self._context).pulls(item, crimp, last)
