"""Jobs and locks: what begins one and what ends it, the same entry by entry as for a whole replay.

A job ends with the first sign-off or cancellation of its line after it began, or when it is given up; a lock when it
came off.  Who interrupted a job and who went on with it is read from the entries that name it: few jobs are under way.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from upkeep.entries.entry import Recorded
from upkeep.entries.jobs import GiveUp, Lock, Start, Unlock
from upkeep.entries.signing import Cancel, Sign
from upkeep.store.entries import EntryStore
from upkeep.store.projections import Projections
from upkeep.store.rows.definitions import Moment
from upkeep.store.rows.signatures import SignOffRow
from upkeep.store.rows.under_way import UnderWayRow
from upkeep.units.instants import utc_text


def swap_under_way(
    rows: Projections, entries: EntryStore, came: Sequence[Recorded], went: Sequence[Recorded]
) -> None:  # fmt: skip
    """Brings jobs and locks up with entries that came into effect or lost it; sign-offs stand in their table by now."""
    for recorded in went:
        if isinstance(recorded.entry, Start | Lock):
            rows.drop_begun(recorded.id)
    for number in {number for recorded in (*came, *went) for number in _concerned(rows, recorded)}:
        rows.drop_begun(number)
        begun = entries.by_number(number)
        if begun is not None and rows.effect_lost_through(number) is None and begun not in went:
            rows.begin(_row(begun, _end(rows, entries, begun)))


def _concerned(rows: Projections, recorded: Recorded) -> Iterable[int]:
    """The numbers of the jobs and locks that an entry begins or may end."""
    entry = recorded.entry
    match entry:
        case Start() | Lock():
            yield recorded.id
        case GiveUp():
            yield entry.job
        case Unlock():
            yield entry.lock
        case Sign() | Cancel():
            yield from (row.entry for row in rows.jobs_not_ended_by(entry.item, entry.task, utc_text(entry.at)))


def _end(rows: Projections, entries: EntryStore, begun: Recorded) -> Moment | None:
    ends = [
        Moment(utc_text(other.entry.at), other.id)
        for other in entries.referring_to(begun.id)
        if isinstance(other.entry, GiveUp | Unlock) and rows.effect_lost_through(other.id) is None
    ]
    entry = begun.entry
    if isinstance(entry, Start):
        signed = rows.sign_off_after(entry.item, entry.task, utc_text(entry.at), begun.id)
        ends += [signed] if signed else []
    return min(ends, default=None)


def under_way_rows(
    in_effect: Sequence[Recorded], signed: Mapping[tuple[str, str], Sequence[SignOffRow]]
) -> Iterable[UnderWayRow]:
    """The rows of all jobs and locks, from all entries in effect and the sign-offs of each line in order."""
    ends: dict[int, list[Moment]] = {}
    for recorded in in_effect:
        entry = recorded.entry
        if isinstance(entry, GiveUp | Unlock):
            number = entry.job if isinstance(entry, GiveUp) else entry.lock
            ends.setdefault(number, []).append(Moment(utc_text(entry.at), recorded.id))
    for recorded in in_effect:
        entry = recorded.entry
        if not isinstance(entry, Start | Lock):
            continue
        mine = ends.get(recorded.id, [])
        if isinstance(entry, Start):
            began = Moment(utc_text(entry.at), recorded.id)
            all_signed = (Moment(row.at, row.entry) for row in signed.get((entry.item, entry.task), ()))
            mine = [*mine, *(moment for moment in all_signed if moment > began)]
        yield _row(recorded, min(mine, default=None))


def _row(begun: Recorded, end: Moment | None) -> UnderWayRow:
    entry = begun.entry
    assert isinstance(entry, Start | Lock)
    task = entry.task if isinstance(entry, Start) else None
    at, until = utc_text(entry.at), end.at if end else None
    return UnderWayRow(entry.item, task, at, begun.id, until, end.entry if end else None)
