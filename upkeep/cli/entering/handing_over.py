"""What one shift hands over to the next."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.options import (
    book_option,
    happened_option,
    json_option,
    moment_of,
    opened,
    say_json,
    write,
)
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.reasons_json import with_reasons
from upkeep.cli.saying import READER, WrongUsage, say
from upkeep.entries.jobs import Handover
from upkeep.entries.origin import Proof
from upkeep.papers.frame.naming import with_names
from upkeep.papers.handover_text import handover_text
from upkeep.said import said
from upkeep.wording.jobs import shift_said


@click.command()
@click.argument("shift", required=False)
@click.option("--give", "side", flag_value="given", help="You leave, and give the shift.")
@click.option("--accept", "side", flag_value="accepted", help="You come, and accept it.")
@click.option("--remark", default="", help="What the next shift should know besides; or what you say to it.")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF.")
@replace_option
@happened_option
@click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who gives, accepts or prints it.")
@json_option
@book_option
def handover(
    shift: str | None, side: str | None, remark: str, target: Path | None, paper: str, replacing: bool,
    at_text: str | None, by: str, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What SHIFT (2026-03-02/early; the last one if left out) hands over, made from the book.

    Jobs, locks, what must not run, faults, missed work, what is past its latest time, presses nobody counted, remarks
    and questions. Somebody of the shift may give it with a remark; somebody of the next accepts it. A shift that nobody
    accepted is shown at the next round and stops nobody.

    Example: strokebook handover --accept --remark "P-07 seen together" --by ben
    """
    with opened(book_path) as book:
        view, zone = book.handover(moment_of(at_text, book.zone), shift), book.zone
        data = with_reasons(view, book) if as_json else None
        printed, signed_with = book.printed(view.at, by, Proof.NONE), book.facts.signed_with
    if side is not None:
        if not by:
            raise WrongUsage(said("Say who you are: --by ID."))
        write(book_path, at_text, lambda book, at: [Handover(at=at, by=by, shift=view.shift, side=side, text=remark)])
        return
    page = with_names(handover_text(view, zone, READER), signed_with, READER)
    if as_json:
        say_json(data)
    elif target is not None:
        from upkeep.papers.frame.frame_rows import frame_cells
        from upkeep.papers.frame.page_pdf import page_pdf

        put(target, page_pdf(page, frame_cells(printed, READER), READER, paper), replacing=replacing)
        say(said("{target}: {shift}.", target=target, shift=shift_said(view.shift)))
    else:
        click.echo(page, nl=False)
