"""What is selected, as a deed takes it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tui.screens.acts.deed import Subject
from tui.screens.frame.book_door import BookDoor


def subject_of(book: BookDoor, item: str | None, lines: Sequence[str], at: datetime) -> Subject:
    """An item with the lines that are selected; their item where all are of one."""
    found = tuple(book.line(line, at) for line in lines)
    kind = next((line.item_kind for line in found if line.item == item), None)
    if item is not None and kind is None:
        kind = book.known.item(item).kind
    return Subject(item, kind, found)
