"""Suspect product as text: the window, its lines to hold, and what became of them - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.said import Said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, strokes
from upkeep.views.suspect import HoldList, SuspectLine
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.text import paragraph

NOTICE = (
    "Keep all of it apart until every line has its disposition. If any was shipped, your plant's own procedure and the "
    "contract say who has to be told."
)


def lists_text(lists: Iterable[HoldList], zone: Zone) -> str:
    """The hold lists, one paragraph each."""
    told: list[str] = []
    for one in lists:
        waiting = [line for line in one.lines if line.open]
        state = (
            f"lines awaiting disposition: {len(waiting)} of {len(one.lines)}"
            if waiting
            else "all lines have their disposition"
        )
        what = one.point or "ran while held"
        told += paragraph(
            f"#{one.number} {one.item} {what}: {strokes(one.strokes)} suspect, {state}; found "
            f"{zone.minute(one.found_at)} by {one.found_by}", 0, 4,
        )  # fmt: skip
    return "\n".join(told or ["No product is suspect."]) + "\n"


def hold_list_text(one: HoldList, zone: Zone) -> str:
    """One hold list as a page to print: the window, then its lines with room for what is not in the book."""
    lines = [f"HOLD LIST #{one.number}   {one.item}   {grouped(one.strokes)} strokes suspect", ""]
    lines += paragraph(f"Found  {zone.minute(one.found_at)} by {one.found_by}: {text(one.found, ENGLISH)}", 0, 7)
    start = f" (#{one.start_entry})" if one.start_entry is not None else ""
    lines += paragraph(f"From   {zone.minute(one.start)}: {text(one.start_why, ENGLISH)}{start}", 0, 7)
    lines += paragraph(f"To     {zone.minute(one.end)}: {text(one.end_why, ENGLISH)}", 0, 7)
    for told in one.passed_over:
        lines += paragraph(f"Good, but does not count: {text(told, ENGLISH)}", 7)
    if one.restricted:
        lines += paragraph(f"Restricted {text(one.restricted, ENGLISH)}", 7)
    if one.also:
        lines += paragraph(f"Failed again: {', '.join(f'#{number}' for number in one.also)}", 7)
    lines.append("")
    for line in one.lines:
        lines += _line(line, zone)
    if not one.lines:
        lines.append("No strokes lie in the window; no product is suspect.")
    lines += _listed("Changes within the window (possible causes; they do not shorten it)", one.changes)
    lines += _listed("Also look at", one.sideways)
    return "\n".join([*lines, "", *paragraph(NOTICE, 0)]) + "\n"


def _line(line: SuspectLine, zone: Zone) -> Iterator[str]:
    guess = "" if line.low == line.strokes else f" (at most; best {grouped(line.best)}, least {grouped(line.low)})"
    yield f"{line.row:>3}  {line.press:<8}{zone.minute(line.since)} to {zone.minute(line.until)}"
    yield from paragraph(f"{strokes(line.strokes)}{guess}{_counts(line)}{_no_product(line)}", 5)
    for booked in line.quantities:
        order = f"order {booked.order}" if booked.order else "no order named"
        span = f"{zone.minute(booked.since)} to {zone.minute(booked.until)}"
        yield from paragraph(f"{order}: {grouped(booked.pieces)} pieces booked, {span}", 5, 7)
    for what, names in (("reel", line.reels), ("wire lot", line.wires), ("people", line.people)):
        if names:
            yield from paragraph(f"{what}: {', '.join(names)}", 5, 7)
    judged = line.judged
    if judged is None:
        yield "     [ ] sorted  [ ] scrapped  [ ] released     bins ________  shipped yes / no"
        return
    grown = "" if not line.open else f"; it had {strokes(judged.strokes)} then; give it a new disposition"
    told = f"{judged.how} by {judged.by} {zone.minute(judged.at)} (#{judged.entry}): {judged.because}{grown}"
    yield from paragraph(told, 5, 7)


def _counts(line: SuspectLine) -> str:
    if line.count_from is None or line.count_to is None:
        return ""
    about = "about " if line.about else ""
    return f", count {about}{grouped(line.count_from)} to {grouped(line.count_to)}"


def _no_product(line: SuspectLine) -> str:
    return f", {grouped(line.no_product)} set-up and dry strokes taken off" if line.no_product else ""


def _listed(title: str, told: tuple[Said, ...]) -> list[str]:
    if not told:
        return []
    return ["", title, *(line for one in told for line in paragraph(f"- {text(one, ENGLISH)}", 2, 4))]
