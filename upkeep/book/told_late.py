"""What a write corrects, strikes or tells late of strokes, and what that shows of work already done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from upkeep.entries.bookkeeping import Strike
from upkeep.entries.counting import ConfigureCounter, Count, QuantityMade, Restart, UncountedStrokes
from upkeep.entries.entry import Entry, Recorded
from upkeep.entries.fitting import Fit, Unfit
from upkeep.keeping.context import Context
from upkeep.keeping.judging import Judge
from upkeep.plant.model import Item, Task
from upkeep.progress import MANY
from upkeep.said import Numeral, Said, said
from upkeep.store.entries import EntryStore
from upkeep.store.file import BookFile

_TELLS_STROKES = (Count, Restart, ConfigureCounter, QuantityMade, UncountedStrokes, Fit, Unfit)
"""What a correction, or an entry told late, tells strokes by."""

_MOST_SHOWN = 20
"""Sentences about work already done that one write is answered with; the figures have them all."""


class ToldLate:
    """Remembers from which moments on a write tells strokes otherwise than the book has them."""

    def __init__(self, file: BookFile, entries: EntryStore) -> None:
        self._file, self._entries = file, entries
        self._mended: list[datetime] = []

    def correction(self, entry: Entry, replaced: Recorded | None) -> None:
        """Notes a correction or a strike."""
        if isinstance(entry, Strike):
            replaced = self._entries.by_number(entry.entry)
        if replaced is not None and isinstance(replaced.entry, _TELLS_STROKES):
            self._mended.append(min(replaced.entry.at, replaced.entry.at if isinstance(entry, Strike) else entry.at))

    def told(self, entries: Sequence[Entry], stands: Callable[[], Context]) -> None:
        """Notes entries that tell strokes of before a reading the book has already of that press.

        A file of many tells a past that nobody knew; it is not asked what was done in it.
        """
        of_strokes = [one for one in entries if isinstance(one, _TELLS_STROKES) and one.corrects is None]
        if not of_strokes or len(of_strokes) >= MANY:
            return
        judge = stands().judge
        for entry in of_strokes:
            for press in _presses(entry, judge):
                last = judge.counts.last_read(press)
                if last is not None and entry.at < last:
                    self._mended.append(entry.at)

    def shown(self, after: Context, moved: Sequence[tuple[Item, Task]], now: datetime) -> list[Said]:
        """What the lines that were moved say of work already done; nothing where nothing was mended or told late."""
        if not self._mended:
            return []
        from upkeep.answers.corrected import shown_by_correction  # few entries correct another, or come late

        with self._file.as_committed() as committed:
            before = Context(committed, after.known, now)
            shown = list(shown_by_correction(before, after, moved, min(self._mended), now))
        more = len(shown) - _MOST_SHOWN
        if more > 0:
            shown[_MOST_SHOWN:] = [said("{n} more such changes; see 'strokebook figures'.", n=Numeral(more))]
        return shown


def _presses(entry: Entry, judge: Judge) -> set[str]:
    """The presses whose strokes an entry tells: the one it names, or those its items hung on then."""
    named = getattr(entry, "press", None)
    if named is not None:
        return {named}
    items = {getattr(entry, name) for name in ("item", "inside") if getattr(entry, name, None)}
    stays = (judge.counts.stay_from(item, entry.at) for item in items)
    return {stay.press for stay in stays if stay is not None} | {
        press for item in items if (press := judge.press_of(item)) is not None
    }
