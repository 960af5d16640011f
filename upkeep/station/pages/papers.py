"""The papers and pictures that can be read at a station."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, minute, said
from upkeep.station.pages.under_way import Link
from upkeep.units.instants import Zone
from upkeep.views.suspect import HoldList
from upkeep.views.wear import PictureState


@frozen
class Picture:
    """A picture: its number in the book, and what it is."""

    entry: int
    says: Said


@frozen
class PapersPage:
    """Ways to papers, each opened as a PDF or a picture, and pictures themselves."""

    title: Said
    links: tuple[Link, ...]
    pictures: tuple[Picture, ...] = ()


def papers_page(items: Sequence[str], lists: Sequence[HoldList]) -> PapersPage:
    """The papers of the plant, and those of what hangs at a place."""
    links = [
        Link("papers/week", said("Weekly due list")),
        Link("papers/handover", said("Handover of the last shift")),
        Link("papers/card", said("Station card")),
        Link("papers/restart", said("Restart list after a shutdown")),
        Link("papers/figures", said("How much was done on time")),
    ]
    links += [
        Link(f"papers/list/{one.number}", said("Hold list #{n}: {item}", n=Numeral(one.number), item=one.item))
        for one in lists
    ]
    links += [Link(f"papers/item/{item}", said("Life and pictures of {item}", item=item)) for item in items]
    return PapersPage(said("Papers"), tuple(links))


def item_papers_page(item: str, points: Sequence[str], pictures: Sequence[PictureState], zone: Zone) -> PapersPage:
    """The papers of one item: its life, the trends of its measured points, its pictures."""
    links = [Link(f"papers/life/{item}", said("Life of {item}", item=item))]
    links += [Link(f"papers/trend/{item}/{point}", said("Trend of {point}", point=point)) for point in points]
    kept = tuple(
        Picture(picture.entry, said("{at} (#{entry})", at=minute(picture.at, zone), entry=Numeral(picture.entry)))
        for picture in pictures
    )
    return PapersPage(said("Papers of {item}", item=item), tuple(links), kept)
