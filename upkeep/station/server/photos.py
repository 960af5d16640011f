"""A photo as it is kept: its picture elements alone, made smaller; whatever the camera wrote beside them stays out."""

from __future__ import annotations

import asyncio
import io
from typing import BinaryIO

from upkeep.book.pictures import keep_picture
from upkeep.entries.form import FormNumber
from upkeep.entries.lives import Picture
from upkeep.errors import Refused, StrokebookError
from upkeep.said import Said, said
from upkeep.station.pages.proof import PHOTO_KEPT, photo_lost
from upkeep.station.server.desk import Desk
from upkeep.station.server.sessions import Here

LONGEST_SIDE = 1600
"""Picture elements of the longer side of a kept photo."""

_MOST_ELEMENTS = 64_000_000
_FORMATS = ("JPEG", "PNG", "WEBP")


def bare_photo(file: BinaryIO) -> bytes:
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


async def keep_photo(desk: Desk, place: str, here: Here, form: FormNumber, item: str, of: int, photo: bytes) -> Said:
    """Keeps a photo with the entry it belongs to; that stands whatever becomes of the photo."""
    try:
        file, sha256 = await asyncio.to_thread(keep_picture, desk.setting.book, photo, ".jpg")
        picture = Picture(at=desk.now(), by=here.id, item=item, file=file, sha256=sha256, of=of)
        await desk.write(place, here, form.next(), [picture])
    except StrokebookError as refusal:
        return photo_lost(refusal.said)
    return PHOTO_KEPT
