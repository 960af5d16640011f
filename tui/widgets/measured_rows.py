"""The measured points of a sign-off: the gauge of each kind before its first point, the readings of each point; what
was measured in a check of the same set-up stands there in one row, and is measured anew only by choice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widget import Widget

from tui.present.signing import lacks_reading, reading_label, reading_of, reading_words
from tui.widgets.fields import Field
from tui.widgets.folded_choice import FoldedChoice
from tui.widgets.gauge_choice import GaugeRows
from tui.widgets.labelled_field import LabelledField
from tui.widgets.unfilled import Unfilled
from upkeep.plant.model import Point
from upkeep.said import said
from upkeep.units.instants import Zone
from upkeep.views.signing import SignForm, taken_by_point
from upkeep.wording.points import taken_said
from upkeep.wording.sentences import Reader, text

POINT_WIDTH = 26
"""Letters of the title of a point, or of a kind of gauge, beside what is chosen for it."""


class MeasuredRows(Vertical):
    """All points of a form, in its order."""

    DEFAULT_CSS = "MeasuredRows { height: auto; }"

    def __init__(self, form: SignForm, reader: Reader, zone: Zone) -> None:
        super().__init__()
        self._form, self._reader = form, reader
        self._gauges = {gauges.gauge_class: GaugeRows(gauges, reader, POINT_WIDTH) for gauges in form.gauges}
        anew = text(said("2  measured anew"), reader)
        self._taken = {
            key: FoldedChoice(
                text(said("{point}", point=self._point(key).title), reader),
                (text(said("1  {taken}", taken=taken_said(taken, self._point(key).unit, zone)), reader), anew),
                0,
                reader,
                POINT_WIDTH,
            )
            for key, taken in taken_by_point(form).items()
        }
        self._readings = {
            point.id: [
                LabelledField(reading_label(point, number, reader), judge=partial(reading_words, point, reader=reader))
                for number in range(1, point.readings + 1)
            ]
            for point in form.points
        }

    def _point(self, key: str) -> Point:
        return next(point for point in self._form.points if point.id == key)

    def compose(self) -> ComposeResult:
        """Gauge, then what it measures; a gauge stands once."""
        shown: set[str] = set()
        for point in self._form.points:
            kind = self._form.classes.get(point.id)
            if kind is not None and kind not in shown:
                shown.add(kind)
                yield self._gauges[kind]
            if point.id in self._taken:
                yield self._taken[point.id]
            yield from self._readings[point.id]
        yield from (rows for kind, rows in self._gauges.items() if kind not in shown)

    def on_mount(self) -> None:
        """Shows what is to be typed."""
        self.show_asked()

    def show_asked(self) -> None:
        """Shows the readings that are measured for this, and the gauges they ask for."""
        anew = {point.id for point in self._form.points if not self._is_taken(point.id)}
        for key, rows in self._readings.items():
            for row in rows:
                row.display = key in anew
        kinds = {self._form.classes.get(key) for key in anew}
        for kind, choice in self._gauges.items():
            choice.display = kind in kinds or not self._form.points

    def _is_taken(self, key: str) -> bool:
        return key in self._taken and self._taken[key].chosen == 0

    @property
    def typed(self) -> bool:
        """Whether anything was typed."""
        return any(row.field.value for rows in self._readings.values() for row in rows)

    def choose_gauge(self, gauge: str) -> bool:
        """Chooses a gauge for what it measures, and gives whether this form asks for it."""
        return any(rows.choose_gauge(gauge) for rows in self._gauges.values())

    def opened_by(self, choice: Widget | None) -> Field | None:
        """The first reading of a point that was just chosen to be measured anew; None: it is another choice."""
        anew = (key for key, rows in self._taken.items() if rows is choice and rows.chosen != 0)
        return next((self._readings[key][0].field for key in anew), None)

    def open_field(self) -> Widget | None:
        """The first thing in sight that is still to be filled in; None: nothing is."""
        return next((row for row in self._open() if row.display), None)

    def _open(self) -> Iterator[Widget]:
        yield from (rows for rows in self._gauges.values() if rows.chosen is None and rows.display)
        for rows in self._readings.values():
            yield from (row.field for row in rows if row.display and not row.field.value)

    # What was filled in

    def values(self) -> Mapping[str, tuple[float, ...]]:
        """The values measured for this, by point; raises :class:`Unfilled` at the first that lacks."""
        points = [point for point in self._form.points if not self._is_taken(point.id)]
        return {point.id: tuple(self._value(point, row.field) for row in self._readings[point.id]) for point in points}

    def _value(self, point: Point, field: Field) -> float:
        value = reading_of(point, field.value, self._reader.units).value
        if value is None:
            raise Unfilled(lacks_reading(point, self._reader.units), field)
        return value

    def gauges(self) -> Mapping[str, str | None]:
        """The gauges chosen, by kind; raises :class:`Unfilled` at the first in sight that is not chosen."""
        for kind, rows in self._gauges.items():
            if rows.display and rows.gauge is None:
                raise Unfilled(said("Choose the {gauge_class}: press its number.", gauge_class=kind), rows)
        return {kind: rows.gauge for kind, rows in self._gauges.items() if rows.display}
