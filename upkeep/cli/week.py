"""The printed week."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from upkeep.cli.options import (
    book_option,
    fields_of,
    json_alone_option,
    known_option,
    language_option,
    opened,
    say_json,
    seen,
    seen_option,
)
from upkeep.cli.outputs import put, replace_option
from upkeep.cli.progress import PRINTING, watch_of
from upkeep.cli.saying import reader_of, say
from upkeep.entries.origin import Proof
from upkeep.said import said
from upkeep.units.instants import Zone
from upkeep.units.weeks import is_over
from upkeep.views.week import WeekList
from upkeep.wording.sentences import Reader


@click.command()
@click.option("--week", "name", help="An ISO week, 2026-W53; this week if left out.")
@click.option("--area", help="Only this area.")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF.")
@click.option("--csv", "table", type=click.Path(path_type=Path, dir_okay=False), help="Write it as CSV to this file.")
@click.option("--xlsx", "sheet", type=click.Path(path_type=Path, dir_okay=False), help="Write it as a spreadsheet.")
@click.option("--ics", "calendar", type=click.Path(path_type=Path, dir_okay=False),
              help="Write it as a calendar (RFC 5545): an event a row.")  # fmt: skip
@click.option("--for", "person", help="In the calendar only what this person is to do: an id.")
@replace_option
@click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it.")
@seen_option
@known_option
@language_option
@json_alone_option
@book_option
def week(
    name: str | None, area: str | None, target: Path | None, paper: str, table: Path | None,
    sheet: Path | None, calendar: Path | None, person: str | None, replacing: bool, by: str, at_text: str | None,
    known_text: str | None, language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """The weekly due list: 80-column text, or a PDF to print and write on.

    That of a past week is printed as the board stood at the week's first moment, with what was known then, unless --at
    or --known-at asks for another moment.

    Example: strokebook week --pdf week.pdf --paper Letter
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        if name is not None and at_text is None and known_text is None and is_over(name, book.zone.day(at)):
            view = book.week_as_it_began(name, area=area, by=by, proof=Proof.NONE, watch=watch_of(book_path))
        else:
            view = book.week(
                at, week=name, area=area, by=by, proof=Proof.NONE, known_at=known_at, watch=watch_of(book_path)
            )
        reader = reader_of(book, language)
        name_of = None if person is None else book.known.person(person).name
    files = _files(view, reader, table, sheet, calendar, name_of)
    if files:
        for file, content in files:
            put(file, content, replacing=replacing)
            say(said("{target}: week {week}, rows: {rows}.", target=file, week=view.week, rows=len(view.rows)))
    elif as_json:
        say_json(_with_words(view))
    elif target is not None:
        from upkeep.papers.week.week_pdf import week_pdf

        put(target, week_pdf(view, reader, paper, watch_of(book_path, PRINTING)), replacing=replacing)
        say(said("{target}: week {week}, rows: {rows}.", target=target, week=view.week, rows=len(view.rows)))
    else:
        from upkeep.papers.week.week_text import week_text

        click.echo(week_text(view, reader), nl=False)


def _files(
    view: WeekList, reader: Reader, table: Path | None, sheet: Path | None, calendar: Path | None, person: str | None
) -> list[tuple[Path, bytes]]:
    """The files for other programs that were asked for."""
    made = []
    if table is not None:
        from upkeep.papers.exported.csv_file import csv_bytes
        from upkeep.papers.exported.tables import week_table

        made.append((table, csv_bytes(week_table(view, reader))))
    if sheet is not None:
        from upkeep.papers.exported.tables import week_table
        from upkeep.papers.exported.xlsx_file import xlsx_bytes

        made.append((sheet, xlsx_bytes(week_table(view, reader))))
    if calendar is not None:
        from upkeep.papers.exported.ics_file import week_calendar

        made.append((calendar, week_calendar(view, reader, person)))
    return made


def _with_words(week: WeekList) -> dict[str, Any]:
    """The list for programs: as data, and beside it the English texts of the printed one."""
    from upkeep.papers.week.week_facts import due_said, last_done_said, window_said
    from upkeep.papers.week.week_notes import not_listed

    zone = Zone(week.zone)
    rows = [
        fields_of(row)
        | {
            "due": due_said(row, zone),
            "window": window_said(row, zone),
            "last_done": last_done_said(row, zone),
        }
        for row in week.rows
    ]
    return fields_of(week) | {"rows": rows, "not_listed": not_listed(week)}
