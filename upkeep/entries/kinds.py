"""The kinds of entry: what somebody wrote into the book, and when they write one.

All are frozen and share the envelope: ``at`` when it happened, ``by`` the id of the person, ``recorded_at`` when it
was written (None until the book takes it: then the moment of writing), ``corrects`` the number of the entry that this
one replaces in the plant's history (both stay visible), ``because`` the reason in the writer's words, ``origin`` how it
came into the book.  UTC throughout.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from upkeep.entries.origin import NOT_KNOWN, Origin

EXTRA = "extra"
"""The occurrence of a sign-off that answers none: work done besides, or before the window opened."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """The envelope of every entry.

    ``salt`` is only on the lines of an export, which may become a book again; an entry that is new has none yet (see
    :mod:`upkeep.entries.chain`), and it is no part of what the entry says.
    """

    at: datetime
    by: str
    recorded_at: datetime | None = None
    corrects: int | None = None
    because: str = ""
    origin: Origin = NOT_KNOWN
    salt: bytes | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Begin(Entry):
    """The first entry of every book, with number 0; the book writes it itself, and there is never a second one.

    ``book`` is the book's own id (a random UUID, RFC 9562), ``zone`` the plant's time zone, which stays what it is, and
    ``form`` the number of the form in which the book's entries are chained (:data:`upkeep.entries.chain.FORM`).
    """

    book: str
    zone: str
    form: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Define(Entry):
    """A definition of the plant as loaded from its files: what ("plant", "place", "person", "item", "task"), its id
    and its content as canonical JSON.  A later one for the same id replaces it from then on."""

    what: str
    key: str
    content: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Count(Entry):
    """A counter was read: of a press, or a module's own.

    ``rolled_over``: it passed its last figure once since the reading before.  ``after_reset``: somebody had set it back
    to zero since; what it showed before that was not read and is not counted.
    """

    press: str
    value: int
    rolled_over: bool = False
    after_reset: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Restart(Entry):
    """A counter that showed one figure shows another from now on: reset, or replaced by a new one.

    The strokes go on; ``shown`` counts as the last reading of the old figure, ``now`` is what the next one counts from.
    """

    press: str
    shown: int
    now: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms(Entry):
    """How a counter counts from now on: ``way`` ("running", "resettable", "countdown", "none"), its figures, and the
    strokes to each count (10 where it counts in tens; 0.5 where it counts every stroke twice)."""

    press: str
    way: str
    digits: int
    times: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Made(Entry):
    """Pieces made on a press in the ``minutes`` before ``at``, with the die set and for the order that made them.

    Where a count was not taken, the quantities say how the strokes are shared; a press without a counter has only them.
    """

    press: str
    pieces: int
    minutes: int
    item: str | None = None
    order: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Besides(Entry):
    """Strokes that the press counter did not count as they wore: ``hand`` (not counted at all), ``uncounted`` (made
    while the counter stood still, as many as pieces), ``set-up`` or ``dry`` (counted, but wearing less).  ``weight`` is
    the plant's rule on that day; ``on`` the items that did them."""

    item: str
    way: str
    strokes: int
    weight: float | None = None
    on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rework(Entry):
    """A part was re-polished, reground or re-coated, and granted so many strokes of life from here."""

    item: str
    granted: int


@dataclass(frozen=True, slots=True, kw_only=True)
class UnknownLife(Entry):
    """Nobody knows how many strokes an item has done: none are left to it until it is inspected."""

    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Order(Entry):
    """An order is planned: pieces to be made with a die set on a press from a day on (ISO date)."""

    order: str
    pieces: int
    item: str
    press: str
    day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit(Entry):
    """An item was put into another.  ``count`` is what the counter of ``press`` showed at that moment; None where no
    press is involved or nobody read it (then what each side did is an estimate, and stays marked).  ``press`` may be
    left to the book: it is the one the item then hangs on."""

    item: str
    inside: str
    count: int | None = None
    press: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfit(Entry):
    """An item was taken out of what it sat in; ``count`` and ``press`` as in :class:`Fit`; ``to`` is the place it went
    to (None: its home place)."""

    item: str
    count: int | None = None
    press: str | None = None
    to: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign(Entry):
    """A task was done on an item.

    ``occurrence`` is the planned occurrence it answers, as the board showed it (``2026-03-02/early``, ``2026-03-09``,
    ``200000``), or ``extra``.  ``points`` are the measured values by point id, in the unit the task states; ``gauge``
    measured them; ``grade`` 0-4 is the finding of a graded inspection.
    """

    task: str
    item: str
    occurrence: str
    points: tuple[tuple[str, tuple[float, ...]], ...] = ()
    gauge: str | None = None
    grade: int | None = None
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Defer(Entry):
    """An open occurrence is moved to a later planned point (``to``, written like an occurrence) at somebody's risk.

    Its own planned point stays what it was: done after it, the work is late.  ``risk`` says what may happen meanwhile.
    """

    task: str
    item: str
    occurrence: str
    to: str
    risk: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancel(Entry):
    """An open occurrence will not be done; the next one counts from its planned point.  Cancelled is not done."""

    task: str
    item: str
    occurrence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Verify(Entry):
    """The second signature on a sign-off, by another person: "verified by me"."""

    entry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated(Entry):
    """Somebody says when a task was last done on an item before the book began: ``done``, an ISO date.

    Nobody has verified it.  It counts as last done for the calendar only, and only until the work is signed.
    """

    task: str
    item: str
    done: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault(Entry):
    """Something was found on an item; ``listed`` names the symptom in the plant's list; ``stopped`` when it was taken
    out of production for it, ``crash`` when the dies met what they must not meet."""

    item: str
    symptom: str
    listed: str | None = None
    stopped: bool = False
    crash: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold(Entry):
    """An item must not run until released; the reason is in ``because``."""

    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(Entry):
    """A held item may run again; the reason is in ``because``."""

    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pause(Entry):
    """An item went into storage or out of use: its calendar lines pause."""

    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Resume(Entry):
    """An item came back from storage or out of use."""

    item: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Strike(Entry):
    """An entry that never was true (an undo, a wrong item): it stays visible and no longer counts."""

    entry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Entry):
    """Something worth knowing about the book itself; it moves nothing.  ``restored`` says that the book was just made
    again from a backup."""

    text: str
    restored: bool = False


@dataclass(frozen=True, slots=True)
class Recorded:
    """An entry as the book holds it: its number, shift day (ISO date text), link of the chain (hexadecimal), salt."""

    id: int
    entry: Entry
    shift_day: str
    hash: str
    salt: bytes = b""
