"""Looking into the book: the board, one line, one item, the history, a round."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from upkeep.book import BoardQuery, Book
from upkeep.cli.options import (
    MOST,
    book_option,
    by_option,
    json_option,
    known_option,
    moment_of,
    opened,
    say_json,
    say_page,
    seen_option,
    shown_at_most,
    write,
)
from upkeep.cli.options import seen as moments_seen
from upkeep.cli.saying import reader_of
from upkeep.due.states import CALLING, State
from upkeep.papers import board_text
from upkeep.plant.rights import Act, roles_for
from upkeep.views.overview.whereabouts import WhereQuery, WhereStanding
from upkeep.wording.sentences import ENGLISH

if TYPE_CHECKING:
    from upkeep.book import BoardLine


@click.command()
@click.option("--all", "every", is_flag=True, help="Also what is not due yet, paused or not required.")
@click.option("--state", "states", multiple=True, type=click.Choice([s.value for s in State]), help="Only this state.")
@click.option("--place", help="Only what is at this place: a press, a rack.")
@click.option("--area", help="Only this area.")
@click.option("--item", help="Only this item.")
@click.option("--role", help="Only what this role signs.")
@click.option("--search", default="", help="Only lines containing these words.")
@click.option("--limit", type=click.IntRange(1, MOST), help="How many lines to show; all with --json, else 50.")
@seen_option
@known_option
@json_option
@book_option
def board(
    every: bool, states: tuple[str, ...], place: str | None, area: str | None, item: str | None, role: str | None,
    search: str, limit: int | None, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What is due and overdue, most urgent first.

    Shows lines that need somebody now; --all shows the rest too. A held item
    is one row, --item shows its lines.
    """
    wanted = frozenset(map(State, states)) or (frozenset() if every else frozenset(CALLING))
    query = BoardQuery(
        states=wanted, place=place, area=area, item=item, role=role, search=search,
        holds_by_item=not as_json and item is None,
    )  # fmt: skip
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        view = book.board(at, query, limit=shown_at_most(limit, as_json, 50), known_at=known_at)
        if as_json:
            say_json([line_json(line, book) for line in view.rows])
        else:
            click.echo(board_text.board_text(view, reader_of(book)), nl=False)
            if role in roles_for(Act.SEEN, book.facts):
                click.echo(board_text.waiting_text(book.questions(at), reader_of(book)), nl=False)
            whole = not (place or area or item or search)
            if whole and role in (None, *roles_for(Act.PEOPLE, book.facts)):
                click.echo(board_text.training_text(book.training_ends(at), reader_of(book)), nl=False)


def line_json(line: BoardLine, book: Book) -> dict[str, Any]:
    """One line as scripts see it; the names are kept stable."""
    from upkeep.due.reason_json import data_of
    from upkeep.wording.reasons import sentence

    return {
        "line": line.line,
        "item": line.item,
        "task": line.task,
        "title": line.title,
        "place": line.place,
        "area": line.area,
        "state": line.state.value,
        "opens_at": line.opens_at,
        "due_at": line.due_at,
        "overdue_at": line.overdue_at,
        "stop_at": line.stop_at,
        "due_strokes": line.due_strokes,
        "strokes": line.strokes,
        "strokes_high": line.strokes_high,
        "remaining": line.remaining,
        "estimated": line.estimated,
        "missed": line.missed,
        "occurrence": line.occurrence,
        "last_done_at": line.last_done_at,
        "last_done_by": line.last_done_by,
        "unverified": line.unverified,
        "at_next_stop": line.at_next_stop,
        "stopped_at": line.stopped_at,
        "lines_held": line.lines_held,
        "job": line.job,
        "source": line.source,
        "owner": line.owner,
        "why": sentence(line.reasons, book.zone, book.names, ENGLISH),
        "reasons": data_of(line.reasons),
    }


@click.command()
@click.argument("line")
@seen_option
@known_option
@json_option
@book_option
def why(line: str, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path) -> None:
    """Why LINE (item/task, as on the board) is due when it is.

    Example: strokebook why DS-031/inspect-die
    """
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        line_view = book.line(line, at, known_at=known_at)
        if as_json:
            say_json(line_json(line_view, book))
        else:
            click.echo(board_text.why_text(line_view, book.zone, book.names, reader_of(book)), nl=False)


@click.command()
@click.argument("line")
@seen_option
@known_option
@json_option
@book_option
def forecast(line: str, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path) -> None:
    """When LINE will be due by its strokes: the expected day, the chances day by day, and the last safe day.

    Based on the strokes of the last working days, and on planned orders if there are any.
    """
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        outlook = book.forecast(line, at, known_at=known_at)
        if as_json:
            say_json(outlook)
        else:
            click.echo(board_text.forecast_text(line, outlook, reader_of(book)), nl=False)


@click.command()
@seen_option
@json_option
@book_option
def questions(at_text: str | None, as_json: bool, book_path: Path) -> None:
    """Questions about the counts: counts not taken, counters that have stopped or disagree, strokes with no module."""
    with opened(book_path) as book:
        moment = moment_of(at_text, book.zone)
        asked = book.questions(moment)
        if as_json:
            say_json(list(asked))
        else:
            click.echo(board_text.questions_text(asked, reader_of(book)), nl=False)
            click.echo(board_text.training_text(book.training_ends(moment), reader_of(book)), nl=False)


@click.command()
@click.argument("item")
@by_option
@book_option
def seen(item: str, by: str, book_path: Path) -> None:
    """Say that you have seen what 'questions' asks or tells about ITEM: it is no longer listed.

    'strokebook rights' says which roles may.

    Example: strokebook seen M-12 --by lea
    """
    write(book_path, None, lambda book, moment: book.seen(item, by, moment))


@click.command()
@click.argument("item", required=False)
@click.option("--limit", type=click.IntRange(1, MOST), help="How many entries to show; all with --json, else 30.")
@seen_option
@known_option
@json_option
@book_option
def history(
    item: str | None, limit: int | None, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path
) -> None:
    """The newest entries, of the plant or of ITEM; corrected and struck ones stay visible.

    With --at those of what had happened by then, with --known-at as they were known then: what was corrected later
    shows as it stood.
    """
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        lines = book.history(item, shown_at_most(limit, as_json, 30), at, known_at=known_at)
        if as_json:
            say_json(list(lines))
        else:
            say_page(book, board_text.history_text(lines, reader_of(book)))


@click.command()
@click.option("--place", help="Only what is at this place: a press, a rack.")
@click.option("--standing", type=click.Choice([str(one) for one in WhereStanding]), help="Only what is so.")
@click.option("--owner", help="Only what belongs to this customer.")
@click.option("--search", default="", help="Only items with these words.")
@seen_option
@known_option
@json_option
@book_option
def where(
    place: str | None, standing: str | None, owner: str | None, search: str, at_text: str | None,
    known_text: str | None, as_json: bool, book_path: Path,
) -> None:  # fmt: skip
    """What hangs and stands where in the whole plant, place by place, with its status and owner.

    Example: strokebook where --standing "in pieces"
    """
    query = WhereQuery(place, WhereStanding(standing) if standing else None, owner, search)
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        found = book.where(at, query, known_at=known_at)
        if as_json:
            say_json(list(found.rows))
        else:
            from upkeep.papers.where_text import where_text

            click.echo(where_text(found, book.zone, reader_of(book)), nl=False)


@click.command(name="round")
@click.argument("place")
@seen_option
@known_option
@json_option
@book_option
def round_(place: str, at_text: str | None, known_text: str | None, as_json: bool, book_path: Path) -> None:
    """What the operator at PLACE (a press, a rack) has to do this shift."""
    with opened(book_path) as book:
        at, known_at = moments_seen(at_text, known_text, book.zone)
        view = book.round(place, at, known_at=known_at)
        if as_json:
            from upkeep.cli.reasons_json import with_reasons

            say_json(with_reasons(view, book))
        else:
            click.echo(board_text.round_text(view, book.zone, reader_of(book)), nl=False)


globals()["round"] = round_
