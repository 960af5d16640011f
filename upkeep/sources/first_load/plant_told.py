"""The plant itself: its plant.toml beside the sheets, what the book says, or what was answered about it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from upkeep.plant.definition import Problem
from upkeep.plant.rows import Sheet as Rows
from upkeep.plant.rows import plant_of
from upkeep.plant.tables import text_of
from upkeep.said import listed, said
from upkeep.sources.first_load.answered import Answers
from upkeep.sources.first_load.found import Question
from upkeep.sources.first_load.things import Kept

_SHIFT = re.compile(r"([\w-]+) (\d\d:\d\d)-(\d\d:\d\d)(?: ([A-Z]{2})-([A-Z]{2}))?\Z")
_DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")

PLANT_FILE = "plant.toml"


def plant_told(folder: Path, kept: Kept | None, answers: Answers, problems: list[Problem]) -> Rows | None:
    """The plant, or None where only the lead can say what it is (:func:`plant_asked`)."""
    file = folder / PLANT_FILE
    if file.exists():
        text = text_of(file, problems)
        return Rows((), whole=False) if text is None else plant_of(PLANT_FILE, text, problems)
    if kept is not None:
        return Rows(())
    told = answers.all_rows.get("plant", {})
    if any(name not in told for name in ("name", "zone", "keepers", "shifts")):
        return None
    return plant_of("[all_rows.plant]", plant_text(told), problems)


def plant_text(told: Mapping[str, str]) -> str:
    """A plant.toml of what was answered."""
    keepers = ", ".join(_quoted(key) for key in re.split(r"[;, ]+", told["keepers"]) if key)
    lines = ["[plant]", f"name = {_quoted(told['name'])}", f"zone = {_quoted(told['zone'])}", f"keepers = [{keepers}]"]
    for shift in (part.strip() for part in told["shifts"].split(";") if part.strip()):
        match = _SHIFT.match(shift)
        if match is None:
            lines += ["", "[[shift]]", f"name = {_quoted(shift)}"]
            continue
        first, last = match[4] or "MO", match[5] or "FR"
        days = _DAYS[_DAYS.index(first) : _DAYS.index(last) + 1] if {first, last} <= set(_DAYS) else (first, last)
        lines += [
            "", "[[shift]]", f"name = {_quoted(match[1])}", f'start = "{match[2]}"', f'end = "{match[3]}"',
            f"days = [{', '.join(map(_quoted, days))}]",
        ]  # fmt: skip
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def plant_asked(people: Rows) -> Iterator[Question]:
    """What a plant without a plant.toml is asked."""
    path = ("all_rows", "plant")
    yield Question((*path, "name"), said("What is the plant called?"))
    yield Question((*path, "zone"), said("In which time zone is it, like Europe/Berlin or America/Chicago?"))
    ids = [row.key for _, row in people.rows if row.key]
    yield Question(
        (*path, "keepers"),
        said(
            "Which two people or more may restore the book and give codes? Their ids, with commas between: {ids}",
            ids=listed(ids[:20]),
        ),
    )
    yield Question(
        (*path, "shifts"),
        said(
            "Which shifts are there? Like this: early 06:00-14:00 MO-FR; late 14:00-22:00 MO-FR",
        ),
    )
