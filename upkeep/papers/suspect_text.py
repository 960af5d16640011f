"""Suspect product as text: the window, its lines to hold, and what became of them - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.said import Said
from upkeep.units.instants import Zone
from upkeep.units.quantities import grouped, strokes
from upkeep.views.suspect import HoldList, NotCounted, SuspectLine
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import paragraph

NOTICE = (
    "Keep all of it apart until every line has its disposition. If any was shipped, your plant's own procedure and the "
    "contract say who has to be told."
)


def lists_text(lists: Iterable[HoldList], zone: Zone) -> str:
    """The hold lists, one paragraph each."""
    lines: list[str] = []
    for hold_list in lists:
        waiting = [line for line in hold_list.lines if line.open]
        state = (
            f"lines awaiting disposition: {len(waiting)} of {len(hold_list.lines)}"
            if waiting
            else "all lines have their disposition"
        )
        if hold_list.not_counted:
            state = f"{', '.join(press.press for press in hold_list.not_counted)} not counted yet: read the counter"
        what = hold_list.point or "ran while held"
        lines += paragraph(
            f"#{hold_list.number} {hold_list.item} {what}: {strokes(hold_list.strokes)} suspect, {state}; found "
            f"{zone.minute(hold_list.found_at)} by {hold_list.found_by}", 0, 4,
        )  # fmt: skip
    return "\n".join(lines or ["No product is suspect."]) + "\n"


def hold_list_text(hold_list: HoldList, zone: Zone, reader: Reader) -> str:
    """One hold list as a page to print: the window, then its lines with room for what is not in the book."""
    lines = [f"HOLD LIST #{hold_list.number}   {hold_list.item}   {grouped(hold_list.strokes)} strokes suspect", ""]
    lines += paragraph(
        f"Found  {zone.minute(hold_list.found_at)} by {hold_list.found_by}: {text(hold_list.found, reader)}", 0, 7
    )
    good = f" (#{hold_list.start_entry})" if hold_list.start_entry is not None else ""
    unrestricted = f"{text(hold_list.start_why, reader)}{good}"
    why = f"restricted {text(hold_list.restricted, reader)}" if hold_list.restricted else unrestricted
    lines += paragraph(f"From   {zone.minute(hold_list.start)}: {why}", 0, 7)
    if hold_list.restricted:
        lines += paragraph(f"Without the restriction from: {unrestricted}", 7)
    lines += paragraph(f"To     {zone.minute(hold_list.end)}: {text(hold_list.end_why, reader)}", 0, 7)
    for passed in hold_list.passed_over:
        lines += paragraph(f"Good, but does not count: {text(passed, reader)}", 7)
    if hold_list.also:
        lines += paragraph(f"Failed again: {', '.join(f'#{number}' for number in hold_list.also)}", 7)
    lines.append("")
    for line in hold_list.lines:
        lines += _line(line, zone)
    for press in hold_list.not_counted:
        lines += paragraph(_not_counted(press, zone))
    if not hold_list.lines and not hold_list.not_counted:
        lines.append("No strokes lie in the window; no product is suspect.")
    if hold_list.strokes < sum(line.strokes for line in hold_list.lines):
        lines += paragraph(
            f"Together at most {strokes(hold_list.strokes)}: between two counts the press did no more, "
            "whichever line they belong to.", 5,
        )  # fmt: skip
    lines += _listed("Changes within the window (possible causes; they do not shorten it)", hold_list.changes, reader)
    lines += _listed("Also look at", hold_list.sideways, reader)
    return "\n".join([*lines, "", *paragraph(NOTICE, 0)]) + "\n"


def _not_counted(press: NotCounted, zone: Zone) -> str:
    counted = f"not counted since {zone.minute(press.read)}" if press.read else "never counted"
    return f"{press.press} was {counted}: read it. What it made since {zone.minute(press.since)} is suspect."


def _line(line: SuspectLine, zone: Zone) -> Iterator[str]:
    guess = "" if line.low == line.strokes else f" (at most; best {grouped(line.best)}, least {grouped(line.low)})"
    yield f"{line.row:>3}  {line.press:<8}{zone.minute(line.since)} to {zone.minute(line.until)}"
    yield from paragraph(f"{strokes(line.strokes)}{guess}{_counts(line)}{_no_product(line)}", 5)
    for booked in line.quantities:
        order = f"order {booked.order}" if booked.order else "no order named"
        span = f"{zone.minute(booked.since)} to {zone.minute(booked.until)}"
        yield from paragraph(f"{order}: {grouped(booked.pieces)} pieces booked, {span}", 5, 7)
    for order in line.orders:
        yield from paragraph(f"order {order}: named by a check, no pieces booked", 5, 7)
    for what, names in (("reel", line.reels), ("wire lot", line.wires), ("people", line.people)):
        if names:
            yield from paragraph(f"{what}: {', '.join(names)}", 5, 7)
    judged = line.judged
    if judged is None:
        yield "     [ ] sorted  [ ] scrapped  [ ] released     bins ________  shipped yes / no"
        return
    grown = "" if not line.open else f"; it had {strokes(judged.strokes)} then; give it a new disposition"
    judgement = f"{judged.how} by {judged.by} {zone.minute(judged.at)} (#{judged.entry}): {judged.because}{grown}"
    yield from paragraph(judgement, 5, 7)


def _counts(line: SuspectLine) -> str:
    if line.count_from is None or line.count_to is None:
        return ""
    about = "about " if line.about else ""
    return f", count {about}{grouped(line.count_from)} to {grouped(line.count_to)}"


def _no_product(line: SuspectLine) -> str:
    return f", {grouped(line.no_product)} set-up and dry strokes taken off" if line.no_product else ""


def _listed(title: str, sentences: tuple[Said, ...], reader: Reader) -> list[str]:
    if not sentences:
        return []
    return ["", title, *(line for sentence in sentences for line in paragraph(f"- {text(sentence, reader)}", 2, 4))]
