"""A hold list as a sheet: the list, then who was told of it, by whom and when, and who closes it."""

from __future__ import annotations

from upkeep.papers.suspect_text import hold_list_text
from upkeep.said import Said, said, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.suspect import HoldList
from upkeep.wording.sentences import Reader, lines

_TOLD = said("who ________________  by ________________  on __________  how ________")
_CLOSED = said("All of it has its disposition: name __________  signature ________  date ______")


def hold_sheet_text(hold_list: HoldList, zone: Zone, reader: Reader) -> str:
    """The sheet of one hold list."""
    page = [hold_list_text(hold_list, zone, reader).rstrip("\n"), "", *lines(said("By disposition"), reader)]
    page += [row for line in _by_disposition(hold_list) for row in lines(line, reader, 2)]
    page += ["", *lines(said("Shipped: [ ] nothing  [ ] ________ pieces, delivery ______________"), reader)]
    page += ["", *lines(said("Told (customer, next process, stores)"), reader)]
    page += [row for _ in range(3) for row in ("", *lines(_TOLD, reader, 2))]
    return "\n".join([*page, "", *lines(_CLOSED, reader)]) + "\n"


def _by_disposition(hold_list: HoldList) -> list[Said]:
    strokes: dict[str, int] = {}
    for line in hold_list.lines:
        if line.judged is not None and not line.open:
            strokes[line.judged.how] = strokes.get(line.judged.how, 0) + line.strokes
    found = [
        said("{how}: {strokes}", how=term(how, "disposition"), strokes=in_strokes(n)) for how, n in strokes.items()
    ]
    waiting = sum(line.strokes for line in hold_list.lines if line.open)
    return [*found, said("awaiting disposition: {strokes}", strokes=in_strokes(waiting))]
