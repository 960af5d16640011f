"""What the people of the demo plant write down, brought into the book once a shift day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

from demo_plant.codes import proof_of
from upkeep.book import Book
from upkeep.entries.entry import Entry
from upkeep.entries.origin import Origin, Proof, Proven, WayIn
from upkeep.entries.signing import Sign
from upkeep.units.shifts import ShiftSpan

Answer = Callable[[int, ShiftSpan], Entry]
"""An entry that refers to another one by its number, written on the next shift day."""


def minutes(number: float) -> timedelta:
    """A span of whole seconds."""
    return timedelta(seconds=round(number * 60))


class Notebook:
    """Collects entries and writes them in the order in which they were recorded; nothing after ``end`` is written.

    What people write themselves they write on the screen of the area where the item or press is at home; ``clerk``
    types in what was signed on paper.
    """

    def __init__(self, book: Book, end: datetime, clerk: str) -> None:
        self._book, self._end = book, end
        self._clerk = Proven(clerk, proof_of(book, clerk))
        self._on_paper = Origin(WayIn.SHEET, proof=Proof.PAPER, entered_by=clerk)
        areas = {place.id: place.area for place in book.places()}
        self._area_of = {item.id: areas.get(item.place or "") for item in book.items()}
        self._noted: list[Entry] = []
        self._answers: list[tuple[Entry, Answer]] = []
        self._numbered: list[tuple[int, Answer]] = []
        self._of_events: list[tuple[str, Entry, Entry]] = []
        self.written = 0

    def note(self, entry: Entry, typed_in_after: timedelta = timedelta(), answer: Answer | None = None) -> None:
        """An entry, recorded some time after the moment it tells of; ``answer`` refers to it on the next shift day."""
        recorded = replace(entry, recorded_at=entry.at + typed_in_after, origin=self._on_screen(entry))
        self._noted.append(recorded)
        if answer is not None:
            self._answers.append((recorded, answer))

    def note_of_event(self, event: str, told_by: Entry, sign: Sign) -> None:
        """A sign-off of what an event asks for, told by an entry noted before it."""
        self.note(sign)
        self._of_events.append((event, told_by, self._noted[-1]))

    def note_on_paper(self, entry: Entry, typed_in_at: datetime) -> None:
        """An entry that was signed on paper and typed in later."""
        self._noted.append(replace(entry, recorded_at=typed_in_at, origin=self._on_paper))

    def _on_screen(self, entry: Entry) -> Origin:
        about = getattr(entry, "press", None) or getattr(entry, "item", None)
        return Origin(WayIn.SCREEN, self._area_of.get(about or ""), proof_of(self._book, entry.by))

    def waits(self, item: str, task: str, occurrence: str) -> bool:
        """Whether a sign-off of an occurrence is written on paper and not typed in yet."""
        signs = [entry for entry in self._noted if isinstance(entry, Sign)]
        return any((sign.item, sign.task, sign.occurrence) == (item, task, occurrence) for sign in signs)

    def cross_out(self, item: str, task: str, since: datetime) -> None:
        """Strikes sign-offs of a line that were planned for later than a moment and can no longer come about."""
        self._noted = [
            entry
            for entry in self._noted
            if not (isinstance(entry, Sign) and (entry.item, entry.task) == (item, task) and entry.at >= since)
        ]

    def begin_day(self, shift: ShiftSpan) -> None:
        """Notes the answers to the entries of the day before."""
        for number, answer in self._numbered:
            entry = answer(number, shift)
            recorded_at = entry.recorded_at or entry.at
            self._noted.append(replace(entry, recorded_at=recorded_at, origin=self._on_screen(entry)))
        self._numbered = []

    def write(self, recorded_at: datetime) -> None:
        """Brings what was recorded by a moment into the book; what is typed in later stays noted."""
        until = min(recorded_at, self._end)
        ready = [entry for entry in self._noted if _recorded(entry) <= until]
        ready.sort(key=_recorded)
        ready = self._with_occurrences(ready)
        numbers = self._book.write(ready, until, proven=self._clerk).entries
        number_of = {id(entry): number for entry, number in zip(ready, numbers, strict=True)}
        self._numbered += [(number_of[id(e)], answer) for e, answer in self._answers if id(e) in number_of]
        self._answers = [(e, answer) for e, answer in self._answers if id(e) not in number_of]
        self._noted = [entry for entry in self._noted if _recorded(entry) > until]
        self.written += len(ready)

    def _with_occurrences(self, ready: list[Entry]) -> list[Entry]:
        """The entries, and in sign-offs of events the number under which the event is going to be written."""
        first = self._book.newest_written(1)[0].entry + 1
        for event, told_by, signed in self._of_events:
            cause = next((place for place, entry in enumerate(ready) if _is_noted(told_by, entry)), None)
            for place, entry in enumerate(ready):
                if entry is signed and isinstance(entry, Sign) and cause is not None:
                    ready[place] = replace(entry, occurrence=f"{event}.{first + cause}")
        self._of_events = []
        return ready


def _is_noted(entry: Entry, noted: Entry) -> bool:
    """Whether an entry is another one as it was noted."""
    return replace(noted, recorded_at=entry.recorded_at, origin=entry.origin) == entry


def _recorded(entry: Entry) -> datetime:
    return entry.recorded_at or entry.at


def correction(right: Entry) -> Answer:
    """The answer that corrects an entry to what is right, twenty minutes into the next shift day."""

    def answer(number: int, shift: ShiftSpan) -> Entry:
        return replace(right, recorded_at=shift.start + timedelta(minutes=20), corrects=number)

    return answer
