"""Sign-offs: a line done, an inspection graded, a second signature, an undo."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import partial
from pathlib import Path

import click

from upkeep.book import Book, HistoryLine
from upkeep.cli.clock import now
from upkeep.cli.options import book_option, by_option, happened_option, number, opened, say_written, write
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongUsage, say
from upkeep.entries.bookkeeping import Strike
from upkeep.entries.entry import Entry
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.origin import IN_A_SHELL
from upkeep.entries.signing import Cancel, Defer, Sign, Verify, measured_with
from upkeep.errors import NotFound, Refused
from upkeep.plant.line_names import LineName
from upkeep.plant.model import Task
from upkeep.said import Quoted, either, said
from upkeep.units.measures import read_in
from upkeep.units.quantities import figure_of
from upkeep.views.signing import SignForm, with_measured
from upkeep.wording.evidence.late_reasons import picked, why_late

point_option = click.option(
    "--point",
    "points",
    multiple=True,
    help="A measured point: slug-height=1.203,1.204,1.203 (in the unit the task states).",
)
_gauge_option = click.option(
    "--gauge", "gauges", multiple=True, help="The gauge you measured with; once for each kind of gauge."
)
_used_option = click.option(
    "--used", multiple=True, help="Spares it used, if not what its task takes: SP-SPRING=2; nothing for none."
)
_remark_option = click.option("--remark", default="", help="A remark, in your words.")
_late_option = click.option(
    "--because", default="", help="Why it was late: in your words, or the number of a reason (--because list)."
)


@click.command()
@click.argument("line")
@point_option
@_gauge_option
@click.option("--grade", type=int, help="The grade found by an inspection, 0 (as new) to 4 (out).")
@_remark_option
@_late_option
@_used_option
@click.option("--for", "occurrence", help="The planned occurrence it is for, if not the open one.")
@click.option("--extra", is_flag=True, help="Additional work; does not move the due date.")
@happened_option
@by_option
@book_option
def sign(
    line: str, points: tuple[str, ...], gauges: tuple[str, ...], grade: int | None, remark: str, because: str,
    used: tuple[str, ...], occurrence: str | None, extra: bool, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Sign LINE (item/task, as on the board) as done by you.

    Work of every shift is signed for the shift it is done in; what an earlier shift left undone stays missed by that
    shift, unless --for names it
    (2026-03-02/late).

    Example: strokebook sign M-12/clean-module --by ana
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        item, task = LineName.read(line)
        answered = EXTRA if extra else occurrence or book.occurrence_signed(line, at)
        sign = Sign(
            at=at, by=by, task=task, item=item, occurrence=answered, grade=grade, remark=remark, used=used_of(used),
            because=_reason(because),
        )  # fmt: skip
        return [_measured(book, sign, points, gauges)]

    write(book_path, at_text, entries)


@click.command()
@click.argument("item")
@click.option(
    "--grade", type=click.IntRange(0, 4), required=True, help="0 as new, 1 slight, 2 visible, 3 at limit, 4 out."
)
@point_option
@_gauge_option
@click.option("--task", "task_id", help="Which inspection, if the item has more than one.")
@_remark_option
@_late_option
@click.option("--extra", is_flag=True, help="An additional inspection; does not move the due date.")
@happened_option
@by_option
@book_option
def inspect(
    item: str, grade: int, points: tuple[str, ...], gauges: tuple[str, ...], task_id: str | None, remark: str,
    because: str, extra: bool, at_text: str | None, by: str, book_path: Path,
) -> None:  # fmt: skip
    """Sign the graded inspection of ITEM with its measured points.

    Grades 2 and 3 halve the interval to the next one; grade 4 holds the item until it is released. They rest on what
    was measured, so each gauge has to be valid.

    A point that you leave out is taken over from the last check of the same set-up, where that measured it.

    Example: strokebook inspect DS-031 --grade 1 --gauge G-03 --point slug-height=1.203,1.204,1.203 --by tom
    """

    asked: list[str] = []

    def entries(book: Book, at: datetime) -> list[Entry]:
        task = _inspection(book, item, task_id)
        answered = EXTRA if extra else book.occurrence_signed(str(LineName(item, task.id)), at)
        sign = Sign(
            at=at, by=by, task=task.id, item=item, occurrence=answered, grade=grade, remark=remark,
            because=_reason(because),
        )  # fmt: skip
        asked.append(task.photo)
        return [_measured(book, sign, points, gauges)]

    written = write(book_path, at_text, entries)
    if asked[0]:
        keep = f"strokebook picture {item} FILE --of {written.entries[-1]}"
        say(said("Photo: {what}. Keep it with the inspection: {command}", what=asked[0], command=keep))


def _reason(because: str) -> str:
    """The reason that was picked or written; with ``list`` those to pick from are named, and nothing is written."""
    if because == "list":
        raise WrongUsage(why_late())
    return picked(because)


def _measured(book: Book, sign: Sign, typed: tuple[str, ...], gauges: tuple[str, ...]) -> Sign:
    """A sign-off with what was typed, each point by the gauge of its kind; what was left out is taken over."""
    task = book.known.task(sign.task)
    values = dict(points_of(typed, _unit_in(task)))
    if not task.points or (not values and sign.occurrence == EXTRA):
        return replace(sign, points=tuple(values.items()), gauge=gauges[0] if gauges else None)
    form = book.sign_form(str(LineName(sign.item, sign.task)), sign.at)
    told = with_measured(sign, form, values, _by_kind(book, form, gauges))
    if not form.classes and gauges:  # no kind of gauge is asked for: it goes with all that was measured
        return measured_with(
            told, {**dict.fromkeys(values, gauges[0]), **{key: told.gauge_of(key) for key, _ in told.taken}}
        )
    return told


def _by_kind(book: Book, form: SignForm, gauges: tuple[str, ...]) -> dict[str, str | None]:
    """The gauges by the kind that is asked for; one of another kind stands for what lacks one, and is refused."""
    kinds = [one.gauge_class for one in form.gauges]
    found: dict[str, str | None] = {}
    for gauge in gauges:
        kind = book.known.item(gauge).gauge_class
        if kind in found:
            raise Refused(
                said("{first} and {second} are of one kind; name one of each.", first=str(found[kind]), second=gauge)
            )
        found |= {kind: gauge} if kind in kinds else {other: gauge for other in kinds if other not in found}
    return found


def _inspection(book: Book, item: str, task_id: str | None) -> Task:
    if task_id is not None:
        return book.known.task(task_id)
    graded = [task for task in book.known.tasks_on(book.known.item(item)) if task.graded]
    if not graded:
        raise Refused(said("{item} has no graded inspection among its tasks.", item=item))
    if len(graded) > 1:
        raise Refused(
            said(
                "{item} has more than one: name it with --task {tasks}.",
                item=item,
                tasks=either(task.id for task in graded),
            )
        )
    return graded[0]


def _open_occurrence(book: Book, line: str, at: datetime) -> str:
    last = book.last_moment()
    return book.line(line, max(at, last) if last else at).occurrence


def _unit_in(task: Task) -> Callable[[str], str]:
    units = {point.id: point.unit for point in task.points}
    return lambda point: units.get(point, "")


def _value(typed: str, unit: str) -> float:
    """A reading in the unit of its point, typed as an entry has it or with a unit of its own, ``0.0756in``."""
    value = read_in(typed, unit) if typed[-1:].isalpha() else float(typed)
    if value is None:
        raise ValueError("no reading")
    return value


def used_of(texts: tuple[str, ...]) -> tuple[tuple[str, int], ...] | None:
    """Spares and how many of each were used; () for "nothing", None where nothing is said."""
    if not texts:
        return None
    used = []
    for text in texts:
        spare, _, many = text.partition("=")
        if text == "nothing":
            continue
        if figure_of(many) is None:
            raise WrongUsage(said("{text}: write a spare and how many, like SP-SPRING=2.", text=Quoted(text)))
        used.append((spare, number(many)))
    return tuple(used)


def unit_in(book: Book) -> Callable[[str], str]:
    """What gives the unit of a characteristic of a plant's crimps."""
    from upkeep.quality.settings import unit_of_point

    return partial(unit_of_point, crimps=tuple(book.known.crimps.values()))


def points_of(texts: tuple[str, ...], unit_of: Callable[[str], str]) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """Points with their readings from what was typed; raises :class:`WrongUsage` for another text."""
    points = []
    for text in texts:
        point, equals, values = text.partition("=")
        try:
            points.append((point, tuple(_value(value, unit_of(point)) for value in values.split(","))))
        except ValueError:
            equals = ""
        if not equals:
            raise WrongUsage(
                said(
                    "{text}: write a measured point like slug-height=1.203,1.204, with decimal points.",
                    text=Quoted(text),
                )
            )
    return tuple(points)


@click.command()
@click.argument("line")
@click.option("--to", "later", required=True, help="The later point: a day like 2026-03-16, or a number of strokes.")
@click.option("--risk", required=True, help="What may happen while it waits.")
@click.option("--because", required=True, help="The reason, in your words.")
@happened_option
@by_option
@book_option
def defer(line: str, later: str, risk: str, because: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Put off the open occurrence of LINE to a later point, at your own risk.

    The planned point itself stays: work done after it still counts as late.  Only the lead and the manager may defer.

    Example: strokebook defer P-04/lube-press --to 2026-03-16 --risk "dry guides" --because "no stop before" --by lea
    """

    def entries(book: Book, at: datetime) -> list[Entry]:
        item, task = LineName.read(line)
        occurrence = _open_occurrence(book, line, at)
        return [Defer(at=at, by=by, task=task, item=item, occurrence=occurrence, to=later, risk=risk, because=because)]

    write(book_path, at_text, entries)


@click.command()
@click.argument("line")
@click.option("--because", required=True, help="The reason, in your words.")
@happened_option
@by_option
@book_option
def cancel(line: str, because: str, at_text: str | None, by: str, book_path: Path) -> None:
    """Cancel the open occurrence of LINE: it will not be done, and never counts as done."""

    def entries(book: Book, at: datetime) -> list[Entry]:
        item, task = LineName.read(line)
        return [
            Cancel(at=at, by=by, task=task, item=item, occurrence=_open_occurrence(book, line, at), because=because)
        ]

    write(book_path, at_text, entries)


@click.command()
@click.argument("entry", type=number)
@happened_option
@by_option
@book_option
def verify(entry: int, at_text: str | None, by: str, book_path: Path) -> None:
    """Give the second signature on sign-off number ENTRY: verified by you, not by whoever did the work."""
    write(book_path, at_text, lambda book, at: [Verify(at=at, by=by, entry=entry)])


def _may_be_taken_back(line: HistoryLine) -> bool:
    return line.kind != "strike" and not (line.struck_by or line.corrected_by)


@click.command()
@by_option
@book_option
def undo(by: str, book_path: Path) -> None:
    """Take back your own last entry, within a minute of writing it; both stay visible.

    Typed again, it takes back the entry before that one, as long as that was written within the minute too.
    """
    with opened(book_path) as book:
        own = [line for line in book.newest_written(200) if line.by == by]
        last = next((line for line in own if _may_be_taken_back(line)), None)
        if last is None:
            raise NotFound(
                said("entry to undo by"), by, [], said("An older one can be struck by its number, with a reason.")
            )
        strike = Strike(at=now(), by=by, entry=last.entry)
        written = book.write([strike], now, IN_A_SHELL, proven(book, by, entries=[strike]))
        say(said("Taken back: {line}", line=last.text))
        say_written(book, written)
