"""Weeks as ISO 8601 numbers them: Monday first, week 1 holds the year's first Thursday."""

from __future__ import annotations

import re
from datetime import date, timedelta

from upkeep.errors import Unreadable
from upkeep.said import Numeral, Quoted, Said, said

_WEEK = re.compile(r"(\d{4})-W(\d\d)\Z", re.ASCII)


def iso_week(day: date) -> str:
    """The week a day lies in, ``2026-W53``; its year is that of the week's Thursday."""
    year, week, _ = day.isocalendar()
    return f"{year:04d}-W{week:02d}"


def week_days(week: str) -> tuple[date, date]:
    """The Monday and the Sunday of a week written ``2026-W53``.

    Raises :class:`Unreadable` for other text and for a week its year does not have.
    """
    match = _WEEK.match(week)
    if not match:
        raise Unreadable(said("{week} is not a week; write year and week like '2026-W09'.", week=Quoted(week)))
    year, number = int(match[1]), int(match[2])
    try:
        monday = date.fromisocalendar(year, number, 1)
        return monday, monday + timedelta(days=6)
    except (ValueError, OverflowError):
        raise Unreadable(said("{week} is not a week: {why}", week=Quoted(week), why=_why_no_week(year))) from None


def _why_no_week(year: int) -> Said:
    if not date.min.year < year < date.max.year:
        return said("write a year from 0002 to 9998.")
    last = date(year, 12, 28).isocalendar().week
    return said("{year} has weeks 01 to {last}.", year=Numeral(year), last=last)


def is_over(week: str, day: date) -> bool:
    """Whether the last day of a week lies before a day.  Raises :class:`Unreadable` as :func:`week_days` does."""
    return week_days(week)[1] < day
