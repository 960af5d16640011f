"""Frozen views of the shelf: what lies there, what to order, kits for planned work, what is out for rework."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from upkeep.frozen import frozen


@frozen
class OnOrder:
    """So many expected on a day: ordered (by the entry of a number), or an item out for rework."""

    expected: date
    number: int
    entry: int
    item: str | None = None


@frozen
class Piece:
    """A piece with an id of its own on the shelf: its batch, and the strokes it had done (best estimate)."""

    item: str
    batch: str | None
    strokes: int


@frozen
class ShelfRow:
    """A spare on the shelf.

    ``number`` lie there; below 0 where more were taken than the book had.  ``batches`` are those without ids by batch
    (None: nobody said), ``missing`` the pieces a count did not find, ``bagged`` what was taken for jobs and not used
    yet.  ``coming`` is on order or out for rework.  ``difference`` is what the last count found more than the book had.
    ``obsolete``: every die set it is for has left.  ``lead_days`` None: nobody knows how long an order takes.
    """

    spare: str
    title: str
    kind: str
    families: tuple[str, ...]
    place: str | None
    unit: str
    pack: int
    number: int
    pieces: tuple[Piece, ...]
    batches: tuple[tuple[str | None, int], ...]
    missing: tuple[str, ...]
    bagged: int
    coming: tuple[OnOrder, ...]
    counted_at: datetime | None
    counted_by: str | None
    difference: int | None
    obsolete: bool
    supplier: str | None
    supplier_id: str | None
    lead_days: int | None


@frozen
class OrderRow:
    """What to order of a spare, and why.

    ``due`` and ``past`` are uses a week: by the forecast of what falls due, and as they were (None: nobody knows).
    ``mean`` are the uses expected in the lead time, ``level`` the reorder level at ``service`` percent, ``position``
    what lies there and is coming; ``order_by`` the day by which to order ``number`` (None: nothing calls for it),
    ``comes`` when that is there, ``lasts_until`` until when what lies there lasts; ``short_percent`` the chance that it
    does not last until an order of today is there.  ``now``: the day is today or past.
    """

    shelf: ShelfRow
    due: float | None
    past: float | None
    mean: float
    level: int
    service: int
    least: int
    position: int
    order_by: date | None
    now: bool
    number: int
    comes: date | None
    lasts_until: date | None
    short_percent: int


@frozen
class OrderList:
    """What to order as it stands at a moment, the most urgent first; ``unknown`` are spares of which nobody knows how
    long an order takes, so that none can be planned."""

    plant: str
    at: datetime
    rows: tuple[OrderRow, ...]
    unknown: tuple[ShelfRow, ...]


@frozen
class KitPart:
    """A part of a kit: ``number`` it takes, ``bagged`` lie in its bag, ``there`` can be taken at ``place``, ``short``
    are missing, and more are ``expected`` on a day (None: none is on order)."""

    spare: str
    title: str
    unit: str
    number: int
    bagged: int
    there: int
    short: int
    place: str | None
    expected: date | None


@frozen
class Kit:
    """The kit of one job on a list: its row there, what it is, when it is due, its parts; ``bring`` is what else to
    bring, as the task says it."""

    row: int
    line: str
    place: str
    item: str
    title: str
    due: date | None
    parts: tuple[KitPart, ...]
    bring: tuple[str, ...] = ()

    @property
    def missing(self) -> tuple[KitPart, ...]:
        """The parts of which some are missing: the job waits for them."""
        return tuple(part for part in self.parts if part.short)


@frozen
class KitList:
    """The kits of a week, one a job, as the shelf stands at a moment."""

    plant: str
    week: str
    at: datetime
    kits: tuple[Kit, ...]

    @property
    def short(self) -> tuple[Kit, ...]:
        """The jobs that wait for parts."""
        return tuple(kit for kit in self.kits if kit.missing)


class Away(StrEnum):
    """How far an item is that was sent out for rework."""

    OUT = "out for rework"
    BACK = "waits for its receiving inspection"
    BAD = "refused at its receiving inspection"
    TAKEN_IN = "taken in"
    EXCHANGED = "another piece came back"


@frozen
class Outside:
    """An item that is or was out for rework: to whom and what for, since when, when it is expected, what became of it.

    ``late``: it is still out and was expected before today.  ``text`` is what it was sent for, ``record`` the
    supplier's own, ``bears`` the id of the piece that came instead.
    """

    item: str
    title: str
    kind: str
    state: Away
    to: str
    text: str
    since: datetime
    expected: date
    late: bool
    back_at: datetime | None = None
    record: str = ""
    bears: str | None = None


@frozen
class PieceOf:
    """A piece of a batch: its id, where it is (``inside`` what it sits in; None: in nothing), and its strokes (best
    estimate)."""

    item: str
    place: str
    inside: str | None
    strokes: int
    gone: str | None


@frozen
class PiecesOf:
    """The pieces that came in one batch with an item; none but itself where nobody said its batch."""

    item: str
    spare: str | None
    batch: str | None
    pieces: tuple[PieceOf, ...]


@frozen
class LifeTag:
    """What goes with a part that leaves the plant's book: its id and title, whose it is, its strokes since new and
    since its last rework (least, best, most), how often it was reworked, what it was granted, until when it is counted,
    where it goes and why; who says so stands under it."""

    plant: str
    at: datetime
    item: str
    title: str
    kind: str
    owner: str | None
    batch: str | None
    since_new: tuple[int, int, int]
    before_book: int
    since_rework: tuple[int, int, int] | None
    reworks: int
    granted: int | None
    counted_until: datetime | None
    life_unknown: bool
    to: str | None
    text: str
    expected: date | None
