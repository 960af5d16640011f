"""What stands out in how work was signed: arithmetic on sign-offs, for the lead to ask about.

It accuses nobody.  Each rule has an innocent answer: work done one after another and signed together, a press that
stood for a moment between two counts, a dimension that does not move, a terminal in another hall.  All limits: plant
default, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from hashlib import sha256

from upkeep.frozen import frozen

BURST = 5
"""Sign-offs of one person in a row from which on it stands out that they came fast."""

FAST = timedelta(seconds=10)
"""Between two of them at most."""

SAME_VALUES = 8
"""Readings in a row that are all alike, at least."""


@frozen
class Running:
    """What a press counted around a sign-off: strokes over a stretch of seconds between two counts, and the strokes an
    hour it can do at most."""

    strokes: int
    seconds: float
    fastest: int

    @property
    def stood_at_most(self) -> float:
        """The minutes it can have stood in that stretch: what is left when the strokes were done at full speed."""
        return max(0.0, self.seconds - self.strokes * 3600 / self.fastest) / 60


@frozen
class Signature:
    """A sign-off as the rules see it.

    ``written`` is when it was entered; ``minutes`` what the task is planned with; ``readings`` the measured values by
    point; ``station`` where it was entered (None: not known) and ``near`` what the place of the item is called;
    ``running`` what its press counted around it (None: the press may run for this work, or nobody counted).
    """

    entry: int
    by: str
    item: str
    task: str
    at: datetime
    written: datetime
    minutes: float = 0.0
    readings: tuple[tuple[str, tuple[float, ...]], ...] = ()
    station: str | None = None
    near: tuple[str, ...] = ()
    running: Running | None = None


@frozen
class Burst:
    """Sign-offs of one person that were entered one right after another, and how many seconds that took in all."""

    signatures: tuple[Signature, ...]
    seconds: float


@frozen
class SameValue:
    """Readings of one person that are all alike: of which item and point, which value, and how many."""

    item: str
    point: str
    value: float
    readings: int
    signatures: tuple[Signature, ...]


def bursts(signatures: Iterable[Signature]) -> Iterator[Burst]:
    """The runs of at least :data:`BURST` sign-offs that one person entered with at most :data:`FAST` between two."""
    of_person: dict[str, list[Signature]] = defaultdict(list)
    for signature in sorted(signatures, key=lambda one: (one.written, one.entry)):
        of_person[signature.by].append(signature)
    for signed in of_person.values():
        run = signed[:1]
        for before, after in zip(signed, [*signed[1:], None], strict=True):
            if after is not None and after.written - before.written <= FAST:
                run.append(after)
                continue
            if len(run) >= BURST:
                yield Burst(tuple(run), (run[-1].written - run[0].written).total_seconds())
            run = [after] if after is not None else []


def while_running(signatures: Iterable[Signature]) -> Iterator[Signature]:
    """The sign-offs of work for which the press has to stand longer than it can have stood."""
    for signature in signatures:
        running = signature.running
        if running is not None and signature.minutes > 0 and running.stood_at_most < signature.minutes:
            yield signature


def same_values(signatures: Iterable[Signature]) -> Iterator[SameValue]:
    """The points of which one person's last readings on an item, :data:`SAME_VALUES` or more, are all alike."""
    measured: dict[tuple[str, str, str], list[tuple[float, Signature]]] = defaultdict(list)
    for signature in sorted(signatures, key=lambda one: (one.at, one.entry)):
        for point, values in signature.readings:
            measured[signature.by, signature.item, point] += [(value, signature) for value in values]
    for (_, item, point), readings in measured.items():
        last = readings[-1][0]
        alike: list[Signature] = []
        for value, signature in reversed(readings):
            if value != last:
                break
            alike.append(signature)
        if len(alike) >= SAME_VALUES:
            yield SameValue(item, point, last, len(alike), tuple(dict.fromkeys(reversed(alike))))


def from_afar(signatures: Iterable[Signature]) -> Iterator[Signature]:
    """The sign-offs that were entered at a station which is not where the item is."""
    for signature in signatures:
        if signature.station is not None and signature.near and signature.station not in signature.near:
            yield signature


def is_drawn(link: str, percent: int) -> bool:
    """Whether a sign-off is among so many percent that somebody else looks at again.

    Drawn by the link (hexadecimal) of its entry: nobody knows before it is written, and everybody who has the book
    draws the same ones.
    """
    drawn = int.from_bytes(sha256(b"looked at again " + bytes.fromhex(link)).digest()[:8])
    return drawn < percent * 2**64 // 100
