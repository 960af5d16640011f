"""Wear in words: an item's trends, advice on intervals, lives of a family, the slug - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from upkeep.plant.line_names import LineName
from upkeep.said import in_turn, said
from upkeep.units.figures import decimals_of, percent, to_step
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph

if TYPE_CHECKING:
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

NOT_APPLIED = (
    "Proposed, never applied: whoever answers for the plan changes tasks.toml and loads it with a reason ('strokebook "
    'new FOLDER --because "..."\').'
)


def wear_text(wear: ItemWear, zone: Zone, reader: Reader) -> str:
    """What is known of an item's wear; empty where nothing is."""
    lines: list[str] = []
    if wear.gone:
        lines += paragraph(text(said("GONE FOR GOOD: {how}", how=wear.gone), reader))
    lines += [line for alarm in wear.alarms for line in paragraph(text(alarm, reader), 0, 2)]
    for point in wear.points:
        lines += ["", *_point(point, zone, reader)]
    for setting in wear.settings:
        lines += ["", *_setting(setting, reader)]
    if wear.hint is not None:
        lines += ["", *hint_lines(wear.hint, reader)]
    if wear.pictures:
        lines += ["", *picture_lines(wear.pictures, zone)]
    return "\n".join(lines) + "\n" if lines else ""


def _point(wear: PointWear, zone: Zone, reader: Reader) -> Iterator[str]:
    last = wear.values[-1]
    crimp = f" ({wear.crimp})" if wear.crimp else ""
    low, best, high = last.strokes
    guess = f", estimated between {grouped(low)} and {grouped(high)}" if low != high else ""
    value = f"{to_step(last.value, decimals_of(last.readings))} {wear.unit}"
    yield from paragraph(
        f"{wear.title}{crimp}: last {value} at {grouped(best)} strokes {wear.run}{guess} "
        f"({zone.minute(last.at)}, #{last.entry})"
    )
    yield from paragraph(text(wear.trend.why, reader), 2, 2)
    if wear.when:
        yield from paragraph(text(wear.when, reader), 2, 2)
    aside = [
        f"{wear.earlier} values from earlier runs" if wear.earlier else "",
        f"{wear.left_out} from a gauge that read wrong" if wear.left_out else "",
        f"{wear.blamed} measured on {wear.blamed_press}, which is to be looked at first" if wear.blamed else "",
    ]
    if any(aside):
        yield from paragraph(f"Left out: {' and '.join(word for word in aside if word)}.", 2, 2)


def _setting(setting: SettingWear, reader: Reader) -> Iterator[str]:
    crimp = f" ({setting.crimp})" if setting.crimp else ""
    yield from paragraph(f"Setting{crimp}: {text(setting.drift.why, reader)}", 0, 2)


def hint_lines(hint: Hint, reader: Reader) -> Iterator[str]:
    """Where to look first."""
    about = (
        said("{suspect} {about}", suspect=hint.suspect or "", about=hint.about or "") if hint.about else hint.suspect
    )
    where = (
        said("Look first at: {about}", about=about or "")
        if hint.suspect
        else said("It is not clear yet where it comes from")
    )
    sentence = in_turn(
        said("{where} - {why}.", where=where, why=hint.why),
        said("Measure next: {ask}.", ask=hint.ask) if hint.ask else None,
        said("This is a place to begin, not a finding."),
    )
    yield from paragraph(text(sentence, reader), 0, 2)


def picture_lines(pictures: Iterable[PictureState], zone: Zone) -> Iterator[str]:
    """Pictures of items, and what has become of their files."""
    for picture in pictures:
        kind = "as new" if picture.as_new else "picture"
        kind += f" of #{picture.belongs_to}" if picture.belongs_to is not None else ""
        state = picture.trouble or "unchanged"
        yield from paragraph(
            f"{picture.item} {kind} {zone.minute(picture.at)} (#{picture.entry}): {picture.file} - {state}", 0, 4
        )


def pictures_text(pictures: Iterable[PictureState], zone: Zone) -> str:
    """The same as a page."""
    return "\n".join(list(picture_lines(pictures, zone)) or ["No pictures are kept."]) + "\n"


def advice_text(advice: Iterable[Advice], reader: Reader) -> str:
    """What findings and wear say about intervals, and what to write to take a proposal."""
    lines: list[str] = []
    changes = False
    for item_advice in advice:
        proposed = item_advice.proposal.strokes
        proposal = "nothing to propose" if proposed is None else (
            f"PROPOSED {grouped(proposed)} strokes" if item_advice.proposal.changes else f"{grouped(proposed)} can stay"
        )  # fmt: skip
        lines += paragraph(f"{LineName(item_advice.item, item_advice.task)}: {proposal}")
        lines += paragraph(text(item_advice.proposal.why, reader), 2, 2)
        if item_advice.definition:
            changes = True
            lines += paragraph(f'In tasks.toml, task "{item_advice.task}":', 2)
            lines.append(f"    {item_advice.definition}")
        lines.append("")
    if changes:
        lines += paragraph(NOT_APPLIED)
    return "\n".join(lines or ["No graded inspection is defined for it."]).rstrip("\n") + "\n"


def lives_text(lives: FamilyLives, zone: Zone, reader: Reader) -> str:
    """The lives of a family: what they say, their curve, and each of them."""
    from upkeep.papers.plots import chart_text
    from upkeep.papers.wear_plots import life_plot

    lines = paragraph(f"{lives.family}: lives of parts of the kind {lives.kind}, in strokes")
    if lives.agreement.why is not None:
        lines += paragraph(text(lives.agreement.why, reader))
    for name, report in lives.reports:
        lines += ["", *_report(name, report, reader)]
        if report.curve is not None:
            lines += ["", *chart_text(life_plot(lives, name, report)).rstrip("\n").split("\n")]
    lines += ["", "Each life"]
    for life in sorted(lives.lives, key=lambda life: -life.strokes[1]):
        sign = "failed  " if life.failed else "censored"
        guess = " (estimated)" if life.strokes[0] != life.strokes[2] else ""
        until = f", {zone.minute(life.end)}" if life.end else ""
        line = f"{grouped(life.strokes[1]):>12}{guess} {sign} {life.item}: {life.how}{until} ({life.group})"
        lines += paragraph(line, 0, 15)
    if not lives.lives:
        lines.append("  none has run yet")
    if lives.unknown:
        lines += paragraph(f"Left out because their life is not known: {', '.join(lives.unknown)}.")
    return "\n".join(lines) + "\n"


def _report(name: str, report: LifeReport, reader: Reader) -> Iterator[str]:
    yield from paragraph(f"{name}: {text(report.why, reader)}")
    curve = report.curve
    if curve is not None and curve.goodness is not None:
        yield from paragraph(
            f"Fit: correlation of the probability plot {curve.goodness.correlation:.3f}, largest distance from "
            f"Kaplan-Meier {percent(curve.goodness.distance)}. Bounds are 95 % likelihood-ratio intervals."
        )
    if report.replacing is not None:
        yield from paragraph(text(report.replacing.why, reader))


def slug_text(help_given: SlugHelp, zone: Zone) -> str:
    """The slug to crush, cautions first; what was found, and how the setting has to move."""
    lines = [line for caution in help_given.cautions for line in paragraph(caution, 0, 2)]
    slug = help_given.slug
    lines += ["", *paragraph(
        f"Slug for {help_given.item}: about {slug.length:.0f} mm long, about {_both(slug.thickness)} thick - "
        f"0.5 mm more than the closed height {_both(slug.height)} ({help_given.height_from}). "
        "Common practice, no source."
    )]  # fmt: skip
    lines += paragraph(f"Limits: {_limits(help_given.lower, help_given.upper)}")
    if help_given.result is not None:
        result = help_given.result
        values = ", ".join(f"{value:.3f}" for value in result.values)
        words = {"good": "within the limits", "no limit": "no limit is set", "out": "OUT"}[result.verdict]
        lines += ["", *paragraph(f"Found {values} mm: mean {_both(result.mean)}, {words}.")]
        lines += paragraph(_move(result.move))
    if help_given.shut_height is not None:
        lines += ["", *_shut_height(help_given.shut_height, zone)]
    lines += paragraph(
        f"Nothing was entered. To record it: strokebook check {help_given.item} slug --point slug-height=..."
    )
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


def _shut_height(shut_height: ShutHeight, zone: Zone) -> Iterator[str]:
    if shut_height.setting is None:
        setting = "this plant sets none; 135.8 mm (5.346 in) is usual on one class of bench press, common practice, "
        setting += "no source"
    else:
        setting = f"the plant's setting is {_both(shut_height.setting, 1)}"
    if shut_height.value is None or shut_height.at is None:
        yield from paragraph(f"Shut height of {shut_height.press}: never measured in this book; {setting}.")
        return
    off = "" if shut_height.setting is None else f", {shut_height.value - shut_height.setting:+.3f} mm off"
    words = "" if shut_height.good is None else ", within its limits" if shut_height.good else ", OUT OF ITS LIMITS"
    yield from paragraph(
        f"Shut height of {shut_height.press}: {_both(shut_height.value)} "
        f"on {zone.minute(shut_height.at)}{off}{words}; {setting}."
    )


def _both(mm: float, decimals: int = 3) -> str:
    """A length in millimetres and in inches."""
    from upkeep.wear.slug import INCH

    return f"{mm:.{decimals}f} mm ({mm / INCH:.{decimals + 1 if decimals > 1 else 3}f} in)"
