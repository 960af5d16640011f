"""No English stands on a page or a screen that the catalogues do not know of."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from demo_plant.environment import ROOT
from tests.templates import KEYWORDS, calls

ROOMS = ("upkeep/papers", "tui/present", "tui/screens", "tui/widgets", "upkeep/station", "upkeep/cli")
HELP_OF_COMMANDS = ROOT / "upkeep/cli/commands.py"
"""The sections and lines of the page of help, which is English like the words a command is typed in."""

STANDALONE = ROOT / "upkeep/cli/evidence/standalone"
"""Programs that leave the house with the evidence, for auditors anywhere: they have no catalogues."""

FILES = [
    file
    for room in ROOMS
    for file in sorted((ROOT / room).rglob("*.py"))
    if file != HELP_OF_COMMANDS and file.parent != STANDALONE
]

_SENTENCE = re.compile(r"[A-Za-z]{2,}[,.:;]? +[A-Za-z(]")
_WORD = re.compile(r"[A-Za-z]{3,}")

STYLE_SHEET = "DEFAULT_CSS"
"""The name of what no person reads and a terminal lays out by."""

HELP = ("help", "short_help", "epilog")
"""The arguments that hold the help of a command, which is English like the words a command is typed in."""

ELSEWHERE = {
    "bold underline": "a style of the terminal",
    "rolled over": "what explains a lower count, as the program names it",
    "set back": "the same",
    "translate(14 ": "a drawing in SVG",
    ") rotate(-90)": "the same",
    ", sans-serif": "the name of a face in SVG",
    "FiraGO Bold": "the name of a face",
    "no limit": "a verdict, as a view has it",
    "-loud note": "a style of the terminal",
    "broke ": "the key under which an answer is kept",
    "other item": "the key of an option",
    "count ": "a word of an entry",
    "state:": "the key of an option",
    "area:": "the same",
    "place:": "the same",
    "role:": "the same",
    "/who": "an address of a page",
    "/count": "the same",
    "page-": "the name of a file",
    ".pdf": "the end of a file's name",
    "papers/list/": "an address of a page",
    "papers/item/": "an address of a page",
    "papers/life/": "an address of a page",
    "papers/trend/": "an address of a page",
    "work/": "an address of a page",
    "sign/": "an address of a page",
    "/change": "an address of a page",
    "picture-": "the name of a file",
    'inline; filename="': "a head of HTTP",
    "/work": "an address of a page",
    "/locks": "an address of a page",
    "/handover": "an address of a page",
    "no reading": "what a fault of a number says inside the program",
    ".html": "the end of a file's name",
    ".json": "the same",
    ".txt": "the same",
    "entries-": "the name of a file",
    ".csv": "the same",
    ".tsr": "the same",
    "Message data:": "what openssl prints",
    "files ": "a line of a file of seals",
    " of book ": "the same",
    " entry ": "the same",
    "die set": "a kind of item, as an entry has it",
    "token of a form ": "what a token is made from",
    "A page failed: %s %s": "a line of the log, which is English",
    "Stations at %s.": "the same",
    ".part": "the end of a file's name",
    ".restored": "the same",
    **dict.fromkeys(("X-WR-CALNAME:", "UID:", "DTSTAMP:", "SEQUENCE:", "SUMMARY:", "LOCATION:"), "a line of iCalendar"),
    **dict.fromkeys(("DESCRIPTION:", "DTSTART:", "DTEND:", "DTSTART;VALUE=DATE:", "DTEND;VALUE=DATE:"), "the same"),
    "@strokebook": "the end of an id in iCalendar",
    " stated ": "a word of an entry",
    " unknown first ": "the same",
    "plan of a week": "the key of an option",
    '<span class="whole">{}</span>': "markup of a page",
    ".first": "the end of a file's name",
    "upkeep.cli.": "the name of a module",
    "_reason": "a name in --json",
    "gauge.": "the name of a field of a form",
    "pieces.": "the same",
    "strokebook picture ": "a command, English in every language",
    " FILE --of ": "the same",
    " was first, ": "a reason that is written into an entry, which stays as it was written",
    "runs past the new interval until then": "the same",
    "restored from ": "the same",
    "a seal of #": "the same",
    " is not of this book: ": "the same",
    ", which ends with #": "the same",
    "the beginning": "the same",
    "; moments are local time in ": "the head of an export, a form of file",
    "# Written after the backup. Enter this before anything else, or the numbers in it (#...) will be wrong.": (
        "the head of lines that are kept as a file and read in again"
    ),
    "Without a certificate the pages of other machines can only be read: nobody can sign there.": "the same",
}
"""Texts no person reads, each with what it is."""


def _unread(tree: ast.AST) -> set[int]:
    """The nodes whose texts nobody reads or the catalogues have: docstrings, style sheets, what is said, subscripts."""
    skipped: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            skipped |= {id(node.value)}
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in KEYWORDS:
            skipped |= {id(argument) for argument in node.args if not isinstance(argument, ast.JoinedStr)}
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "term":
            skipped |= {id(context) for context in node.args[1:]}
        elif (isinstance(node, ast.keyword) and node.arg in HELP) or (
            isinstance(node, ast.Assign) and any(isinstance(t, ast.Name) and t.id == STYLE_SHEET for t in node.targets)
        ):
            skipped |= {id(inner) for inner in ast.walk(node.value)}
        elif isinstance(node, ast.AnnAssign):
            skipped |= {id(inner) for inner in ast.walk(node.annotation)}
        elif isinstance(node, ast.JoinedStr):
            for part in node.values:
                if isinstance(part, ast.FormattedValue) and part.format_spec is not None:
                    skipped |= {id(inner) for inner in ast.walk(part.format_spec)}
    return skipped


def english_in(source: str) -> Iterator[tuple[int, str]]:
    """Each literal that would reach a reader as it stands: words in a row, or a word within a text made of values."""
    tree = ast.parse(source)
    skipped = _unread(tree)
    parts: set[int] = set()
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            for part in node.values:
                parts.add(id(part))
                if isinstance(part, ast.Constant) and _WORD.search(str(part.value)) and part.value not in ELSEWHERE:
                    yield node.lineno, str(part.value)
        elif isinstance(node, ast.Constant) and id(node) not in parts and _is_sentence(node.value):
            yield node.lineno, str(node.value)


def skipped_by_collectors() -> Iterator[str]:
    """Where a text with values in it is handed to what makes sentences: a tool that collects templates skips it."""
    for call in calls():
        for argument in (*call.node.args, *(keyword.value for keyword in call.node.keywords)):
            if isinstance(argument, ast.JoinedStr):
                yield call.place


def test_whoever_collects_the_templates_skips_none() -> None:
    """A text with values in it is no template, nor one of the values beside it."""
    assert list(skipped_by_collectors()) == []


def _is_sentence(value: object) -> bool:
    return isinstance(value, str) and _SENTENCE.search(value) is not None and value not in ELSEWHERE


@pytest.mark.parametrize("file", FILES, ids=lambda file: str(file.relative_to(ROOT)))
def test_no_sentence_stands_outside_the_catalogues(file: Path) -> None:
    """Whoever writes one says it, so that it can be read in another language."""
    assert list(english_in(file.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    "source",
    [
        'def page():\n    return "Nothing is due."\n',
        'def page(n):\n    return f"{n} strokes"\n',
        'HEADS = ("why due", "window")\n',
        'show(["Being prepared ..."])\n',
        'said(f"{n} strokes")\n',
        'click.option("--by", metavar="WHO", help="Who.")(show("Nothing is due."))\n',
    ],
)
def test_a_sentence_that_stands_there_is_found(source: str) -> None:
    """Alone, in a row of texts, or around a value."""
    assert list(english_in(source))


@pytest.mark.parametrize(
    "source",
    [
        '"""A page of text."""\n',
        'def page():\n    """Gives the page."""\n    return said("Nothing is due.")\n',
        'said_many("{n} more line", "{n} more lines", n=3)\n',
        'width = f"{n:>12} {item}"\n',
        'click.option("--item", help="Only lines of this item.")\n',
        'DEFAULT_CSS = "Field { height: 1; width: 1fr; }"\n',
    ],
)
def test_what_is_said_or_read_by_nobody_is_let_pass(source: str) -> None:
    """Docstrings, templates, forms of numbers, style sheets."""
    assert list(english_in(source)) == []
