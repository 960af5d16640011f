"""Who may do what, as a page for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.views.rights import RightLine, RightsTable, TrainingLine
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph

_NAMES_ARE_GIVEN = (
    "Names are given, not proven: these rights guard against slips, not against lies. Which work somebody may sign "
    "stands at each task. A plant changes the table in plant.toml under [rights], by the word in brackets; what is "
    "marked * it has changed."
)
_NO_KEEPER = (
    "Nobody keeps this book: no keeper was named, or all have left. Name two or more in plant.toml (keepers) and load "
    "it; that takes whoever may change people."
)


def rights_text(table: RightsTable) -> str:
    """The table of rights as text, the keepers of the book first."""
    lines = paragraph(f"Keepers of this book: {', '.join(table.keepers)}." if table.keepers else _NO_KEEPER)
    for act in table.acts:
        lines += _act(act)
    for work in table.training:
        lines += _training(work)
    return "\n".join([*lines, "", *paragraph(_NAMES_ARE_GIVEN)]) + "\n"


def _training(line: TrainingLine) -> Iterator[str]:
    trained = [f"{who} (until {until})" if until else who for who, until in line.trained]
    over = [f"{who} ({last})" for who, last in line.over]
    yield ""
    yield f"  Work on {line.work} asks for training"
    yield from paragraph(f"trained: {', '.join(trained) or 'nobody'}", 4)
    if over:
        yield from paragraph(f"run out: {', '.join(over)}", 4)


def _act(act: RightLine) -> Iterator[str]:
    what = text(act.what, ENGLISH)
    yield ""
    yield f"{'*' if act.changed else ' '} {what[0].upper()}{what[1:]} [{act.act}]"
    yield from paragraph(f"{', '.join(act.roles)}: {', '.join(act.people) or 'nobody'}", 4)
