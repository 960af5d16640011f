"""Sign-offs as they were given: by whom, allowed by what, by which instruction and limits, with which gauges."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.answers.evidence.authority import Then
from upkeep.entries.entry import Recorded
from upkeep.entries.signing import Sign
from upkeep.keeping.context import Context
from upkeep.keeping.limits_in_force import is_within
from upkeep.plant.definition import Defined
from upkeep.quality.gauges import state_said
from upkeep.store.evidence.asked import Asked
from upkeep.views.evidence.dossier import Signed, SignedValue


class SignedOnes:
    """Makes the rows of sign-offs of one book."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self._gauges, self._then, self._asked = GaugeStates(context), Then(context), Asked(context.file)
        self._seconds: dict[str, dict[int, int]] = {}

    def row(self, recorded: Recorded) -> Signed:
        """The row of an entry that is a sign-off."""
        sign = recorded.entry
        assert isinstance(sign, Sign)
        task = self._context.limits.task(recorded)
        row = self._then.defined(Defined.TASK, sign.task, recorded.id)
        day = self._known.zone.day(sign.at)
        second = self._second(recorded, sign.item)
        item = self._known.item(sign.item)
        return Signed(
            entry=recorded.id,
            item=sign.item,
            task=sign.task,
            title=task.title,
            at=sign.at,
            written_at=sign.recorded_at or sign.at,
            by=self._context.names.of(sign.by, recorded.id),
            proof=sign.origin.proof,
            authority=self._then.authority(sign.by, recorded.id, task.by, (item.kind.value, task.id), day),
            occurrence=sign.occurrence,
            instruction=row.entry if row is not None else None,
            instruction_at=self._since(row.entry) if row is not None else None,
            grade=sign.grade,
            values=tuple(self._values(recorded, sign)),
            out=sign.out,
            second_by=self._context.names.of(second.entry.by, second.id) if second else None,
            second_at=second.entry.at if second else None,
            second_proof=second.entry.origin.proof if second else None,
            second_asked=task.second_signature,
            remark=sign.remark,
            because=sign.because,
            certificate=sign.calibration.certificate if sign.calibration else None,
        )

    def _since(self, entry: int) -> datetime | None:
        recorded = self._context.entries.by_number(entry)
        return recorded.entry.at if recorded is not None else None

    def _second(self, recorded: Recorded, item: str) -> Recorded | None:
        """The second signature on a sign-off; None: there is none."""
        if item not in self._seconds:
            self._seconds[item] = self._asked.second_signatures(item)
        number = self._seconds[item].get(recorded.id)
        return self._context.entries.by_number(number) if number is not None else None

    def _values(self, recorded: Recorded, sign: Sign) -> Iterator[SignedValue]:
        points, taken = self._context.limits.points(recorded), dict(sign.taken)
        for key, values in sign.points:
            point, gauge = points.get(key), sign.gauge_of(key)
            state = self._gauges.at(gauge, sign.at) if gauge is not None and gauge in self._known.items else None
            yield SignedValue(
                point=key,
                title=point.title if point else key,
                values=values,
                unit=point.unit if point else "",
                lower=point.lower if point else None,
                upper=point.upper if point else None,
                good=point is None or is_within(point, values),
                gauge=gauge,
                gauge_note=state_said(state, sign.at, self._known.zone) if state else None,
                gauge_counts=state is None or state.valid,
                from_check=taken.get(key),
            )
