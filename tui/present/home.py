"""What the lead begins with, in words: the counts of its parts, its rows, the week by day, what strokes bring next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tui.present.board import due_text, late_said, reason_text, title_row
from tui.present.moments import Now, age_said, near_said
from tui.present.sections import Shown
from upkeep.said import Capitals, DayName, Figure, Numeral, Said, in_turn, listed, said, said_many
from upkeep.views.overview.home import Expected, GoingOn, Home, HomePart, HomeRow, Part
from upkeep.wording.holds import hold_said
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit, padded

NAMES: Mapping[Part, Said] = {
    Part.HELD: said("held"),
    Part.STOP: said("past hard stop"),
    Part.OVERDUE: said("overdue"),
    Part.TODAY: said("due today"),
    Part.OPENING: said("opening this week"),
    Part.QUESTIONS: said("open questions"),
    Part.FAULTS: said("faults"),
    Part.HINTS: said("hints"),
    Part.PERMITS: said("permits running"),
}
"""What each part is called; its place is the number key that leads there."""

_PLACE, _ITEM, _WHEN = 8, 9, 17
_DAY = 9


def name_of(row: HomeRow) -> object:
    """What a row is known by."""
    return row.part, row.place, row.item, row.fault, tuple(line.line for line in row.lines[:1])


def head_rows(home: Home, now: Now, person: str, area: str | None, width: int) -> tuple[str, ...]:
    """The plant or the area of it, who is here and the clock; then every part with its number and its count, also where
    there is none."""
    shown = text(said("{plant}, {area}", plant=home.plant, area=area), now.reader) if area is not None else home.plant
    return (title_row(shown, person, now, width), *_counts(home.parts, now.reader, width))


def _counts(parts: Sequence[HomePart], reader: Reader, width: int) -> tuple[str, ...]:
    """As many to a row as fit, each on a cell of its own."""
    cells = [
        text(said("{key} {part} {n}", key=Numeral(key), part=NAMES[part.part], n=part.total), reader)
        for key, part in enumerate(parts, 1)
    ]
    rows, row = [], ""
    for cell in cells:
        if row and len(row) + len(cell) + 3 > width:
            rows.append(row)
            row = ""
        row += f"   {cell}" if row else f" {cell}"
    return (*rows, row)


def list_rows(home: Home, now: Now, width: int) -> tuple[Shown[HomeRow], ...]:
    """Every part that has rows under its heading, then what strokes bring next."""
    shown: list[Shown[HomeRow]] = []
    if home.now:
        shown.append(Shown(text(said("AT THIS MOMENT"), now.reader), None))
        shown += [Shown(row_text(row, now, width), row) for row in home.now]
    for key, part in enumerate(home.parts, 1):
        if part.rows:
            heading = said("{key}  {part}: {n}", key=Numeral(key), part=Capitals(NAMES[part.part]), n=part.total)
            shown += [Shown(text(heading, now.reader), None)]
            shown += [Shown(row_text(row, now, width), row) for row in part.rows]
    if not shown:
        shown.append(Shown(text(said("Nothing waits for you. Press b for the board of the plant."), now.reader), None))
    if home.ahead:
        shown.append(Shown(text(said("WHAT STROKES BRING NEXT"), now.reader), None))
        shown += [Shown(_expected_text(one, now, width), _row_of(one)) for one in home.ahead]
    return tuple(shown)


def row_text(row: HomeRow, now: Now, width: int) -> str:
    """The place, the item, what it is, and since when or until when."""
    when = _when(row, now)
    room = max(width - _PLACE - _ITEM - _WHEN - 4, 10)
    cells = (
        fit(row.place, _PLACE), fit(row.item or _items(row), _ITEM), fit(text(_what(row, now), now.reader), room),
        fit(when, _WHEN),
    )  # fmt: skip
    return " ".join(cells)


def _items(row: HomeRow) -> str:
    return row.lines[0].item if len(row.lines) == 1 else ""


def _what(row: HomeRow, now: Now) -> Said:
    if row.reason is not None:
        return hold_said(row.reason)
    if row.what is not None:
        return row.what
    if len(row.lines) == 1:
        return said("{title}", title=row.lines[0].title)
    items = listed(dict.fromkeys(line.item for line in row.lines))
    return said_many("{n} clean: {items}", "{n} of this shift: {items}", n=len(row.lines), items=items)


def _when(row: HomeRow, now: Now) -> str:
    if not row.lines:
        return text(said("for {age}", age=age_said(now.at - row.since)), now.reader) if row.since else ""
    line = row.lines[0]
    late = late_said(line, now)
    if late is not None:
        return text(said("for {age}", age=late), now.reader)
    return due_text(line, now.zone, now.reader, _WHEN)


def _expected_text(one: Expected, now: Now, width: int) -> str:
    line = one.line
    when = said("by {day}", day=one.expected) if one.expected is not None else said("no forecast")
    room = max(width - _PLACE - _ITEM - _WHEN - 4, 10)
    what = said("{title}: {left} strokes left", title=line.title, left=line.remaining or 0)
    cells = fit(line.place, _PLACE), fit(line.item, _ITEM), fit(text(what, now.reader), room)
    return " ".join((*cells, fit(text(when, now.reader), _WHEN)))


def _row_of(one: Expected) -> HomeRow:
    return HomeRow(Part.OPENING, one.line.place, one.line.item, (one.line,))


def week_rows(home: Home, reader: Reader, width: int) -> tuple[str, ...]:
    """The seven days from today: how many lines fall due, and how long they take."""
    label = text(said("week"), reader)
    days = [text(said("{name} {n}", name=DayName(one.day), n=one.day.day), reader) for one in home.week]
    lines = [text(said_many("{n} line", "{n} lines", n=one.lines), reader) for one in home.week]
    hours = [text(said("{h} h", h=Figure(one.minutes / 60, ".1f")), reader) for one in home.week]
    cell = max((width - _DAY) // max(len(days), 1), _DAY)
    return tuple(
        fit(f" {padded(head, _DAY - 1)}" + "".join(padded(one, cell) for one in row), width)
        for head, row in ((label, days), ("", lines), ("", hours))
    )


def why_text(row: HomeRow | None, now: Now) -> str:
    """What stands under the list about the selected row: all of it, and whom it waits for."""
    if row is None:
        return ""
    if len(row.lines) == 1:
        return reason_text(row.lines[0], now)
    if row.lines:
        what = said("Enter walks the round of {place}; s signs what is selected, all {n}.", place=row.place,
                    n=len(row.lines))  # fmt: skip
        return text(what, now.reader)
    since = said("since {moment}", moment=near_said(row.since, now)) if row.since else None
    about = said("{item}: {what}", item=row.item or "", what=_what(row, now)) if row.item else _what(row, now)
    whole = said("{about}, {since}.", about=about, since=since) if since else about
    return text(in_turn(whole, _waits_for(row)), now.reader)


def _waits_for(row: HomeRow) -> Said | None:
    """Whom a row waits for, and with which key."""
    if row.reason is not None:
        return said("Released by the lead or quality: press h.")
    if row.part is GoingOn.PARTS:
        return said("Enter shows the kits of this week and the next.")
    if isinstance(row.part, GoingOn):
        return said("Enter shows the handover; + has what can be done.")
    return None
