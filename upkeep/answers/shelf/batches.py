"""The other pieces of a batch: where to look when one of them failed."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.counting.strokes import strokes_since_new
from upkeep.keeping.context import Context
from upkeep.keeping.holds import gone_by
from upkeep.said import Said, listed, said
from upkeep.store.rows.shelf import ShelfMoveRow
from upkeep.views.overview.shelf import PieceOf, PiecesOf


def received(context: Context, item: str) -> ShelfMoveRow | None:
    """How a piece came onto the shelf last; None: it never did."""
    rows = [row for row in context.shelf_history.moves_of_item(item) if row.way == "receive"]
    return rows[-1] if rows else None


def same_batch(context: Context, item: str) -> tuple[str, ...]:
    """The other pieces of the batch of a piece, by id; none where nobody said its batch."""
    came = received(context, item)
    if came is None or came.batch is None:
        return ()
    rows = context.shelf_history.moves(came.spare)
    pieces = {row.item for row in rows if row.batch == came.batch and row.item is not None}
    return tuple(sorted(pieces - {item}))


def batches_said(context: Context, die_set: str) -> Iterator[Said]:
    """For each part in a die set whose batch is known, where the others of that batch are."""
    for fitting in context.rows.inside_now(die_set):
        others, came = same_batch(context, fitting.item), received(context, fitting.item)
        if came is None or came.batch is None or not others:
            continue
        yield said(
            "{part} is of batch {batch} of {spare}, and so are {others}",
            part=fitting.item,
            batch=came.batch,
            spare=came.spare,
            others=listed(_where(context, other) for other in others),
        )


def _where(context: Context, item: str) -> Said:
    inside = context.whereabouts.sits_in(item)
    if inside is None:
        return said("{item} (in nothing)", item=item)
    return said("{item} (in {inside})", item=item, inside=inside)


def pieces_of(context: Context, item: str) -> PiecesOf:
    """The pieces of one batch with an item, and where each is."""
    context.known.item(item)
    came = received(context, item)
    pieces = tuple(_piece(context, piece) for piece in sorted({item, *same_batch(context, item)}))
    return PiecesOf(item, came.spare if came else None, came.batch if came else None, pieces)


def _piece(context: Context, item: str) -> PieceOf:
    gone = gone_by(context, item, context.moment)
    strokes = strokes_since_new(context.whereabouts.counts, item, context.moment).best
    place, inside = context.whereabouts.place_of(context.known.item(item)), context.whereabouts.sits_in(item)
    return PieceOf(item, place, inside, strokes, gone.end if gone is not None else None)
