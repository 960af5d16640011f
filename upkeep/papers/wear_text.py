"""Wear in words: an item's trends, advice on intervals, lives of a family, the slug - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from upkeep.plant.line_names import LineName
from upkeep.said import Figure, Numeral, Said, Value, all_of, in_turn, listed, minute, said, term
from upkeep.units.figures import decimals_of, percent
from upkeep.units.instants import Zone
from upkeep.units.measures import measured
from upkeep.wording.sentences import Reader, count_text, lines, text
from upkeep.wording.text import padded, paragraph

if TYPE_CHECKING:
    from upkeep.views.wear import (
        Advice,
        FamilyLives,
        ItemWear,
        PartLife,
        PictureState,
        PointWear,
        SettingWear,
        ShutHeight,
        SlugHelp,
    )
    from upkeep.wear.lives import LifeReport
    from upkeep.wear.separation import Hint

NOT_APPLIED = said(
    "Proposed, never applied: whoever answers for the plan changes tasks.toml and loads it with a reason ('strokebook "
    'new FOLDER --because "..."\').'
)


def wear_text(wear: ItemWear, zone: Zone, reader: Reader) -> str:
    """What is known of an item's wear; empty where nothing is."""
    page: list[str] = []
    if wear.gone:
        page += lines(said("GONE FOR GOOD: {how}", how=wear.gone), reader)
    page += [line for alarm in wear.alarms for line in lines(alarm, reader, 0, 2)]
    for point in wear.points:
        page += ["", *_point(point, zone, reader)]
    for setting in wear.settings:
        page += ["", *lines(_setting(setting), reader, 0, 2)]
    if wear.hint is not None:
        page += ["", *hint_lines(wear.hint, reader)]
    if wear.pictures:
        page += ["", *picture_lines(wear.pictures, zone, reader)]
    return "\n".join(page) + "\n" if page else ""


def _point(wear: PointWear, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(_last(wear, zone), reader)
    yield from lines(wear.trend.why, reader, 2, 2)
    if wear.when:
        yield from lines(wear.when, reader, 2, 2)
    aside = list(_aside(wear))
    if aside:
        yield from lines(said("Left out: {values}.", values=all_of(aside)), reader, 2, 2)


def _last(wear: PointWear, zone: Zone) -> Said:
    last = wear.values[-1]
    low, best, high = last.strokes
    done = said("{strokes} strokes {run}", strokes=best, run=wear.run)
    if low != high:
        done = said("{done}, estimated between {low} and {high}", done=done, low=low, high=high)
    return said(
        "{what}: last {value} at {done} ({at}, #{entry})",
        what=_of_crimp(term(wear.title), wear.crimp),
        value=measured(last.value, wear.unit, f",.{decimals_of(last.readings)}f"),
        done=done,
        at=minute(last.at, zone),
        entry=Numeral(last.entry),
    )


def _of_crimp(what: Value, crimp: str | None) -> Said:
    return said("{what} ({crimp})", what=what, crimp=crimp) if crimp else said("{what}", what=what)


def _aside(wear: PointWear) -> Iterator[Said]:
    if wear.earlier:
        yield said("{n} values from earlier runs", n=wear.earlier)
    if wear.left_out:
        yield said("{n} from a gauge that read wrong", n=wear.left_out)
    if wear.blamed:
        yield said(
            "{n} measured on {press}, which is to be looked at first", n=wear.blamed, press=wear.blamed_press or ""
        )


def _setting(setting: SettingWear) -> Said:
    what = _of_crimp(said("Setting"), setting.crimp)
    return said("{what}: {why}", what=what, why=setting.drift.why)


def hint_lines(hint: Hint, reader: Reader) -> Iterator[str]:
    """Where to look first."""
    sentence = in_turn(
        said("{where} - {why}.", where=_where(hint), why=hint.why),
        said("Measure next: {ask}.", ask=hint.ask) if hint.ask else None,
        said("This is a place to begin, not a finding."),
    )
    yield from lines(sentence, reader, 0, 2)


def _where(hint: Hint) -> Said:
    if not hint.suspect:
        return said("It is not clear yet where it comes from")
    suspect = term(hint.suspect)
    about = said("{suspect} {about}", suspect=suspect, about=hint.about) if hint.about else suspect
    return said("Look first at: {about}", about=about)


def picture_lines(pictures: Iterable[PictureState], zone: Zone, reader: Reader) -> Iterator[str]:
    """Pictures of items, and what has become of their files."""
    for picture in pictures:
        yield from lines(_picture(picture, zone), reader, 0, 4)


def _picture(picture: PictureState, zone: Zone) -> Said:
    kind = said("as new") if picture.as_new else said("picture")
    if picture.belongs_to is not None:
        kind = said("{kind} of #{entry}", kind=kind, entry=Numeral(picture.belongs_to))
    return said(
        "{item} {kind} {at} (#{entry}): {file} - {state}",
        item=picture.item,
        kind=kind,
        at=minute(picture.at, zone),
        entry=Numeral(picture.entry),
        file=picture.file,
        state=term(picture.trouble) if picture.trouble else said("unchanged"),
    )


def pictures_text(pictures: Iterable[PictureState], zone: Zone, reader: Reader) -> str:
    """The same as a page."""
    page = list(picture_lines(pictures, zone, reader))
    return "\n".join(page or lines(said("No pictures are kept."), reader)) + "\n"


def advice_text(advice: Iterable[Advice], reader: Reader) -> str:
    """What findings and wear say about intervals, and what to write to take a proposal."""
    page: list[str] = []
    changes = False
    for item_advice in advice:
        line = str(LineName(item_advice.item, item_advice.task))
        page += lines(said("{line}: {proposal}", line=line, proposal=_proposal(item_advice)), reader)
        page += lines(item_advice.proposal.why, reader, 2, 2)
        if item_advice.definition:
            changes = True
            page += lines(said('In tasks.toml, task "{task}":', task=item_advice.task), reader, 2)
            page.append(f"    {item_advice.definition}")
        page.append("")
    if changes:
        page += lines(NOT_APPLIED, reader)
    if not page:
        page = lines(said("No graded inspection is defined for it."), reader)
    return "\n".join(page).rstrip("\n") + "\n"


def _proposal(advice: Advice) -> Said:
    proposed = advice.proposal.strokes
    if proposed is None:
        return said("nothing to propose")
    if advice.proposal.changes:
        return said("PROPOSED {strokes} strokes", strokes=proposed)
    return said("{strokes} can stay", strokes=proposed)


def lives_text(lives: FamilyLives, zone: Zone, reader: Reader) -> str:
    """The lives of a family: what they say, their curve, and each of them."""
    from upkeep.papers.plots import chart_text
    from upkeep.papers.wear_plots import life_plot

    head = said(
        "{family}: lives of parts of the kind {kind}, in strokes", family=lives.family, kind=term(lives.kind, "kind")
    )
    page = lines(head, reader)
    if lives.agreement.why is not None:
        page += lines(lives.agreement.why, reader)
    for name, report in lives.reports:
        page += ["", *_report(name, report, reader)]
        if report.curve is not None:
            page += ["", *chart_text(life_plot(lives, name, report, reader)).rstrip("\n").split("\n")]
    page += ["", *lines(said("Each life"), reader)]
    for life in sorted(lives.lives, key=lambda life: -life.strokes[1]):
        page += paragraph(_life(life, zone, reader), 0, 15)
    if not lives.lives:
        page += lines(said("none has run yet"), reader, 2)
    if lives.unknown:
        page += lines(said("Left out because their life is not known: {items}.", items=listed(lives.unknown)), reader)
    return "\n".join(page) + "\n"


def _life(life: PartLife, zone: Zone, reader: Reader) -> str:
    sign = padded(text(said("failed") if life.failed else said("censored"), reader), 8)
    how = said("{how}, {at}", how=life.how, at=minute(life.end, zone)) if life.end else life.how
    about = said("{item}: {how} ({group})", item=life.item, how=how, group=group_said(life.group))
    guess = " " + text(said("(estimated)"), reader) if life.strokes[0] != life.strokes[2] else ""
    return f"{count_text(life.strokes[1], reader):>12}{guess} {sign} {text(about, reader)}"


def group_said(name: str) -> Said:
    """What lives are compared by: terminals, and whether the part was new or reworked."""
    return said("{words}", words=listed(term(word, "part") for word in name.split(", ")))


def _report(name: str, report: LifeReport, reader: Reader) -> Iterator[str]:
    yield from lines(said("{group}: {why}", group=group_said(name), why=report.why), reader)
    curve = report.curve
    if curve is not None and curve.goodness is not None:
        fit = said(
            "Fit: correlation of the probability plot {correlation}, largest distance from Kaplan-Meier {distance}. "
            "Bounds are 95 % likelihood-ratio intervals.",
            correlation=Figure(curve.goodness.correlation, ".3f"),
            distance=percent(curve.goodness.distance),
        )
        yield from lines(fit, reader)
    if report.replacing is not None:
        yield from lines(report.replacing.why, reader)


_VERDICTS = {"good": said("within the limits"), "no limit": said("no limit is set"), "out": said("OUT")}


def slug_text(help_given: SlugHelp, zone: Zone, reader: Reader) -> str:
    """The slug to crush, cautions first; what was found, and how the setting has to move."""
    page = [line for caution in help_given.cautions for line in lines(caution, reader, 0, 2)]
    slug = help_given.slug
    page += ["", *lines(
        said(
            "Slug for {item}: about {length} mm long, about {thickness} thick - 0.5 mm more than the closed height "
            "{height} ({source}). Common practice, no source.",
            item=help_given.item, length=Figure(slug.length, ".0f"), thickness=_both(slug.thickness),
            height=_both(slug.height), source=help_given.height_from,
        ),
        reader,
    )]  # fmt: skip
    page += lines(said("Limits: {limits}", limits=_limits(help_given.lower, help_given.upper)), reader)
    if help_given.result is not None:
        result = help_given.result
        found = said(
            "Found {values} mm: mean {mean}, {verdict}.",
            values=listed(Figure(value, ".3f") for value in result.values),
            mean=_both(result.mean),
            verdict=_VERDICTS[result.verdict],
        )
        page += ["", *lines(found, reader), *lines(_move(result.move), reader)]
    if help_given.shut_height is not None:
        page += ["", *lines(_shut_height(help_given.shut_height, zone), reader)]
    page += lines(
        said(
            "Nothing was entered. To record it: strokebook check {item} slug --point slug-height=...",
            item=help_given.item,
        ),
        reader,
    )
    return "\n".join(page) + "\n"


def _move(move: float) -> Said:
    if abs(move) < 0.0005:
        return said("The setting can stay.")
    way = said("smaller (ram lower)") if move < 0 else said("larger (ram higher)")
    return said(
        "To reach the closed height the shut height has to become {way} by {length}.", way=way, length=_both(abs(move))
    )


def _limits(lower: float | None, upper: float | None) -> Said:
    if lower is None and upper is None:
        return said("none are set for slug-height")
    return said(
        "{lower} to {upper}",
        lower="-" if lower is None else _both(lower),
        upper="-" if upper is None else _both(upper),
    )


def _shut_height(shut_height: ShutHeight, zone: Zone) -> Said:
    if shut_height.setting is None:
        setting = said(
            "this plant sets none; 135.8 mm (5.346 in) is usual on one class of bench press, common practice, no source"
        )
    else:
        setting = said("the plant's setting is {length}", length=_both(shut_height.setting, 1))
    press = shut_height.press
    if shut_height.value is None or shut_height.at is None:
        return said("Shut height of {press}: never measured in this book; {setting}.", press=press, setting=setting)
    parts = [said("{length} on {at}", length=_both(shut_height.value), at=minute(shut_height.at, zone))]
    if shut_height.setting is not None:
        parts.append(said("{off} mm off", off=Figure(shut_height.value - shut_height.setting, "+.3f")))
    if shut_height.good is not None:
        parts.append(said("within its limits") if shut_height.good else said("OUT OF ITS LIMITS"))
    return said("Shut height of {press}: {found}; {setting}.", press=press, found=listed(parts), setting=setting)


def _both(mm: float, decimals: int = 3) -> Said:
    """A length in millimetres and in inches."""
    from upkeep.wear.slug import INCH

    inches = Figure(mm / INCH, f".{decimals + 1 if decimals > 1 else 3}f")
    return said("{mm} mm ({inches} in)", mm=Figure(mm, f".{decimals}f"), inches=inches)
