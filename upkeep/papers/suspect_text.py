"""Suspect product as text: the window, its lines to hold, and what became of them - 80 columns, no colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upkeep.said import Numeral, Said, listed, minute, said, said_as, term
from upkeep.units.instants import Zone
from upkeep.units.quantities import in_strokes
from upkeep.views.suspect import HoldList, Judged, NotCounted, Quantity, SuspectLine
from upkeep.wording.sentences import Reader, label, lines, text
from upkeep.wording.text import paragraph

NOTICE = said(
    "Keep all of it apart until every line has its disposition. If any was shipped, your plant's own procedure and the "
    "contract say who has to be told."
)


def lists_text(lists: Iterable[HoldList], zone: Zone, reader: Reader) -> str:
    """The hold lists, one paragraph each."""
    page = [row for hold_list in lists for row in lines(_list(hold_list, zone), reader, 0, 4)]
    return "\n".join(page or lines(said("No product is suspect."), reader)) + "\n"


def _list(hold_list: HoldList, zone: Zone) -> Said:
    return said(
        "#{number} {item} {what}: {strokes} suspect, {state}; found {at} by {by}",
        number=Numeral(hold_list.number),
        item=hold_list.item,
        what=hold_list.point or said("ran while held"),
        strokes=in_strokes(hold_list.strokes),
        state=_state(hold_list),
        at=minute(hold_list.found_at, zone),
        by=hold_list.found_by,
    )


def _state(hold_list: HoldList) -> Said:
    if hold_list.not_counted:
        presses = listed(press.press for press in hold_list.not_counted)
        return said("{presses} not counted yet: read the counter", presses=presses)
    waiting = sum(1 for line in hold_list.lines if line.open)
    if not waiting:
        return said("all lines have their disposition")
    return said("lines awaiting disposition: {n} of {of}", n=waiting, of=len(hold_list.lines))


def title_said(hold_list: HoldList) -> Said:
    """The first row of a hold list."""
    return said(
        "HOLD LIST #{number}   {item}   {strokes} strokes suspect",
        number=Numeral(hold_list.number),
        item=hold_list.item,
        strokes=hold_list.strokes,
    )


def hold_list_text(hold_list: HoldList, zone: Zone, reader: Reader) -> str:
    """One hold list as a page to print: the window, then its lines with room for what is not in the book."""
    page = [text(title_said(hold_list), reader), "", *hold_list_rows(hold_list, zone, reader)]
    return "\n".join([*page, "", *lines(NOTICE, reader)]) + "\n"


def hold_list_rows(hold_list: HoldList, zone: Zone, reader: Reader) -> list[str]:
    """The window of a hold list, its lines with what became of them, what else to look at."""
    page: list[str] = []
    for name, value in _window(hold_list, zone):
        page += paragraph(f"{label(name, 7, reader) if name else ' ' * 7}{text(value, reader)}", 0, 7)
    for sentence in _beside(hold_list):
        page += lines(sentence, reader, 7)
    page.append("")
    for line in hold_list.lines:
        page += _line(line, zone, reader)
    for press in hold_list.not_counted:
        page += lines(_not_counted(press, zone), reader)
    if not hold_list.lines and not hold_list.not_counted:
        page += lines(said("No strokes lie in the window; no product is suspect."), reader)
    if hold_list.strokes < sum(line.strokes for line in hold_list.lines):
        page += lines(
            said(
                "Together at most {strokes}: between two counts the press did no more, whichever line they belong to.",
                strokes=in_strokes(hold_list.strokes),
            ),
            reader,
            5,
        )
    page += _listed(_CHANGES, hold_list.changes, reader)
    return page + _listed(said("Also look at"), hold_list.sideways, reader)


_CHANGES = said("Changes within the window (possible causes; they do not shorten it)")


def _window(hold_list: HoldList, zone: Zone) -> Iterator[tuple[Said | None, Said]]:
    """The rows of the window, each with its name; None: it belongs to the one above."""
    found = minute(hold_list.found_at, zone)
    yield (
        said_as("suspect window", "Found"),
        said("{at} by {by}: {what}", at=found, by=hold_list.found_by, what=hold_list.found),
    )
    why, start = _start_why(hold_list), minute(hold_list.start, zone)
    if hold_list.restricted:
        restricted = said("restricted {how}", how=hold_list.restricted)
        yield said_as("suspect window", "From"), said("{at}: {why}", at=start, why=restricted)
        yield None, said("Without the restriction from: {why}", why=why)
    else:
        yield said_as("suspect window", "From"), said("{at}: {why}", at=start, why=why)
    yield said_as("suspect window", "To"), said("{at}: {why}", at=minute(hold_list.end, zone), why=hold_list.end_why)


def _start_why(hold_list: HoldList) -> Said:
    if hold_list.start_entry is None:
        return hold_list.start_why
    return said("{why} (#{entry})", why=hold_list.start_why, entry=Numeral(hold_list.start_entry))


def _beside(hold_list: HoldList) -> Iterator[Said]:
    for passed in hold_list.passed_over:
        yield said("Good, but does not count: {why}", why=passed)
    if hold_list.also:
        numbers = listed(said("#{number}", number=Numeral(number)) for number in hold_list.also)
        yield said("Failed again: {entries}", entries=numbers)


def _not_counted(press: NotCounted, zone: Zone) -> Said:
    since = minute(press.since, zone)
    if not press.read:
        return said(
            "{press} was never counted: read it. What it made since {since} is suspect.",
            press=press.press,
            since=since,
        )
    return said(
        "{press} was not counted since {read}: read it. What it made since {since} is suspect.",
        press=press.press,
        read=minute(press.read, zone),
        since=since,
    )


def _line(line: SuspectLine, zone: Zone, reader: Reader) -> Iterator[str]:
    span = said("{since} to {until}", since=minute(line.since, zone), until=minute(line.until, zone))
    yield f"{line.row:>3}  {line.press:<8}{text(span, reader)}"
    yield from lines(said("{parts}", parts=listed(_strokes(line))), reader, 5)
    for booked in line.quantities:
        yield from lines(_booked(booked, zone), reader, 5, 7)
    for sentence in _named(line):
        yield from lines(sentence, reader, 5, 7)
    if line.judged is None:
        blanks = said("[ ] sorted  [ ] scrapped  [ ] released     bins ________  shipped yes / no")
        yield from lines(blanks, reader, 5)
    else:
        yield from lines(_judged(line.judged, line.open, zone), reader, 5, 7)


def _strokes(line: SuspectLine) -> Iterator[Said]:
    done = in_strokes(line.strokes)
    if line.low != line.strokes:
        done = said("{strokes} (at most; best {best}, least {low})", strokes=done, best=line.best, low=line.low)
    yield done
    if line.count_from is not None and line.count_to is not None:
        first, last = line.count_from, line.count_to
        yield (
            said("count about {first} to {last}", first=first, last=last)
            if line.about
            else said("count {first} to {last}", first=first, last=last)
        )
    if line.no_product:
        yield said("{n} set-up and dry strokes taken off", n=line.no_product)


def _booked(booked: Quantity, zone: Zone) -> Said:
    return said(
        "{order}: {pieces} pieces booked, {since} to {until}",
        order=said("order {order}", order=booked.order) if booked.order else said("no order named"),
        pieces=booked.pieces,
        since=minute(booked.since, zone),
        until=minute(booked.until, zone),
    )


def _named(line: SuspectLine) -> Iterator[Said]:
    for order in line.orders:
        yield said("order {order}: named by a check, no pieces booked", order=order)
    if line.reels:
        yield said("reel: {names}", names=listed(line.reels))
    if line.wires:
        yield said("wire lot: {names}", names=listed(line.wires))
    if line.people:
        yield said("people: {names}", names=listed(line.people))


def _judged(judged: Judged, grown: bool, zone: Zone) -> Said:
    judgement = said(
        "{how} by {by} {at} (#{entry}): {because}",
        how=term(judged.how, "disposition"),
        by=judged.by,
        at=minute(judged.at, zone),
        entry=Numeral(judged.entry),
        because=judged.because,
    )
    if judged.pieces:
        became = listed(said("{n} {how}", n=n, how=term(how, "disposition")) for how, n in judged.pieces)
        judgement = said("{judgement}; {became}", judgement=judgement, became=became)
    if not grown:
        return judgement
    return said(
        "{judgement}; it had {strokes} then; give it a new disposition",
        judgement=judgement,
        strokes=in_strokes(judged.strokes),
    )


def _listed(title: Said, sentences: tuple[Said, ...], reader: Reader) -> list[str]:
    if not sentences:
        return []
    rows = (row for sentence in sentences for row in paragraph(f"- {text(sentence, reader)}", 2, 4))
    return ["", *lines(title, reader), *rows]
