"""What to mind before work that somebody signs is done: each caution once, with the lines it is for."""

from __future__ import annotations

from collections.abc import Iterable

from upkeep.entries.entry import Entry
from upkeep.entries.signing import Sign
from upkeep.keeping.definitions import Known
from upkeep.plant.energy import caution_said
from upkeep.plant.line_names import LineName
from upkeep.said import Said
from upkeep.views.signing import Caution


def cautions(known: Known, entries: Iterable[Entry]) -> tuple[Caution, ...]:
    """The cautions of the tasks that some entries sign off, in order; a task nobody knows has none."""
    lines: dict[Said, dict[str, None]] = {}
    for entry in entries:
        if isinstance(entry, Sign) and entry.task in known.tasks:
            task = known.tasks[entry.task]
            lines.setdefault(caution_said(task.energy, task.caution), {})[str(LineName(entry.item, entry.task))] = None
    return tuple(Caution(caution, tuple(names)) for caution, names in lines.items())
