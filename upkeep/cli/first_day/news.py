"""What is new for users in each release, and how to get to the next one and back."""

from __future__ import annotations

import platform
import sys
from collections.abc import Iterator
from importlib.metadata import version

import click

from upkeep.cli.saying import words
from upkeep.frozen import frozen
from upkeep.said import Numeral, Said, said
from upkeep.store.disk.connecting import RUNNING
from upkeep.store.schema import TABLES, VERSION
from upkeep.wording.text import paragraph


@frozen
class Release:
    """A release: its number, the number of its tables, and what users find new in it."""

    number: str
    tables: int
    news: tuple[Said, ...]


RELEASES = (
    Release(
        "0.1.0",
        TABLES,
        (
            said("The first release: counts, fittings, due lines, sign-offs, wear, checks, faults, spares and plans."),
            said(
                "'new --from' loads the sheets a plant has already, and tells sheet, row and column of what is wrong."
            ),
            said("'baseline' gives work without history a day for its first time, spread over weeks by risk."),
            said("A week is levelled, agreed and frozen; a returned sheet proves which print it is."),
            said("Names are proven by codes, passwords, badges or tokens, where the plant wants that."),
            said("A book on a network drive is told whenever it is opened: keep it on a disk of the computer itself."),
        ),
    ),
)
"""The releases, the newest first."""

UPDATING = (
    said("Copy the book first: 'strokebook backup before.db', and 'strokebook export > before.txt'."),
    said(
        "Install the new program beside the old one, stop 'serve', start it from the new one. Tablets wait, keep what "
        "is typed where they come by https, and go on by themselves; nothing has to be done at them."
    ),
    said(
        "The first command of the new program that may write makes the tables anew where their number is higher; the "
        "entries stay as they are. Screens and servers of the old program then write nothing, and say so: start them "
        "again."
    ),
    said("'strokebook prove' says whether all is well."),
    said(
        "Back again: stop everything, start the old program, and make the book again from an export: 'strokebook "
        "export > all.txt' with the new one, 'strokebook restore --from-text all.txt old.db' with the old one. It "
        "names the first entry it does not know; then restore 'before.db' and enter by hand what came after."
    ),
)
"""How to get from one release to the next, and back."""


def version_said() -> Said:
    """The program with the numbers that matter when two of them meet on one book."""
    told = said(
        "strokebook {version}, form of entries {form}, tables {tables}; Python {python}, SQLite {sqlite}",
        version=version("strokebook"),
        form=Numeral(VERSION),
        tables=Numeral(TABLES),
        python=platform.python_version(),
        sqlite=RUNNING,
    )
    if sys.platform.startswith("linux"):
        return told
    return said("{version}\nTested on Linux; on {system} it may work as well, and nobody promises it.", version=told,
                system=platform.system())  # fmt: skip


@click.command()
def news() -> None:
    """What is new in this release and those before it, how to update, and how to go back one release.

    Linux is what the program is tested on and promised for; on Windows it does what it can, untested.
    """
    for line in _lines():
        click.echo(line)


def _lines() -> Iterator[str]:
    for release in RELEASES:
        yield words(said("{number}, tables {tables}", number=release.number, tables=Numeral(release.tables)))
        for one in release.news:
            yield from paragraph(words(one), 2, 4)
    yield ""
    yield words(said("To update, with the server and tablets running:"))
    for number, one in enumerate(UPDATING, 1):
        step = said("{number}. {step}", number=Numeral(number), step=one)
        yield from paragraph(words(step), 2, 5)
