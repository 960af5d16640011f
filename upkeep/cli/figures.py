"""The figures page."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upkeep.cli.options import (
    book_option,
    json_option,
    known_option,
    language_option,
    opened,
    say_json,
    say_page,
    seen,
    seen_option,
)
from upkeep.cli.progress import watch_of
from upkeep.cli.saying import reader_of

if TYPE_CHECKING:
    from upkeep.due.compliance import Share
    from upkeep.views.figures import Figures

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--from", "first", type=_DAY, metavar="DAY", help="First day; the first of the month if left out.")
@click.option("--to", "last", type=_DAY, metavar="DAY", help="Last day; today if left out.")
@click.option("--area", help="Only this area.")
@seen_option
@known_option
@language_option
@json_option
@book_option
def figures(
    first: datetime | None, last: datetime | None, area: str | None, at_text: str | None, known_text: str | None,
    language: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """How much of the planned work was done on time, with numerator, denominator and definition.

    Each occurrence is judged by the interval and window in force when it was due, and counted for the area where the
    item was then.

    Example: strokebook figures --from 2026-03-01 --to 2026-03-31 --area "press hall"
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        view = book.figures(
            at, first=_day(first), last=_day(last), area=area, known_at=known_at, watch=watch_of(book_path)
        )
        if as_json:
            say_json(figures_json(view))
        else:
            from upkeep.papers.figures_text import figures_text

            reader = reader_of(book, language)
            say_page(book, figures_text(view, book.names, reader), reader)


def _day(moment: datetime | None) -> date | None:
    return None if moment is None else moment.date()


def figures_json(view: Figures) -> dict[str, Any]:
    """The page as scripts see it; the names are kept stable."""
    return {
        "plant": view.plant,
        "area": view.area,
        "at": view.at,
        "from": view.first_day,
        "to": view.last_day,
        "began": view.began,
        "definition": view.definition,
        "on_time": _share(view.on_time),
        "statutory": _share(view.statutory),
        "by_area": {area: _share(share) for area, share in view.by_area.items()},
        "counts": {str(verdict): number for verdict, number in view.counts.items()},
        "signed_besides": view.signed_besides,
        "deferrals": view.deferrals,
        "not_on_time": list(view.late),
        "changes": list(view.changes),
    }


def _share(share: Share) -> dict[str, Any]:
    return {
        "numerator": share.number,
        "denominator": share.base,
        "percent": share.percent,
        "low_95": share.low,
        "high_95": share.high,
    }
