"""Seals from papers and files against the book."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.cli.clock import now
from upkeep.cli.options import because_option, book_option, by_option, json_option, opened, say_json, say_written
from upkeep.cli.proving import proven
from upkeep.cli.saying import say
from upkeep.entries.bookkeeping import Note
from upkeep.entries.origin import IN_A_SHELL
from upkeep.errors import BookDamaged, Refused
from upkeep.said import Moment, Numeral, Said, in_turn, said, said_many
from upkeep.scan_codes import seal_text
from upkeep.seals.judging import SealFound, Verdict
from upkeep.seals.line import SealLine, read_seal

if TYPE_CHECKING:
    from upkeep.book import Book


@click.command()
@click.argument("text", nargs=-1)
@json_option
@book_option
def seal_check(text: tuple[str, ...], as_json: bool, book_path: Path) -> None:
    """Say which entry a seal is, or that the book has lost its tail.

    TEXT is the seal at the head of a paper, typed or scanned, or a file of seals. Left out: the seal of the book as it
    is, after a look at those that are known of it.

    A seal that the book has lost is kept beside the book: until a restored book has it again, every answer and every
    screen says so. One that was of another plant is taken away with 'seal forget'.

    Example: strokebook seal check 812 BNQBL-FK5W2-IRNLH-I3ZP3-U
    """
    with opened(book_path) as book:
        asked = list(seals_in(book, " ".join(text))) if text else list(book.known_seals())
        found = [book.seal_found(seal) for seal in asked]
        learn(book, found)
        if as_json:
            first = [] if text else [book.seal_found(_own(book))]
            say_json([_as_json(one) for one in (*first, *found)])
        elif text:
            _say_signatures(book, asked)
            for one in found:
                if not _refused(one):  # what is wrong is said once, at the end
                    say(_said(book, one))
        else:
            own = _own(book)
            say(said("Seal: {seal}", seal=seal_text(own.entry, own.link or "")))
            say(said_many("{n} seal is known of this book.", "{n} seals are known of this book.", n=len(found)))
        refuse_what_alarms(found)
        _refuse_false_signatures(asked)


def _say_signatures(book: Book, seals: Sequence[SealLine]) -> None:
    """Tells whose the keys are that signed seals, as the book knows it."""
    keys = book.signing_keys()
    for key in dict.fromkeys(seal.key for seal in seals if seal.key is not None):
        given = keys.get(key)
        if given is None:
            say(said("Signed with the key {key}, which this book does not know.", key=key))
        else:
            say(said("Signed with the key {key} of {name}, made {at}.", key=key, name=book.names.now(given.person),
                     at=Moment(given.at, book.zone)))  # fmt: skip


def _refuse_false_signatures(seals: Sequence[SealLine]) -> None:
    from upkeep.seals.signing import signature_fits

    for seal in seals:
        if seal.signature is not None and not signature_fits(seal):
            raise Refused(
                said(
                    "The signature under the seal of #{entry} does not fit: the line was changed, or signed with "
                    "another key. Believe it no more than a seal without one.",
                    entry=Numeral(seal.entry),
                )
            )


def seals_in(book: Book, text: str) -> Iterator[SealLine]:
    """The seals somebody named: one from a paper, or those of this book in a file of seals."""
    file = Path(text)
    if len(text) < 256 and file.is_file():
        seals = list(book.seals_outside(file))
        if not seals:
            raise Refused(said("{file} holds no seal of this book.", file=file))
        yield from seals
    else:
        yield read_seal(text)


def learn(book: Book, found: Sequence[SealFound]) -> None:
    """Keeps what seals from outside say beside the book: those it has lost, else its own of now."""
    for one in found:
        if one.verdict is Verdict.LOST_TAIL:
            book.learn_seal(replace(one.seal, book=book.id, at=one.seal.at or now()))
    book.keep_seal(now())


def refuse_what_alarms(found: Sequence[SealFound]) -> None:
    """Raises :class:`BookDamaged` where a seal does not fit, :class:`Refused` where it is of another book."""
    from upkeep.wording.seals import seal_said

    for one in found:
        if one.alarms:
            raise BookDamaged(seal_said(one))
    if found and all(one.verdict is Verdict.OTHER_BOOK for one in found):
        raise Refused(seal_said(found[-1]))


def _refused(found: SealFound) -> bool:
    return found.alarms or found.verdict is Verdict.OTHER_BOOK


def _own(book: Book) -> SealLine:
    return book.seal(now())


def _said(book: Book, found: SealFound) -> Said:
    from upkeep.wording.seals import seal_said

    if found.written_at is None:
        return seal_said(found)
    return in_turn(
        seal_said(found),
        said(
            "It was written {at} by {name}; entries written since: {n}.",
            at=Moment(found.written_at, book.zone),
            name=book.names.now(found.by),
            n=found.ends - found.seal.entry,
        ),
    )


def _as_json(found: SealFound) -> dict[str, object]:
    return {
        "seal": found.seal.text,
        "entry": found.seal.entry,
        "book": found.seal.book,
        "verdict": found.verdict.value,
        "ends": found.ends,
        "written_at": found.written_at,
        "by": found.by,
        "restored": None if found.restored is None else found.restored.number,
        "signed": found.seal.signature is not None,
    }


@click.command()
@click.argument("entry", type=int)
@by_option
@because_option
@book_option
def seal_forget(entry: int, by: str, because: str, book_path: Path) -> None:
    """Take a seal of entry number ENTRY away from those known of this book: it was of another one.

    A keeper of the book does it and says why; the book keeps a note of it.
    """
    with opened(book_path) as book:
        keepers = book.known.keepers_on(book.zone.day(now()))
        if keepers and by not in keepers:
            raise Refused(said("Only a keeper of the book takes a seal away: it may be the one that is right."))
        if not because.strip():
            raise Refused(said("Say with --because why the seal of #{entry} is not of this book.",
                               entry=Numeral(entry)))  # fmt: skip
        if all(seal.entry != entry for seal in book.known_seals()):
            raise Refused(said("No seal of #{entry} is known of this book.", entry=Numeral(entry)))
        moment = now()
        note = Note(at=moment, by=by, text=f"a seal of #{entry} is not of this book: {because}")
        name = proven(book, by, entries=[])
        book.write_all_the_same()
        say_written(book, book.write([note], now, IN_A_SHELL, name))
        book.forget_seal(entry)
