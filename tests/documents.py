"""Makes the parts of the documents that the program itself knows: ``python -m tests.documents --write`` or ``--check``.

These are the help page the command line keeps ready and the pages of all commands beside it, the drawing of the house
and the kinds of entry in DEVELOPERS.md, what the examples of README.md print, and its pictures.
"""

from __future__ import annotations

import re
import sys
import textwrap
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click

from tests.json_answers import QUESTIONS, kept, names_of
from tests.readme import README, filled_readme
from upkeep.admission.admission import JUDGED_BY
from upkeep.cli.commands import COMMANDS
from upkeep.cli.made_again import COLUMNS as ENTRY_COLUMNS
from upkeep.cli.run import HELP_WIDTH, strokebook
from upkeep.entries.kinds import all_kinds

ROOT = Path(__file__).resolve().parents[1]
HELP_PAGE = ROOT / "upkeep" / "cli" / "help.txt"
COMMAND_PAGES = HELP_PAGE.with_name("PAGES.txt")
COLUMNS = HELP_PAGE.with_name("COLUMNS.txt")
DEVELOPERS = ROOT / "DEVELOPERS.md"
PICTURES = ROOT / "tests" / "tui" / "pictures"
ACCEPTED = ROOT / "tests" / "tui" / "__snapshots__" / "test_snapshots"
PICTURE_OF = {
    "board.svg": "test_the_board_looks_as_accepted[80x24].svg",
    "round.svg": "test_the_round_looks_as_accepted[80x24].svg",
    "home.svg": "test_the_page_a_lead_begins_with_looks_as_accepted[80x24].svg",
    "check.svg": "test_the_check_form_looks_as_accepted[80x24].svg",
}
"""The accepted picture of a screen behind each picture of README.md, which so cannot show another program."""


def help_of(command: click.Command, name: str) -> str:
    """The help page of a command as a terminal of 80 columns shows it."""
    context = click.Context(
        command,
        info_name=name,
        terminal_width=HELP_WIDTH,
        max_content_width=HELP_WIDTH,
        help_option_names=["-h", "--help"],
    )
    with context:
        return "\n".join(line.rstrip() for line in command.get_help(context).splitlines()) + "\n"


def command_pages() -> str:
    """The help pages of all commands, one below the other."""
    pages = []
    for name in COMMANDS:
        command = strokebook.get_command(click.Context(strokebook), name)
        assert command is not None
        pages.append(help_of(command, f"strokebook {name}"))
    return f"\n{'-' * HELP_WIDTH}\n\n".join(pages)


def columns() -> str:
    """The columns of every answer that is given as JSON or CSV: name and type, as the kept schemas have them."""
    parts = [
        "What each command answers with --json, and with --csv: the names of its values, each with its type.",
        "",
        "A name with [] lies in a list of objects: with --csv that list is a table of its own below the first, after",
        "a line '# name'. A name with a dot lies in an object. Moments are UTC (2026-03-02T06:00:00Z), days ISO dates,",
        "strokes whole numbers, lists in a cell JSON. 'absent': not in every object. Names stay and keep their type.",
        "",
        "strokebook export --csv FILE: the entries. " + ", ".join(ENTRY_COLUMNS) + ".",
        "",
    ]
    for name, asked in QUESTIONS.items():
        words = asked[0].split(" {")[0]
        rows = {path.removeprefix("[]").lstrip("."): types for path, types in names_of(kept(name)).items()}
        widest = max(map(len, rows))
        parts += [f"strokebook {words}", *(
            f"  {path:<{widest}}  {' or '.join(sorted(types))}" for path, types in rows.items() if path
        ), ""]  # fmt: skip
    return "\n".join(parts)


def drawing() -> str:
    """The floors of the house as the import contracts in pyproject.toml draw them, top first."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    lines = []
    for contract in project["tool"]["importlinter"]["contracts"]:
        if contract["type"] == "layers":
            lines.append(f"{contract['name']}:")
            lines += [f"    {layer}" for layer in contract["layers"]]
    return "```text\n" + "\n".join(lines) + "\n```\n"


def grammar() -> str:
    """What each kind of entry says: its words, one rule a kind."""
    rules = [textwrap.fill(f'"{kind.verb}" {kind.grammar}', 112, break_long_words=False) for kind in all_kinds()]
    words = "\n      | ".join(rule.replace("\n", "\n        ") for rule in rules)
    return f"```text\nwords = {words}\n```\n"


def kinds() -> str:
    """Every kind of entry: its class, when somebody writes one, and where it is judged."""
    lines = ["| verb | class | what it is | judged in |", "|---|---|---|---|"]
    for kind in all_kinds():
        what = " ".join((kind.of.__doc__ or "").partition("\n\n")[0].split())
        what = re.split(r"[.:;](?: |$)", what.replace("``", "`"))[0]
        judge = JUDGED_BY.get(kind.of)
        room = (judge.__module__ if judge else "upkeep.book.writing").removeprefix("upkeep.").replace(".", "/")
        of = f"`{kind.of.__module__.rpartition('.')[2]}.{kind.of.__name__}`"
        lines.append(f"| `{kind.verb}` | {of} | {what} | `{room}.py` |")
    return "\n".join(lines) + "\n"


def filled(text: str) -> str:
    """A document with its generated parts made anew, between ``<!-- begin NAME -->`` and ``<!-- end NAME -->``."""
    for name, content in _generated():
        pattern = re.compile(rf"(<!-- begin {name} -->\n).*?(<!-- end {name} -->)", re.DOTALL)
        text = pattern.sub(lambda found, content=content: f"{found[1]}\n{content}\n{found[2]}", text)  # type: ignore[misc]
    return text


def _generated() -> Iterator[tuple[str, str]]:
    yield "drawing", drawing()
    yield "grammar", grammar()
    yield "kinds", kinds()


def documents(month: Path | None = None) -> Iterator[tuple[Path, str]]:
    """Each generated document and what it should say; ``month`` is a month of the demo plant built before."""
    yield HELP_PAGE, help_of(strokebook, "strokebook")
    yield COMMAND_PAGES, command_pages()
    yield COLUMNS, columns()
    yield DEVELOPERS, filled(DEVELOPERS.read_text(encoding="utf-8"))
    yield README, filled_readme(month)
    for name, accepted in PICTURE_OF.items():
        yield PICTURES / name, (ACCEPTED / accepted).read_text(encoding="utf-8")


def stale(month: Path | None = None) -> list[Path]:
    """The documents that do not say what the program says."""
    return [
        path for path, wanted in documents(month) if not path.is_file() or path.read_text(encoding="utf-8") != wanted
    ]


def main() -> int:
    """Writes the documents, or checks them and names those that are stale."""
    if "--write" in sys.argv[1:]:
        for path, wanted in documents():
            path.write_text(wanted, encoding="utf-8")
        return 0
    late = stale()
    for path in late:
        print(f"{path.relative_to(ROOT)} is stale: run 'python -m tests.documents --write'.")
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
