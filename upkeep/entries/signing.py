"""Entries about a line (one task on one item): sign-offs, second signatures, deferrals and the like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, read_entry, under_line, under_that_of
from upkeep.entries.reader import ID, Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.plant.rights import Act
from upkeep.said import said


@frozen
class Calibration:
    """What a calibration of a gauge found, as its certificate has it.

    ``received`` is the error of the gauge before and ``left`` after adjusting, its reading less the true value;
    ``uncertainty`` the expanded uncertainty of both; all in the gauge's own unit.  ``due`` is the day until which the
    certificate lets it count, as ISO text.
    """

    certificate: str
    laboratory: str
    received: float
    left: float
    uncertainty: float
    due: str


@frozen(kw_only=True)
class Sign(Entry):
    """A task was done on an item.

    ``occurrence`` is the planned occurrence it answers, as the board showed it (``2026-03-02/early``, ``2026-03-09``,
    ``200000``), or ``extra``.  ``points`` are the measured values by point id, in the unit the task states; ``gauge``
    measured them, save those that ``gauges`` names a gauge of its own for, by point id (none: one gauge for all).
    ``taken`` are the points whose values were taken over from a check, by the number of its entry (none: all were
    measured for this).  ``grade`` 0-4 is the finding of a graded inspection; ``calibration`` what the certificate of a
    gauge says (None: none is told).  Of work that is not graded the book puts in ``out``, the points with a value out
    of their limits, and ``holds``, whether the task says that this holds its item; an entry without them found none
    out.  ``used`` are the spares it used up, by id (None: what its task says, which the book puts in; entries of
    earlier programs have none).  ``doubts`` is put in by the book as in a check: the press at fault by the measured
    points; None: they do not say so.
    """

    task: str
    item: str
    occurrence: str
    points: tuple[tuple[str, tuple[float, ...]], ...] = ()
    gauge: str | None = None
    grade: int | None = None
    remark: str = ""
    calibration: Calibration | None = None
    out: tuple[str, ...] = ()
    holds: bool = False
    doubts: str | None = None
    used: tuple[tuple[str, int], ...] | None = None
    gauges: tuple[tuple[str, str], ...] = ()
    taken: tuple[tuple[str, int], ...] = ()

    def gauge_of(self, point: str) -> str | None:
        """The gauge that measured a point (None: none is named)."""
        return dict(self.gauges).get(point, self.gauge)

    @property
    def measured(self) -> tuple[tuple[str, tuple[float, ...]], ...]:
        """The points that were measured for this, without those taken over from a check."""
        taken = dict(self.taken)
        return tuple((point, values) for point, values in self.points if point not in taken)

    @property
    def gauges_used(self) -> tuple[str, ...]:
        """The gauges that measured its points, each once."""
        used = (self.gauge_of(point) for point, _ in self.points)
        return tuple(dict.fromkeys(gauge for gauge in used if gauge is not None))


def measured_with(sign: Sign, gauges: Mapping[str, str | None]) -> Sign:
    """A sign-off with the gauge of each of its points; where all have the same, it stands once for all."""
    used = {gauges.get(point) for point, _ in sign.points}
    if len(used) <= 1:
        return replace(sign, gauge=next(iter(used), None), gauges=())
    own = tuple((point, gauge) for point, _ in sign.points if (gauge := gauges.get(point)) is not None)
    return replace(sign, gauge=None, gauges=own)


@frozen(kw_only=True)
class Defer(Entry):
    """An open occurrence is moved to a later planned point (``to``, written like an occurrence) at somebody's risk.

    Its own planned point stays what it was: done after it, the work is late.  ``risk`` says what may happen meanwhile.
    """

    task: str
    item: str
    occurrence: str
    to: str
    risk: str


@frozen(kw_only=True)
class Cancel(Entry):
    """An open occurrence will not be done; the next one counts from its planned point.  Cancelled is not done."""

    task: str
    item: str
    occurrence: str


@frozen(kw_only=True)
class Verify(Entry):
    """The second signature on a sign-off, by another person: "verified by me"."""

    entry: int


@frozen(kw_only=True)
class LookedAgain(Entry):
    """Somebody else looked at work whose sign-off was drawn for it: what was seen, and whether it ``agrees`` with what
    was signed.  Told to the lead alone."""

    entry: int
    agrees: bool
    text: str


@frozen(kw_only=True)
class Stated(Entry):
    """Somebody says when a task was last done on an item before the book began: ``done``, an ISO date, empty where
    nobody knows.

    Nobody has verified it.  It counts as last done for the calendar only, and only until the work is signed.
    ``first`` is the day, an ISO date, by which the work is to be done for the first time in this book, as planned in
    the baseline; empty: none was planned.
    """

    task: str
    item: str
    done: str
    first: str = ""


_NOTHING = "nothing"
"""What a sign-off used that used no spares."""

_AGREES = ("agrees", "differs")
"""What somebody who looked again says of a sign-off."""


def _sign(e: Sign) -> str:
    words = [f"{LineName(e.item, e.task)} for {e.occurrence}"]
    if e.grade is not None:
        words.append(f"grade {e.grade}")
    if e.gauge is not None:
        words.append(f"with {e.gauge}")
    gauges, taken = dict(e.gauges), dict(e.taken)
    for point, values in e.points:
        words.append(f"{point}={','.join(map(repr, values))}")
        words += [f"with {gauges[point]}"] if point in gauges else []
        words += [f"from #{taken[point]}"] if point in taken else []
    if e.calibration is not None:
        words.append(_calibration(e.calibration))
    if e.out:
        words.append(f"out {','.join(e.out)}{' holds' if e.holds else ''}")
    if e.doubts is not None:
        words.append(f"doubts {e.doubts}")
    if e.used is not None:
        words.append(f"used {','.join(f'{spare}={n}' for spare, n in e.used) or _NOTHING}")
    if e.remark:
        words.append(f"remark {quoted(e.remark)}")
    return " ".join(words)


def _calibration(found: Calibration) -> str:
    return (
        f"certificate {quoted(found.certificate)} laboratory {quoted(found.laboratory)} received {found.received!r} "
        f"left {found.left!r} uncertainty {found.uncertainty!r} due {found.due}"
    )


def _read_calibration(r: Reader) -> Calibration:
    certificate = r.json(str, said("the quoted number of a certificate"))
    r.expect("laboratory")
    laboratory = r.json(str, said("the quoted name of a laboratory"))
    r.expect("received")
    received = r.value(said("the error as received"))
    r.expect("left")
    left = r.value(said("the error as left"))
    r.expect("uncertainty")
    uncertainty = r.value(said("the uncertainty"))
    r.expect("due")
    return Calibration(certificate, laboratory, received, left, uncertainty, r.day())


def _read_sign(r: Reader) -> dict[str, Any]:
    fields = _read_line_for(r)
    if r.keyword("grade"):
        fields["grade"] = r.figure(said("a grade 0 to 4"))
    if r.keyword("with"):
        fields["gauge"] = r.id(said("a gauge"))
    fields |= _read_points(r)
    if r.keyword("certificate"):
        fields["calibration"] = _read_calibration(r)
    if r.keyword("out"):
        fields["out"] = r.ids(said("points out of their limits, separated by commas,"))
        fields["holds"] = r.keyword("holds")
    fields |= r.ids_after(doubts="doubts")
    if r.keyword("used"):
        fields["used"] = _read_used(r)
    if r.keyword("remark"):
        fields["remark"] = r.json(str, said("a quoted remark"))
    return fields


def _read_used(r: Reader) -> tuple[tuple[str, int], ...]:
    """What was used, ``SP-12=2,SP-13=1``, or ``nothing``."""
    wanted = said("spare=number, separated by commas, or nothing")
    pairs = [pair.partition("=") for pair in r.word(wanted).split(",")]
    if [spare for spare, _, _ in pairs] == [_NOTHING]:
        return ()
    if not all(ID.match(spare) and number.isascii() and number.isdigit() and len(number) < 10
               for spare, _, number in pairs):  # fmt: skip
        raise r.fail(wanted)
    return tuple((spare, int(number)) for spare, _, number in pairs)


def _read_points(r: Reader) -> dict[str, Any]:
    points, gauges, taken = [], [], []
    while (measured := r.point()) is not None:
        points.append(measured)
        if r.keyword("with"):
            gauges.append((measured[0], r.id(said("a gauge"))))
        if r.keyword("from"):
            taken.append((measured[0], r.number()))
    return {"points": tuple(points), "gauges": tuple(gauges), "taken": tuple(taken)}


def _read_looked_again(r: Reader) -> dict[str, Any]:
    return {"entry": r.number(), "agrees": r.one_of(_AGREES) == "agrees", "text": r.json(str, said("what was seen"))}


def _read_defer(r: Reader) -> dict[str, Any]:
    fields = _read_line_for(r)
    r.expect("to")
    fields["to"] = r.word(said("the later planned point"))
    r.expect("risk")
    return {**fields, "risk": r.json(str, said("a quoted risk"))}


def _stated(e: Stated) -> str:
    when = f"done {e.done}" if e.done else "unknown"
    return f"{LineName(e.item, e.task)} {when}{f' first {e.first}' if e.first else ''}"


def _read_stated(r: Reader) -> dict[str, Any]:
    fields = r.line_name()
    unknown = r.keyword("unknown")
    if not unknown:
        r.expect("done")
    done = "" if unknown else r.word(said("a day like 2026-03-09"))
    first = r.keyword("first")
    return {**fields, "done": done, "first": r.day() if first else ""}


def _read_line_for(r: Reader) -> dict[str, Any]:
    fields = r.line_name()
    r.expect("for")
    return {**fields, "occurrence": r.word(said("the occurrence it answers"))}


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Sign,
        "sign",
        'item "/" task "for" occurrence ["grade" figure] ["with" gauge] {point "=" value{","value} ["with" gauge] '
        '["from" "#"number]} '
        '["certificate" text "laboratory" text "received" value "left" value "uncertainty" value "due" day] '
        '["out" point{","point} ["holds"]] ["doubts" press] '
        '["used" (spare "=" figure{","spare "=" figure} | "nothing")] ["remark" text]',
        _sign,
        _read_sign,
        under_line,
    ),
    EntryKind(
        Defer,
        "defer",
        'item "/" task "for" occurrence "to" occurrence "risk" text',
        lambda e: f"{LineName(e.item, e.task)} for {e.occurrence} to {e.to} risk {quoted(e.risk)}",
        _read_defer,
        under_line,
        act=Act.PLAN,
    ),
    EntryKind(
        Cancel,
        "cancel",
        'item "/" task "for" occurrence',
        lambda e: f"{LineName(e.item, e.task)} for {e.occurrence}",
        _read_line_for,
        under_line,
        act=Act.PLAN,
    ),
    EntryKind(
        Verify,
        "verify",
        '"#"number',
        lambda e: f"#{e.entry}",
        read_entry,
        under_that_of("entry"),
    ),
    EntryKind(
        LookedAgain,
        "looked-again",
        '"#"number ("agrees" | "differs") text',
        lambda e: f"#{e.entry} {_AGREES[not e.agrees]} {quoted(e.text)}",
        _read_looked_again,
        under_that_of("entry"),
    ),
    EntryKind(
        Stated,
        "stated",
        'item "/" task ("done" day | "unknown") ["first" day]',
        _stated,
        _read_stated,
        under_line,
        act=Act.PLAN,
    ),
)
