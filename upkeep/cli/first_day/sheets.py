"""The sheets of a plant into a book: the report, the questions, and the load once the lead has said so."""

from __future__ import annotations

import os
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from upkeep.book import Book
from upkeep.cli.clock import now
from upkeep.cli.options import opened, say_written
from upkeep.cli.plant import say_definitions
from upkeep.cli.proving import proven
from upkeep.cli.saying import say, words
from upkeep.entries.kinds import kind_of
from upkeep.errors import Refused
from upkeep.said import Numeral, Said, either, said, said_many
from upkeep.store.disk.place import remove_with_what_is_beside
from upkeep.wording.text import paragraph

if TYPE_CHECKING:
    from upkeep.sources.first_load.answered import Answers
    from upkeep.sources.first_load.found import Question
    from upkeep.sources.first_load.load import Loader
    from upkeep.sources.first_load.look import Ground, Look

_SHOWN = 40
"""Findings of one sort told in full; the rest is counted, by sheet."""


def load_sheets(sheets: Path, book_path: Path, by: str, because: str, *, dry_run: bool, yes: bool) -> None:
    """Looks at sheets, asks what only the lead can answer, tells what would be loaded, and loads it after a yes."""
    from upkeep.sources.first_load.load import Loader

    loader = Loader(by, now(), because)
    if book_path.exists():
        with opened(book_path) as book:
            look = _answered(sheets, _ground_of(book, loader.at))
            _into(book, look, loader, dry_run=dry_run, yes=yes)
        return
    from upkeep.sources.first_load.look import Ground

    look = _answered(sheets, Ground(None, {}, loader.at.date()))
    partial = book_path.with_name(f".{book_path.name}.first")
    remove_with_what_is_beside(partial)
    try:
        with Book.create(partial) as book:
            loaded = _into(book, look, loader, dry_run=dry_run, yes=yes, new=book_path)
        if loaded:
            os.replace(partial, book_path)
            _say_what_now(book_path)
    finally:
        remove_with_what_is_beside(partial)


def _ground_of(book: Book, at: datetime) -> Ground:
    import json

    from upkeep.sources.first_load.look import Ground

    kept = {(row.what, row.key): json.loads(row.content) for row in book.known.rows}
    began = {item: book.zone.day(since) for item, since in book.known.since.items()}
    today: date = book.zone.day(at)
    return Ground(kept, began, today)


def _answered(sheets: Path, ground: Ground) -> Look:
    """The look once everything is answered; raises :class:`Refused` where something is wrong, or nobody answers."""
    from upkeep.sources.first_load.answered import answers_file, keep_answers, kept_answers
    from upkeep.sources.first_load.look import look

    file = answers_file(sheets)
    answers = kept_answers(file)
    found = look(sheets, answers, ground)
    while found.questions:
        if not sys.stdin.isatty():
            _say_report(found)
            _say_questions(found.questions, file)
            raise Refused(said("Nothing was loaded: {n} questions are open.", n=len(found.questions)))
        answers = _asked(found.questions[0], answers)
        keep_answers(file, answers)
        found = look(sheets, answers, ground)
    _say_report(found)
    if found.wrong:
        raise Refused(
            said_many(
                "Nothing was loaded: {n} cell is wrong. Mend it in the sheet and load again.",
                "Nothing was loaded: {n} cells are wrong. Mend them in the sheets and load again.",
                n=len(found.wrong),
            )
        )
    return found


def _asked(question: Question, answers: Answers) -> Answers:
    """One question at the terminal, until it has an answer."""
    click.echo("\n".join(paragraph(words(question.asked), 0, 2)))
    for row in question.rows:
        click.echo("\n".join(paragraph(words(row), 2, 4)))
    for number, choice in enumerate(question.choices, 1):
        click.echo(f"  {number}  {choice}")
    while True:
        typed: str = click.prompt(words(said("Answer")), prompt_suffix=": ").strip()
        if question.choices and typed.isascii() and typed.isdigit() and 1 <= int(typed) <= len(question.choices):
            typed = question.choices[int(typed) - 1]
        if typed and (not question.choices or typed in question.choices):
            return answers.with_answer(*question.answer(typed))
        say(said("Answer with a number of the list: 1 to {most}.", most=Numeral(len(question.choices))))


def _say_questions(questions: Sequence[Question], file: Path) -> None:
    say(said("To be answered in {file}, or at a terminal, where each is asked:", file=file))
    for question in questions:
        click.echo("\n".join(paragraph(words(question.asked), 2, 4)))
        for row in question.rows:
            click.echo("\n".join(paragraph(words(row), 6, 8)))
        path = question.path if question.value is not None else question.path[:-1]
        table = f"[{'.'.join(_key(step) for step in path)}] " if path else ""
        wanted = either(question.choices) if question.choices else said("your answer")
        if question.value is not None:
            line = said("{table}{choice} = {value}", table=table, choice=wanted, value=_key(question.value))
        else:
            line = said("{table}{key} = {choice}", table=table, key=_key(question.path[-1]), choice=wanted)
        click.echo(f"      {words(line)}")


def _key(text: str) -> str:
    return text if text.isascii() and text.replace("_", "a").replace("-", "a").isalnum() else f'"{text}"'


def _say_report(look: Look) -> None:
    for read in look.reads:
        say(
            said("{name}: read as {sheet}, {n} rows.", name=read.name, sheet=read.sheet.value, n=len(read.rows))
            if read.rows
            else said("{name}: read as {sheet}, no rows.", name=read.name, sheet=read.sheet.value)
        )
        _say_some([said("{what}", what=one) for one in read.passed_over])
    _say_some(look.notes)
    if look.read_as:
        say(said_many("Read otherwise than written, {n} cell:", "Read otherwise than written, {n} cells:",
                      n=len(look.read_as)))  # fmt: skip
        _say_some([one.said for one in look.read_as])
    if look.wrong:
        say(said("Wrong:"))
        _say_some([one.said for one in look.wrong])


def _say_some(sentences: Sequence[Said] | Iterable[Said]) -> None:
    told = [words(sentence) for sentence in sentences]
    for text in told[:_SHOWN]:
        click.echo("\n".join(paragraph(text, 2, 4)))
    if len(told) > _SHOWN:
        say(said("  ... and {n} more like these.", n=len(told) - _SHOWN))


def _into(book: Book, look: Look, loader: Loader, *, dry_run: bool, yes: bool, new: Path | None = None) -> bool:
    """Loads what was found into a book; whether it was."""
    from upkeep.sources.first_load.load import changed, entries_of, load

    entries = entries_of(book, look, loader)
    if not entries:
        say(said("{path} already says all of this.", path=new or book.path))
        return False
    definitions = changed(book, look)
    known = frozenset((one.what, one.key) for one in definitions if book.defines(one.what, one.key))
    if definitions:
        say(said("To be loaded:"))
        say_definitions(new or book.path, definitions, known)
    for verb, number in sorted(Counter(kind_of(type(entry)).verb for entry in entries).items()):
        if verb != "define":
            click.echo(f"  {words(_TALLIED[verb](number))}")
    book.tried(entries, loader.at)
    if dry_run:
        say(said("Nothing was loaded: this was a look."))
        return False
    if not yes and not (sys.stdin.isatty() and click.confirm(words(said("Load all of this?")), default=False)):
        say(said("Nothing was loaded. Whoever says so loads it: the same command with --yes."))
        return False
    name = None if new is not None else proven(book, loader.by, entries=entries)
    written = load(book, look, loader, now, name)
    say_written(book, written)
    return True


_TALLIED = {
    "count": lambda n: said_many("{n} count of a press", "{n} counts of presses", n=n),
    "uncounted": lambda n: said_many(
        "{n} item with strokes so far (stated, not verified)", "{n} items with strokes so far (stated, not verified)",
        n=n,
    ),
    "stated": lambda n: said_many(
        "{n} line last done (stated, not verified)", "{n} lines last done (stated, not verified)", n=n
    ),
}  # fmt: skip


def _say_what_now(path: Path) -> None:
    told = said(
        "{path} is made. What now: walk along the presses, read each counter ('strokebook count') and tell what "
        "hangs where ('strokebook fit'); print labels ('strokebook labels'); plan the first inspections of what "
        "has no history ('strokebook baseline'). 'strokebook board' then shows what is due.",
        path=path,
    )
    click.echo("\n".join(paragraph(words(told), 0, 2)))
