"""Printed papers and stored pictures as pages, for whoever has said who they are.

What is asked for is a name of the plant or a number of the book, looked up in the book; no word of a request becomes a
path on the disk.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from upkeep.book import Book
from upkeep.book.pictures import kept_picture
from upkeep.errors import NotFound
from upkeep.said import said
from upkeep.station.pages.papers import PapersPage, item_papers_page, papers_page
from upkeep.station.server.desk import Desk
from upkeep.station.server.sessions import Here
from upkeep.wording.sentences import Reader

Paper = Callable[[Book, Here, datetime, Reader], bytes]
"""Makes a paper as PDF, for somebody, at a moment."""


class Papers:
    """The pages of papers and pictures."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.routes = [
            Route("/at/{place}/papers", self.index),
            Route("/at/{place}/papers/week", self._pdf("week", lambda request: _week)),
            Route("/at/{place}/papers/handover", self._pdf("handover", lambda request: _handover)),
            Route("/at/{place}/papers/figures", self._pdf("figures", lambda request: _figures)),
            Route("/at/{place}/papers/restart", self._pdf("restart", lambda request: _restart)),
            Route("/at/{place}/papers/card", self._pdf("card", _card)),
            Route("/at/{place}/papers/list/{number:int}", self._pdf("hold-list", _hold_list)),
            Route("/at/{place}/papers/life/{item}", self._pdf("life", _life)),
            Route("/at/{place}/papers/item/{item}", self.item),
            Route("/at/{place}/papers/trend/{item}/{point}", self.trend),
            Route("/at/{place}/papers/picture/{entry:int}", self.picture),
        ]

    async def index(self, request: Request) -> Response:
        """The papers of the plant, and those of what hangs at a place."""
        desk, place = self._desk, request.path_params["place"]
        session, _ = await desk.named(request)
        seen, at = await desk.look(place), desk.now()
        lists = await desk.ask(lambda book: [one for one in book.suspects(at).lists() if one.open])
        page = papers_page([hanging.item for hanging in seen.walk.hanging], lists)
        return desk.page(request, session, "papers", page, desk.head(seen, session))

    async def item(self, request: Request) -> Response:
        """The papers and pictures of one item."""
        desk, path = self._desk, request.path_params
        session, _ = await desk.named(request)
        seen, at, item = await desk.look(path["place"]), desk.now(), path["item"]

        def asked(book: Book) -> PapersPage:
            wear = book.wear(at).item(item)
            return item_papers_page(item, [point.point for point in wear.points], wear.pictures, book.zone)

        return desk.page(request, session, "papers", await desk.ask(asked), desk.head(seen, session))

    def _pdf(self, name: str, paper_of: Callable[[Request], Paper]) -> Callable[[Request], object]:
        async def shown(request: Request) -> Response:
            desk, at = self._desk, self._desk.now()
            session, here = await desk.named(request)
            paper = paper_of(request)
            content = await desk.ask(lambda book: paper(book, here, at, session.reader))
            return _inline(content, "application/pdf", f"{name}.pdf")

        return shown

    async def trend(self, request: Request) -> Response:
        """The drawing of a measured point of an item with its trend."""
        desk, path, at = self._desk, request.path_params, self._desk.now()
        session, _ = await desk.named(request)
        content = await desk.ask(lambda book: _trend(book, path["item"], path["point"], at, session.reader))
        return _inline(content, "image/png", "trend.png")

    async def picture(self, request: Request) -> Response:
        """A picture that is kept beside the book, by the number of its entry."""
        desk, number, at = self._desk, request.path_params["entry"], self._desk.now()
        await desk.named(request)

        def sha256_of(book: Book) -> str:
            found = [one.sha256 for one in book.wear(at).pictures() if one.entry == number]
            if not found:
                raise NotFound(said("picture"), f"#{number}")
            return found[0]

        content, kind = await asyncio.to_thread(kept_picture, desk.setting.book, await desk.ask(sha256_of))
        return _inline(content, kind, f"picture-{number}")


def _inline(content: bytes, kind: str, name: str) -> Response:
    """Shown in the browser and not kept by it; ``name`` is ours and holds no word of a request."""
    return Response(content, media_type=kind, headers={"content-disposition": f'inline; filename="{name}"'})


def _week(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
    from upkeep.papers.week.week_pdf import week_pdf

    return week_pdf(book.week(at, by=here.id, proof=here.proven.proof), reader, "A4")


def _handover(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
    from upkeep.papers.sheets.handover_sheet import handover_sheet_text

    return _page(book, here, at, reader, handover_sheet_text(book.handover(at), book.zone, reader))


def _restart(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
    from upkeep.papers.sheets.restart_list import restart_text

    return _page(book, here, at, reader, restart_text(book.restart(at), book.zone, reader))


def _card(request: Request) -> Paper:
    place = request.path_params["place"]

    def paper(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
        from upkeep.papers.cards.station_card import station_card_text

        return _page(book, here, at, reader, station_card_text(book.round(place, at), reader))

    return paper


def _figures(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
    from upkeep.papers.figures.figures_text import figures_text

    return _page(book, here, at, reader, figures_text(book.figures(at), book.names, reader))


def _hold_list(request: Request) -> Paper:
    number = request.path_params["number"]

    def paper(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
        from upkeep.papers.sheets.hold_sheet import hold_sheet_text

        return _page(book, here, at, reader, hold_sheet_text(book.suspects(at).hold_list(number), book.zone, reader))

    return paper


def _life(request: Request) -> Paper:
    item = request.path_params["item"]

    def paper(book: Book, here: Here, at: datetime, reader: Reader) -> bytes:
        from upkeep.papers.board_text import life_text
        from upkeep.papers.wear_text import wear_text

        page = life_text(book.life(item, at), book.zone, reader) + wear_text(
            book.wear(at).item(item), book.zone, reader
        )
        return _page(book, here, at, reader, page)

    return paper


def _page(book: Book, here: Here, at: datetime, reader: Reader, page: str) -> bytes:
    """A page of text with how far its names can be relied on, as PDF."""
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.naming import with_names
    from upkeep.papers.frame.page_pdf import page_pdf

    frame = frame_cells(book.printed(at, here.id, here.proven.proof), reader)
    return page_pdf(with_names(page, book.facts.signed_with, reader), frame, reader)


def _trend(book: Book, item: str, point: str, at: datetime, reader: Reader) -> bytes:
    from upkeep.papers.plot_files import figure_bytes
    from upkeep.papers.wear_plots import trend_plot

    measured = {one.point: one for one in book.wear(at).item(item).points}
    if point not in measured:
        raise NotFound(said("measured point of"), f"{item}: {point}", list(measured))
    drawn = trend_plot(item, measured[point], reader)
    return figure_bytes([replace(drawn, source=f"{book.facts.name}, {book.zone.minute(at)}")], "png")
