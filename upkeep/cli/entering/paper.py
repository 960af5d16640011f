"""What comes on paper or from a spreadsheet: weekly lists from the wall, history from before the book."""

from __future__ import annotations

from pathlib import Path
from typing import TextIO

import click

from upkeep.cli.clock import now
from upkeep.cli.options import book_option, by_option, moment_of, number, opened, say_cautions, say_written
from upkeep.cli.progress import watch_of
from upkeep.cli.proving import proven
from upkeep.cli.saying import say
from upkeep.errors import Refused
from upkeep.said import Numeral, in_lines, listed, said


@click.command()
@click.argument("lines", type=click.File(encoding="utf-8", errors="replace"))
@click.option("--revision", type=number, required=True, help="The revision printed on the sheet.")
@click.option("--week", required=True, help="The week printed on the sheet: 2026-W10.")
@click.option("--printed", "printed_text", required=True, help="The time printed beside it: '2026-03-02 06:00'.")
@click.option("--rows", "letters", default="", help="The letters of the rows, printed at its head: KX4Q.")
@click.option("--area", help="The area printed on the sheet, if not the whole plant.")
@click.option("--day", default="", help="The day of each row that has none: 2026-03-04, 4.3. or Wed.")
@by_option
@book_option
def sheet(
    lines: TextIO, revision: int, week: str, printed_text: str, letters: str, area: str | None, day: str, by: str,
    book_path: Path,
) -> None:  # fmt: skip
    """Enter a weekly list that has come back, by row number; LINES is a file, or - for standard input.

    One line for each row that was ticked: row, time, initials, and the count and remark if there are any.  Write ? for
    a time that is not on the sheet: the entry is then put at the end of that shift day and says so; work with measured
    points, a grade or a second signature, or required by law, cannot be entered that way.  Write ? for initials that
    are not there: nothing is signed, and the lead is asked who did it.

    \b
    12 2026-03-04 10:20 ana
    14 Wed 10.45 tom count 1,204,300 remark nozzle was clogged
    15 4.3. ? tom
    *R4812.16.KX4QP Wed 11:10 tom
    M-12/lube Wed 11:20 tom

    Week, revision and the time of printing are at the head of the sheet; they identify exactly the list that was
    printed, whatever was written since.  The letters of its rows (--rows) say that they still have the numbers of that
    print: without them, and where the week was not frozen, give each row by its code, or by its line (item/task).  The
    good rows go in, the bad ones are listed by number; entering the same sheet twice changes nothing.

    \b
    Example: strokebook sheet back.txt --week 2026-W10 --revision 4,812 --rows KX4Q \\
        --printed "2026-03-02 06:00" --by lea
    """
    from upkeep.sources.printed_sheet import printed_sheet
    from upkeep.sources.sheet import cautions_of_sheet, enter_sheet

    typed = list(lines)
    with opened(book_path) as book:
        printed = moment_of(printed_text, book.zone)
        there = printed_sheet(book, revision, week, area, printed, letters, watch_of(book_path))
        name = proven(book, by)
        say_cautions(cautions_of_sheet(book, there, typed))
        entered = enter_sheet(book, there, typed, by, now, name, day)
    for sentence in entered.sentences:
        say(sentence)
    if entered.missing:
        say(said("Not on this sheet: {rows}", rows=listed(map(Numeral, entered.missing))))
    if entered.problems:
        raise Refused(in_lines(entered.problems))


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--dates", "order", type=click.Choice(["ymd", "dmy", "mdy"]), help="The format of all dates in FILE.")
@by_option
@book_option
def stated(file: Path, order: str | None, by: str, book_path: Path) -> None:
    """Load from FILE the dates when work was last done before this book began: stated, not verified.

    FILE is a CSV file with the columns item, task, done.  The date stated counts as last done for calendar
    intervals until the work is signed; never for strokes, nor where a grade or a second signature is needed.  All dates
    in the file have one format: like 2026-03-04 unless --dates says otherwise.  Nothing is written until all lines are
    right; loading the same file twice changes nothing.

    Example: strokebook stated last-done.csv --dates dmy --by lea
    """
    from upkeep.sources.stated import load_stated
    from upkeep.views.rights import Wish

    with opened(book_path) as book:
        written, known = load_stated(book, file, order, by, now, proven(book, by, wish=Wish("stated")))
        say(
            said(
                "{file}: lines entered: {entries}; already known: {known}.",
                file=file.name,
                entries=len(written.entries),
                known=known,
            )
        )
        if written.entries:
            say_written(book, written)
