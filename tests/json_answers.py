"""The names in ``--json`` are frozen: a JSON Schema of each answer is kept, made from the demo book.

One file a question in tests/schemas/: the names of its answer, the type of each, and which are always there.

``python -m tests.json_answers --write`` adds to the kept schemas what the program says besides.  It refuses where
a name is gone or has another type, for whoever reads the answers would break: put the name back, or add another one.
"""

from __future__ import annotations

import contextlib
import io
import json
import shlex
import sys
import tempfile
from collections.abc import Iterable
from datetime import timedelta
from pathlib import Path
from typing import Any

import click
from freezegun import freeze_time
from genson import SchemaBuilder
from PIL import Image

from demo_plant.codes import give_codes
from tests.demo_month import NOW, new_month
from upkeep.book import Book
from upkeep.cli.commands import COMMANDS
from upkeep.cli.run import run, strokebook

Schema = dict[str, Any]

SCHEMAS = Path(__file__).with_name("schemas")
QUESTIONS: dict[str, list[str]] = {
    "board": ["board --all --limit 5000", "board --all --limit 5000 --at 2026-02-17T12:00"],
    "why": ["why {lines}"],
    "forecast": ["forecast DS-010/die-inspection", "forecast DS-037/die-inspection", "forecast DS-038/die-inspection"],
    "questions": ["questions"],
    "rights": ["rights"],
    "keys": ["keys"],
    "hints": ["hints --by yara"],
    "life": ["life {sets}", *(f"life {item}" for item in ("CP-031", "CP-011", "M-08", "P-01", "G-02"))],
    "history": ["history --limit 10000", "history DS-037"],
    "where": ["where"],
    "round": ["round {presses}", "round {held}"],
    "first-off": ["first-off DS-008", "first-off {failed}"],
    "chart": [
        "chart DS-008 crimp-height", "chart DS-008 crimp-height --of-nominal --kind single",
        "chart DS-008 crimp-height --kind ewma",
    ],
    "capability": ["capability DS-008 crimp-height", "capability DS-009 crimp-height"],
    "pulls": ["pulls DS-008", "pulls DS-009"],
    "gauge": ["gauge"],
    "gauge-one": ["gauge G-01", "gauge G-02"],
    "slug": ["slug DS-037 --height 1.2 --found 1.23,1.23,1.24", "slug DS-037"],
    "advise": ["advise"],
    "lives": ["lives ring-6", "lives tab-28 --shape 2 --cost-ratio 10 --by-terminal"],
    "picture": ["picture --check"],
    "suspect": ["suspect", "suspect --all"],
    "suspect-one": ["suspect {suspect}", "suspect --item DS-029 --point bellmouth"],
    "faults": ["faults --limit 1000 --shares", "faults --open"],
    "faults-one": ["faults {faults}"],
    "causes": ["causes"],
    "causes-likely": ["causes --symptom 9", "causes G-02"],
    "jobs": ["jobs"],
    "locks": ["locks"],
    "handover": ["handover"],
    "week": ["week", "week --at 2026-02-18T12:00", "week --week 2026-W08"],
    "figures": ["figures", "figures --from 2026-02-04"],
    "manager": ["manager"],
    "shelf": ["shelf", "shelf SP-CP"],
    "to-order": ["to-order"],
    "kits": ["kits 2026-W11", "kits"],
    "outside": ["outside --all"],
    "life-tag": ["life-tag CP-079", "life-tag CP-031"],
    "batch": ["batch CP-045", "batch CP-031"],
    "capacity": ["capacity", "capacity --week 2026-W11"],
    "plan": ["plan", "plan --week 2026-W11"],
    "dossier": ["dossier {dossiers}", "dossier DS-001 --since 2026-02-10T00:00"],
    "baseline": ["baseline --by yara --weeks 4"],
    "trace": ["trace DS-001", "trace CP-031", "trace P-01 --as item", "trace G-02", "trace ana --as person --limit 30"],
    "changes": ["changes --all", "changes clean-module"],
    "late": ["late --from 2026-02-04"],
    "permits": ["permits"],
    "signers": ["signers"],
    "data-quality": ["data-quality --weeks 4"],
    "which-tasks": ["which-tasks"],
    "year-ahead": ["year-ahead --every lube-press='14 days' --shape 3", "year-ahead --hours operator=-8"],
    "what-if": ["what-if lube-press --every '14 days'", "what-if die-inspection --strokes 150000 --shape 3"],
    "starts": ["starts --by yara"],
    "back-test": ["back-test --weeks 2"],
    "prove": ["prove"],
    "seal-check": ["seal check"],
}  # fmt: skip
"""What is asked for each kept schema; the number of every hold list or fault stands for {suspect} and {faults},
every die set and press
for {sets} and {presses}, a set or its press with the moment of its failed check for {failed} and
{held}, a line of each task in each state for {lines}, an item of each kind for {dossiers}."""

_AREAS: Schema = {"type": "object", "properties": {"by_area": {"type": "object", "patternProperties": {"": {}}}}}
"""Where the names are the plant's and not the program's: each value looks the same."""


def command_of(question: str) -> str:
    """The command that a question is put to: one word, or the two of a command that has two."""
    two = " ".join(question.split()[:2])
    return two if two in COMMANDS else question.partition(" ")[0]


def reading_commands() -> set[str]:
    """The commands that take ``--json``, as the command line has them."""
    context = click.Context(strokebook)
    commands = {name: strokebook.get_command(context, name) for name in COMMANDS}
    return {name for name, found in commands.items() if found and any("--json" in one.opts for one in found.params)}


def demo_answers(book: Path) -> dict[str, list[Any]]:
    """What a month of the demo plant answers to all questions, by the name of the schema.  Its book is written on."""
    folder = book.parent
    tokens = folder / "demo.tokens"
    tokens.touch(0o600)
    with Book.open(book) as built:
        tokens.write_text(give_codes(built, NOW), encoding="ascii")
        built.naming.keys.held.give_badge("ana", NOW)
    slow = NOW - timedelta(hours=1)  # so that there is a notice of a clock that went back
    for at, (name, *more) in ((NOW, ("new.jpg", "--as-new")), (slow, ("later.jpg", "--scale", "120"))):
        Image.new("RGB", (4, 4), (len(name), 0, 0)).save(folder / name)
        with freeze_time(at):
            _printed(["picture", "CP-031", str(folder / name), *more, "--by", "yara"], book)
    with freeze_time(NOW):  # once: that takes as long as an answer
        return _answered(book)


def _answered(book: Path) -> dict[str, list[Any]]:
    board = _answer("board --all", book)
    failed = [found for found in _answer("suspect --all", book) if found["point"]]
    numbers: dict[str, list[int] | list[str]] = {
        "lines": list({(row["task"], row["state"]): row["line"] for row in board}.values()),
        "failed": [f"{found['item']} --at {found['found_at']}" for found in failed],
        "held": [f"{found['lines'][-1]['press']} --at {found['found_at']}" for found in failed if found["lines"]],
        "sets": sorted({row["item"] for row in board if row["item"].startswith("DS-")}),
        "presses": sorted({row["item"] for row in board if row["item"].startswith("P-")}),
        "dossiers": ["DS-001", "DS-008", "CP-031", "P-01", "M-08", "G-02"],
        "suspect": [found["number"] for found in _answer("suspect --all", book)],
        "faults": [found["number"] for found in _answer("faults --limit 1000", book)["faults"]],
    }
    return {
        name: [_answer(each, book) for question in asked for each in _each(question, numbers)]
        for name, asked in QUESTIONS.items()
    }


def _each(question: str, numbers: dict[str, list[int] | list[str]]) -> list[str]:
    for name, known in numbers.items():
        if f"{{{name}}}" in question:
            return [question.replace(f"{{{name}}}", str(number)) for number in known]
    return [question]


def _answer(question: str, book: Path) -> Any:
    return json.loads(_printed([*shlex.split(question), "--json"], book))


def _printed(words: list[str], book: Path) -> str:
    output, errors = io.StringIO(), io.StringIO()
    tokens = str(book.with_suffix(".tokens"))
    with contextlib.redirect_stdout(output), contextlib.redirect_stderr(errors):
        code = run(["--token-file", tokens, *words, "--book", str(book)])
    assert code == 0, f"{' '.join(words)}: {errors.getvalue()}"
    return output.getvalue()


def kept(name: str) -> Schema:
    """The kept schema of an answer."""
    found: Schema = json.loads(_file(name).read_text(encoding="utf-8"))
    return found


def _file(name: str) -> Path:
    return SCHEMAS / f"{name}.json"


def schema_of(answers: list[Any], before: Schema | None = None) -> Schema:
    """The schema of some answers, together with all that a schema before them says."""
    builder = SchemaBuilder()
    for schema in (_AREAS if "by_area" in answers[0] else None, before):
        if schema is not None:
            builder.add_schema(schema)
    for answer in answers:
        builder.add_object(answer)
    found: Schema = builder.to_schema()
    return found


def names_of(schema: Schema, at: str = "") -> dict[str, set[str]]:
    """Each name in a schema by its path, ``rows[].line``, with the types of its values.

    ``absent`` is among them where a name is not in every object.
    """
    if "anyOf" in schema:
        return _together(names_of(one, at) for one in schema["anyOf"])
    types = schema.get("type", [])
    found = {at: {types} if isinstance(types, str) else set(types)}
    inner = [names_of(one, f"{at}.{name}".lstrip(".")) for name, one in schema.get("properties", {}).items()]
    for name in set(schema.get("properties", {})) - set(schema.get("required", [])):
        inner.append({f"{at}.{name}".lstrip("."): {"absent"}})
    inner += [names_of(one, f"{at}.*") for one in schema.get("patternProperties", {}).values()]
    return _together([found, *inner, names_of(schema["items"], f"{at}[]") if "items" in schema else {}])


def _together(parts: Iterable[dict[str, set[str]]]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for part in parts:
        for name, types in part.items():
            found.setdefault(name, set()).update(types)
    return found


def broken(before: Schema, now: Schema) -> list[str]:
    """What a program that reads the answer would stumble over: names that are gone, types that are others.

    A value that was only ever null may get its type.
    """
    was, found = names_of(before), names_of(now)
    gone = [f"{name} is gone" for name in was if name not in found]
    changed = [
        f"{name} is {_types(found[name])}; it was {_types(types)}"
        for name, types in was.items()
        if name in found and types != {"null"} and not found[name] <= types
    ]
    return gone + changed


def added(before: Schema, now: Schema) -> list[str]:
    """What an answer says besides: names, and the types of values that were only ever null."""
    was, found = names_of(before), names_of(now)
    return [f"{name} is {_types(types)}" for name, types in found.items() if not types <= was.get(name, set())]


def _types(types: set[str]) -> str:
    return " or ".join(sorted(types))


def write(answers: dict[str, list[Any]]) -> list[str]:
    """Renews the kept schemas, each only where nothing in it breaks; gives what does."""
    found = []
    for name, given in answers.items():
        before = kept(name) if _file(name).is_file() else None
        breaks = broken(before, schema_of(given)) if before is not None else []
        found += [f"{name}: {each}" for each in breaks]
        if not breaks:
            text = json.dumps(schema_of(given, before), indent=1, sort_keys=True)
            _file(name).write_text(text + "\n", encoding="utf-8")
    return found


def main() -> None:
    """Renews the kept schemas."""
    if sys.argv[1:] != ["--write"]:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as folder:
        breaks = write(demo_answers(new_month(Path(folder))))
    if breaks:
        sys.exit("\n".join(["Names in --json stay as they are:", *breaks]))


if __name__ == "__main__":
    main()
