"""Keeping the book: proof, backup, restore, export."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book, ProofReport
from upkeep.cli.clock import now
from upkeep.cli.options import book_option, fields_of, json_option, opened, say_json
from upkeep.cli.outputs import replace_option, save
from upkeep.cli.progress import COPYING, PROVING, watch_of
from upkeep.cli.proving import proven
from upkeep.cli.saying import WrongUsage, say
from upkeep.cli.sealing.checking import learn, refuse_what_alarms, seals_in
from upkeep.entries.bookkeeping import Note
from upkeep.entries.origin import IN_A_SHELL
from upkeep.errors import BookDamaged
from upkeep.progress import nobody
from upkeep.said import Moment, Numeral, Said, Value, in_lines, said
from upkeep.seals.judging import Verdict
from upkeep.store.disk.place import refuse_what_is_left, remove_with_what_is_beside
from upkeep.units.quantities import in_time

if TYPE_CHECKING:
    from upkeep.sources.after_backup import Lost


@click.command()
@click.option("--seal", "seals", multiple=True, help="A seal from a paper, or a file of seals, to compare with.")
@json_option
@book_option
def prove(seals: tuple[str, ...], as_json: bool, book_path: Path) -> None:
    """Replay the whole book, compare everything computed, follow the chain.

    Names the first entry that differs. An older copy of the book is whole in itself: it is found by the seals that are
    known of it. Those beside the book are always compared; --seal adds one from a paper, or a file of seals from where
    nobody of the plant can write.
    """
    with opened(book_path) as book:
        found = [book.seal_found(seal) for text in seals for seal in seals_in(book, text)]
        learn(book, found)
        report = book.prove(watch_of(book_path, PROVING))
        troubles, went_back = book.picture_troubles(), book.went_back
    if as_json:
        say_json(fields_of(report) | {"pictures": list(troubles)})
    else:
        say(_report_said(report))
        _say_pictures(troubles)
        if report.clean and found:
            fitting = sum(one.verdict is Verdict.FITS for one in found)
            say(said("Seals that fit: {n} of {of}.", n=fitting, of=len(found)))
    refuse_what_alarms(found)
    if went_back is not None:
        raise BookDamaged(went_back)
    if not report.clean:
        raise BookDamaged(_what_to_do(report, book_path))


def _what_to_do(report: ProofReport, book_path: Path) -> Said:
    if report.only_tables:
        return said(
            "The entries of {book} are whole; what was computed from them is not what they say. Keep a copy of this "
            "file, have all of it computed anew (strokebook refill), and prove it again.",
            book=book_path,
        )
    return said("{book} is not what its entries say. Keep this file and restore the last good backup.", book=book_path)


def _say_pictures(troubles: Sequence[Said]) -> None:
    for trouble in troubles:
        say(said("Note: {note}", note=trouble), err=True)


def _report_said(report: ProofReport) -> Said:
    lines = []
    if report.tables_made_again:
        lines.append(said("Its tables were made by an older program and have been rebuilt."))
    if report.clean:
        clean = said(
            "Clean: {entries} entries replayed, {rows} computed rows agree, the chain is whole.",
            entries=report.entries,
            rows=report.rows,
        )
        return in_lines([*lines, clean, *report.notices, said("Last link: {hash}", hash=report.hash)])
    if report.first_entry:
        lines.append(said("First entry that differs: #{entry}", entry=Numeral(report.first_entry)))
    return in_lines([*lines, *report.differences])


@click.command()
@book_option
def refill(book_path: Path) -> None:
    """Rebuild everything computed from the entries, which stay as they are.

    After a new release this happens by itself when the book is first opened; there is no need to call it for that.
    """
    with opened(book_path) as book:
        if book.tables_made_again:
            say(said("Its tables were made by an older program and have been rebuilt."))
        else:
            say(said("Computed rows rebuilt: {n}.", n=book.refill()))


@click.command()
@click.argument("target", type=click.Path(path_type=Path, dir_okay=False))
@book_option
def backup(target: Path, book_path: Path) -> None:
    """Copy the book to TARGET while others go on working, and prove the copy."""
    with opened(book_path) as book:
        book.backup(target, watch_of(book_path, COPYING))
        try:
            report = _proof(target)
        except BookDamaged as error:
            book.tell_everybody((error.said,))
            raise
        book.tell_everybody(())
        troubles = book.picture_troubles()
    say(said("Copied to {target}. Proven clean: {entries} entries.", target=target, entries=report.entries))
    _say_pictures(troubles)


@click.command()
@click.argument("source", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--newer",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="The damaged book, as far as it can be read, or the text of an export.",
)
@click.option(
    "--from-text",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="The text of an export; SOURCE is then the new book that is made from it.",
)
@click.option("--by", envvar="STROKEBOOK_BY", help="Who restores: a person's id.")
@book_option
def restore(source: Path, newer: Path | None, from_text: Path | None, by: str | None, book_path: Path) -> None:
    """Put the backup SOURCE in the place of the book; there must be no file of that name.

    The first entry after the backup is a note, signed by you, that the book was restored; the chain goes on from the
    backup's last link.  What was written after the backup is missing; the command says which time that is.

    With --newer, everything the newer file holds beyond the backup is printed as entry lines, in the order in which it
    was written: counts, sign-offs and all the rest.  Look through it and enter it before anything else, so that the
    entry numbers in it stay right:

    \b
    strokebook restore night.book --newer damaged.book --by lea > again.txt
    strokebook enter again.txt

    With --from-text an export becomes a book again, under a new name: the same entries, names, moments and links, and
    so the same board.  Each line must follow from those before it; where one does not, it is named and nothing is made.

    \b
    strokebook export > all.txt
    strokebook restore --from-text all.txt new.book
    """
    if from_text is not None:
        from upkeep.cli.made_again import make_again

        if newer is not None:
            raise WrongUsage(said("--newer goes with a backup, not with the text of an export."))
        make_again(from_text, source)
        return
    if by is None:
        raise WrongUsage(said("Say with --by who restores: a person's id."))
    refuse_what_is_left(book_path)
    report = _proof(source)
    lost = None
    with Book.open_copy(source, watch_of(source)) as backup:
        if newer is not None:
            from upkeep.sources.after_backup import written_after

            lost = written_after(backup, report.entries, report.hash, newer)
        report_text = _restored(backup, report, source, book_path, by)
        troubles = backup.picture_troubles()
    for sentence in report_text:
        say(sentence, err=lost is not None)
    _say_pictures(troubles)
    if lost is not None:
        _say_lost(lost, book_path)


def _restored(backup: Book, report: ProofReport, source: Path, book_path: Path, by: str) -> tuple[Said, ...]:
    """Copies the backup, notes in the copy what it is, and gives it the book's name; says how it stands."""
    moment = now()
    written = backup.entry(report.entries).recorded_at if report.entries else None
    zone = backup.zone
    until: Value = Moment(written, zone) if written else said("the beginning")
    partial = book_path.with_name(f".{book_path.name}.restored")
    remove_with_what_is_beside(partial)
    backup.backup(partial)
    try:
        with Book.open(partial) as book:
            ends = zone.show(written) if written else "the beginning"
            text = f"restored from {source.name}, which ends with #{report.entries} of {ends}"
            naming = book.naming_by_keys_of(book_path)
            note = Note(at=moment, by=by, text=text, restored=True)
            lost = not naming.keys.exist  # with the book: nobody can prove it
            book.write([note], now, IN_A_SHELL, None if lost else proven(book, by, naming, [note]))
        _put_in_place(partial, book_path)
    finally:
        remove_with_what_is_beside(partial)
    gap = said("The gap runs from {since} to {until}", since=until, until=Moment(moment, zone))
    if written:
        gap = said("{gap}, {length}", gap=gap, length=in_time((moment - written).total_seconds()))
    return (
        said(
            "{book} is restored up to #{entry}, written {moment}. Proven clean: {entries} entries.",
            book=book_path,
            entry=report.entries,
            moment=until,
            entries=report.entries,
        ),
        said(
            "{gap}. Counts and sign-offs from that time are not in this book; enter them again, each with the "
            "time it was done.",
            gap=gap,
        ),
        said("Note #{entry} says that the book was restored.", entry=report.entries + 1),
    )


def _put_in_place(partial: Path, book_path: Path) -> None:
    """Gives the restored book its name and proves it there; takes it away again where it is not what was copied."""
    os.replace(partial, book_path)
    try:
        with Book.open(book_path, watch_of(book_path)) as book:
            report = book.prove(watch_of(book_path, PROVING))
        if not report.clean:
            raise BookDamaged(
                said("{book} does not prove clean: {difference}", book=book_path, difference=report.differences[0])
            )
    except BaseException:
        remove_with_what_is_beside(book_path)
        raise


def _say_lost(lost: Lost, book_path: Path) -> None:
    """The list of what to enter again on stdout, and what to know about it on stderr."""
    from upkeep.sources.after_backup import lines_again

    if lost.ends is not None:
        say(said("Note: {note}", note=lost.ends), err=True)
    if not lost.entries:
        say(said("The newer file holds nothing written after the backup."), err=True)
        return
    say(said("Entries written after the backup: {n}. They are listed.", n=len(lost.entries)), err=True)
    with opened(book_path) as book:
        click.echo(
            "# Written after the backup. Enter this before anything else, or the numbers in it (#...) will be wrong."
        )
        for line in lines_again(lost, book.zone):
            click.echo(line)


def _proof(path: Path) -> ProofReport:
    with Book.open_copy(path, watch_of(path)) as book:
        report = book.prove(watch_of(path, PROVING))
    if not report.clean:
        raise BookDamaged(
            said(
                "{path} does not prove clean: {difference} Use an older backup.",
                path=path,
                difference=report.differences[0],
            )
        )
    return report


@click.command()
@click.option("--csv", "table", type=click.Path(path_type=Path), help="Write a table to this file instead.")
@replace_option
@book_option
def export(table: Path | None, replacing: bool, book_path: Path) -> None:
    """Print every entry as one line of text, in the order written.

    With its salt and its link of the chain on each line; 'strokebook restore --from-text' makes the same book of it.
    Where an entry does not follow from those before it, the end says which is the first; what can be read is printed.

    --csv FILE writes the entries as a table with named columns, moments in UTC, for spreadsheets and other programs.
    """
    with opened(book_path) as book:
        if table is not None:
            from upkeep.cli.made_again import as_csv

            rows, wrong = as_csv(book, watch_of(book_path))
            save(table, rows, replacing=replacing)
            if wrong is not None:
                raise wrong
            return
        click.echo(f"# {book.facts.name}; moments are local time in {book.zone.name}")
        # Where the lines go to the terminal themselves, they show how far it is.
        for line in book.export(nobody if sys.stdout.isatty() else watch_of(book_path)):
            click.echo(line)
