"""Files of many facts in the place of one typed in."""

from __future__ import annotations

from pathlib import Path

import click

from upkeep.cli.clock import now
from upkeep.cli.options import opened
from upkeep.cli.progress import watch_of
from upkeep.cli.proving import proven
from upkeep.cli.saying import say
from upkeep.errors import Refused
from upkeep.said import in_lines, said
from upkeep.sources.drop import FileKind, take
from upkeep.views.rights import Wish

from_option = click.option(
    "--from", "file", type=click.Path(path_type=Path, dir_okay=False, exists=True), help="Take them from a CSV file."
)


def take_file(book_path: Path, file: Path, kind: FileKind, by: str) -> None:
    """Writes what a file tells, and says what became of its lines; raises :class:`Refused` with the bad ones."""
    with opened(book_path) as book:
        taken = take(book, file, kind, by, now, watch_of(book_path), proven(book, by, wish=Wish(kind.word)))
    say(taken.outcome(file.name))
    for note in taken.notes:
        say(said("Note: {note}", note=note))
    if taken.problems:
        raise Refused(in_lines(taken.problems))
