"""Signing seals: the key that quality keeps, the signature over each line of a file of seals, a token of its time."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import click

from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.options import book_option, by_option, opened, say_written
from upkeep.cli.outputs import put
from upkeep.cli.proving import asked, proven, secret_in
from upkeep.cli.saying import say
from upkeep.cli.sealing.stamping import stamp
from upkeep.entries.keys import Given, Key
from upkeep.entries.origin import IN_A_SHELL
from upkeep.errors import Refused
from upkeep.said import said

password_option = click.option(
    "--password-file",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="A file with the password, closed to others; left out, it is asked for.",
)


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@password_option
@by_option
@book_option
def seal_key(file: Path, password_file: Path | None, by: str, book_path: Path) -> None:
    """Make the key with which quality signs seals, in a new FILE that its owner alone can read.

    Keep FILE where nobody who keeps the book can read it, best on a stick, and its password in your head. The book
    notes the public key; give it to auditors on paper, so that they need not believe the evidence about it.

    Example: strokebook seal key /media/quality/seals.key --by agnes
    """
    from upkeep.book.signing import made

    with opened(book_path) as book:
        entry = Given(at=now(), by=by, key=Key.SEAL, person=by, name="0" * 64)
        book.tried([entry], now())
        name = proven(book, by, entries=[entry])
        public = made(file, _password(password_file, twice=True))
        try:
            say_written(book, book.write([replace(entry, name=public)], now, IN_A_SHELL, name))
        except BaseException:
            file.unlink()
            raise
        say(said("{file}: written. Public key: {key}", file=file, key=public))


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--key",
    "key_file",
    required=True,
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="The file of the key.",
)
@password_option
@click.option("--authority", help="Ask this time-stamp authority (RFC 3161) for a token, by its address.")
@book_option
def seal_sign(file: Path, key_file: Path, password_file: Path | None, authority: str | None, book_path: Path) -> None:
    """Sign the seals in FILE; where there is no FILE, the seal of the book, in a new one.

    Each line that is not signed yet is signed. That takes no book: the seal of evidence (seal.txt in its folder) can be
    signed on another machine. With --authority a token beside it (FILE.tsr) says when that was; openssl checks it. The
    plant may name its authority in plant.toml (time_stamp_authority).

    Example: strokebook seal sign evidence/seal.txt --key /media/quality/seals.key
    """  # fmt: skip
    from upkeep.book.signing import signed_lines

    if not file.exists():
        with opened(book_path) as book:
            authority = authority or book.facts.time_stamp_authority
            _new(book, file)
    text = _read(file)
    lines, number = signed_lines(text, key_file, _password(password_file))
    if number:
        put(file, lines.encode("ascii"), replacing=True)
    say(said("{file}: lines signed: {n}.", file=file, n=number))
    if authority:
        stamp(file, authority)


def _new(book: Book, file: Path) -> None:
    if book.went_back is not None:
        raise Refused(book.went_back)
    put(file, f"{book.seal(now()).text}\n".encode("ascii"), replacing=False)


def _read(file: Path) -> str:
    try:
        return file.read_text(encoding="ascii")
    except (OSError, UnicodeDecodeError):
        raise Refused(said("{file} is no file of seals.", file=file)) from None


def _password(file: Path | None, *, twice: bool = False) -> str:
    if file is not None:
        return secret_in(file)
    typed = asked(said("Password of the key"))
    if twice and asked(said("The same again")) != typed:
        raise Refused(said("These two are not the same. Nothing was changed; do it again."))
    return typed
