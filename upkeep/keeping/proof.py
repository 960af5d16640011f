"""Proof: the file is sound, the chain whole, and every projection what a replay of the entries gives."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from upkeep.entries.bookkeeping import Begin
from upkeep.entries.clock import clock_went_back, written_at
from upkeep.entries.entry import Recorded
from upkeep.entries.planning import Define
from upkeep.errors import StrokebookError
from upkeep.frozen import frozen
from upkeep.keeping.definitions import Known
from upkeep.keeping.replay import Replay
from upkeep.plant.definition import Defined
from upkeep.progress import Progress, Watch, nobody, watched
from upkeep.said import Moment, Numeral, Said, Value, said
from upkeep.store.disk.heeding import Heeding
from upkeep.store.entries import EntryStore, broken_link, misfiled
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.store.rows.definitions import DefinitionRow
from upkeep.store.rows.projections import PROJECTIONS
from upkeep.store.rows.table import Table
from upkeep.store.soundness import unlike_their_lines, unsound
from upkeep.units.instants import Zone


@frozen
class ProofReport:
    """What a proof found.  ``differences`` are sentences; none means the book is what its entries say.

    ``first_entry`` is the first entry that differs, None where all is well; ``hash`` the last link of the chain.
    ``tables_made_again`` tells of tables that an older program had made, which is no damage: they were made again from
    the entries before the proof. ``notices`` are worth knowing and no damage: entries written while the clock was set
    back. ``only_tables``: entries and file are whole, and what differs is computed from them; a refill mends it.
    """

    entries: int
    rows: int
    hash: str
    first_entry: int | None
    differences: tuple[Said, ...]
    tables_made_again: bool = False
    notices: tuple[Said, ...] = ()
    only_tables: bool = False

    @property
    def clean(self) -> bool:
        """Whether tables, filing and chain agree with the entries throughout, and the file is sound."""
        return not self.differences


def prove(file: BookFile, watch: Watch = nobody) -> ProofReport:
    """Re-plays the whole book and compares; never changes it.  ``watch`` is told how far that has come."""
    heeding = Heeding(watch)
    with heeding.over(file.connection):
        report = _proven(file, heeding)
    watch(Progress("comparing", len(PROJECTIONS), len(PROJECTIONS)))
    return report


def _proven(file: BookFile, heeding: Heeding) -> ProofReport:
    watch = heeding.tell
    number, last_link = EntryStore(file).last()
    number, last_hash = max(number, 0), last_link.hex()
    broken = broken_link(file, watch)
    if broken is not None:
        sentence = said(
            "Entry #{entry} is not what was written: its hash does not follow from this entry and the one before.",
            entry=Numeral(broken),
        )
        return ProofReport(number, 0, last_hash, broken, (sentence,))
    try:
        entries = list(watched(EntryStore(file).all(), "reading", number, watch))
        replay = Replay(entries, watch)
    except StrokebookError as error:
        return ProofReport(
            number, 0, last_hash, number, (said("The entries cannot be replayed: {why}", why=error.said),)
        )
    of_entries = [*_without_beginning(entries), *_misfiled(file, entries), *_wrong_days(entries)]
    of_rows = [*_wrong_rows(file, replay, watch), *((None, finding) for finding in unlike_their_lines(file))]
    of_file = [(None, finding) for finding in unsound(file, heeding)]
    problems = [*of_entries, *of_rows, *of_file]
    first = min((entry for entry, _ in problems if entry is not None), default=None)
    rows = sum(len(rows) for rows in replay.tables.values())
    return ProofReport(
        number,
        rows,
        last_hash,
        first,
        tuple(sentence for _, sentence in problems[:20]),
        notices=_notices(entries),
        only_tables=bool(of_rows) and not of_entries and not of_file,
    )


def _notices(entries: Sequence[Recorded]) -> tuple[Said, ...]:
    """The entries that say they were written earlier than the one before them, by more than anybody waits."""
    zone = Zone(entries[0].entry.zone) if entries and isinstance(entries[0].entry, Begin) else Zone("UTC")
    return tuple(
        said(
            "Entry #{entry} says it was written {moment}, but the one before it {before}: a clock was set back.",
            entry=Numeral(recorded.id),
            moment=Moment(written_at(recorded.entry), zone),
            before=Moment(written_at(before.entry), zone),
        )
        for before, recorded in pairwise(entries)
        if clock_went_back(before.entry, recorded.entry)
    )


def _without_beginning(entries: Sequence[Recorded]) -> Iterator[tuple[int | None, Said]]:
    if entries and not isinstance(entries[0].entry, Begin):
        yield 0, said("Entry #{entry} is not the one with which a book begins.", entry=Numeral(0))


def _misfiled(file: BookFile, entries: Sequence[Recorded]) -> Iterator[tuple[int | None, Said]]:
    for number in misfiled(file, entries):
        yield (
            number,
            said(
                "Entry #{entry} is filed under an item, task or entry that its words do not name.",
                entry=Numeral(number),
            ),
        )


def _wrong_days(entries: Sequence[Recorded]) -> Iterator[tuple[int | None, Said]]:
    definitions: dict[tuple[str, str], DefinitionRow] = {}
    known, stale = Known(()), False
    for recorded in entries:
        defines = isinstance(recorded.entry, Define | Begin)
        if stale and not defines:
            known, stale = Known(definitions.values()), False
        expected = known.shift_day(recorded.entry.at, defines)
        if expected != recorded.shift_day:
            yield (
                recorded.id,
                said(
                    "Entry #{entry} carries the shift day {day}; it belongs to {expected}.",
                    entry=Numeral(recorded.id),
                    day=recorded.shift_day,
                    expected=expected,
                ),
            )
        if isinstance(recorded.entry, Define) and recorded.entry.what == Defined.PLANT:
            definitions[Defined.PLANT, recorded.entry.key] = DefinitionRow(
                Defined.PLANT, recorded.entry.key, recorded.entry.content, "", recorded.id
            )
            stale = True


def _wrong_rows(file: BookFile, replay: Replay, watch: Watch) -> Iterator[tuple[int | None, Said]]:
    projections = Projections(file)
    for number, table in enumerate(PROJECTIONS):
        watch(Progress("comparing", number, len(PROJECTIONS)))
        kept, expected = set(projections.table(table)), set(replay.tables[table.name])
        if kept != expected:
            yield from _differences(table, kept - expected, expected - kept)


def _differences(
    table: Table[NamedTuple], kept: set[NamedTuple], expected: set[NamedTuple]
) -> Iterator[tuple[int | None, Said]]:
    """The rows that only the file or only the replay has; of one that both have under the same key, its fields."""
    ours = {table.key_of(row): row for row in kept}
    right = {table.key_of(row): row for row in expected}
    for key in sorted({*ours, *right}, key=str):
        is_kept, should = ours.get(key), right.get(key)
        number = table.entry_of(right[key] if is_kept is None else is_kept)
        number = number if isinstance(number, int) else None  # in a damaged file it may be anything
        named: Value = " | ".join(map(str, key))
        if is_kept is None or should is None:
            place = _of_entry(named, number)
            if should is None:
                yield number, said("{table} has a row that comes from no entry: {row}.", table=table.name, row=place)
            else:
                yield number, said("{table} lacks a row that the entries call for: {row}.", table=table.name, row=place)
        else:
            for name, here, there in zip(table.columns, is_kept, should, strict=True):
                if here != there:
                    sentence = said(
                        "{table} {row}: {column} is {here}, the entries make it {there}.",
                        table=table.name,
                        row=named,
                        column=name,
                        here=str(here),
                        there=_of_entry(str(there), number),
                    )
                    yield number, sentence


def _of_entry(what: Value, number: int | None) -> Value:
    """Something in a row with the entry it comes from, where one is known."""
    return what if number is None else said("{what} (entry #{entry})", what=what, entry=Numeral(number))
