"""Sheets and cards, each with the head of papers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.cli.options import book_option, language_option, moment_of, number, opened, seen_option
from upkeep.cli.outputs import replace_option, save
from upkeep.cli.saying import WrongUsage, reader_of
from upkeep.entries.origin import Proof
from upkeep.errors import NotFound
from upkeep.said import said

if TYPE_CHECKING:
    from upkeep.book import Book
    from upkeep.wording.sentences import Reader

Maker = Callable[["Book", str, datetime, "Reader"], str]
"""Makes the text of a paper about something, at a moment."""


def _set_up(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.sheets.set_up_sheet import set_up_sheet_text

    try:
        last = book.checks(at).set_up(name)
    except NotFound:
        book.known.item(name)
        last = None
    return set_up_sheet_text(book.check_forms(at).form(name), last, book.zone, reader)


def _hold_list(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.sheets.hold_sheet import hold_sheet_text

    return hold_sheet_text(book.suspects(at).hold_list(number(name)), book.zone, reader)


def _restart(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.sheets.restart_list import restart_text

    return restart_text(book.restart(at, moment_of(name, book.zone) if name else None), book.zone, reader)


def _handover(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.sheets.handover_sheet import handover_sheet_text

    return handover_sheet_text(book.handover(at, name or None), book.zone, reader)


def _wall(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.due.states import CALLING
    from upkeep.papers.sheets.wall_paper import wall_text
    from upkeep.views.board import BoardQuery

    return wall_text(book.board(at, BoardQuery(states=frozenset(CALLING), area=name or None)), reader)


def _life_tag(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.cards.life_tag import life_tag_text

    held = next((held for held in book.holds() if held.item == name), None)
    return life_tag_text(book.known.item(name), book.life(name, at), held, book.zone, reader)


def _station_card(book: Book, name: str, at: datetime, reader: Reader) -> str:
    from upkeep.papers.cards.station_card import station_card_text

    return station_card_text(book.round(name, at), reader)


_ABOUT_ITEMS: Mapping[str, Maker] = {"set-up": _set_up, "life-tag": _life_tag, "station-card": _station_card}
_NAMED: Mapping[str, Maker] = {**_ABOUT_ITEMS, "hold-list": _hold_list}
_PAPERS: Mapping[str, Maker] = {**_NAMED, "restart": _restart, "handover": _handover, "wall": _wall}


@click.command()
@click.argument("kind", type=click.Choice(list(_PAPERS)))
@click.argument("name", default="")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--paper", "size", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True,
              help="Paper of the PDF.")  # fmt: skip
@replace_option
@click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it.")
@seen_option
@language_option
@book_option
def paper(
    kind: str, name: str, target: Path | None, size: str, replacing: bool, by: str, at_text: str | None,
    language: str | None, book_path: Path,
) -> None:  # fmt: skip
    """A sheet or a card to print: as text of 80 columns, or as a PDF that says the same.

    \b
    set-up ITEM         settings of last time, limits of the crimp, first pieces
    life-tag ITEM       travels with a part that leaves the plant
    station-card PLACE  hangs at a station: its round and cautions
    hold-list NUMBER    suspect product: dispositions, who was told
    restart [MOMENT]    first morning after a shutdown since MOMENT (left out:
                        since the latest count)
    handover [SHIFT]    what a shift leaves to the next, to be signed by both
    wall [AREA]         the board without names

    Example: strokebook paper life-tag CP-031 --pdf tag.pdf --by lea
    """
    from upkeep.papers.cards.labels import item_code
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.framed_text import framed_text
    from upkeep.papers.frame.naming import with_names
    from upkeep.papers.frame.page_pdf import page_pdf

    if kind in _NAMED and not name:
        raise WrongUsage(said("Say what the paper is about, like strokebook paper life-tag CP-031."))
    with opened(book_path) as book:
        at, reader = moment_of(at_text, book.zone), reader_of(book, language)
        page = with_names(_PAPERS[kind](book, name, at, reader), book.facts.signed_with, reader)
        item = book.known.items.get(name) if kind in _ABOUT_ITEMS else None
        frame = frame_cells(book.printed(at, by, Proof.NONE), reader, code=item_code(item) if item else "")
    if target is not None:
        save(target, page_pdf(page, frame, reader, size), replacing=replacing)
    else:
        click.echo(framed_text(page, frame, reader), nl=False)
