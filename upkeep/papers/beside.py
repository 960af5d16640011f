"""Two pictures side by side at one scale: an item as it was new, and as it is now."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.errors import Unreadable
from upkeep.papers.letters import faces, font_file
from upkeep.said import said
from upkeep.wording.text import visible

if TYPE_CHECKING:
    from PIL.Image import Image

_WIDEST = 1600
"""Points across that a picture is drawn with at most; both are made smaller by the same factor."""

_GAP, _TITLE, _SIZE = 20, 40, 13


def side_by_side(pictures: tuple[tuple[Path, str], tuple[Path, str]]) -> bytes:
    """A PNG of two pictures, each below its title: a point of one is as large as a point of the other.

    Taken from the same distance, the same width on both is the same length.  Raises :class:`Unreadable` for a file that
    is no picture.
    """
    from PIL import Image, ImageDraw, ImageFont

    shown = [_read(file) for file, _ in pictures]
    scale = min(1.0, _WIDEST / max(image.width for image in shown))
    shown = [image.resize((round(image.width * scale), round(image.height * scale))) for image in shown]
    wide = sum(image.width for image in shown) + 3 * _GAP
    sheet = Image.new("RGB", (wide, max(image.height for image in shown) + 2 * _GAP + _TITLE), "white")
    pen, face, left = ImageDraw.Draw(sheet), ImageFont.truetype(BytesIO(font_file()), _SIZE), _GAP
    for image, (_, title) in zip(shown, pictures, strict=True):
        top = sheet.height - _GAP - image.height
        sheet.paste(image, (left, top))
        pen.text((left, top - _SIZE // 2), faces()[0].shown(visible(title)), fill="black", font=face, anchor="ls")
        left += image.width + _GAP
    out = BytesIO()
    sheet.save(out, "PNG")
    return out.getvalue()


def _read(file: Path) -> Image:
    """The picture, turned the way the camera says it was held."""
    from PIL import Image, ImageOps

    try:
        with Image.open(file) as image:
            return ImageOps.exif_transpose(image).convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise Unreadable(said("{file} cannot be read as a picture (PNG or JPEG).", file=file)) from error
