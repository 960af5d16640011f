"""Faults: reported, mended step by step, listed, and their likely causes."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.options import (
    MOST,
    book_option,
    by_option,
    happened_option,
    json_option,
    known_option,
    number,
    opened,
    say_json,
    say_page,
    seen,
    seen_option,
    shown_at_most,
    write,
)
from upkeep.cli.saying import reader_of
from upkeep.entries.faults import STAGES, Fault, Repair, Stage
from upkeep.errors import Refused
from upkeep.papers import fault_text
from upkeep.quality.symptoms import OTHER, picked, reported, symptoms
from upkeep.said import Quoted, said

_AT_THE_MACHINE = (Stage.TAKEN, Stage.CHECKED, Stage.FIXED)


@click.command()
@click.argument("item")
@click.argument("symptom")
@click.option("--stopped", is_flag=True, help="It was taken out of production: held until released.")
@click.option("--crash", is_flag=True, help="The dies hit something: the checks after a crash become due.")
@click.option("--remark", default="", help="More about it, in your words.")
@happened_option
@by_option
@book_option
def fault(
    item: str, symptom: str, stopped: bool, crash: bool, remark: str, at_text: str | None, by: str, book_path: Path
) -> None:
    """Report SYMPTOM on ITEM: by number or id from the list ('strokebook causes'), or in your own words.

    Example: strokebook fault M-12 9 --stopped --by ana
    """
    listed = reported(symptom)
    words = ": ".join(filter(None, (listed.title if listed else symptom, remark.strip())))
    key = listed.id if listed else None
    write(
        book_path,
        at_text,
        lambda book, at: [
            Fault(at=at, by=by, item=item, symptom=words, listed=key, stopped=stopped, crash=crash),
        ],
    )


@click.command()
@click.argument("number", type=number)
@click.argument("stage", type=click.Choice(STAGES))
@click.option("--what", default="", help="The check you answer; or what was tried: hand-cycle,first-piece,guard.")
@click.option(
    "--yes/--no", "yes", default=None, help="The answer to the check: yes, all is well; no, it found something."
)
@click.option("--cause", help="The cause by its id; 'other' with --text.")
@click.option("--text", default="", help="What was done, or more about it.")
@happened_option
@by_option
@book_option
def repair(
    number: int, stage: str, what: str, yes: bool | None, cause: str | None, text: str, at_text: str | None, by: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Enter a step on fault NUMBER: taken, checked, fixed, verified, analysed or closed.

    'fixed' names the cause and what was done; 'verified' says what was tried. If the fault stopped the item, releasing
    it then ends the fault; if not, close it. 'analysed' names the root cause of a fault that keeps coming back.

    Example: strokebook repair 123 fixed --cause debris --text "wheel brushed" --by tom
    """

    def steps(book: Book, at: datetime) -> list[Repair]:
        if stage in _AT_THE_MACHINE:
            case = book.faults(at).case(number)
            click.echo(fault_text.cautions_text(case.cautions, reader_of(book)), nl=False)
        words = tuple(filter(None, (word.strip() for word in what.split(","))))
        return [Repair(at=at, by=by, fault=number, stage=stage, what=words, yes=yes, cause=cause, text=text)]

    write(book_path, at_text, steps)


@click.command()
@click.argument("number", type=number, required=False)
@click.option("--open", "only_open", is_flag=True, help="Only faults that are still open.")
@click.option("--item", help="Only faults of this item; for a press, of all that hung there.")
@click.option("--shares", is_flag=True, help="Also count them by item, module, symptom, cause and reel.")
@click.option("--limit", type=click.IntRange(1, MOST), help="How many, newest first; all with --json, else 50.")
@seen_option
@known_option
@json_option
@book_option
def faults(
    number: int | None, only_open: bool, item: str | None, shares: bool, limit: int | None, at_text: str | None,
    known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """Faults, newest first, with their response, repair and restoration times; or fault NUMBER as a page.

    Example: strokebook faults --open
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        views = book.faults(at, known_at=known_at)
        if number is not None:
            case = views.case(number)
            say_json(case) if as_json else say_page(book, fault_text.fault_text(case, book.zone, reader_of(book)))
            return
        listing = views.listing(item, only_open=only_open, limit=shown_at_most(limit, as_json, 50), shares=shares)
        say_json(listing) if as_json else click.echo(
            fault_text.faults_text(listing, book.zone, reader_of(book)), nl=False
        )


@click.command()
@click.argument("item", required=False)
@click.option("--symptom", help="A symptom by number or id; 'other' for those described in words.")
@seen_option
@known_option
@json_option
@book_option
def causes(
    item: str | None, symptom: str | None, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path
) -> None:
    """Likely causes, from this plant's own records, of the open faults of ITEM or of a symptom; without either, a list.

    Example: strokebook causes M-12 --symptom 9
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        views = book.faults(at, known_at=known_at)
        if item is None and symptom is None:
            say_json(list(symptoms())) if as_json else click.echo(
                fault_text.symptoms_text(symptoms(), reader_of(book)), nl=False
            )
            return
        cause_lists = (
            [views.causes(_listed(symptom), item)] if symptom is not None else list(views.causes_of(item or ""))
        )
        if not cause_lists:
            raise Refused(
                said(
                    "{item} has no open fault. Name a symptom ('strokebook causes' lists them) with --symptom.",
                    item=str(item),
                )
            )
        if as_json:
            say_json(cause_lists)
        else:
            click.echo(
                "\n".join(fault_text.causes_text(cause_list, book.zone, reader_of(book)) for cause_list in cause_lists),
                nl=False,
            )


def _listed(symptom: str) -> str:
    """The id of the symptom that is meant."""
    if symptom == OTHER:
        return OTHER
    symptom_picked = picked(symptom)
    if symptom_picked is None:
        raise Refused(said("{symptom} is not a symptom in the list; see 'strokebook causes'.", symptom=Quoted(symptom)))
    return symptom_picked.id
