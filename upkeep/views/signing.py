"""What a sign-off asks for, as a frozen view."""

from __future__ import annotations

from upkeep.frozen import frozen
from upkeep.plant.model import Point
from upkeep.said import Said
from upkeep.views.board import BoardLine


@frozen
class GaugeChoice:
    """A gauge that may measure the points of a task; ``valid`` False names its reason in ``note``."""

    id: str
    title: str
    valid: bool
    note: Said


@frozen
class Caution:
    """What to mind before hands go in, the lines it is for, and their kind of energy control."""

    text: Said
    lines: tuple[str, ...]
    energy: str


@frozen
class SignForm:
    """All a sign-off asks for, cautions first.  ``signers`` are the people who may sign it; ``calibrates``: it is the
    calibration of a gauge, and its certificate may be told with it."""

    line: BoardLine
    caution: Said
    steps: tuple[str, ...]
    points: tuple[Point, ...]
    graded: bool
    gauges: tuple[GaugeChoice, ...]
    meaning: Said
    signers: tuple[tuple[str, str], ...]
    calibrates: bool = False
