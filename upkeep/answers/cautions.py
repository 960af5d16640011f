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
    return cautions_of(known, ((entry.item, entry.task) for entry in entries if isinstance(entry, Sign)))


def cautions_of(known: Known, work: Iterable[tuple[str, str]]) -> tuple[Caution, ...]:
    """Those of some work, each an item and a task."""
    lines: dict[tuple[str, Said], dict[str, None]] = {}
    for item, name in work:
        if name in known.tasks:
            task = known.tasks[name]
            caution = task.energy, caution_said(task.energy, task.caution)
            lines.setdefault(caution, {})[str(LineName(item, name))] = None
    return tuple(Caution(text, tuple(names), energy) for (energy, text), names in lines.items())
