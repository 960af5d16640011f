"""Admission of what becomes of suspect product: judged lines, narrowed windows, leave to run while held."""

from __future__ import annotations

from dataclasses import replace

from upkeep.book import checks
from upkeep.book.alarms import Alarms
from upkeep.book.judging import Judge
from upkeep.book.known import Known
from upkeep.book.reading import Views
from upkeep.book.suspect_views import SuspectLine
from upkeep.book.suspecting import SuspectViews
from upkeep.counting.strokes import strokes_since_new
from upkeep.entries.found import DISPOSALS, Dispose, Narrow, Override
from upkeep.entries.kinds import Entry
from upkeep.errors import NotFound, Refused
from upkeep.plant.model import Role
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.units.instants import from_utc_text
from upkeep.units.quantities import grouped, strokes

MOST_STROKES = 100_000
"""The longest leave to run while held, in strokes.  Plant default, no source."""


class SuspectAdmission:
    """Judges such entries against the book; ``notes`` are told to the writer."""

    def __init__(self, file: BookFile, known: Known) -> None:
        self._file, self._known = file, known
        self._views = Views(file, known)
        self.notes: list[str] = []

    def admitted(self, entry: Entry) -> Entry:
        """The entry as it goes into the book; raises :class:`Refused` with the reason."""
        match entry:
            case Dispose():
                return self._with_strokes(entry)
            case Narrow():
                self._check_narrow(entry)
            case Override():
                self._check_override(entry)
            case _:
                raise TypeError(type(entry).__name__)
        return entry

    def _with_strokes(self, entry: Dispose) -> Dispose:
        checks.check_role(self._known.person(entry.by), checks.MAY_RELEASE, "what becomes of suspect product")
        if entry.how not in DISPOSALS:
            raise Refused(f"{entry.how!r} is none of {', '.join(DISPOSALS)}.")
        if not entry.because:
            raise Refused("Say what was found and where the product is; the reason stays with the line.")
        line = self._line(entry)
        if not line.open and entry.corrects is None and line.judged is not None:
            raise Refused(
                f"That line was judged already ({line.judged.how}, {line.judged.by}, #{line.judged.entry}). "
                f"Correct #{line.judged.entry} if that was wrong."
            )
        return replace(entry, strokes=line.strokes)

    def _line(self, entry: Dispose) -> SuspectLine:
        at = max(entry.at, entry.recorded_at or entry.at)
        found = SuspectViews(self._views, at).hold_list(entry.list)
        since = from_utc_text(entry.since)
        for line in found.lines:
            if line.press == entry.press and line.since == since:
                return line
        named = [f"{line.row}: {line.press} since {self._known.zone.show(line.since)}" for line in found.lines]
        raise NotFound("such line of the hold list", f"#{entry.list}", [], f"It has {'; '.join(named) or 'no line'}.")

    def _check_narrow(self, entry: Narrow) -> None:
        checks.check_role(self._known.person(entry.by), [Role.QUALITY.value], "the narrowing of a suspect window")
        if not entry.because:
            raise Refused("Write the calculation that lets the window begin later; it stays with the list.")
        found = SuspectViews(self._views, entry.at).hold_list(entry.list)
        counts = self._views.judge.counts
        first = strokes_since_new(counts, found.item, found.start).best
        last = strokes_since_new(counts, found.item, found.end).best
        if not first <= entry.strokes <= last:
            raise Refused(
                f"The window runs from {grouped(first)} to {strokes(last)} of {found.item}; {grouped(entry.strokes)} "
                "lies outside of it."
            )

    def _check_override(self, entry: Override) -> None:
        item = self._known.item(entry.item)
        checks.check_role(self._known.person(entry.by), checks.MAY_RELEASE, f"leave for {item.id} to run all the same")
        if not entry.because:
            raise Refused(f"Say why {item.id} may run all the same; who lets it run answers for it.")
        if not 1 <= entry.strokes <= MOST_STROKES:
            raise Refused(f"Leave is given for 1 to {strokes(MOST_STROKES)}, not for {grouped(entry.strokes)}.")
        if not list(Alarms(self._file, Judge(Projections(self._file), self._known)).bars(item.id, entry.at)):
            raise Refused(f"{item.id} is neither held nor past a hard stop; it needs no leave.")
        self.notes.append(
            f"{item.id} may do {strokes(entry.strokes)} more, counted at the most they may be; then the leave ends by "
            "itself. The hold itself stays."
        )
