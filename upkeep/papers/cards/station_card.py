"""The card that hangs at a station: what is done here in every shift, what to mind before, and whom to tell."""

from __future__ import annotations

from upkeep.plant.energy import LOCAL_LAW
from upkeep.said import Figure, said
from upkeep.views.round import Round
from upkeep.wording.cautions import caution_for
from upkeep.wording.sentences import Reader, lines


def station_card_text(seen: Round, reader: Reader) -> str:
    """The card of one place: its round without any due date, for the paper outlives the shift."""
    page = [*lines(said("STATION CARD  {place}", place=seen.place), reader), ""]
    for what in seen.cautions:
        page += [*lines(caution_for(what), reader), ""]
    page += lines(said("In every shift, in this order:"), reader)
    rows = [row for row in seen.rows if row.line.each_shift]
    for row in rows:
        line = row.line
        work = said("{number}  {item}: {title}", number=row.number, item=line.item, title=line.title)
        if line.minutes:
            work = said("{work}, {minutes} min", work=work, minutes=Figure(line.minutes, "g"))
        page += lines(work, reader, 2, 6)
    if not rows:
        page += lines(said("Nothing is asked here in every shift."), reader, 2)
    page += ["", *lines(_FIRST, reader), *lines(_STOP, reader), *lines(LOCAL_LAW, reader)]
    return "\n".join(page) + "\n"


_FIRST = said("Read the counter, say who you are at the station, do the round, sign each row as you do it.")
_STOP = said("Burr, crack, noise, guard open or loose: stop, do not run on, report it at the station, tell the lead.")
