"""Checks as a person asks for them: gauges, set-ups."""

from __future__ import annotations

from datetime import datetime

from upkeep.book.check_views import GaugeReport, SetUp
from upkeep.book.gauge_reports import GaugeReports
from upkeep.book.gauge_states import GaugeStates
from upkeep.book.reading import Views
from upkeep.book.set_ups import SetUps
from upkeep.quality.gauges import GaugeState


class CheckViews:
    """Checks of one book as it stands (or stood) at a moment."""

    def __init__(self, views: Views, at: datetime) -> None:
        self._views, self._at = views, at

    def gauge_state(self, gauge: str, moment: datetime) -> GaugeState:
        """Whether a gauge counted at a moment, by all that is known now."""
        return GaugeStates(self._views.file, self._views.known).at(gauge, moment)

    def gauge(self, gauge: str) -> GaugeReport:
        """A gauge with what vouches for it, who uses it, and which results turn where it was found to read wrong."""
        return GaugeReports(self._views, self._at).report(gauge)

    def set_up(self, item: str) -> SetUp:
        """The set-up of an item as one page; raises :class:`NotFound` where nothing was checked in it."""
        return SetUps(self._views).page(item, self._at)
