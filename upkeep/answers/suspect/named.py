"""Where to read what an item made that is suspect, for sentences that stop it: only a list that is there is named."""

from __future__ import annotations

from upkeep.answers.suspect.hold_lists import SuspectViews
from upkeep.keeping.context import Context
from upkeep.said import Said, said


def made_said(context: Context, item: str) -> Said | None:
    """The sentence that names the open hold lists of an item; None where no product is on one."""
    if not SuspectViews(context).lists(item):
        return None
    return said("What it made is suspect: strokebook suspect --item {item}.", item=item)
