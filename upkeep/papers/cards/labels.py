"""Labels of items: the id in large letters, the title, the owner, and a code.  Nothing on them ever changes.

On a roll of 62 mm, one label a page, or on a sheet of A4 with 3 x 8 labels of 70 x 37.1 mm, as stationers sell them
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.frozen import frozen
from upkeep.papers.frame.pen import MM, PAPERS, Pen
from upkeep.plant.model import Item, Kind
from upkeep.said import said
from upkeep.scan_codes import ScanCode, Scannable
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import visible, wrapped

ROLL = (62 * MM, 29 * MM)
"""Width and height of a label on the roll, in points."""

_ACROSS, _DOWN = 3, 8
_PAD = 3 * MM
_ID, _LEAST, _SIZE = 22.0, 10.0, 10.0


@frozen
class LabelCells:
    """One label: the id, what is written below it, and its code."""

    id: str
    lines: tuple[str, ...]
    code: str


def item_code(item: Item) -> str:
    """What is scanned to mean an item."""
    return str(ScanCode(Scannable.GAUGE if item.kind is Kind.GAUGE else Scannable.ITEM, item.id))


def label_cells(items: Sequence[Item], reader: Reader) -> tuple[LabelCells, ...]:
    """The labels of some items, in the words of a reader."""
    return tuple(
        LabelCells(
            item.id,
            tuple(
                visible(text(line, reader))
                for line in (
                    said("{title}", title=item.title),
                    said("property of {owner}", owner=item.owner) if item.owner else None,
                )
                if line is not None
            ),
            item_code(item),
        )
        for item in items
    )


def labels_text(labels: Sequence[LabelCells]) -> str:
    """The labels one below the other, each with its code as a scanner types it."""
    rows = (row for label in labels for row in (label.id, *(f"  {below}" for below in (*label.lines, label.code))))
    return "".join(f"{row}\n" for row in rows)


def labels_pdf(labels: Sequence[LabelCells], *, roll: bool) -> bytes:
    """The labels on a roll, one a page, or on sheets of A4; the same labels give the same bytes."""
    pen = Pen(ROLL if roll else "A4", labels[0].id if labels else "")
    wide, high = ROLL if roll else (PAPERS["A4"][0] / _ACROSS, PAPERS["A4"][1] / _DOWN)
    for place, label in enumerate(labels):
        down, across = divmod(place, _ACROSS)
        left, top = (0.0, 0.0) if roll else (across * wide, down % _DOWN * high)
        if place and (roll or (across == 0 and down % _DOWN == 0)):
            pen.end_page()
        _draw(pen, label, left, top, (wide, high))
    pen.end_page()
    return pen.document()


def _draw(pen: Pen, label: LabelCells, left: float, top: float, size: tuple[float, float]) -> None:
    wide, high = size
    side = min(high, wide / 2) - _PAD / 2
    pen.code(left + wide - side, top + (high - side) / 2, side, label.code)
    room, along = wide - side - 2 * _PAD, left + 2 * _PAD
    large = max(_LEAST, min(_ID, _ID * room / pen.measure(_ID, bold=True)(label.id)))
    ids = wrapped(label.id, room, pen.measure(large, bold=True))
    letters = _SIZE
    while (lines := _wrapped(pen, label, room, letters)) and len(ids) * large + len(
        lines
    ) * letters * 1.15 > high - _PAD:
        letters *= 0.9  # nothing on a label is cut
    down = top + (high - len(ids) * large - len(lines) * letters * 1.15) / 2
    for line in ids:
        down += large
        pen.text(along, down - large * 0.15, line, large, bold=True)
    for line in lines:
        down += letters * 1.15
        pen.text(along, down, line, letters)


def _wrapped(pen: Pen, label: LabelCells, room: float, size: float) -> list[str]:
    return [piece for line in label.lines for piece in wrapped(pen.shown(line), room, pen.measure(size))]
