"""The folder of evidence, and the archive of years: written whole, or not at all."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

import click

from upkeep.book import Book, Progress, Watch
from upkeep.cli.clock import now
from upkeep.cli.evidence.answering import Answer, Answering
from upkeep.cli.evidence.entries_told import EntriesTold
from upkeep.cli.evidence.index_page import Answered, index_page
from upkeep.cli.evidence.proof_folder import new_folder, say_how_to_check, write_chain, write_seal
from upkeep.cli.evidence.questions import QUESTIONS, Question
from upkeep.cli.options import book_option, language_option, moment_of, opened, plain, seen_option
from upkeep.cli.progress import GATHERING_EVIDENCE, watch_of
from upkeep.cli.saying import reader_of, say
from upkeep.cli.tabling import csv_text, tables
from upkeep.errors import BookDamaged
from upkeep.papers.frame.frame_rows import FrameCells, frame_cells
from upkeep.papers.frame.naming import with_names
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.plant.model import Kind
from upkeep.said import Moment, Numeral, said
from upkeep.scan_codes import seal_text
from upkeep.store.disk.pictures import copy_all
from upkeep.wording.sentences import Reader, text

_ITEMS = 3
"""How many die sets are shown where nobody chose any: those that hang on presses."""


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--item", "items", multiple=True, help="A die set to show; again for others. Left out: three that hang.")
@seen_option
@language_option
@book_option
def evidence(folder: Path, items: tuple[str, ...], at_text: str | None, language: str | None, book_path: Path) -> None:
    """Answer the auditor's eighteen questions in a new FOLDER with an index page.

    For each question PDF for people, CSV and JSON for programs; all entries, pictures, the chain with its seal, the
    checksums, and two short programs that check them with Python alone. Nothing in it needs this program or a network.
    What this book cannot answer is listed as such.

    Example: strokebook evidence audit-2026 --item DS-012 --at '2026-03-02 11:00'
    """
    with opened(book_path) as book:
        if book.went_back is not None:
            raise BookDamaged(book.went_back)
        watch, at = watch_of(book_path, GATHERING_EVIDENCE), moment_of(at_text, book.zone)
        for item in items:
            book.known.item(item)
        with new_folder(folder) as partial:
            work = _Work(book, partial, at, reader_of(book, language), watch)
            answered = work.answers(Answering(book, at, at_text, items or _hanging(book, at)))
            work.index(answered)
            checksum = write_seal(partial, book, now())
        unanswered = sum(not one.files for one in answered)
        say(said("Questions answered: {n} of {of}; the index lists the others.", n=len(answered) - unanswered,
                 of=len(answered)))  # fmt: skip
        say_how_to_check(folder, checksum)


def _hanging(book: Book, at: datetime) -> Sequence[str]:
    sets = [item for item, _ in book.hanging(at) if book.known.item(item).kind is Kind.DIE_SET]
    return sorted(sets)[:_ITEMS]


class _Work:
    """What is written into one folder."""

    def __init__(self, book: Book, folder: Path, at: datetime, reader: Reader, watch: Watch) -> None:
        self._book, self._folder, self._at, self._reader, self._watch = book, folder, at, reader, watch
        self._told = EntriesTold(book)
        self._frame: FrameCells = frame_cells(book.printed(at), reader)
        self._written: dict[str, list[str]] = {}

    def answers(self, answering: Answering) -> list[Answered]:
        """Writes entries, chain, pictures and the answers; gives the questions with their files."""
        self._told.write(self._folder / "entries.csv", self._watch)
        write_chain(self._folder, self._book.chain_lines(self._watch))
        self._pictures()
        found = []
        for place, question in enumerate(QUESTIONS, 1):
            found.append(self._answered(question, answering))
            self._watch(Progress("answers", place, len(QUESTIONS)))
        return found

    def _pictures(self) -> None:
        kept = self._book.kept_pictures()
        if kept:
            copy_all(self._book.path, self._folder / "book", kept)

    def _answered(self, question: Question, answering: Answering) -> Answered:
        written, missing = [], []
        for command in question.commands:
            for answer in answering.answers(command):
                if isinstance(answer, Answer):
                    words = " ".join(("strokebook", *answer.words))
                    if words not in self._written:
                        self._written[words] = list(self._answer_files(question, answer))
                    written.append((words, self._written[words]))
                else:
                    missing.append(said("{command}: {why}", command=" ".join(answer.words), why=answer.why))
        if question.of_entries:
            rows = self._told.rows(question.of_entries)
            stem = f"{question.number:02}-{question.of_entries}"
            files = [self._write(f"{stem}.csv", csv_text(rows)), self._json(stem, rows)]
            written.append((question.of_entries, files))
        return Answered(question, written, missing)

    def _answer_files(self, question: Question, answer: Answer) -> Iterator[str]:
        stem = f"{question.number:02}-{answer.stem}"
        value = self._book.withheld.value(answer.value)
        page = self._book.withheld.text(answer.page).replace("\f", "\n")
        page = with_names(page, self._book.facts.signed_with, self._reader)
        title = f"{question.number}. {text(question.asks, self._reader)}"
        (self._folder / f"{stem}.pdf").write_bytes(page_pdf(f"{title}\n\n{page}", self._frame, self._reader))
        yield f"{stem}.pdf"
        for name, rows in tables(value).items():
            yield self._write(f"{stem}{f'.{name}' if name else ''}.csv", csv_text(rows))
        yield self._json(stem, value)

    def _json(self, stem: str, value: object) -> str:
        return self._write(f"{stem}.json", json.dumps(value, default=plain, ensure_ascii=False, indent=1) + "\n")

    def _write(self, name: str, content: str) -> str:
        with (self._folder / name).open("w", encoding="utf-8", newline="") as file:
            file.write(content)
        return name

    def index(self, answered: Sequence[Answered]) -> None:
        """Writes the index page."""
        seal, zone = self._book.seal(now()), self._book.zone
        facts = [
            said("As the book stood {at}, written {now}. Moments in JSON and CSV are UTC.", at=Moment(self._at, zone),
                 now=Moment(now(), zone)),
            said("Entries: {n}, all in entries.csv. Seal: {seal}", n=Numeral(seal.entry + 1),
                 seal=seal_text(seal.entry, seal.link or "")),
            said("To check it on any machine: python3 -I -S verify.py, in this folder. What is checked stands at the "
                 "head of that file, how entries are hashed in CHAIN.txt."),
        ]  # fmt: skip
        title = said("Evidence from the book of {plant}", plant=self._book.facts.name)
        self._write("index.html", index_page(title, facts, answered, self._reader))
