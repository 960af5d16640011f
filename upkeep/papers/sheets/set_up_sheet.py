"""The sheet a set-up technician works by: settings of last time, limits of the crimp, room for first pieces."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.plant.model import Point
from upkeep.said import Said, listed, minute, said
from upkeep.units.instants import Zone
from upkeep.units.measures import Amount, UnitName
from upkeep.views.check_forms import CheckForm, CrimpForm
from upkeep.views.checks import CheckRow, SetUp
from upkeep.wording.holds import hold_said
from upkeep.wording.sentences import Reader, lines

_BLANK = "_______"


def set_up_sheet_text(form: CheckForm, last: SetUp | None, zone: Zone, reader: Reader) -> str:
    """The sheet of one die set; ``last`` is its set-up before this one (None: nothing was ever checked in it)."""
    page = [*lines(said("SET-UP SHEET  {item}  {title}", item=form.item, title=form.title), reader), ""]
    if form.hold is not None:
        page += [*lines(said("HELD, must not run: {why}", why=hold_said(form.hold)), reader), ""]
    page += lines(said("Press __________  order __________  reel __________  wire lot __________"), reader)
    page += ["", *lines(said("Settings of last time"), reader)]
    settings = list(_settings(form, last, zone))
    page += [row for line in settings or [said("none in the book")] for row in lines(line, reader, 2, 6)]
    for crimp in form.crimps:
        page += ["", *_crimp(crimp, reader)]
    for blank in _CLOSING:
        page += ["", *lines(blank, reader)]
    return "\n".join(page) + "\n"


_CLOSING = (
    said("Guards closed and first piece good: [ ] yes  [ ] no, not released"),
    said("Set up by: name ____________  signature ____________  date ________  time _____"),
    said("Released by: name ____________  signature ___________  date _______  time _____"),
)


def _settings(form: CheckForm, last: SetUp | None, zone: Zone) -> Iterator[Said]:
    """What was set last time, the newest check that says it."""
    known = {point.id for crimp in form.crimps for point in crimp.settings}
    rows: Iterable[CheckRow] = sorted(last.checks, key=lambda row: row.at, reverse=True) if last is not None else ()
    told: set[str] = set()
    for row in rows:
        units = dict(row.units)
        for key, values in row.points:
            if key in known and key not in told:
                told.add(key)
                yield said(
                    "{point}: {values} {unit}, {at} by {by}; now {blank}",
                    point=key, values=listed(Amount(value, units.get(key, "")) for value in values),
                    unit=UnitName(units.get(key, "")), at=minute(row.at, zone), by=row.by, blank=_BLANK,
                )  # fmt: skip


def _crimp(crimp: CrimpForm, reader: Reader) -> Iterator[str]:
    yield from lines(said("First pieces of {crimp}, {title}", crimp=crimp.id, title=crimp.title), reader)
    pull = (crimp.pull,) if crimp.pull is not None else ()
    for point in (*crimp.pieces, *pull):
        yield from lines(_measured(point), reader, 2, 6)
    if crimp.pull_note is not None:
        yield from lines(crimp.pull_note, reader, 2)
    for look in crimp.looks:
        yield from lines(said("{look}: [ ] good  [ ] bad", look=look), reader, 2)


def _measured(point: Point) -> Said:
    return said(
        "{title}, {limits}: {blanks}",
        title=point.title, limits=_limits(point), blanks=" ".join([_BLANK] * max(point.readings, 1)),
    )  # fmt: skip


def _limits(point: Point) -> Said:
    unit = UnitName(point.unit)
    if point.lower is not None and point.upper is not None:
        return said("{low} to {high} {unit}", low=Amount(point.lower, point.unit), high=Amount(point.upper, point.unit),
                    unit=unit)  # fmt: skip
    if point.lower is not None:
        return said("at least {low} {unit}", low=Amount(point.lower, point.unit), unit=unit)
    if point.upper is not None:
        return said("at most {high} {unit}", high=Amount(point.upper, point.unit), unit=unit)
    return said("no limit, {unit}", unit=unit)
