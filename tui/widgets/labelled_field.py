"""A field with its label before it and, behind it, what the typed text means."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Horizontal

from tui.present.words import wrapped
from tui.widgets.fields import Field
from tui.widgets.text_rows import TextRows

_LABEL_WIDTH, _NARROW = 37, 26
"""Cells of the label, and in a window of less than 80 columns, where the words behind the field need their room."""


class LabelledField(Horizontal):
    """One value to type.  ``judge`` turns the typed text into the words beside it; without it there are none."""

    DEFAULT_CSS = """
    LabelledField { height: auto; }
    LabelledField .label { width: 37; }
    LabelledField.-short Field { width: 11; }
    LabelledField .verdict { padding-left: 1; }
    """

    def __init__(
        self, label: str, value: str = "", judge: Callable[[str], str] | None = None, *, id: str | None = None
    ) -> None:
        super().__init__(id=id, classes="-short" if judge else None)
        self.field = Field(value)
        self._label, self._verdict = TextRows(classes="label"), TextRows(classes="verdict")
        self._label_text = label
        self._label.show(wrapped(label, _LABEL_WIDTH - 1))
        self._judge = judge

    def compose(self) -> ComposeResult:
        """Label, field, verdict."""
        yield self._label
        yield self.field
        yield self._verdict

    def on_resize(self) -> None:
        """Breaks the label for its room."""
        narrow = self.screen.has_class("-small")
        self._label.show(wrapped(self._label_text, (_NARROW if narrow else _LABEL_WIDTH) - 1))

    def on_mount(self) -> None:
        """Judges what stands in the field from the start."""
        self._show_verdict()

    def on_input_changed(self) -> None:
        """Judges as one types."""
        self._show_verdict()

    def _show_verdict(self) -> None:
        if self._judge is not None:
            words = self._judge(self.field.value)
            self._verdict.show([words] if words else ())
