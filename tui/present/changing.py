"""The steps of a change of tools as rows of a screen."""

from __future__ import annotations

from tui.present.moments import Now, clock_text
from upkeep.said import said
from upkeep.views.changeover import Change
from upkeep.wording.changeover import step_said
from upkeep.wording.sentences import text
from upkeep.wording.text import fit

_DONE, _NEXT, _LATER = "[x]", "[>]", "[ ]"


def step_rows(change: Change, now: Now, width: int) -> list[str]:
    """Each step with its number, whether it is done, by whom and when; the next one marked."""
    rows = [""]
    for number, step in enumerate(change.steps, start=1):
        mark = _DONE if step.is_done else _NEXT if step is change.next else _LATER
        row = f"{mark} {number}  {text(step_said(step), now.reader)}"
        if step.done_at is not None:
            done = said("done {at} {name}", at=clock_text(step.done_at, now.zone), name=step.done_by or "")
            row = f"{row}   {text(done, now.reader)}"
        rows.append(fit(row, width).rstrip())
    return rows
