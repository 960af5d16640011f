"""The list for the first morning after a shutdown: guards, first use, counts, and what fell due meanwhile."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.plant.energy import LOCAL_LAW
from upkeep.said import Capitals, Said, minute, said, term
from upkeep.units.instants import Zone
from upkeep.views.board import BoardLine
from upkeep.views.overview.restart import Restart, RestartPress
from upkeep.wording.sentences import Reader, lines

_SIGNED = said("May run: name ______________  signature ______________  time ______")


def restart_text(seen: Restart, zone: Zone, reader: Reader) -> str:
    """The list, press by press in walking order, with boxes to tick and a signature for each."""
    page = lines(said("RESTART LIST"), reader)
    if seen.since is not None:
        page += lines(said("The last count in the plant was read {at}.", at=minute(seen.since, zone)), reader)
    page += lines(said("No press runs before its guards are checked and its line below is signed."), reader)
    page += lines(LOCAL_LAW, reader)
    for press in seen.presses:
        page += ["", *_press(press, zone, reader)]
    return "\n".join(page) + "\n"


def _press(press: RestartPress, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(said("{press}  {title}  ({place}, {area})", press=press.press, title=press.title,
                          place=press.place, area=press.area), reader)  # fmt: skip
    for title, found in (
        (said("Guards and what the law asks"), press.guards),
        (said("Before its first use"), press.before),
    ):
        yield from _part(title, found, reader)
    yield from lines(_count(press, zone), reader, 2)
    yield from _part(said("Fell due meanwhile"), press.meanwhile, reader)
    yield from _part(said("Due before"), press.earlier, reader)
    locked = said("LOCKED, must not run: {presses}", presses=press.press)
    yield from lines(locked if press.locked else _SIGNED, reader, 2)


def _part(title: Said, found: tuple[BoardLine, ...], reader: Reader) -> Iterator[str]:
    if found:
        yield from lines(title, reader, 2)
    for line in found:
        yield from lines(
            said("[ ] {item}: {title}; {state}; {hands}", item=line.item, title=line.title,
                 state=term(line.state, "state"), hands=Capitals(term(line.energy, "energy"))),
            reader, 4, 8,
        )  # fmt: skip


def _count(press: RestartPress, zone: Zone) -> Said:
    if press.last_count is None or press.last_count_at is None:
        return said("Count to read: ____________ (never read)")
    return said("Count to read: ____________ (last {count}, {at})", count=press.last_count,
                at=minute(press.last_count_at, zone))  # fmt: skip
