"""What to order, and the kits for a week."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import book_option, json_option, language_option, moment_of, opened, say_json, seen_option
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.progress import watch_of
from upkeep.cli.saying import reader_of, say
from upkeep.entries.origin import Proof
from upkeep.said import said
from upkeep.views.printed import Printed
from upkeep.wording.sentences import Reader

_pdf_option = click.option(
    "--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file."
)
_paper_option = click.option(
    "--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF."
)
_printer_option = click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it.")


@click.command("to-order")
@_pdf_option
@_paper_option
@replace_option
@_printer_option
@seen_option
@language_option
@json_option
@book_option
def to_order(
    target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None, language: str | None,
    as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What to order and by which day, with the arithmetic: stock, what is coming, use by what falls due and so far.

    The reorder level covers the lead time in the stated share of cases (Poisson); it goes by the forecast of what falls
    due, or by what was used so far where that is more.

    Example: strokebook to-order --pdf order.pdf --by benno
    """
    from upkeep.papers.shelf.shelf_text import order_text

    with opened(book_path) as book:
        found, reader = book.to_order(moment_of(at_text, book.zone), watch_of(book_path)), reader_of(book, language)
        printed, zone = book.printed(found.at, by, Proof.NONE), book.zone
    if as_json:
        say_json(found)
        return
    _print(order_text(found, zone, reader), target, printed, reader, paper, replacing)


@click.command()
@click.argument("week", required=False)
@_pdf_option
@_paper_option
@replace_option
@_printer_option
@seen_option
@language_option
@json_option
@book_option
def kits(
    week: str | None, target: Path | None, paper: str, replacing: bool, by: str, at_text: str | None,
    language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """The kits for WEEK (2026-W11; this week if left out), one a job in the order of its list: what to take from which
    place, what is short and when more comes.

    Example: strokebook kits 2026-W11 --pdf kits.pdf --by benno
    """
    from upkeep.papers.shelf.shelf_text import kits_text

    with opened(book_path) as book:
        found, reader = book.kits(moment_of(at_text, book.zone), week), reader_of(book, language)
        printed, zone = book.printed(found.at, by, Proof.NONE), book.zone
    if as_json:
        say_json(found)
        return
    _print(kits_text(found, zone, reader), target, printed, reader, paper, replacing)


def _print(page: str, target: Path | None, printed: Printed, reader: Reader, paper: str, replacing: bool) -> None:
    if target is None:
        click.echo(page, nl=False)
        return
    from upkeep.papers.frame.frame_rows import frame_cells
    from upkeep.papers.frame.page_pdf import page_pdf

    put(target, page_pdf(page, frame_cells(printed, reader), reader, paper), replacing=replacing)
    say(said("{target}: written.", target=target))


globals()["to-order"] = to_order
