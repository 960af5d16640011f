"""What a check has to bring: known characteristics, as many readings as each asks for, the gauge that measures them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from upkeep.entries.checking import WHILE_SETTING, Check
from upkeep.errors import Refused
from upkeep.plant.crimps import PULL
from upkeep.plant.model import Item, Point
from upkeep.quality.jumps import SLUG_JUMP
from upkeep.quality.settings import SETTINGS
from upkeep.said import Figure, Quoted, Said, listed, said, said_as, said_many, term
from upkeep.units.measures import Amount, InUnits, UnitName, measured

BROKE = ("wire-broke", "pulled-out", "terminal-broke")
"""How a pulled piece fails: the wire beside the crimp, the wire out of the crimp, the terminal."""


def check_says_something(check: Check) -> None:
    """Refuses a check without a reading and without a look."""
    if not (check.points or check.looks):
        raise Refused(said("Nothing was measured and nothing was looked at; a check needs at least one of them."))


def check_points(check: Check, known: Mapping[str, Point]) -> None:
    """Refuses characteristics nobody defined, too few or too many readings, and positions that do not exist."""
    for key, values in check.points:
        point = known.get(key) or (SETTINGS.get(key) if check.occasion in WHILE_SETTING else None)
        if point is None:
            raise Refused(_unknown(key, check, known))
        asked = point.readings if key in known else len(values)
        if len(values) != asked:
            raise Refused(
                said_many(
                    "{point} needs {n} reading in {unit}; {given} given. After adjusting, it is taken again.",
                    "{point} needs {n} readings in {unit}; {given} given. After adjusting, all of them are "
                    "taken again.",
                    n=asked,
                    point=point.title,
                    unit=UnitName(point.unit),
                    given=len(values),
                )
            )
        for value in values:
            if point.steps and value not in point.steps:
                steps = listed(map(Figure, point.steps))
                raise Refused(
                    said(
                        "{point} has no position {value}; its positions: {steps}.",
                        point=point.title,
                        steps=steps,
                        value=Figure(value),
                    )
                )


def _unknown(key: str, check: Check, known: Mapping[str, Point]) -> Said:
    if key in SETTINGS:
        return said(
            "{point} is recorded during setting only ({occasions}).",
            point=term(SETTINGS[key].title),
            occasions=listed(term(occasion, "occasion") for occasion in WHILE_SETTING),
        )
    owner = check.crimp or check.item
    return said(
        "{owner} has no characteristic {key}; its characteristics: {known}.",
        owner=owner,
        key=Quoted(key),
        known=listed(known) if known else said_as("characteristics", "none"),
    )


def check_looks(check: Check, looks: Sequence[str]) -> None:
    """Refuses looks that the crimp does not name."""
    if check.looks and check.crimp is None:
        raise Refused(said("Say which crimp was run; that decides what is looked at."))
    for key, _ in check.looks:
        if key not in looks:
            raise Refused(
                said(
                    "{crimp} has nothing called {key} to look at; it has: {looks}.",
                    crimp=str(check.crimp),
                    key=Quoted(key),
                    looks=listed(looks) if looks else said_as("looks", "none"),
                )
            )


def check_broke(check: Check) -> None:
    """Refuses a pull force without how each piece broke, and the other way round."""
    pulls = dict(check.points).get(PULL, ())
    for how in check.broke:
        if how not in BROKE:
            raise Refused(
                said(
                    "{how} is not a way for a piece to break. Use one of: {ways}.", how=Quoted(how), ways=listed(BROKE)
                )
            )
    if len(check.broke) != len(pulls):
        raise Refused(
            said(
                "Pieces pulled: {pulls}; how they broke was given for {broke}. Give it for each one ({ways}), "
                "in the order of the forces.",
                pulls=len(pulls),
                broke=len(check.broke),
                ways=listed(BROKE),
            )
        )


def check_gauge_class(check: Check, known: Mapping[str, Point], gauge: Item | None) -> None:
    """Refuses a point measured with another class of gauge than it asks for, or with none."""
    for key, _ in check.points:
        wanted = known[key].gauge_class if key in known else None
        if wanted is None:
            continue
        if gauge is None:
            raise Refused(
                said(
                    "Say which {wanted} measured {key}; a reading is only as good as its gauge.",
                    wanted=wanted,
                    key=key,
                )
            )
        if gauge.gauge_class != wanted:
            raise Refused(
                said(
                    "{key} is measured with a {wanted}; {gauge} is a {gauge_class}. Enter what another gauge "
                    "measured as a separate check.",
                    key=key,
                    wanted=wanted,
                    gauge=gauge.id,
                    gauge_class=str(gauge.gauge_class),
                )
            )


def findings(check: Check, known: Mapping[str, Point]) -> Iterator[Said]:
    """What is out, and by how much; then what follows."""
    bad: list[Said] = []
    limits = {key: (lower, upper) for key, lower, upper in check.limits}
    for key, values in check.points:
        lower, upper = limits.get(key, (None, None))
        out = list(_outs(values, lower, upper, known[key].unit if key in known else ""))
        bad += [said("{point} {out}", point=key, out=listed(out))] if out else []
    bad += [looked_bad(key) for key, good in check.looks if not good]
    yield from bad
    if bad:
        yield _follows(check, [key for key, values in check.points if key in check.failed], known)


def looked_bad(key: str) -> Said:
    """What is said of a look that is not good: found by the book's arithmetic, or judged by somebody's eye."""
    return said("{look} {found}", look=key, found=found_bad(key))


def found_bad(key: str) -> Said:
    """The same without its name."""
    if key == SLUG_JUMP:
        return said("found bad by arithmetic, from the checks before it")
    return said("judged bad by eye")


def _outs(values: Iterable[float], lower: float | None, upper: float | None, unit: str) -> Iterator[Said]:
    for value in values:
        if upper is not None and value > upper:
            yield said(
                "{value} is {apart} above the limit of {limit}",
                value=Amount(value, unit),
                apart=_apart(value, upper, unit),
                limit=Amount(upper, unit),
            )
        if lower is not None and value < lower:
            yield said(
                "{value} is {apart} below the limit of {limit}",
                value=Amount(value, unit),
                apart=_apart(value, lower, unit),
                limit=Amount(lower, unit),
            )


def _apart(value: float, limit: float, unit: str) -> InUnits:
    return measured(round(abs(value - limit), 9), unit)


def _follows(check: Check, failed: Sequence[str], known: Mapping[str, Point]) -> Said:
    if check.occasion in WHILE_SETTING:
        again = [
            said("{point} ({readings})", point=key, readings=known[key].readings if key in known else 1)
            for key in failed
        ]
        if not again:
            return said("{item} is held: adjust, then take all readings again.", item=check.item)
        return said(
            "{item} is held: adjust, then take all readings again: {points}.", item=check.item, points=listed(again)
        )
    return said("{item} is held until it is released.", item=check.item)
