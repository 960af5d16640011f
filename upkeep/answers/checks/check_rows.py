"""One check as it was written, with the limits and the state of its gauge valid then."""

from __future__ import annotations

from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.keeping.context import Context
from upkeep.quality import settings
from upkeep.quality.gauges import state_said
from upkeep.views.checks import CheckRow


class CheckRows:
    """Makes the rows of checks of one book."""

    def __init__(self, context: Context) -> None:
        self._context, self._defined = context, context.defined
        self._zone = context.known.zone
        self._gauges = GaugeStates(context)

    def row(self, recorded: Recorded) -> CheckRow:
        """The row of an entry that is a check."""
        check = recorded.entry
        assert isinstance(check, Check)
        state = None if check.gauge is None else self._gauges.at(check.gauge, check.at)
        return CheckRow(
            entry=recorded.id,
            at=check.at,
            by=self._context.names.of(check.by, recorded.id),
            occasion=check.occasion,
            crimp=check.crimp,
            gauge=check.gauge,
            gauge_doubt=None if state is None or state.valid else state.why,
            points=check.points,
            units=tuple((key, self.unit(check, key)) for key, _ in check.points),
            limits=check.limits,
            looks=check.looks,
            broke=check.broke,
            table=check.table,
            failed=check.failed,
            order=check.order,
            reel=check.reel,
            wire=check.wire,
            remark=check.remark,
            item=check.item,
            press=check.press,
            gauge_note=None if state is None else state_said(state, check.at, self._zone),
            proof=check.origin.proof,
        )

    def unit(self, check: Check, key: str) -> str:
        """The unit of a characteristic of a check; "" where nothing defines it."""
        crimp = self._defined.crimp(check.crimp, check.at) if check.crimp else None
        points = {point.id: point for point in crimp.points} if crimp else {}
        point = points.get(key) or settings.SETTINGS.get(key)
        return point.unit if point else ""
