"""Dates as spreadsheets write them: read in the one format their file is said to have, never guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from upkeep.errors import Unreadable
from upkeep.said import Numeral, Quoted, Said, Series, either, in_lines, said

ORDERS = {"ymd": said("year, month, day"), "dmy": said("day, month, year"), "mdy": said("month, day, year")}
"""The formats by name, and in words."""

_PARTS = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})\Z", re.ASCII)
_ISO = re.compile(r"\d{4}-\d\d-\d\d\Z", re.ASCII)


def dates_of(texts: Mapping[int, str], order: str | None) -> dict[int, date]:
    """The date behind each text, by its line; ``order`` is one of :data:`ORDERS`, or None where nobody said.

    Unsaid, dates are read as ISO 8601 writes them.  Raises :class:`Unreadable` with every line that cannot be read;
    where one can be read in several ways, that is the question which format is meant.
    """
    if order is None:
        odd = {line: text for line, text in texts.items() if not _ISO.match(text)}
        if odd and any(readings_of(text) for text in odd.values()):
            raise Unreadable(in_lines(_question(odd)))
    readings = {line: day_read(text, order or "ymd") for line, text in texts.items()}
    wrong = [line for line, day in readings.items() if day is None]
    if wrong:
        raise Unreadable(in_lines(_misread(line, texts[line], order) for line in wrong))
    return {line: day for line, day in readings.items() if day is not None}


def _misread(line: int, text: str, order: str | None) -> Said:
    written = said("2026-03-04") if order is None else ORDERS[order]
    return said(
        "line {line}: {text} is not a date in the form {written}.",
        line=Numeral(line),
        text=Quoted(text),
        written=written,
    )


def day_read(text: str, order: str) -> date | None:
    """The day a text is in an order of :data:`ORDERS`; None: it is none."""
    match = _PARTS.match(text)
    if match is None:
        return None
    parts = dict(zip(order, (match[1], match[3], match[4]), strict=True))
    if len(parts["y"]) != len("2026"):
        return None
    try:
        return date(int(parts["y"]), int(parts["m"]), int(parts["d"]))
    except ValueError:
        return None


def readings_of(text: str) -> dict[str, date]:
    """Each format in which a text is a date, with that date."""
    return {order: day for order in ORDERS if (day := day_read(text, order)) is not None}


def _question(odd: Mapping[int, str]) -> Iterator[Said]:
    readings = {line: readings_of(text) for line, text in odd.items()}
    open_ways = {line: reading for line, reading in readings.items() if len(set(reading.values())) > 1}
    yield said(
        "What format are the dates in? Say it once for the whole file: {choices}.",
        choices=_choices(readings.values()),
    )
    for line, meanings in open_ways.items():
        ways = either(said("{day} ({order})", day=day, order=order) for order, day in meanings.items())
        yield said("line {line}: {text} is {ways}", line=Numeral(line), text=odd[line], ways=ways)
    for order in ORDERS:
        sure = [line for line, reading in readings.items() if list(reading) == [order]]
        if sure:
            yield _sure(order, sure[0], odd[sure[0]], len(sure) - 1)
    for line, meanings in readings.items():
        if not meanings:
            yield said("line {line}: {text} is not a date", line=Numeral(line), text=Quoted(odd[line]))


def _sure(order: str, line: int, text: str, more: int) -> Said:
    """A line that has one format only, and how many more have that one."""
    if not more:
        return said("line {line}: {text} can only be {order}", line=Numeral(line), text=text, order=order)
    return said(
        "line {line}: {text} can only be {order}, and so can {more} more",
        line=Numeral(line),
        text=text,
        order=order,
        more=Numeral(more),
    )


def _choices(readings: Iterable[Mapping[str, date]]) -> Series:
    possible = {order for reading in readings for order in reading}
    return either(
        said("--dates {order} ({words})", order=order, words=words)
        for order, words in ORDERS.items()
        if order in possible
    )
