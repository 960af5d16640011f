"""A badge: the plant, who it belongs to, and its number as a code.  The number is known only when the badge is given,
so the card is printed then, once; a personal code is on no card."""

from __future__ import annotations

from upkeep.papers.frame.pen import MM, Pen
from upkeep.said import said
from upkeep.scan_codes import ScanCode, Scannable
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import visible, wrapped

SIZE = (85.6 * MM, 53.98 * MM)
"""Width and height of an ID-1 card (ISO/IEC 7810:2019, from memory), in points."""

_PAD = 5 * MM
_CODE = 30 * MM
_SIZE, _NAME, _LEADING = 10.0, 15.0, 12.0


def badge_pdf(plant: str, name: str, person: str, number: str, reader: Reader) -> bytes:
    """The card of a person's new badge, the size of a bank card."""
    pen = Pen(SIZE, visible(name))
    wide, high = SIZE
    pen.box(0.5, 0.5, wide - 1, high - 1, 0.4)
    pen.code(wide - _CODE - _PAD / 2, high - _CODE - _PAD / 2, _CODE, str(ScanCode(Scannable.BADGE, number)))
    down = _PAD + _SIZE
    for line in wrapped(pen.shown(visible(plant)), wide - 2 * _PAD, pen.measure(_SIZE)):
        pen.text(_PAD, down, line, _SIZE)
        down += _LEADING
    room, down = wide - _CODE - 2 * _PAD, down + 8
    for line in wrapped(pen.shown(visible(name)), room, pen.measure(_NAME, bold=True)):
        pen.text(_PAD, down, line, _NAME, bold=True)
        down += _NAME + 2
    pen.text(_PAD, down, pen.shown(visible(person)), _SIZE)
    lost = text(said("Lost? Tell the lead at once."), reader)
    for line in wrapped(lost, room, pen.measure(_SIZE)):
        down += _LEADING
        pen.text(_PAD, down + 6, line, _SIZE)
    pen.end_page()
    return pen.document()
