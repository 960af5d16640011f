"""The life tag as text: what a part has done and may still do, with a line to sign."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.said import Said, minute, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.overview.shelf import LifeTag
from upkeep.wording.sentences import Reader, label, text
from upkeep.wording.text import paragraph, visible

_NAMES = 24


def life_tag_text(tag: LifeTag, zone: Zone, reader: Reader) -> str:
    """The tag, narrow enough to go with the part."""
    page = [text(said("LIFE TAG   {item}", item=tag.item), reader), ""]
    for name, value in life_tag_rows(tag, zone):
        page += paragraph(label(name, _NAMES, reader, 0) + text(value, reader), 0, _NAMES)
    page += ["", text(said("Name, date: ____________________________"), reader)]
    return "\n".join(map(visible, page)) + "\n"


def life_tag_rows(tag: LifeTag, zone: Zone) -> Iterator[tuple[Said, Said]]:
    """What stands on a tag, name by name."""
    yield said("plant"), said("{plant}", plant=tag.plant)
    yield said("what"), said("{title} ({kind})", title=tag.title, kind=term(tag.kind, "kind"))
    if tag.owner is not None:
        yield said("owner"), said("{owner}", owner=tag.owner)
    if tag.batch is not None:
        yield said("batch"), said("{batch}", batch=tag.batch)
    if tag.life_unknown:
        yield said("life"), said("NOT KNOWN: none is left until it is inspected")
    yield said("strokes since new"), _band(tag.since_new)
    if tag.before_book:
        yield said("of these before this book"), in_strokes(tag.before_book)
    if tag.since_rework is not None:
        yield said("since rework {number}", number=tag.reworks), _band(tag.since_rework)
    if tag.granted is not None:
        yield said("good for"), in_strokes(tag.granted)
    if tag.counted_until is not None:
        yield said("counted until"), said("{at}", at=minute(tag.counted_until, zone))
    if tag.to is not None:
        yield said("goes to"), said("{to}: {text}", to=tag.to, text=tag.text)
    if tag.expected is not None:
        yield said("expected back"), said("{day}", day=tag.expected)
    yield said("as of"), said("{at}", at=minute(tag.at, zone))


def _band(band: tuple[int, int, int]) -> Said:
    low, best, high = band
    if low == high:
        return in_strokes(best)
    return said("{best} ({low} to {high})", best=in_strokes(best), low=low, high=high)
