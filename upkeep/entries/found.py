"""The kinds of entry about what was found and what followed: checks, gauges that read wrong, suspect product, repairs.

They share the envelope of :class:`upkeep.entries.kinds.Entry`.
"""

from __future__ import annotations

from dataclasses import dataclass

from upkeep.entries.kinds import Entry

OCCASIONS = ("set-up", "first-off", "as-found", "as-left", "slug", "sample", "reel", "last-off", "audit")
"""When a check is made: the settings written down at set-up; the first and the last piece; what was found before
adjusting and left after it; a solder slug, hand cycled; a sample from the run; at a new reel; besides the plan."""

WHILE_SETTING = ("set-up", "first-off", "as-found", "as-left", "slug")
"""Occasions at which a bad value is adjusted and measured again: a good one later lifts the hold by itself."""

DISPOSALS = ("sorted", "scrapped", "released")
"""What becomes of suspect pieces: sorted piece by piece, scrapped, or released with a reason."""

STAGES = ("taken", "checked", "fixed", "verified", "analysed", "closed")
"""The way of a fault after its report; ``released`` is the release of the item it stopped."""

ENDS = ("worn", "broken", "other")
"""Why a part left for ever: worn out, broken, or still good and gone for another reason."""

_FIGURES = 9
"""Decimals a true value is judged by, far beyond any gauge: 1.142 + 0.008 lies on 1.15, not beside it."""

Limits = tuple[str, float | None, float | None]
"""A characteristic with its lower and upper limit; None: no limit on that side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Entry):
    """Pieces, a solder slug or settings were measured on a die set (or module) on a press.

    ``occasion`` is one of :data:`OCCASIONS`; ``crimp`` the definition of terminal and wire that was run; ``points`` the
    readings by characteristic, one ``gauge`` for all; ``limits`` those that held then, put in by the book; ``looks``
    what was judged by eye, good or bad; ``broke`` how each pulled piece broke and ``table`` the name and edition of the
    pull table its minimum came from.  ``press`` is put in by the book where it is left out.
    """

    item: str
    occasion: str
    press: str | None = None
    crimp: str | None = None
    gauge: str | None = None
    points: tuple[tuple[str, tuple[float, ...]], ...] = ()
    limits: tuple[Limits, ...] = ()
    looks: tuple[tuple[str, bool], ...] = ()
    broke: tuple[str, ...] = ()
    table: str = ""
    order: str | None = None
    reel: str | None = None
    wire: str | None = None
    remark: str = ""

    def verdicts(self, off: float = 0.0) -> dict[str, bool]:
        """Each characteristic that can be judged, and whether it is good.

        ``off`` is how much too high the gauge read, in the unit of the point: it is taken away before judging.
        """
        limits = {key: (lower, upper) for key, lower, upper in self.limits}
        judged = {key: _within(values, limits[key], off) for key, values in self.points if key in limits}
        return {**judged, **dict(self.looks)}

    @property
    def failed(self) -> tuple[str, ...]:
        """The characteristics that are bad."""
        return tuple(key for key, good in self.verdicts().items() if not good)


def _within(values: tuple[float, ...], limits: tuple[float | None, float | None], off: float) -> bool:
    lower, upper = limits
    true = [round(value - off, _FIGURES) for value in values]
    return all((lower is None or value >= lower) and (upper is None or value <= upper) for value in true)


@dataclass(frozen=True, slots=True, kw_only=True)
class Misread(Entry):
    """A gauge was found to read wrong: ``off`` is its reading less the true value, in the unit it measures.

    It is held from here; what it measured since its last good calibration or block check is in doubt.
    """

    item: str
    off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Dispose(Entry):
    """What became of one line of a hold list: ``list`` is the entry that opened the list, ``press`` and ``since`` name
    the line, ``strokes`` how many it had when it was judged (put in by the book), ``how`` one of :data:`DISPOSALS`."""

    list: int
    press: str
    since: str
    how: str
    strokes: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrow(Entry):
    """A suspect window begins later than the last good check: from so many strokes of the item on.  The calculation is
    in ``because``; quality signs."""

    list: int
    strokes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Override(Entry):
    """A held or stopped item may run for so many strokes more; the reason is in ``because``."""

    item: str
    strokes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair(Entry):
    """A step on a fault: ``fault`` is the number of its report, ``stage`` one of :data:`STAGES`.

    ``checked`` answers a check (``what``) with yes or no; ``fixed`` names the confirmed ``cause`` and says what was
    done; ``verified`` lists what was tried (``what``); ``analysed`` names the root ``cause``.
    """

    fault: int
    stage: str
    what: tuple[str, ...] = ()
    yes: bool | None = None
    cause: str | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Retire(Entry):
    """A part left for ever, and why: one of :data:`ENDS`."""

    item: str
    end: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture(Entry):
    """A photo of an item, kept as a file with its SHA-256 checksum; ``as_new`` is the one to compare with."""

    item: str
    file: str
    sha256: str
    as_new: bool = False
