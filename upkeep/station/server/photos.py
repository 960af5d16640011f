"""A photo as it is kept: its picture elements alone, made smaller; whatever the camera wrote beside them stays out."""

from __future__ import annotations

import io
from typing import BinaryIO

from upkeep.errors import Refused
from upkeep.said import said

LONGEST_SIDE = 1600
"""Picture elements of the longer side of a kept photo."""

_MOST_ELEMENTS = 64_000_000
_FORMATS = ("JPEG", "PNG", "WEBP")


def kept_photo(file: BinaryIO) -> bytes:
    """A photo as a JPEG of its picture elements: no place, no device, no time from the camera.

    Raises :class:`Refused` for what is no picture, or one of too many elements.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(file, formats=_FORMATS) as picture:
            if picture.width * picture.height > _MOST_ELEMENTS:
                raise Refused(said("The photo has too many pixels. Take a smaller one."))
            picture.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))
            upright = ImageOps.exif_transpose(picture).convert("RGB")
            upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
            bare = Image.new("RGB", upright.size)
            bare.paste(upright)
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError):
        raise Refused(said("That file is no photo (JPEG, PNG or WebP).")) from None
    kept = io.BytesIO()
    bare.save(kept, "JPEG", quality=85)
    return kept.getvalue()
