"""The sign-off form: caution, steps, measured points, gauge, grade, remark, name.  Nothing typed is lost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at, foot_at
from tui.present.people import found_text, meant, unknown_text
from tui.present.signing import (
    GRADES,
    answers_text,
    gauge_text,
    grade_text,
    reading_label,
    reading_of,
    work_text,
)
from tui.present.words import wrapped
from tui.screens.base import DeskScreen
from tui.screens.desk import Desk, Here, Signed
from tui.screens.signing import as_extra, sign_off, signed_as
from tui.widgets.choice import Choice
from tui.widgets.fields import Field
from tui.widgets.key_line import KeyLine
from tui.widgets.save_bar import SaveBar
from tui.widgets.text_rows import TextRows
from upkeep.book.views import SignForm
from upkeep.entries.kinds import Sign
from upkeep.errors import AlreadySigned
from upkeep.plant.model import Point

_STEP_INDENT = 4


class Unfilled(Exception):
    """Something in the form is missing or unreadable: what to say, and the field to go to."""

    def __init__(self, sentence: str, field: Widget) -> None:
        super().__init__(sentence)
        self.field = field


class SignScreen(DeskScreen[Signed | None]):
    """Asks for all that a sign-off needs; on save it is written, or the reason why not is shown below."""

    BINDINGS = bindings_at(Where.FORM)
    DEFAULT_CSS = """
    SignScreen VerticalScroll { height: 1fr; padding: 0 1; }
    SignScreen Horizontal { height: auto; }
    SignScreen .label { width: 44; }
    SignScreen .reading { width: 14; }
    SignScreen .verdict { padding-left: 1; }
    SignScreen #head { padding-left: 1; }
    """

    def __init__(self, desk: Desk, form: SignForm) -> None:
        super().__init__(desk)
        self._form = form
        self._leaving = False

    # Laying the form out

    def compose(self) -> ComposeResult:
        """The head, the form itself, the sentences, the keys."""
        yield TextRows(id="head", classes="-loud")
        with VerticalScroll(can_focus=False):
            yield TextRows(id="caution", classes="-loud")
            yield TextRows(id="answers")
            yield TextRows(id="steps")
            for index, (point, number) in enumerate(self._readings()):
                yield from _row(f"reading-{index}", reading_label(point, number), "reading")
            yield from self._choices()
            yield from _row("remark", "Remark", "text")
            yield from _row("person", "Name: your short id", "reading", self.desk.here.id if self.desk.here else "")
            yield TextRows(id="meaning", classes="-strong")
            yield SaveBar("[ Save: press Enter ]")
        yield TextRows(id="said", classes="-strong")
        yield KeyLine(foot_at(Where.FORM))

    def _choices(self) -> Iterator[Widget]:
        gauges = self._form.gauges
        if gauges:
            valid = [index for index, gauge in enumerate(gauges) if gauge.valid]
            yield TextRows(id="gauge-label", classes="-strong")
            yield Choice([gauge_text(gauge) for gauge in gauges], valid[0] if len(valid) == 1 else None, id="gauge")
        if self._form.graded:
            yield TextRows(id="grade-label", classes="-strong")
            yield Choice([grade_text(grade) for grade in GRADES], id="grade")

    def _readings(self) -> list[tuple[Point, int]]:
        return [(point, number) for point in self._form.points for number in range(1, point.readings + 1)]

    def on_mount(self) -> None:
        """Fills the texts; the first field waits for input."""
        if self._form.gauges:
            self.query_one("#gauge-label", TextRows).show(["Gauge you measured with"])
        if self._form.graded:
            self.query_one("#grade-label", TextRows).show(["Grade"])
        for index, (point, number) in enumerate(self._readings()):
            self._texts(f"#reading-{index}-label", wrapped(reading_label(point, number), 42))
        self._texts("#remark-label", ["Remark, if there is one"])
        self._texts("#person-label", ["Name: your short id"])
        self._show_person(self._field("person").value)
        self._fields()[0].focus(scroll_visible=False)

    def on_resize(self) -> None:
        """Breaks the texts for the width."""
        form, width = self._form, max(self.app.size.width - 3, 20)
        self._texts("#head", [f"Sign off: {row}" for row in wrapped(work_text(form.line), width - 12, 1)])
        caution = wrapped(form.caution, width - 2)
        self._texts("#caution", [f" {row:<{width - 2}} " for row in caution])
        self._texts("#answers", wrapped(answers_text(form.line), width))
        steps = [
            f"{mark:>2}  {row}" if first else " " * _STEP_INDENT + row
            for mark, step in enumerate(form.steps, start=1)
            for first, row in zip([True, *[False] * 99], wrapped(step, width - _STEP_INDENT), strict=False)
        ]
        self._texts("#steps", steps)
        self._texts("#meaning", wrapped(f"Your name will mean: {form.meaning}", width))

    def _texts(self, selector: str, rows: object) -> None:
        self.query_one(selector, TextRows).show(tuple(rows))  # type: ignore[arg-type]

    def _field(self, id_: str) -> Field:
        return self.query_one(f"#{id_}", Field)

    def _fields(self) -> list[Widget]:
        return [widget for widget in self.query("*") if isinstance(widget, Field | Choice | SaveBar)]

    # Typing

    def on_input_changed(self, event: Input.Changed) -> None:
        """Says beside a field what its text means."""
        id_ = event.input.id or ""
        if id_ == "person":
            self._show_person(event.value)
        elif id_.startswith("reading-"):
            point, _ = self._readings()[int(id_.removeprefix("reading-"))]
            self._texts(f"#{id_}-verdict", [reading_of(point, event.value).words])

    def _show_person(self, typed: str) -> None:
        self._texts("#person-verdict", [found_text(self._form.signers, typed)])

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Goes on to the next field."""
        event.stop()
        self.action_next_field()

    def action_next_field(self) -> None:
        """Goes on to the next field; on the last one it saves."""
        if isinstance(self.focused, SaveBar):
            self.action_save()
        else:
            self.focus_next()

    # Saving

    def action_save(self) -> None:
        """Writes the sign-off."""
        self.do(partial(self._save, extra=False))

    def action_save_extra(self) -> None:
        """Writes the work as an extra."""
        self.do(partial(self._save, extra=True))

    async def _save(self, extra: bool) -> None:
        try:
            by = self._person()
            entry = as_extra(self._entry(by)) if extra else self._entry(by)
        except Unfilled as missing:
            missing.field.focus()
            self.say(str(missing))
            return
        try:
            self.dismiss(await signed_as(self.desk, self._form, by, entry))
        except AlreadySigned as refusal:
            self.say(f"{refusal} Ctrl+E saves it so.")

    def _person(self) -> Here:
        field = self._field("person")
        person = meant(self._form.signers, field.value)
        if person is None:
            raise Unfilled(unknown_text(self._form.signers, field.value), field)
        return Here(*person)

    def _entry(self, by: Here) -> Sign:
        grade = self._chosen("grade", "Say the grade: 0 to 4.") if self._form.graded else None
        place = self._chosen("gauge", "Say which gauge you measured with.") if self._form.gauges else None
        return replace(
            sign_off(self.desk, self._form, by),
            points=self._points(),
            gauge=None if place is None else self._form.gauges[place].id,
            grade=grade,
            remark=self._field("remark").value.strip(),
        )

    def _points(self) -> tuple[tuple[str, tuple[float, ...]], ...]:
        values: dict[str, tuple[float, ...]] = {}
        for index, (point, number) in enumerate(self._readings()):
            field = self._field(f"reading-{index}")
            value = reading_of(point, field.value).value
            if value is None:
                raise Unfilled(f"Type reading {number} of {point.title} in {point.unit}, like 1.25 or 1,25.", field)
            values[point.id] = (*values.get(point.id, ()), value)
        return tuple(values.items())

    def _chosen(self, id_: str, sentence: str) -> int:
        choice = self.query_one(f"#{id_}", Choice)
        if choice.chosen is None:
            raise Unfilled(sentence, choice)
        return choice.chosen

    def action_leave(self) -> None:
        """Goes back; asks for a second press once something was typed."""
        typed = any(field.value for field in self.query(Field) if field.id != "person")
        if typed and not self._leaving:
            self._leaving = True
            self.say("Press Esc once more to go back; what you typed is then gone.")
        else:
            self.dismiss(None)


def _row(id_: str, label: str, kind: str, value: str = "") -> Iterator[Widget]:
    """A label, a field, and room for the words beside it."""
    field = Field(value, id=id_, placeholder="" if kind == "text" else "…")
    field.set_class(kind == "reading", "reading")
    yield Horizontal(
        TextRows(id=f"{id_}-label", classes="label"), field, TextRows(id=f"{id_}-verdict", classes="verdict")
    )
