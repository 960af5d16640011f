"""How the screens look: dark ink on paper, light ink on dark, or the terminal's own two colours.

Colour helps the eye to the most urgent rows.  It says nothing that a sign and a word beside it do not say.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from rich.style import Style
from textual.app import App
from textual.theme import Theme

from upkeep.due.states import State


class Look(StrEnum):
    """What a person may choose."""

    LIGHT = "light"
    DARK = "dark"
    PLAIN = "plain"


THEMES: Mapping[Look, Theme] = {
    Look.LIGHT: Theme(
        name="ink on paper", primary="#1f2a36", foreground="#1f2a36", background="#f3efe4", surface="#f3efe4",
        panel="#f3efe4", error="#9b1c1c", warning="#6b4a00", dark=False,
    ),
    Look.DARK: Theme(
        name="lamp at night", primary="#e6e1d3", foreground="#e6e1d3", background="#161c22", surface="#161c22",
        panel="#161c22", error="#ff9a8f", warning="#f2c66d", dark=True,
    ),
}  # fmt: skip
"""Paper is readable in a bright hall, the other one at night.

Every ink has a contrast of 4.5 to 1 at least against its ground, reversed as well (WCAG 2.2, success criterion 1.4.3).
"""

_URGENT = {State.STOP: "error", State.HELD: "error", State.OVERDUE: "error", State.DUE: "warning"}


def use(app: App[None], look: Look) -> None:
    """Gives an application one of the themes."""
    app.register_theme(THEMES[look])
    app.theme = THEMES[look].name


def ink_of(app: App[object], state: State) -> Style:
    """What a row in a state is written with beside the style of all rows."""
    ink = _URGENT.get(state)
    if ink is None or app.ansi_color:
        return Style.null()
    return Style(color=getattr(app.current_theme, ink), bold=ink == "error")
