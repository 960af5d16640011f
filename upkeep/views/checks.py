"""Frozen views of checks: a gauge with what it measured, a set-up as one page."""

from __future__ import annotations

from datetime import date, datetime

from upkeep.due.holds import HoldReason
from upkeep.due.reason_list import Reasons
from upkeep.entries.checking import Limits
from upkeep.entries.origin import Proof
from upkeep.frozen import frozen
from upkeep.said import Said


@frozen
class GaugeCare:
    """A task that vouches for a gauge: when it was done last and by whom (None: never in this book), and what it asks
    next."""

    title: str
    done_at: datetime | None
    done_by: str | None
    reasons: Reasons


@frozen
class GaugeUser:
    """Somebody who measured with a gauge: how many entries, the last of them when."""

    name: str
    entries: int
    last_at: datetime


@frozen
class Flip:
    """A result whose judgement turns when the error of its gauge is taken away.

    ``since`` is where its suspect window would begin (the last good check that counts, or what stands for it), with the
    reason; None where it turned from bad to good.
    """

    entry: int
    item: str
    point: str
    at: datetime
    by: str
    press: str | None
    order: str | None
    values: tuple[float, ...]
    good_before: bool
    good_now: bool
    since: datetime | None
    since_why: Said | None


@frozen
class InDoubt:
    """A task that was signed with readings of the gauge."""

    line: str
    at: datetime
    by: str
    entry: int


@frozen
class GaugeDoubt:
    """What a gauge found to read wrong casts doubt on.

    ``off`` is its reading less the true value, in ``unit`` ("" where the plant does not say one).  ``since`` is its
    last good calibration or block check (None: it had none), ``until`` when it was calibrated again (None: not yet).
    ``results`` counts characteristics in entries, ``passed`` those judged good; ``unjudged`` had no limit.
    """

    off: float
    found_at: datetime
    found_by: str
    entry: int
    since: datetime | None
    until: datetime | None
    results: int
    passed: int
    unjudged: int
    flips: tuple[Flip, ...]
    tasks: tuple[InDoubt, ...]
    people: tuple[str, ...]
    unit: str = ""


@frozen
class GaugeCalibration:
    """A calibration with its certificate; errors and uncertainty in the gauge's own unit, ``due`` its last day."""

    entry: int
    at: datetime
    by: str
    certificate: str
    laboratory: str
    received: float
    left: float
    uncertainty: float
    due: date


@frozen
class GaugeReport:
    """A gauge at a moment: whether it counts, what vouches for it, who uses it, and what it casts doubt on.

    ``in_order`` tells of a held one whether it would count if it were not.  ``users`` measured with it since
    ``users_since``, its last good calibration or block check (None: ever); ``calibrations`` have certificates, the
    newest first.
    """

    id: str
    title: str
    gauge_class: str
    at: datetime
    valid: bool
    in_order: bool
    note: Said
    held: HoldReason | None
    cares: tuple[GaugeCare, ...]
    users_since: datetime | None
    users: tuple[GaugeUser, ...]
    doubts: tuple[GaugeDoubt, ...]
    calibrations: tuple[GaugeCalibration, ...]
    unit: str = ""


@frozen
class GaugeLine:
    """A gauge in the register: where it belongs, whether it counts, and why; ``until`` is how long it does if nothing
    is done (None: it does not, or nothing is asked of it)."""

    id: str
    title: str
    gauge_class: str
    place: str
    valid: bool
    note: Said
    until: datetime | None


@frozen
class CheckRow:
    """One check as it was written, with the limits that held then and whether its gauge counted (None: it did).

    ``gauge_note`` says how its gauge stood that day, ``proof`` how the name was proven.
    """

    entry: int
    at: datetime
    by: str
    occasion: str
    crimp: str | None
    gauge: str | None
    gauge_doubt: Said | None
    points: tuple[tuple[str, tuple[float, ...]], ...]
    units: tuple[tuple[str, str], ...]
    limits: tuple[Limits, ...]
    looks: tuple[tuple[str, bool], ...]
    broke: tuple[str, ...]
    table: str
    failed: tuple[str, ...]
    order: str | None
    reel: str | None
    wire: str | None
    remark: str
    item: str = ""
    press: str | None = None
    gauge_note: Said | None = None
    proof: Proof = Proof.NOT_KNOWN


@frozen
class Compared:
    """A characteristic at the first and the last piece (or as found and as left): means, and how far it moved.

    ``share`` is the move in parts of the tolerance; None where a limit is missing.  ``decimals`` are those that were
    read.
    """

    point: str
    unit: str
    first: float
    last: float
    moved: float
    share: float | None
    decimals: int


@frozen
class SetUp:
    """One set-up of a die set or module as a page: from its settings to its last piece.

    It begins when the item is fitted, where new settings are written down, or with the first piece of another order;
    it ends with the next (``until`` None: there is none so far).  ``missing`` names what an auditor would look for in
    vain.
    """

    item: str
    title: str
    press: str | None
    since: datetime
    until: datetime | None
    crimps: tuple[str, ...]
    orders: tuple[str, ...]
    checks: tuple[CheckRow, ...]
    first_to_last: tuple[Compared, ...]
    found_to_left: tuple[Compared, ...]
    missing: tuple[Said, ...]
