"""Codes on a printed page, read back by zxing-cpp as a scanner would see them: in black and white, with noise.

The page is drawn anew from its filled squares alone, at 300 dots an inch; each hundredth dot has the other colour, as
from a worn drum or a dirty lens, and a median filter comes before the reader, as in a scanner.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter
from pypdf import PageObject, PdfReader

_DOTS = 300 / 72
_SPOILT = 0.01


def codes_of(document: bytes) -> list[list[str]]:
    """What is read on each sheet, in no order."""
    zxingcpp = pytest.importorskip("zxingcpp")
    pages = PdfReader(BytesIO(document)).pages
    read = [zxingcpp.read_barcodes(_seen(page), formats=zxingcpp.BarcodeFormat.QRCode) for page in pages]
    return [[str(code.text) for code in codes if code.valid] for codes in read]


def _seen(page: PageObject) -> Image.Image:
    """The part of a page that has squares on it, with an edge of ten points."""
    squares, high = list(_squares(page)), float(page.mediabox.height)
    boxes = [(left, high - low - up, left + across, high - low) for left, low, across, up in squares]
    if not boxes:
        return Image.new("L", (1, 1), 255)
    first, top = (min(box[side] for box in boxes) - 10 for side in (0, 1))
    wide, deep = (max(box[side] for box in boxes) + 10 for side in (2, 3))
    sheet = Image.new("L", (round((wide - first) * _DOTS), round((deep - top) * _DOTS)), 255)
    pen = ImageDraw.Draw(sheet)
    for box in boxes:
        left, up, right, down = (round((at - edge) * _DOTS) for at, edge in zip(box, (first, top) * 2, strict=True))
        pen.rectangle((left, up, right - 1, down - 1), 0)
    spoilt = np.random.default_rng(7).random((sheet.height, sheet.width), np.float32) < _SPOILT
    seen = Image.fromarray(np.where(spoilt, 255 - np.asarray(sheet), np.asarray(sheet)).astype(np.uint8))
    return seen.filter(ImageFilter.MedianFilter(3))


def _squares(page: PageObject) -> Iterator[tuple[float, ...]]:
    drawn: list[tuple[float, ...]] = []

    def moved(operator: bytes, operands: list[Any], *_: object) -> None:
        if operator == b"re":
            drawn.append(tuple(map(float, operands)))

    page.extract_text(visitor_operand_before=moved)
    yield from drawn
