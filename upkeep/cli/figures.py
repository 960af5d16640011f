"""The figures page."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upkeep.cli.options import (
    book_option,
    fields_of,
    json_option,
    known_option,
    language_option,
    opened,
    say_json,
    say_page,
    seen,
    seen_option,
)
from upkeep.cli.outputs import replace_option
from upkeep.cli.printing.pages import save_page
from upkeep.cli.progress import watch_of
from upkeep.cli.saying import reader_of
from upkeep.entries.origin import Proof

if TYPE_CHECKING:
    from upkeep.due.compliance import Share
    from upkeep.views.figures import Figures
    from upkeep.views.overview.indicators import Indicators

_DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.option("--from", "first", type=_DAY, metavar="DAY", help="First day; the first of the month if left out.")
@click.option("--to", "last", type=_DAY, metavar="DAY", help="Last day; today if left out.")
@click.option("--area", help="Only this area.")
@click.option("--item", help="Only this item; of a press, also the faults of what hung on it.")
@click.option("--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Write a PDF to this file.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True, help="Paper of the PDF.")
@replace_option
@click.option("--by", envvar="STROKEBOOK_BY", default="", help="Who is printing it.")
@seen_option
@known_option
@language_option
@json_option
@book_option
def figures(
    first: datetime | None, last: datetime | None, area: str | None, item: str | None, target: Path | None, paper: str,
    replacing: bool, by: str, at_text: str | None, known_text: str | None, language: str | None, as_json: bool,
    book_path: Path,
) -> None:  # fmt: skip
    """The figures of some days, each with numerator, denominator, interval and definition.

    What was on time and what is overdue; planned work against repairs; strokes between faults and time to
    restoration; inspections with a finding; how far the counts can be relied on. Each occurrence is judged by the
    interval and window in force when it was due, and counted for the area where the item was then.

    Example: strokebook figures --from 2026-03-01 --to 2026-03-31 --area "press hall"
    """
    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        view = book.figures(
            at, first=_day(first), last=_day(last), area=area, item=item, known_at=known_at, watch=watch_of(book_path)
        )
        if as_json:
            say_json(figures_json(view))
            return
        from upkeep.papers.figures.figures_text import figures_text

        reader = reader_of(book, language)
        page = figures_text(view, book.names, reader)
        if target is None:
            say_page(book, page, reader)
        else:
            printed = book.printed(at, by, Proof.NONE, known_at=known_at)
            save_page(target, page, printed, book.facts.signed_with, reader, paper, replacing=replacing)


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
        "item": view.item,
        "by_week": {week: _share(share) for week, share in view.by_week.items()},
        **(_indicators(view.indicators) if view.indicators is not None else {}),
    }


def _indicators(seen: Indicators) -> dict[str, Any]:
    return {
        "overdue": fields_of(seen.overdue) | {"by_age": {str(age): n for age, n in seen.overdue.by_age.items()}},
        "as_scheduled": _share(seen.as_scheduled),
        "minutes": fields_of(seen.minutes),
        "between_faults": fields_of(seen.between) | {"mean": seen.between.mean},
        "between_stops": fields_of(seen.between_stops) | {"mean": seen.between_stops.mean},
        "restored": seen.restored,
        "findings": _share(seen.findings),
        "data_quality": None
        if seen.quality is None
        else fields_of(seen.quality) | {"in_time": _share(seen.quality.in_time)},
    }


def _share(share: Share) -> dict[str, Any]:
    return {
        "numerator": share.number,
        "denominator": share.base,
        "percent": share.percent,
        "low_95": share.low,
        "high_95": share.high,
    }
