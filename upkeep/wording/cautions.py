"""What is read before hands go in, as every page and screen opens it."""

from __future__ import annotations

from collections.abc import Iterable

from upkeep.said import Join, Said, listed, said
from upkeep.views.signing import Caution


def caution(cautions: Iterable[Said]) -> Said:
    """The cautions as one paragraph, their word first."""
    return said("CAUTION. {cautions}", cautions=listed(cautions, Join.SPACE))


def caution_for(what: Caution) -> Said:
    """What to mind before hands go in for some lines."""
    return said("CAUTION for {lines}: {text}", lines=listed(what.lines), text=what.text)


def caution_for_all(what: Caution) -> Said:
    """What holds for every line that is shown."""
    return said("CAUTION for all lines here: {text}", text=what.text)
