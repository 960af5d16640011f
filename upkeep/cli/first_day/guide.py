"""The guided first hour at the terminal: plant, counts, what hangs where, codes, labels, the first round.

What is done is known from the book alone, so the guide can be left at any question and taken up again.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.options import opened
from upkeep.cli.proving import proven
from upkeep.cli.saying import reader_of, say, words
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit
from upkeep.entries.origin import IN_A_SHELL, Proven
from upkeep.errors import Refused, StrokebookError
from upkeep.plant.model import FITS_IN, Item, Kind
from upkeep.said import Quoted, Said, said, said_many, term
from upkeep.units.quantities import figure_of
from upkeep.views.overview.whereabouts import WhereRow
from upkeep.wording.text import paragraph

_LISTED = 6


def guide(book_path: Path, by: str) -> None:
    """Leads through the first hour; every answer is in the book at once."""
    if not sys.stdin.isatty():
        raise Refused(said("The guide asks one thing after another: call it at a terminal."))
    _tell(said("Enter passes over a question, Ctrl+C leaves. The same command goes on where you left."))
    if not book_path.exists():
        _begin(book_path, by)
    with opened(book_path) as book:
        hour = _FirstHour(book, by, proven(book, by))
        for number, (title, step) in enumerate(hour.steps(), 1):
            click.echo("")
            _tell(said("{number} of 5: {title}", number=number, title=title))
            step()
    click.echo("")
    _tell(said("That was the first hour. 'strokebook board' shows what is due; 'strokebook news' what there is."))


def _begin(book_path: Path, by: str) -> None:
    """A book from the sheets the plant has."""
    from upkeep.cli.first_day.sheets import load_sheets

    _tell(
        said(
            "There is no book yet. It begins with the sheets you have of presses, modules, die sets, people and work: "
            "a workbook (.xlsx), or a folder of CSV files."
        )
    )
    while True:
        typed: str = click.prompt(words(said("Where are they")), default="", show_default=False)
        sheets = Path(typed.strip()).expanduser()
        if typed.strip() and sheets.exists():
            load_sheets(sheets, book_path, by, "", dry_run=False, yes=False)
            if book_path.exists():
                return
            raise Refused(said("There is no book yet: mend the sheets and call the guide again."))
        say(said("There is nothing at {path}. Type the path of a workbook or a folder.", path=Quoted(typed)))


def _tell(sentence: Said) -> None:
    click.echo("\n".join(paragraph(words(sentence), 0, 2)))


class _FirstHour:
    """The steps on a book, in the name of somebody."""

    def __init__(self, book: Book, by: str, name: Proven) -> None:
        self._book, self._by, self._name = book, by, name

    def steps(self) -> Iterator[tuple[Said, Callable[[], None]]]:
        """Each step with its title."""
        yield said("What each press counter shows, in walking order"), self._counts
        yield said("What hangs where"), self._fittings
        yield said("The first time of work without history"), self._baseline
        yield said("Codes for people"), self._codes
        yield said("Labels, and the first round"), self._labels

    def _rows(self) -> tuple[WhereRow, ...]:
        return self._book.where(now()).rows

    def _presses(self) -> list[Item]:
        """The presses in walking order."""
        items = {item.id: item for item in self._book.items()}
        rows = (row.item for row in self._rows() if row.kind == Kind.PRESS)
        return [items[key] for key in rows if items[key].scrapped is None]

    def _counts(self) -> None:
        counted = [press for press in self._presses() if press.digits]
        lacking = [press for press in counted if next(self._book.entries_of(press.id, "count"), None) is None]
        for press in lacking:
            self._ask(
                said("{press}, {title}: the counter shows", press=press.id, title=press.title), self._count(press)
            )
        still = [one for one in lacking if next(self._book.entries_of(one.id, "count"), None) is None]
        self._end(len(counted) - len(still), len(counted))

    def _count(self, press: Item) -> Callable[[str], Entry]:
        def entry(typed: str) -> Entry:
            figure = figure_of(typed)
            if figure is None:
                raise Refused(said("{text} is not a number; write it like 4812 or 4,812.", text=Quoted(typed)))
            return Count(at=now(), by=self._by, press=press.id, value=figure)

        return entry

    def _fittings(self) -> None:
        """Asks for the module of each press, and for the die set of each module that hangs."""
        for kind, outer in ((Kind.MODULE, Kind.PRESS), (Kind.DIE_SET, Kind.MODULE)):
            rows = self._rows()
            full = {row.inside for row in rows if row.kind == kind}
            hangs = [row for row in rows if row.kind == outer and (outer is Kind.PRESS or row.inside)]
            for row in (row for row in hangs if row.item not in full):
                asked = said(
                    "{outer}, {title}: the {kind} in it", outer=row.item, title=row.title, kind=term(kind.value, "kind")
                )
                self._ask(asked, self._fit(row.item, kind))
            now_full = {row.inside for row in self._rows() if row.kind == kind}
            self._end(sum(row.item in now_full for row in hangs), len(hangs))

    def _fit(self, outer: str, kind: Kind) -> Callable[[str], Entry]:
        def entry(typed: str) -> Entry:
            item = self._book.known.item(typed.strip())
            if item.kind is not kind:
                raise Refused(
                    said(
                        "{item} is a {kind}; here a {wanted} is asked for, which sits in a {outer}.",
                        item=item.id,
                        kind=term(item.kind, "kind"),
                        wanted=term(kind, "kind"),
                        outer=term(FITS_IN[kind], "kind"),
                    )
                )
            return Fit(at=now(), by=self._by, item=item.id, inside=outer)

        return entry

    def _ask(self, asked: Said, entry: Callable[[str], Entry]) -> None:
        """One question until its answer is in the book, or it is passed over."""
        while True:
            typed: str = click.prompt(words(asked), default="", show_default=False)
            if not typed.strip():
                return
            try:
                written = self._book.write([entry(typed.strip())], now, IN_A_SHELL, self._name)
            except StrokebookError as error:
                _tell(error.said)
                continue
            for note in written.notes:
                _tell(said("Note: {note}", note=note))
            return

    def _end(self, done: int, of: int) -> None:
        _tell(said("Done: {done} of {of}.", done=done, of=of))

    def _baseline(self) -> None:
        from upkeep.papers.planned.baseline_text import baseline_text

        weeks = 8
        plan = self._book.baseline(now(), weeks)
        if not plan.rows:
            click.echo(baseline_text(plan, reader_of(self._book)), nl=False)
            return
        asked = said_many(
            "{n} line has no history. Plan its first time over {weeks} weeks?",
            "{n} lines have no history. Plan their first time over {weeks} weeks?",
            n=len(plan.rows),
            weeks=weeks,
        )
        if click.confirm(words(asked), default=True):
            self._book.write(self._book.baseline_statements(now(), weeks, self._by), now, IN_A_SHELL, self._name)
            _tell(said("The baseline is in the book."))

    def _codes(self) -> None:
        from upkeep.book.giving import keys_list

        keys = keys_list(self._book, now())
        if not self._book.naming.asks_for_proof:
            _tell(said("This plant goes by names alone (signed_with in plant.toml). Nothing to do."))
            return
        lacking = [holder.person for holder in keys.holders if holder.has is None]
        self._end(len(keys.holders) - len(lacking), len(keys.holders))
        for person in lacking[:_LISTED]:
            _tell(said("A keeper gives {person} a code: strokebook code {person} --by KEEPER", person=person))

    def _labels(self) -> None:
        _tell(said("Print the labels and stick them on the metal: strokebook labels --kind module --pdf labels.pdf"))
        presses = self._presses()
        if presses:
            _tell(
                said(
                    "Walk the first round with whoever works there: strokebook round {press}, or /at/{press} on a "
                    "tablet ('strokebook serve' runs the pages).",
                    press=presses[0].id,
                )
            )
