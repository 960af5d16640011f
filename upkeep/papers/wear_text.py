"""Wear in words: an item's trends, advice on intervals, lives of a family, the slug - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.papers.plots import chart_text
from upkeep.papers.wear_plots import life_plot
from upkeep.plant.line_names import LineName
from upkeep.said import in_turn, said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.views.wear import (
    Advice,
    FamilyLives,
    ItemWear,
    PictureState,
    PointWear,
    SettingWear,
    ShutHeight,
    SlugHelp,
)
from upkeep.wear.lives import LifeReport
from upkeep.wear.separation import Hint
from upkeep.wear.slug import INCH
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph

NOT_APPLIED = (
    "Proposed, never applied: whoever answers for the plan changes tasks.toml and loads it with a reason ('strokebook "
    'new FOLDER --because "..."\').'
)


def wear_text(one: ItemWear, zone: Zone) -> str:
    """What is known of an item's wear; empty where nothing is."""
    lines: list[str] = []
    if one.gone:
        lines += paragraph(text(said("GONE FOR GOOD: {how}", how=one.gone), ENGLISH))
    lines += [line for alarm in one.alarms for line in paragraph(text(alarm, ENGLISH), 0, 2)]
    for point in one.points:
        lines += ["", *_point(point, zone)]
    for setting in one.settings:
        lines += ["", *_setting(setting)]
    if one.hint is not None:
        lines += ["", *hint_lines(one.hint)]
    if one.pictures:
        lines += ["", *picture_lines(one.pictures, zone)]
    return "\n".join(lines) + "\n" if lines else ""


def _point(one: PointWear, zone: Zone) -> Iterator[str]:
    last = one.values[-1]
    crimp = f" ({one.crimp})" if one.crimp else ""
    low, best, high = last.strokes
    guess = f", estimated between {grouped(low)} and {grouped(high)}" if low != high else ""
    yield from paragraph(
        f"{one.title}{crimp}: last {last.value:.4g} {one.unit} at {grouped(best)} strokes {one.run}{guess} "
        f"({zone.minute(last.at)}, #{last.entry})"
    )
    yield from paragraph(text(one.trend.why, ENGLISH), 2, 2)
    if one.when:
        yield from paragraph(text(one.when, ENGLISH), 2, 2)
    aside = [
        f"{one.earlier} values from earlier runs" if one.earlier else "",
        f"{one.left_out} from a gauge that read wrong" if one.left_out else "",
    ]
    if any(aside):
        yield from paragraph(f"Left out: {' and '.join(word for word in aside if word)}.", 2, 2)


def _setting(one: SettingWear) -> Iterator[str]:
    crimp = f" ({one.crimp})" if one.crimp else ""
    yield from paragraph(f"Setting{crimp}: {text(one.drift.why, ENGLISH)}", 0, 2)


def hint_lines(hint: Hint) -> Iterator[str]:
    """Where to look first."""
    about = (
        said("{suspect} {about}", suspect=hint.suspect or "", about=hint.about or "") if hint.about else hint.suspect
    )
    where = (
        said("Look first at: {about}", about=about or "")
        if hint.suspect
        else said("It cannot be told yet where it comes from")
    )
    sentence = in_turn(
        said("{where} - {why}.", where=where, why=hint.why),
        said("Measure next: {ask}.", ask=hint.ask) if hint.ask else None,
        said("This is a place to begin, not a finding."),
    )
    yield from paragraph(text(sentence, ENGLISH), 0, 2)


def picture_lines(pictures: Iterable[PictureState], zone: Zone) -> Iterator[str]:
    """Pictures of items, and what has become of their files."""
    for one in pictures:
        kind = "as new" if one.as_new else "picture"
        state = one.trouble or "unchanged"
        yield from paragraph(f"{one.item} {kind} {zone.minute(one.at)} (#{one.entry}): {one.file} - {state}", 0, 4)


def pictures_text(pictures: Iterable[PictureState], zone: Zone) -> str:
    """The same as a page."""
    return "\n".join(list(picture_lines(pictures, zone)) or ["No pictures are kept."]) + "\n"


def advice_text(advice: Iterable[Advice]) -> str:
    """What findings and wear say about intervals, and what to write to take a proposal."""
    lines: list[str] = []
    changes = False
    for one in advice:
        proposed = one.proposal.strokes
        told = "nothing to propose" if proposed is None else (
            f"PROPOSED {grouped(proposed)} strokes" if one.proposal.changes else f"{grouped(proposed)} can stay"
        )  # fmt: skip
        lines += paragraph(f"{LineName(one.item, one.task)}: {told}")
        lines += paragraph(text(one.proposal.why, ENGLISH), 2, 2)
        if one.definition:
            changes = True
            lines += paragraph(f'In tasks.toml, task "{one.task}":', 2)
            lines.append(f"    {one.definition}")
        lines.append("")
    if changes:
        lines += paragraph(NOT_APPLIED)
    return "\n".join(lines or ["No graded inspection is defined for it."]).rstrip("\n") + "\n"


def lives_text(one: FamilyLives, zone: Zone) -> str:
    """The lives of a family: what they say, their curve, and each of them."""
    lines = paragraph(f"{one.family}: lives of parts of the kind {one.kind}, in strokes")
    if one.agreement.why is not None:
        lines += paragraph(text(one.agreement.why, ENGLISH))
    for name, report in one.reports:
        lines += ["", *_report(name, report)]
        if report.steps:
            lines += ["", *chart_text(life_plot(one, name, report)).rstrip("\n").split("\n")]
    lines += ["", "Each life"]
    for life in sorted(one.lives, key=lambda life: -life.strokes[1]):
        sign = "failed  " if life.failed else "censored"
        guess = " (estimated)" if life.strokes[0] != life.strokes[2] else ""
        until = f", {zone.minute(life.end)}" if life.end else ""
        told = f"{grouped(life.strokes[1]):>12}{guess} {sign} {life.item}: {life.how}{until} ({life.group})"
        lines += paragraph(told, 0, 15)
    if not one.lives:
        lines.append("  none has run yet")
    if one.unknown:
        lines += paragraph(f"Left out because their life is not known: {', '.join(one.unknown)}.")
    return "\n".join(lines) + "\n"


def _report(name: str, report: LifeReport) -> Iterator[str]:
    yield from paragraph(f"{name}: {text(report.why, ENGLISH)}")
    curve = report.curve
    if curve is not None and curve.goodness is not None:
        yield from paragraph(
            f"Fit: correlation of the probability plot {curve.goodness.correlation:.3f}, largest distance from "
            f"Kaplan-Meier {curve.goodness.distance:.0%}. Bounds are 95 % likelihood-ratio intervals."
        )
    if report.replacing is not None:
        yield from paragraph(text(report.replacing.why, ENGLISH))


def slug_text(one: SlugHelp, zone: Zone) -> str:
    """The slug to crush, cautions first; what was found, and how the setting has to move."""
    lines = [line for caution in one.cautions for line in paragraph(caution, 0, 2)]
    slug = one.slug
    lines += ["", *paragraph(
        f"Slug for {one.item}: about {slug.length:.0f} mm long, about {_both(slug.thickness)} thick - 0.5 mm more than "
        f"the closed height {_both(slug.height)} ({one.height_from}). Common practice, no source."
    )]  # fmt: skip
    lines += paragraph(f"Limits: {_limits(one.lower, one.upper)}")
    if one.result is not None:
        result = one.result
        values = ", ".join(f"{value:.3f}" for value in result.values)
        words = {"good": "within the limits", "no limit": "no limit is set", "out": "OUT"}[result.verdict]
        lines += ["", *paragraph(f"Found {values} mm: mean {_both(result.mean)}, {words}.")]
        lines += paragraph(_move(result.move))
    if one.shut_height is not None:
        lines += ["", *_shut_height(one.shut_height, zone)]
    lines += paragraph(f"Nothing was entered. To record it: strokebook check {one.item} slug --point slug-height=...")
    return "\n".join(lines) + "\n"


def _move(move: float) -> str:
    if abs(move) < 0.0005:
        return "The setting can stay."
    way = "smaller (ram lower)" if move < 0 else "larger (ram higher)"
    return f"To reach the closed height the shut height has to become {way} by {_both(abs(move))}."


def _limits(lower: float | None, upper: float | None) -> str:
    if lower is None and upper is None:
        return "none are set for slug-height"
    return f"{'-' if lower is None else _both(lower)} to {'-' if upper is None else _both(upper)}"


def _shut_height(one: ShutHeight, zone: Zone) -> Iterator[str]:
    if one.setting is None:
        setting = "this plant sets none; 135.8 mm (5.346 in) is usual on one class of bench press, common practice, "
        setting += "no source"
    else:
        setting = f"the plant's setting is {_both(one.setting, 1)}"
    if one.value is None or one.at is None:
        yield from paragraph(f"Shut height of {one.press}: never measured in this book; {setting}.")
        return
    off = "" if one.setting is None else f", {one.value - one.setting:+.3f} mm off"
    words = "" if one.good is None else ", within its limits" if one.good else ", OUT OF ITS LIMITS"
    yield from paragraph(
        f"Shut height of {one.press}: {_both(one.value)} on {zone.minute(one.at)}{off}{words}; {setting}."
    )


def _both(mm: float, decimals: int = 3) -> str:
    """A length in millimetres and in inches."""
    return f"{mm:.{decimals}f} mm ({mm / INCH:.{decimals + 1 if decimals > 1 else 3}f} in)"
