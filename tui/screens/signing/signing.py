"""Making and writing the entry of a sign-off."""

from __future__ import annotations

from dataclasses import replace

from tui.present.signing import work_said
from tui.screens.frame.desk import Desk, Here, Signed
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Sign
from upkeep.errors import AlreadySigned
from upkeep.said import Said, in_turn, said
from upkeep.views.signing import SignForm


def sign_off(desk: Desk, form: SignForm, by: Here) -> Sign:
    """The sign-off of a form that asks for a name only, made now."""
    line = form.line
    return Sign(at=desk.now(), by=by.id, task=line.task, item=line.item, occurrence=line.occurrence)


def as_extra(entry: Sign) -> Sign:
    """The same work as an extra: it answers no planned occurrence."""
    return replace(entry, occurrence=EXTRA)


def extra_text(refusal: AlreadySigned) -> Said:
    """Who signed first, and which key writes the same work as an extra."""
    return in_turn(refusal.said, said("Ctrl+R writes it anyway."))


async def signed_as(desk: Desk, form: SignForm, by: Here, entry: Sign) -> Signed:
    """Writes a sign-off and remembers it at the desk, for the proof and for undo; raises what the book refuses."""
    written = await desk.written(entry, by=by)
    line = replace(form.line, occurrence=entry.occurrence)
    desk.here = by
    return desk.remember(written, by, entry.at, work_said(line), form.meaning, line.item)
