"""The plan of a week: hours, proposal, changes, agreed, frozen, decided; absences."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from upkeep.book import Book
from upkeep.cli.options import (
    because_option,
    book_option,
    by_option,
    fields_of,
    happened_option,
    json_option,
    known_option,
    language_option,
    opened,
    say_json,
    seen,
    seen_option,
    write,
)
from upkeep.cli.saying import reader_of
from upkeep.entries.entry import Entry
from upkeep.entries.plans.weeks import Absent, AgreeWeek, Decision, PlanJob
from upkeep.errors import Refused, Unreadable
from upkeep.said import Quoted, said
from upkeep.units.weeks import iso_week
from upkeep.views.planned.week_plan import Capacity

week_option = click.option("--week", help="An ISO week, 2026-W53; this week if left out.")


@click.command()
@week_option
@seen_option
@known_option
@language_option
@json_option
@book_option
def capacity(
    week: str | None, at_text: str | None, known_text: str | None, language: str | None, as_json: bool, book_path: Path
) -> None:
    """The hours due in a week beside the hours there are, by role and area.

    Example: strokebook capacity --week 2026-W50
    """
    from upkeep.papers.planned.week_text import capacity_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.capacity(at, week, known_at=known_at)
        if as_json:
            say_json(_capacity_json(found))
        else:
            click.echo(capacity_text(found, reader_of(book, language)), nl=False)


def _capacity_json(found: Capacity) -> dict[str, Any]:
    """The hours in minutes; beside each row what is due in all, and by how much it is over."""
    sums = {
        "roles": [fields_of(row) | {"due": row.due, "over": row.over} for row in found.roles],
        "areas": [fields_of(row) | {"due": row.due, "over": row.over} for row in found.areas],
    }
    return fields_of(found) | sums | {"over": found.is_over}


@click.command()
@week_option
@seen_option
@known_option
@language_option
@json_option
@book_option
def plan(
    week: str | None, at_text: str | None, known_text: str | None, language: str | None, as_json: bool, book_path: Path
) -> None:
    """The plan of a week shift by shift: who does what, what could not be placed and why, and the hours.

    Example: strokebook plan --week 2026-W50
    """
    from upkeep.papers.planned.week_text import plan_text

    with opened(book_path) as book:
        at, known_at = seen(at_text, known_text, book.zone)
        found = book.week_plan(at, week, known_at=known_at)
        if as_json:
            say_json(fields_of(found) | {"capacity": _capacity_json(found.capacity)})
        else:
            click.echo(plan_text(found, reader_of(book, language)), nl=False)


@click.command()
@week_option
@happened_option
@by_option
@book_option
def propose(week: str | None, at_text: str | None, by: str, book_path: Path) -> None:
    """Level a week: each job on a shift within its window, by somebody who may do it.

    Carried-over jobs, hard windows and what law asks for come first; jobs at one press share one stop. The same book
    gives the same plan. It is a proposal: change it with 'plan-job', then 'agree-week' and 'freeze-week'.

    Example: strokebook propose --week 2026-W50 --by lea
    """
    write(book_path, at_text, lambda book, at: [book.week_proposal(week, at, by)])


@click.command("plan-job")
@click.argument("line")
@week_option
@click.option("--shift", help="The shift: 2026-12-07/early.")
@click.option("--with", "person", help="Who is to do it: a person's id.")
@click.option("--out", is_flag=True, help="Take it off the week.")
@because_option
@happened_option
@by_option
@book_option
def plan_job(
    line: str, week: str | None, shift: str | None, person: str | None, out: bool, because: str, at_text: str | None,
    by: str, book_path: Path,
) -> None:  # fmt: skip
    """Put LINE (item/task) on a shift with somebody, or take it off the week.

    Once the list is frozen, what is added, removed or moved is marked on every later print.

    Example: strokebook plan-job P-07/lube-press --week 2026-W50 --shift 2026-12-08/early --with tom --by lea
    """
    if out is (shift is not None or person is not None) or (shift is None) is not (person is None):
        raise Refused(said("Give a shift and a person ('--shift', '--with'), or '--out'."))

    def changed(book: Book, at: datetime) -> list[Entry]:
        name = _week(book, at, week)
        return [PlanJob(at=at, by=by, week=name, line=line, shift=shift, person=person, because=because)]

    write(book_path, at_text, changed)


@click.command("agree-week")
@week_option
@happened_option
@by_option
@book_option
def agree_week(week: str | None, at_text: str | None, by: str, book_path: Path) -> None:
    """Say that the plan of a week is agreed with production, as it stands.

    Example: strokebook agree-week --week 2026-W50 --by lea
    """
    write(book_path, at_text, lambda book, at: [AgreeWeek(at=at, by=by, week=_week(book, at, week))])


@click.command("freeze-week")
@week_option
@happened_option
@by_option
@book_option
def freeze_week(week: str | None, at_text: str | None, by: str, book_path: Path) -> None:
    """Freeze the agreed list of a week: from then on 'strokebook week' prints that list.

    A line carried over too often has to be decided about first ('strokebook carried').

    Example: strokebook freeze-week --week 2026-W50 --by lea
    """
    write(book_path, at_text, lambda book, at: [book.week_freezing(week, at, by)])


@click.command()
@click.argument("line")
@click.argument("decision", type=click.Choice([decision.value for decision in Decision]))
@week_option
@click.option("--to", help="For defer: the later point, as 'strokebook defer' takes it.")
@click.option("--risk", default="", help="For defer: what may happen while it waits.")
@because_option
@happened_option
@by_option
@book_option
def carried(
    line: str, decision: str, week: str | None, to: str | None, risk: str, because: str, at_text: str | None, by: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Decide about LINE (item/task) that was carried over too often: DECISION is defer, cancel, interval or hours.

    It defers or cancels the line as well. 'interval' says that its interval is changed in tasks.toml; 'hours', that it
    gets a shift of its own ('plan-job').

    Example: strokebook carried P-07/belt hours --week 2026-W50 --because "Tuesday is kept for it" --by lea
    """
    if (to is not None) is not (decision == Decision.DEFER):
        raise Refused(said("Give '--to', the later point, where it is deferred, and only there."))

    def decided(book: Book, at: datetime) -> Sequence[Entry]:
        return book.week_decision(_week(book, at, week), at, by, line, Decision(decision), because, to, risk)

    write(book_path, at_text, decided)


@click.command()
@click.argument("person")
@click.argument("first")
@click.argument("last", required=False)
@happened_option
@by_option
@book_option
def absent(person: str, first: str, last: str | None, at_text: str | None, by: str, book_path: Path) -> None:
    """Say that PERSON does not work from FIRST to LAST, days like 2026-12-07; of one day give it alone.

    No reason is asked for or kept. To take it back, strike the entry.

    Example: strokebook absent tom 2026-12-07 2026-12-11 --by lea
    """
    days = [_day(text) for text in (first, last or first)]
    write(book_path, at_text, lambda book, at: [Absent(at=at, by=by, person=person, first=days[0], last=days[1])])


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError:
        raise Unreadable(said("{text} is not a day; write it like 2026-12-07.", text=Quoted(text))) from None


def _week(book: Book, at: datetime, week: str | None) -> str:
    return week or iso_week(book.zone.day(at))


for _name, _command in (("plan-job", plan_job), ("agree-week", agree_week), ("freeze-week", freeze_week)):
    globals()[_name] = _command
