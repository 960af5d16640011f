"""Codes, badges and tokens: given by a keeper, chosen by their owner, withdrawn."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book, Proven
from upkeep.cli.clock import now
from upkeep.cli.options import book_option, by_option, json_option, opened, say_json
from upkeep.cli.outputs import private
from upkeep.cli.proving import asked, chosen, proven
from upkeep.cli.saying import WrongUsage, WrongValue, reader_of, say
from upkeep.entries.keys import Given, Key, Withdrawn
from upkeep.entries.origin import IN_A_SHELL, Proof
from upkeep.said import Quoted, said
from upkeep.scan_codes import ScanCode, Scannable

if TYPE_CHECKING:
    from upkeep.book.giving import Keyring

_withdraw_option = click.option("--withdraw", is_flag=True, help="Make it void from now on.")
_until_option = click.option("--until", "until_text", help="Its last day, for somebody who is here only for a while.")


def _keyring(book: Book, entry: Given | Withdrawn, *, begins: bool = False) -> Keyring:
    """The keys in the hands of whoever writes an entry about them, and proves their name where they may; ``begins``:
    they give themselves the first code of all."""
    from upkeep.book.giving import Keyring

    name = Proven(entry.by, Proof.NONE) if begins else proven(book, entry.by, entries=[entry])
    return Keyring(book, name, now(), IN_A_SHELL)


def _told(
    by: str, key: Key, person: str, *, name: str = "", withdraw: bool, until: date | None = None
) -> Given | Withdrawn:
    """What is going to be told of a key of somebody."""
    if withdraw:
        return Withdrawn(at=now(), by=by, key=key, person=person, name=name)
    return Given(at=now(), by=by, key=key, person=person, name=name, until=until)


def _day(text: str | None) -> date | None:
    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError:
        raise WrongValue(said("{text} is not a day; write it like 2026-03-31.", text=Quoted(text or ""))) from None


@click.command()
@click.argument("person")
@_withdraw_option
@_until_option
@by_option
@book_option
def code(person: str, withdraw: bool, until_text: str | None, by: str, book_path: Path) -> None:
    """Give PERSON a first code, or a first password where their roles ask for one; print it once.

    Tell it to them alone. It proves nothing yet: with it they choose a code of their own ('own-code', or where a screen
    or page asks who is here), within seven days. What they had before is void, so this is also the way out of a
    forgotten code.

    A keeper of the book does this. While there is none, the lead gives codes that last seven days at most (--until). In
    a new book, or after the file of keys was lost, a keeper begins by giving one to themselves.

    Example: strokebook code ana --by yara
    """
    with opened(book_path) as book:
        begins = person == by and not withdraw and book.naming.may_begin(by, now())
        somebody, until = book.known.person(person), _day(until_text)
        key = Key.PASSWORD if book.naming.wants_password(somebody) else Key.CODE
        entry = _told(by, key, person, withdraw=withdraw, until=until)
        keyring, name = _keyring(book, entry, begins=begins), somebody.name
        if withdraw:
            keyring.withdraw_code(person)
            say(said("The code of {person} is void.", person=name))
            return
        first = keyring.give_code(person, until)
        say(
            said(
                "First code of {person}: {code}. It is shown this once. With it they choose their own within 7 days.",
                person=name,
                code=first,
            )
        )


@click.command("own-code")
@by_option
@book_option
def own_code(by: str, book_path: Path) -> None:
    """Choose your own code or password, in place of the first one, or of the one you have.

    A code is six digits or more; leads, quality, managers and keepers have a password of twelve characters or more.
    """
    with opened(book_path) as book:
        name = book.known.person(by).name
        typed = asked(said("The code {person} has now", person=name))
        chosen(book, by, typed)
        say(said("The new code of {person} is valid from now on.", person=name))


globals()["own-code"] = own_code
"""A command is looked up by its name, and this one has a hyphen."""


@click.command()
@click.argument("person")
@_withdraw_option
@click.option(
    "--pdf", "target", type=click.Path(path_type=Path, dir_okay=False), help="Print it as a card; a new file."
)
@by_option
@book_option
def badge(person: str, withdraw: bool, target: Path | None, by: str, book_path: Path) -> None:
    """Give PERSON a badge: print its random number, once; a scanner reads it where somebody is asked who they are.

    A lost badge is made void with --withdraw, by a keeper or the lead; until then its owner types their short id.
    A badge says who somebody is; only their code proves it.

    Example: strokebook badge ana --withdraw --by lea
    """
    with opened(book_path) as book:
        keyring = _keyring(book, _told(by, Key.BADGE, person, withdraw=withdraw))
        name = book.known.person(person).name
        if withdraw:
            n = keyring.withdraw_badges(person)
            say(said("Badges of {person} made void: {n}.", person=name, n=n))
        else:
            file = private(target) if target is not None else None
            number = keyring.give_badge(person)
            if file is not None:
                _print_badge(book, file, person, number)
                say(said("{target}: the badge of {person}. Print it now and delete the file.", target=target or "",
                         person=name))  # fmt: skip
                return
            say(
                said(
                    "Badge of {person}: {code}. It is shown this once; print it as a bar code that ends with Enter.",
                    person=name,
                    code=str(ScanCode(Scannable.BADGE, number)),
                )
            )


def _print_badge(book: Book, file: int, person: str, number: str) -> None:
    from upkeep.papers.cards.badge_card import badge_pdf

    name = book.known.person(person).name
    with os.fdopen(file, "wb") as written:
        written.write(badge_pdf(book.facts.name, name, person, number, reader_of(book)))


@click.command()
@click.argument("name")
@click.option("--for", "person", help="The person it speaks for; left out: who makes it.")
@click.option("--file", "file", type=click.Path(path_type=Path, dir_okay=False), help="Where to put it; a new file.")
@_withdraw_option
@_until_option
@by_option
@book_option
def token(
    name: str, person: str | None, file: Path | None, withdraw: bool, until_text: str | None, by: str, book_path: Path
) -> None:
    """Make a token, NAME, with which a script or a service signs for a person; it goes into a new file.

    The file can be read by its owner alone, and holds nothing else. Whoever has it signs with that person's name: make
    one for each program, and withdraw it when the program goes.

    \b
    strokebook token "night list" --for lea --file night.token --by yara
    strokebook --token-file night.token count --from counts.csv --by lea
    """
    if not withdraw and file is None:
        raise WrongUsage(said("Say with --file where the token goes, or --withdraw."))
    with opened(book_path) as book:
        until = _day(until_text)
        keyring = _keyring(book, _told(by, Key.TOKEN, person or by, name=name, withdraw=withdraw, until=until))
        if withdraw or file is None:
            keyring.withdraw_token(name)
            say(said("The token {name} is void.", name=Quoted(name)))
            return
        descriptor = private(file)
        with os.fdopen(descriptor, "w", encoding="ascii") as written:
            try:
                written.write(keyring.give_token(name, person or by, until) + "\n")
            except BaseException:
                file.unlink()
                raise
        say(said("{file}: written; it signs for {person}.", file=file, person=person or by))


@click.command()
@json_option
@book_option
def keys(as_json: bool, book_path: Path) -> None:
    """Who has a code, a password or a badge, and which tokens there are; never what they are.

    The file of keys lies beside the book and can be read by its owner alone. It goes into no backup: when it is lost
    the book is whole, and everybody gets a new code.
    """
    from upkeep.book.giving import keys_list
    from upkeep.papers.keys_text import keys_text

    with opened(book_path) as book:
        listed = keys_list(book, now())
        if as_json:
            say_json(listed)
        else:
            click.echo(keys_text(listed, book.zone, reader_of(book)), nl=False)
