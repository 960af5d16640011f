"""Two pictures side by side at one scale: an item as it was new, and as it is now."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from upkeep.errors import Unreadable
from upkeep.papers.letters import faces, font_file
from upkeep.said import said
from upkeep.wording.text import visible

if TYPE_CHECKING:
    from PIL.Image import Image

_WIDEST = 1600
"""Points across that a picture is drawn with at most; both are made smaller by the same factor."""

_ENDINGS = {"JPEG": ".jpg", "TIFF": ".tif"}
"""How names end whose format is called otherwise."""

_GAP, _TITLE, _SIZE = 20, 40, 13


class Shown(NamedTuple):
    """A picture to be drawn: its file, its title, and how many points of it are one millimetre (None: not known)."""

    file: Path
    title: str
    scale: float | None = None


def ending_of(file: Path) -> str:
    """How the name of a picture ends, by its content; raises :class:`Unreadable` for a file that is no picture."""
    kind = _opened(file)[1]
    return _ENDINGS.get(kind, f".{kind.lower()}")


def side_by_side(pictures: tuple[Shown, Shown]) -> bytes:
    """A PNG of two pictures, each below its title, at one scale: a millimetre of one is as long as one of the other.

    Where the scale of one is not known, a point of one is as large as a point of the other: taken from the same
    distance, the same width on both is the same length.  Raises :class:`Unreadable` for a file that
    is no picture.
    """
    from PIL import Image, ImageDraw, ImageFont

    shown = [_opened(picture.file)[0] for picture in pictures]
    factors = _factors(pictures)
    fit = min(1.0, _WIDEST / max(image.width * factor for image, factor in zip(shown, factors, strict=True)))
    shown = [_resized(image, factor * fit) for image, factor in zip(shown, factors, strict=True)]
    wide = sum(image.width for image in shown) + 3 * _GAP
    sheet = Image.new("RGB", (wide, max(image.height for image in shown) + 2 * _GAP + _TITLE), "white")
    pen, face, left = ImageDraw.Draw(sheet), ImageFont.truetype(BytesIO(font_file()), _SIZE), _GAP
    for image, (_, title, _scale) in zip(shown, pictures, strict=True):
        top = sheet.height - _GAP - image.height
        sheet.paste(image, (left, top))
        pen.text((left, top - _SIZE // 2), faces()[0].shown(visible(title)), fill="black", font=face, anchor="ls")
        left += image.width + _GAP
    out = BytesIO()
    sheet.save(out, "PNG")
    return out.getvalue()


def _factors(pictures: tuple[Shown, Shown]) -> tuple[float, float]:
    """By what each picture is multiplied: the coarser one stays as it is."""
    first, second = (picture.scale for picture in pictures)
    if first is None or second is None:
        return 1.0, 1.0
    coarse = min(first, second)
    return coarse / first, coarse / second


def _resized(image: Image, factor: float) -> Image:
    return image.resize((max(1, round(image.width * factor)), max(1, round(image.height * factor))))


def _opened(file: Path) -> tuple[Image, str]:
    """The picture, turned the way the camera says it was held, and its format."""
    from PIL import Image, ImageOps

    try:
        with Image.open(file) as image:
            return ImageOps.exif_transpose(image).convert("RGB"), image.format or "picture"
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise Unreadable(said("{file} cannot be read as a picture (PNG or JPEG).", file=file)) from error
