"""Frozen views of wear: measured points with their trend, hidden wear, advice on intervals, lives, pictures."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.said import Said

if TYPE_CHECKING:
    from upkeep.wear.drift import Drift
    from upkeep.wear.interval import Proposal
    from upkeep.wear.lives import Agreement, LifeReport
    from upkeep.wear.separation import Hint
    from upkeep.wear.slug import Slug, SlugResult
    from upkeep.wear.trend import Limits, Trend


@frozen
class Value:
    """One measurement of a point: the mean of its ``readings``, and the strokes of the part by then (low, best, high),
    counted from where its run began.  ``item`` is what was measured, ``occasion`` None for a signed inspection."""

    at: datetime
    entry: int
    item: str
    occasion: str | None
    gauge: str | None
    readings: tuple[float, ...]
    value: float
    strokes: tuple[int, int, int]


@frozen
class PointWear:
    """A measured point of one item over the strokes since it was new or since its last rework.

    ``crimp`` is what was run where values differ by it.  ``run`` names what the strokes count from, ``now`` the strokes
    by now (low, best, high).  ``earlier`` values belong to a run before; ``left_out`` were measured with a gauge that
    read wrong; ``blamed`` on ``blamed_press``, which is to be looked at first, so that they tell of it and not of the
    part.  ``left`` and ``left_safe`` are the strokes to the limit, by the line and to plan by (0: past it),
    ``expected`` and ``safe_until`` the days that makes; all None where nothing is forecast.
    """

    point: str
    title: str
    unit: str
    crimp: str | None
    limits: Limits
    run: Said
    now: tuple[int, int, int]
    values: tuple[Value, ...]
    earlier: int
    left_out: int
    trend: Trend
    left: int | None
    left_safe: int | None
    expected: date | None
    safe_until: date | None
    when: Said | None
    blamed: int = 0
    blamed_press: str | None = None


@frozen
class SettingWear:
    """How a setting drifted over the strokes of an item's run, and whether that hides wear."""

    point: str
    title: str
    unit: str
    crimp: str | None
    values: tuple[Value, ...]
    drift: Drift


@frozen
class PictureState:
    """A picture of an item and what has become of its file (empty: it is as it was).

    ``belongs_to`` is the sign-off, check or fault it belongs to (None: the item alone); ``scale`` how many points of it
    are one millimetre (None: nobody knows).
    """

    item: str
    at: datetime
    file: str
    sha256: str
    as_new: bool
    entry: int
    belongs_to: int | None = None
    scale: float | None = None
    trouble: str = ""


@frozen
class ItemWear:
    """All that is known of the wear of an item: its points, its settings, alarms, and where to look first.

    ``gone`` says how and when it left for ever (None: it has not).
    """

    item: str
    kind: str
    gone: Said | None
    points: tuple[PointWear, ...]
    settings: tuple[SettingWear, ...]
    alarms: tuple[Said, ...]
    hint: Hint | None
    pictures: tuple[PictureState, ...]


@frozen
class Advice:
    """What findings and wear say about the interval of an inspection: the proposal, and what to write into the
    definition of the task to take it (empty: nothing to change)."""

    item: str
    task: str
    title: str
    grades: tuple[int, ...]
    proposal: Proposal
    definition: str


@frozen
class PartLife:
    """One life of a part, from new or a rework to its end: its strokes (low, best, high), how it ended, and whether
    that counts as a failure.  ``group`` is what it is compared by."""

    item: str
    group: str
    start: datetime | None
    end: datetime | None
    strokes: tuple[int, int, int]
    failed: bool
    how: Said


@frozen
class FamilyLives:
    """The lives of the parts of one kind in a family of die sets, and what they say.

    ``reports`` holds one report for all that is pooled, or one for each group where they do not agree.  ``unknown`` are
    parts whose life is not known, which count nowhere.
    """

    family: str
    kind: str
    lives: tuple[PartLife, ...]
    agreement: Agreement
    reports: tuple[tuple[str, LifeReport], ...]
    unknown: tuple[str, ...]


@frozen
class ShutHeight:
    """The last shut height of the press an item hangs on, in mm, against the plant's setting (None: none is set)."""

    press: str
    value: float | None
    at: datetime | None
    setting: float | None
    lower: float | None
    upper: float | None
    good: bool | None


@frozen
class SlugHelp:
    """The slug to crush for an item, with its cautions, what the found heights say, and the press it hangs on.

    Lengths are in mm.  ``height_from`` says where the closed height comes from.
    """

    item: str
    cautions: tuple[Said, ...]
    slug: Slug
    height_from: Said
    lower: float | None
    upper: float | None
    result: SlugResult | None
    shut_height: ShutHeight | None
