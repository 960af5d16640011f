"""Whose name is written, and how that is proven in a shell: by a token from a file, or a code asked for there."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.cli.clock import now
from upkeep.cli.saying import say, words
from upkeep.entries.origin import Proof, Proven
from upkeep.errors import Refused
from upkeep.said import Said, either, said

if TYPE_CHECKING:
    from upkeep.book import Book, Naming, WrongCode
    from upkeep.entries.entry import Entry
    from upkeep.views.rights import Wish

_LONGEST_FILE = 10_000


def proven(
    book: Book, by: str, naming: Naming | None = None, entries: Sequence[Entry] = (), wish: Wish | None = None
) -> Proven:
    """Who writes, proven as the plant wants it, by the keys of the book or those of ``naming``: in a plant that takes
    names alone, the name.

    Raises :class:`Refused` where nothing proves it, and before a code is asked for whatever the book would refuse
    ``entries`` with, or whoever may not do what a ``wish`` stands for.
    """
    naming = naming or book.naming
    if not naming.asks_for_proof:
        return Proven(by, Proof.NONE)
    if token_file() is not None or not _at_terminal():
        return unattended(book, by, token_file(), naming)
    if wish is not None and (why_not := book.why_not(wish, by, now())) is not None:
        raise Refused(why_not)
    if entries:
        book.tried(entries, now())
    return _by_code(book, naming, by)


def unattended(book: Book, by: str, file: Path | None, naming: Naming | None = None) -> Proven:
    """Who writes where nobody sits at a terminal: a program, in the name of a person whose token it has in ``file``."""
    naming = naming or book.naming
    if not naming.asks_for_proof:
        return Proven(by, Proof.NONE)
    if file is None:
        raise Refused(
            said(
                "Names are proven in this plant: at a terminal {person} is asked for a code. A program has a token "
                "that a keeper makes (strokebook token); give its file: strokebook --token-file FILE COMMAND, or "
                "STROKEBOOK_TOKEN_FILE.",
                person=book.known.person(by).name,
            )
        )
    return _by_token(naming, by, file)


def _at_terminal() -> bool:
    return sys.stdin.isatty() or sys.stderr.isatty()


def token_file() -> Path | None:
    """The file of tokens that was given with the command, which is known where it began and not in its threads."""
    file: Path | None = click.get_current_context().find_root().params.get("token_file")
    return file


def _by_token(naming: Naming, by: str, file: Path) -> Proven:
    """Who a token in a file speaks for: the one of several lines that speaks for whoever writes."""
    others: list[str] = []
    for number in tokens_in(file):
        speaks = naming.prove_by_token(number, now())
        if speaks.person == by:
            return speaks
        others.append(speaks.person)
    if not others:
        raise Refused(said("There is no token in {file}. A keeper of the book makes one: strokebook token", file=file))
    raise Refused(
        said(
            "The tokens in {file} do not speak for {by}, but for {others}.", file=file, by=by,
            others=either(dict.fromkeys(others)),
        )
    )  # fmt: skip


def tokens_in(file: Path) -> list[str]:
    """The tokens in a file, one a line; raises :class:`Refused` where anybody but its owner can read it."""
    with file.open(encoding="ascii", errors="replace") as opened:
        status = os.fstat(opened.fileno())
        if os.name != "nt" and status.st_mode & (stat.S_IRWXG | stat.S_IRWXO):
            raise Refused(
                said(
                    "{file} can be read by others than its owner, so it proves nothing. Have a keeper withdraw its "
                    "tokens and make new ones; the new file is closed to others (chmod 600).",
                    file=file,
                )
            )
        if os.name != "nt" and status.st_uid not in (os.geteuid(), 0):
            raise Refused(said("{file} belongs to somebody else, so it proves nothing here.", file=file))
        return [line.strip() for line in opened.read(_LONGEST_FILE).splitlines() if line.strip()]


def secret_in(file: Path) -> str:
    """The first line of a file that its owner alone can read: a password that nobody types."""
    found = tokens_in(file)
    if not found:
        raise Refused(said("{file} is empty.", file=file))
    return found[0]


def _by_code(book: Book, naming: Naming, by: str) -> Proven:
    from upkeep.book import OnlyFirst, WrongCode

    person = book.known.person(by)
    what = said("Password") if naming.wants_password(person) else said("Code")
    typed = asked(said("{what} of {person}", what=what, person=person.name))
    try:
        return naming.prove(by, typed, now())
    except WrongCode as wrong:
        write_waits(book, wrong)
        raise
    except OnlyFirst as first:
        say(first.said, err=True)
        return chosen(book, by, typed)


def chosen(book: Book, by: str, typed: str) -> Proven:
    """Asks for a code or password of somebody's own choice, twice, and keeps it in place of the one that was typed."""
    from upkeep.book import WrongCode
    from upkeep.entries.keys import Given, Key
    from upkeep.entries.origin import IN_A_SHELL

    new = asked(said("A code of your own"))
    if asked(said("The same again")) != new:
        raise Refused(said("These two are not the same. Nothing was changed; do it again."))
    try:
        name = book.naming.choose(by, typed, new, now())
    except WrongCode as wrong:
        write_waits(book, wrong)
        raise
    moment = now()
    key = Key.PASSWORD if name.proof is Proof.PASSWORD else Key.CODE
    book.write([Given(at=moment, by=by, key=key, person=by)], moment, IN_A_SHELL, name)
    return name


def write_waits(book: Book, wrong: WrongCode) -> None:
    """Writes the waits that begin with a wrong code into the book."""
    from upkeep.entries.origin import IN_A_SHELL

    moment = now()
    book.write(book.naming.wait_entries(wrong.waits, moment, wrong.person.id), moment, IN_A_SHELL)


def asked(what: Said) -> str:
    """What somebody types at the terminal, which does not show it; raises :class:`Refused` where there is none."""
    if not _at_terminal():
        raise Refused(said("Names are proven in this plant, and a code is typed at a terminal; there is none here."))
    typed: str = click.prompt(words(what), hide_input=True, err=True)
    return typed
