"""What a check of one crimp asks for, row by row; each occasion shows the rows it needs, and none forgets a value."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widget import Widget

from tui.present.checking import (
    BROKE_KEYS,
    LOOK_KEYS,
    reading_label,
    reading_words,
)  # fmt: skip
from tui.widgets.fields import Field
from tui.widgets.gauge_choice import GaugeRows
from tui.widgets.labelled_field import LabelledField
from tui.widgets.one_key import OneKey
from tui.widgets.text_rows import TextRows
from upkeep.plant.model import Point
from upkeep.said import Said, said
from upkeep.views.check_forms import CrimpForm
from upkeep.views.signing import GaugesForm
from upkeep.wording.sentences import Reader, text

BATCH: Mapping[str, Said] = {
    "order": said("Order, if you know it"),
    "reel": said("Reel of terminals"),
    "wire": said("Lot of wire"),
    "remark": said("Remark, if there is one"),
}
"""What may be said of the pieces besides, as the entry names it."""

PARTS = ("wear", "pull", "more")
"""What is opened by a key, in the order in which it stands."""


@dataclass(slots=True)
class Typed:
    """What was typed into rows so far, to be carried to the rows of another crimp."""

    readings: dict[tuple[str, int], str] = field(default_factory=dict)
    keys: dict[str, str | None] = field(default_factory=dict)
    batch: dict[str, str] = field(default_factory=dict)


class CheckRows(Vertical):
    """The rows of a crimp.  Everything is there from the start; :meth:`show` says what is in sight."""

    DEFAULT_CSS = "CheckRows { height: auto; }"

    def __init__(self, crimp: CrimpForm, gauges: Iterable[GaugesForm], typed: Typed, reader: Reader) -> None:
        super().__init__()
        self.crimp, self.units, self._reader = crimp, reader.units, reader
        self._gauges = {form.gauge_class: GaugeRows(form, reader) for form in gauges}
        points = (*crimp.pieces, *crimp.slugs, *crimp.wear, *crimp.settings, *filter(None, (crimp.pull,)))
        self._readings = {
            point.id: [_reading(point, number, typed, reader) for number in _numbers(point)] for point in points
        }
        self._looks = {
            look: _one_key(said("Look: {look}", look=look), LOOK_KEYS, look, typed, reader) for look in crimp.looks
        }
        pulls = _numbers(crimp.pull) if crimp.pull else range(0)
        self._broke = [_one_key(_how_it_broke(piece), BROKE_KEYS, f"broke {piece}", typed, reader) for piece in pulls]
        self._batch = {
            key: LabelledField(text(label, reader), typed.batch.get(key, "")) for key, label in BATCH.items()
        }
        self._note = TextRows(classes="-strong")
        self._occasion: str | None = None
        self._opened: frozenset[str] = frozenset()

    def compose(self) -> ComposeResult:
        """Gauges, what is measured, what is looked at, the pull test, settings, order and reel."""
        own = self.crimp.pull.gauge_class if self.crimp.pull else None
        others = (*self.crimp.pieces, *self.crimp.slugs, *self.crimp.wear, *self.crimp.settings)
        shared = own in {point.gauge_class for point in others}
        yield from (choice for key, choice in self._gauges.items() if key != own or shared)
        for point in (*self.crimp.pieces, *self.crimp.slugs):
            yield from self._readings[point.id]
        yield from self._looks.values()
        for point in self.crimp.wear:
            yield from self._readings[point.id]
        yield self._note
        yield from (choice for key, choice in self._gauges.items() if key == own and not shared)
        for number, broke in enumerate(self._broke):
            yield self._readings[self.pull.id][number]
            yield broke
        for point in self.crimp.settings:
            yield from self._readings[point.id]
        yield from self._batch.values()

    # What is in sight

    def show(self, occasion: str | None, opened: Iterable[str]) -> None:
        """Shows what an occasion asks for, and the parts that were opened besides: "pull", "wear", "more"."""
        self._occasion, self._opened = occasion, frozenset(opened)
        shown = {point.id for point in self.points}
        for key, rows in self._readings.items():
            for reading in rows:
                reading.display = key in shown
        pulled = "pull" in self._opened
        for part in self._broke:
            part.display = pulled
        self._note.show([text(self.crimp.pull_note, self._reader)] if pulled and self.crimp.pull_note else [])
        for look, asked in self._looks.items():
            asked.display = look in self.crimp.looked_at(occasion)
        for entry in self._batch.values():
            entry.display = "more" in self._opened
        classes = {point.gauge_class for point in self.points}
        for key, choice in self._gauges.items():
            choice.display = key in classes

    @property
    def pull(self) -> Point:
        """The pull test; only where the crimp has one."""
        assert self.crimp.pull is not None
        return self.crimp.pull

    @property
    def points(self) -> tuple[Point, ...]:
        """The points in sight."""
        return (*self.asked, *(point for part in PARTS if part in self._opened for point in self._points_of(part)))

    def _points_of(self, part: str) -> tuple[Point, ...]:
        if part == "wear":
            return tuple(point for point in self.crimp.wear if point not in self.asked)
        if part == "pull":
            return (self.crimp.pull,) if self.crimp.pull else ()
        return self.crimp.besides(self._occasion)

    @property
    def asked(self) -> tuple[Point, ...]:
        """The points that the occasion asks for."""
        return self.crimp.asked_at(self._occasion)

    # What was filled in

    def fields(self, point: Point) -> tuple[Field, ...]:
        """The fields of a point's readings."""
        return tuple(row.field for row in self._readings[point.id])

    def looks(self) -> Iterator[tuple[str, OneKey]]:
        """The looks in sight with what was answered."""
        return ((look, row) for look, row in self._looks.items() if row.display)

    def broke(self) -> tuple[OneKey, ...]:
        """How each pulled piece broke; none while the pull test is not open."""
        return tuple(self._broke) if "pull" in self._opened else ()

    def gauge(self, gauge_class: str) -> tuple[GaugeRows, str | None]:
        """The choice of a gauge of a class, and the gauge chosen (None: none so far)."""
        choice = self._gauges[gauge_class]
        return choice, choice.gauge

    def choose_gauge(self, gauge: str) -> bool:
        """Chooses a gauge for the points of its class; whether this check asks for one."""
        return any(rows.choose_gauge(gauge) for rows in self._gauges.values())

    def named(self) -> dict[str, str]:
        """What was said of the pieces besides."""
        return {key: row.field.value.strip() for key, row in self._batch.items()}

    def gate(self, part: str) -> Widget | None:
        """Where a part begins; None: this crimp has nothing in it."""
        if part == "more":
            return self._batch["order"].field
        points = self._points_of(part)
        return self.fields(points[0])[0] if points else None

    def open_field(self) -> Widget | None:
        """The first thing in sight that is still to be filled in; None: nothing is."""
        gauges = (row for row in self._gauges.values() if row.display and row.chosen is None)
        empty = (field for point in self.asked for field in self.fields(point) if not field.value)
        looks = (row for _, row in self.looks() if row.key is None)
        return next((row for rows in (gauges, empty, looks) for row in rows), None)

    def typed(self) -> Typed:
        """All that was filled in, in sight or not."""
        readings = {
            (key, number): row.field.value
            for key, rows in self._readings.items()
            for number, row in enumerate(rows, start=1)
        }
        broke = {f"broke {number}": row.key for number, row in enumerate(self._broke, start=1)}
        return Typed(readings, {**{look: row.key for look, row in self._looks.items()}, **broke}, self.named())


def _numbers(point: Point) -> range:
    return range(1, point.readings + 1)


def _reading(point: Point, number: int, typed: Typed, reader: Reader) -> LabelledField:
    value = typed.readings.get((point.id, number), "")
    return LabelledField(
        reading_label(point, number, reader), value, judge=partial(reading_words, point, reader=reader)
    )


def _how_it_broke(piece: int) -> Said:
    return said("   piece {piece}: how it broke", piece=piece)


def _one_key(label: Said, keys: Mapping[str, Said], name: str, typed: Typed, reader: Reader) -> OneKey:
    words = {key: text(word, reader) for key, word in keys.items()}
    return OneKey(text(label, reader), words, typed.keys.get(name))
