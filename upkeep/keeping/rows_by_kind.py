"""The rows that come and go with an entry, by its kind; a kind that is not named here brings none."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import timedelta
from typing import Any

from upkeep.entries.checking import Check, Lot, OutOfTolerance
from upkeep.entries.counting import ConfigureCounter, Count, QuantityMade, UncountedStrokes
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.faults import Fault, Repair
from upkeep.entries.fitting import Put
from upkeep.entries.jobs import Handover
from upkeep.entries.kinds import kind_of
from upkeep.entries.lives import Picture, Retire, Rework
from upkeep.entries.planning import Define, Order
from upkeep.entries.plans.weeks import Absent, AgreeWeek, Carried, FreezeWeek, PlanJob, Propose
from upkeep.entries.shelf.moves import Buy, CountShelf, GiveBack, Issue, Receive, ShelfMove
from upkeep.entries.shelf.outside import ComeBack, SendOut, TakeIn
from upkeep.entries.signing import Sign, Stated
from upkeep.entries.suspect import Disposition, Permit, Restriction
from upkeep.store.rows.counts import (
    CounterConfigurationRow,
    DisputedRow,
    OrderRow,
    QuantityRow,
    ReworkRow,
    UncountedRow,
)
from upkeep.store.rows.definitions import DefinedRow
from upkeep.store.rows.findings import (
    DispositionRow,
    DoubtedPressRow,
    FaultRow,
    LotRow,
    MeasuredRow,
    OutOfToleranceRow,
    PermitRow,
    PictureRow,
    RepairRow,
    RestrictionRow,
    RetiredRow,
)
from upkeep.store.rows.places import PutRow
from upkeep.store.rows.plans import AbsenceRow, WeekStepRow
from upkeep.store.rows.projections import EntryRow
from upkeep.store.rows.shelf import OutsideRow, PurchaseRow, ShelfMoveRow
from upkeep.store.rows.signatures import StatedRow
from upkeep.store.rows.under_way import HandoverRow
from upkeep.units.instants import utc_text


def rows_with(recorded: Recorded) -> Iterable[EntryRow]:
    """The rows that come and go with an entry; none for most kinds."""
    rows = _ROWS.get(type(recorded.entry))
    return () if rows is None else rows(recorded.entry, utc_text(recorded.entry.at), recorded.id)


def _quantity(made: QuantityMade, at: str, number: int) -> Iterator[EntryRow]:
    since = utc_text(made.at - timedelta(minutes=made.minutes))
    yield QuantityRow(made.press, since, at, made.pieces, made.item, made.order, number)


def _uncounted(uncounted: UncountedStrokes, at: str, number: int) -> Iterator[EntryRow]:
    weight = 1.0 if uncounted.weight is None else uncounted.weight
    # Counted strokes are in already: of them only what they wear more or less than one each is added.
    strokes = round(uncounted.strokes * (weight if uncounted.way not in ("set-up", "dry") else weight - 1))
    still = int(uncounted.way == "stood-still")
    return (UncountedRow(item, at, number, strokes, still) for item in uncounted.on)


def _check(check: Check, at: str, number: int) -> Iterator[EntryRow]:
    verdicts = check.verdicts()
    for point, values in check.points:
        good = None if point not in verdicts else int(verdicts[point])
        yield MeasuredRow(
            check.item, point, at, number, check.gauge, good, check.occasion, _json(values), None, check.crimp
        )
    for what, lot in ((Lot.REEL, check.reel), (Lot.WIRE, check.wire), (Lot.ORDER, check.order)):
        if lot is not None:
            yield LotRow(check.item, str(what), lot, at, number)
    for look, good in check.looks:
        yield MeasuredRow(check.item, look, at, number, None, int(good), check.occasion, None, None, check.crimp)
    yield from _doubted(check, at, number)


def _sign(sign: Sign, at: str, number: int) -> Iterator[EntryRow]:
    for point, values in sign.measured:  # what was taken over stands in the row of its check
        gauge = sign.gauge_of(point)
        yield MeasuredRow(sign.item, point, at, number, gauge, None, None, _json(values), sign.task, None)
    for place, (spare, used) in enumerate(sign.used or ()):
        yield ShelfMoveRow(spare, at, number, place, "sign", used, None, None, f"{sign.item}/{sign.task}", None)
    yield from _doubted(sign, at, number)


def _moved(move: ShelfMove, at: str, number: int) -> Iterator[EntryRow]:
    """A row a piece where pieces have ids, one for all that have none; a count that found nothing is a row too."""
    way, line, bought = kind_of(type(move)).verb, getattr(move, "line", None), getattr(move, "bought", None)
    pieces: list[tuple[int, str | None]] = [(1, piece) for piece in move.pieces]
    counted = move.number - len(pieces)
    if counted or not pieces:
        pieces.append((counted, None))
    for place, (many, piece) in enumerate(pieces):
        yield ShelfMoveRow(move.spare, at, number, place, way, many, move.batch, piece, line, bought)


def _doubted(entry: Check | Sign, at: str, number: int) -> Iterator[EntryRow]:
    if entry.doubts is not None:
        yield DoubtedPressRow(entry.doubts, entry.item, at, number)


def _json(values: Iterable[float]) -> str:
    return f"[{', '.join(repr(float(value)) for value in values)}]"  # as JSON, at a fifth of what json asks for a list


_ROWS: Mapping[type[Entry], Callable[[Any, str, int], Iterable[EntryRow]]] = {
    Define: lambda e, at, n: [DefinedRow(e.what, e.key, e.content, at, n)],
    Count: lambda e, at, n: [] if e.disputes is None else [DisputedRow(e.press, at, e.value, e.disputes, n)],
    ConfigureCounter: lambda e, at, n: [CounterConfigurationRow(e.press, at, e.way, e.digits, e.times, n)],
    QuantityMade: _quantity,
    UncountedStrokes: _uncounted,
    Rework: lambda e, at, n: [ReworkRow(e.item, at, n, e.granted)],
    Put: lambda e, at, n: [PutRow(e.item, at, n, e.to, int(e.in_pieces))],
    Order: lambda e, at, n: [OrderRow(e.order, at, e.pieces, e.item, e.press, e.day, n)],
    Sign: _sign,
    Stated: lambda e, at, n: [StatedRow(e.item, e.task, at, e.done, e.by, n, e.first)],
    Check: _check,
    OutOfTolerance: lambda e, at, n: [OutOfToleranceRow(e.item, at, e.off, n)],
    Fault: lambda e, at, n: [FaultRow(e.item, at, e.listed, int(e.stopped), n)],
    Repair: lambda e, at, n: [RepairRow(e.fault, at, e.stage, e.cause, n)],
    Disposition: lambda e, at, n: [DispositionRow(e.list, e.press, e.since, at, e.how, e.strokes, n)],
    Restriction: lambda e, at, n: [RestrictionRow(e.list, at, e.strokes, n)],
    Permit: lambda e, at, n: [PermitRow(e.item, at, e.strokes, n)],
    Retire: lambda e, at, n: [RetiredRow(e.item, at, e.end, n)],
    Picture: lambda e, at, n: [PictureRow(e.item, at, e.file, e.sha256, int(e.as_new), e.of, e.scale, n)],
    Receive: _moved,
    Issue: _moved,
    GiveBack: _moved,
    CountShelf: _moved,
    Buy: lambda e, at, n: [PurchaseRow(e.spare, at, n, e.number, e.expected)],
    SendOut: lambda e, at, n: [OutsideRow(e.item, at, n, "send-out", e.to, e.expected, None)],
    ComeBack: lambda e, at, n: [OutsideRow(e.item, at, n, "come-back", None, None, e.bears)],
    TakeIn: lambda e, at, n: [OutsideRow(e.item, at, n, "good" if e.good else "bad", None, None, None)],
    Handover: lambda e, at, n: [HandoverRow(e.shift, e.side, at, n)],
    Absent: lambda e, at, n: [AbsenceRow(e.person, e.first, e.last, at, n)],
    Propose: lambda e, at, n: [WeekStepRow(e.week, "proposed", None, at, n)],
    PlanJob: lambda e, at, n: [WeekStepRow(e.week, "changed", e.line, at, n)],
    AgreeWeek: lambda e, at, n: [WeekStepRow(e.week, "agreed", None, at, n)],
    FreezeWeek: lambda e, at, n: [WeekStepRow(e.week, "frozen", None, at, n)],
    Carried: lambda e, at, n: [WeekStepRow(e.week, "decided", e.line, at, n)],
}
"""The rows of an entry, given its moment as UTC text and its number."""
