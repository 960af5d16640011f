"""Spares that come onto the shelf: new pieces with ids become items, in one write with their receipt."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from upkeep.entries.counting import UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.planning import Define
from upkeep.entries.shelf.moves import Receive
from upkeep.keeping.definitions import Known
from upkeep.plant.values.spare import Spare, piece_of


def entries_received(
    known: Known, at: datetime, by: str, spare: Spare, number: int, *, batch: str | None, pieces: Sequence[str],
    bought: int | None, used: int, way: str, because: str,
) -> list[Entry]:  # fmt: skip
    """What is written where ``number`` of a spare come in; see :meth:`upkeep.book.shelf.OnTheShelf.received`."""
    new = [piece for piece in pieces if piece not in known.items] if spare.part is not None else []
    defined = [piece_of(spare, piece) for piece in new]
    entries: list[Entry] = [
        Define(at=at, by=by, what=one.what, key=one.key, content=one.text, because=because) for one in defined
    ]
    entries.append(
        Receive(
            at=at, by=by, spare=spare.id, number=number, batch=batch, pieces=tuple(pieces), bought=bought,
            because=because,
        )
    )  # fmt: skip
    if used:
        entries += [UncountedStrokes(at=at, by=by, item=piece, way=way, strokes=used, on=(piece,)) for piece in pieces]
    return entries
