"""A QR code (ISO/IEC 18004) as black bars, to be drawn by a pen: the one symbol on every paper that is scanned.

Our codes hold capitals, figures and a few signs, which it keeps in five and a half bits each, and a square stands well
beside a row of text.  One part in seven of a code may be spoilt (level M).
"""

from __future__ import annotations

QUIET = 4
"""Empty modules around a code, as many as the standard asks for."""

_MASK = 0
"""The chequered mask for all codes.  Any mask may stand in a code; to weigh all eight of them takes ten times as long,
and a long list has thousands of codes."""


Bar = tuple[int, int, int]
"""Its row, its first column and its length, in modules."""


def code_bars(words: str) -> tuple[tuple[Bar, ...], int]:
    """The bars of the code of some words, and how many modules a side of it has."""
    from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(words)
    code.version = code.calculate_version()
    code.makeImpl(False, _MASK)
    return tuple(bar for row, modules in enumerate(code.modules) for bar in _bars(row, modules)), code.moduleCount


def _bars(row: int, modules: list[bool]) -> list[Bar]:
    bars: list[Bar] = []
    for column, dark in enumerate(modules):
        if dark and bars and bars[-1][1] + bars[-1][2] == column:
            bars[-1] = (row, bars[-1][1], bars[-1][2] + 1)
        elif dark:
            bars.append((row, column, 1))
    return bars
