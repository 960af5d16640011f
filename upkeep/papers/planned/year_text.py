"""The year ahead as text: two policies side by side, another interval, first days, past weeks planned again."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from upkeep.said import Figure, Join, Said, listed, said, said_many
from upkeep.views.planned.year import BackTest, PolicyYear, Range, Starts, WhatIf, YearAhead
from upkeep.wording.planned.years import (
    assumed_said,
    change_said,
    hours_said,
    interval_said,
    range_said,
    risk_said,
)
from upkeep.wording.sentences import Reader, lines, text
from upkeep.wording.text import padded

_NAME, _COLUMN = 30, 24
_WEEKS_A_ROW = 4


def year_text(year: YearAhead, reader: Reader) -> str:
    """The two years in columns, the hours of each quarter's weeks, and what was assumed."""
    page = lines(said("The year ahead of {plant}", plant=year.plant), reader)
    if year.changes:
        page += lines(
            said("Changed: {changes}.", changes=listed(map(change_said, year.changes), Join.SEMICOLON)), reader
        )
    heads = [said("now")] + ([said("changed"), said("changed less now")] if year.changed else [])
    page += ["", _row("", [text(head, reader) for head in heads])]
    for name, values in _rows(year):
        page.append(_row(text(name, reader), [text(range_said(value), reader) for value in values]))
    page += ["", *lines(said("Hours by week, week 1 first: mean, and what 19 of 20 runs stay below"), reader)]
    for title, policy in ((heads[0], year.now), *(((heads[1], year.changed),) if year.changed else ())):
        page += lines(title, reader)
        page += _weeks(policy)
    return "\n".join([*page, "", *_sentences(assumed_said(year), reader)]) + "\n"


def _rows(year: YearAhead) -> Iterator[tuple[Said, list[Range]]]:
    policies = [year.now] + ([year.changed] if year.changed else [])
    more = year.differences or ()
    names = (said("lines late"), said("parts failed in use"), said("days waiting for spares"), said("hours of work"))
    for number, name in enumerate(names):
        values = [(one.late, one.failed, one.waited, one.hours)[number] for one in policies]
        yield name, [*values, *more[number : number + 1]]
    money = [one.money for one in policies if one.money is not None]
    if money:
        yield said("cost, {currency}", currency=year.currency), money


def _row(name: str, cells: Sequence[str]) -> str:
    return (padded(name, _NAME) + "".join(padded(cell, _COLUMN) for cell in cells)).rstrip()


def _weeks(policy: PolicyYear) -> Iterator[str]:
    cells = [f"{number:>4}: {week.mean:6,.1f} {week.high:6,.1f}" for number, week in enumerate(policy.weeks, 1)]
    for start in range(0, len(cells), _WEEKS_A_ROW):
        yield " ".join(cells[start : start + _WEEKS_A_ROW])


def _sentences(sentences: Iterator[Said], reader: Reader) -> Iterator[str]:
    for sentence in sentences:
        yield from lines(sentence, reader)


def what_if_text(found: WhatIf, reader: Reader) -> str:
    """Hours and risk of another interval."""
    page = lines(
        said(
            "{title} ({task}): every {now} now, every {then} then",
            title=found.title, task=found.task, now=interval_said(found.interval_now, found.by_strokes),
            then=interval_said(found.interval_then, found.by_strokes),
        ),
        reader,
    )  # fmt: skip
    page += ["", *lines(hours_said(found), reader)]
    page += lines(said_many("It concerns {n} line.", "It concerns {n} lines.", n=found.lines), reader)
    if found.unpaced:
        page += lines(
            said_many(
                "{n} line is not in these hours: its item has no rate yet.",
                "{n} lines are not in these hours: their items have no rate yet.",
                n=found.unpaced,
            ),
            reader,
        )
    page += ["", *lines(said("The chance that a new part fails within one interval:"), reader)]
    for risk in found.risks:
        page += lines(risk_said(risk), reader, 2, 4)
    if found.unknown:
        kinds = Counter(family for family, _ in found.unknown)
        names = [
            said_many("{family} ({n} kind of part)", "{family} ({n} kinds of parts)", n=n, family=family)
            for family, n in kinds.items()
        ]
        page += lines(
            said("Not known, as fewer than 5 lives of them ended worn: {families}.", families=listed(names)), reader
        )
    elif not found.risks:
        page += lines(said("Nobody knows: what it looks after belongs to no family of parts that wear."), reader)
    page += lines(said("Nothing was written. To save it, change tasks.toml and load it ('strokebook new')."), reader)
    return "\n".join(page) + "\n"


def starts_text(found: Starts, reader: Reader) -> str:
    """How level the weeks are with the first days, and the days by item."""
    page = lines(said("First days at {plant}, from {day}", plant=found.plant, day=found.first_day), reader)
    page += lines(
        said_many(
            "{n} line was never done and gets a first day; {kept} keep theirs.",
            "{n} lines were never done and get a first day; {kept} keep theirs.",
            n=len(found.starts), kept=found.kept,
        ),
        reader,
    )  # fmt: skip
    page += lines(
        said(
            "Busiest week: {then} h with these days, {now} h as they are due now; no days make it less than {bound} h.",
            then=Figure(max(found.hours, default=0), ",.1f"), now=Figure(max(found.hours_now, default=0), ",.1f"),
            bound=Figure(found.bound, ",.1f"),
        ),
        reader,
    )  # fmt: skip
    by_day = defaultdict(list)
    for start in found.starts:
        by_day[start.day].append(start.line)
    page.append("")
    for day in sorted(by_day):
        page += lines(said("{day}: {lines}", day=day, lines=listed(by_day[day])), reader, 0, 2)
    return "\n".join(page) + "\n"


def starts_entries(found: Starts, minute: str, by: str) -> str:
    """The first days as entries: nobody knows of a time before, and by which day the work is done first."""
    return "".join(
        f"{minute} stated {start.line} unknown first {start.day.isoformat()} by {by}\n" for start in found.starts
    )


def back_test_text(found: BackTest, reader: Reader) -> str:
    """A row a week: what its plan would have done, and what was done."""
    page = lines(
        said("Past weeks of {plant}, planned again as they stood at their first moment", plant=found.plant), reader
    )
    heads = (said("week"), said("jobs"), said("planned"), said("late"), said("busiest day"), said("days"), said("done"),
             said("late"), said("busiest day"), said("days"))  # fmt: skip
    page += ["", _cells([text(head, reader) for head in heads])]
    for week in found.weeks:
        page.append(_cells([
            week.week, str(week.jobs), str(week.planned), str(week.planned_late), _hours(week.planned_peak),
            str(week.planned_days), str(week.done), str(week.done_late), _hours(week.done_peak), str(week.done_days),
        ]))  # fmt: skip
    if not found.weeks:
        page += lines(said("The book has no whole week yet."), reader)
    page += [
        "",
        *lines(
            said("Left: the plan of the simple rule; right: what was signed in that week of the same jobs."), reader
        ),
    ]
    return "\n".join(page) + "\n"


_WIDTHS = (9, 9, 8, 6, 12, 6, 6, 6, 12, 5)


def _cells(cells: Sequence[str]) -> str:
    first, *rest = zip(cells, _WIDTHS, strict=True)
    return f"{first[0]:<{first[1]}}" + "".join(f"{cell:>{width}}" for cell, width in rest)


def _hours(minutes: int) -> str:
    return f"{minutes / 60:,.1f} h"
