"""What an entry moves, or would move, in words."""

from __future__ import annotations

from tui.present.moments import Now
from tui.present.state_words import state_text
from tui.present.words import wrapped
from upkeep.said import said, said_many
from upkeep.views.written import StateChange, Written
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import text
from upkeep.wording.text import fit


def effect_rows(written: Written, now: Now, width: int, most: int) -> tuple[str, ...]:
    """What the book gives to mind, then each line that moves with its states before and after and why; at most so many
    rows, the last one saying how many lines more."""
    notes = [row for note in written.notes for row in wrapped(text(note, now.reader), width)]
    if not written.changes:
        return tuple(notes[:most])
    moves = said_many("This moves {n} line:", "This moves {n} lines:", n=len(written.changes))
    room = max(most - len(notes) - 1, 2)
    shown = written.changes if len(written.changes) <= room else written.changes[: room - 1]
    rows = [text(moves, now.reader), *(_change_row(change, now, width) for change in shown)]
    left = len(written.changes) - len(shown)
    return (*notes, *rows, *([text(said("... and {n} more", n=left), now.reader)] if left else ()))


def _change_row(change: StateChange, now: Now, width: int) -> str:
    moved = said(
        "{line}: {before} -> {after}. {why}",
        line=change.line,
        before=" ".join(state_text(change.before, now.reader).split()),
        after=" ".join(state_text(change.after, now.reader).split()),
        why=sentence(change.reasons, now.zone, now.names, now.reader),
    )
    return fit(text(moved, now.reader), width).rstrip()
