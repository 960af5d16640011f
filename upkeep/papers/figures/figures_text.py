"""The figures page as plain text: 80 columns, each figure with its numerator, its denominator and its definition."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.due.compliance import BASE, Verdict
from upkeep.papers.figures.indicator_rows import indicator_rows, share_said
from upkeep.plant.names import Names
from upkeep.said import Join, Numeral, Said, listed, minute, said, said_as, term
from upkeep.units.instants import Zone
from upkeep.views.figures import Answered, ChangedTask, Figures
from upkeep.views.overview.indicators import Indicators
from upkeep.wording.occurrences import occurrence_said
from upkeep.wording.sentences import Reader, count_text, label, lines, text
from upkeep.wording.text import WIDTH, padded, visible, wrapped

STANDARD = said(
    "Standard. The nearest indicator of EN 15341 is the share of scheduled work orders performed as scheduled (name "
    "from memory)."
)
"""What the figure is called where maintenance is compared between plants."""

_NAME = 34
"""Columns for the names of the figures."""


def figures_text(figures: Figures, names: Names, reader: Reader) -> str:
    """The page; ``names`` are those of people by id."""
    zone = Zone(figures.zone)
    page = [*_heading(figures, zone, reader), "", *_shares(figures, reader), "", *_counts(figures, reader), ""]
    page += lines(said("Definition. {definition}", definition=figures.definition), reader)
    page += [*lines(STANDARD, reader), ""]
    if figures.indicators is not None:
        page += [*_indicators(figures.indicators, reader), ""]
    page += [*_late(figures, zone, names, reader), "", *_changes(figures, zone, names, reader)]
    return "\n".join(line.rstrip() for line in page) + "\n"


def _heading(figures: Figures, zone: Zone, reader: Reader) -> Iterator[str]:
    yield from lines(
        said("Figures - {plant}, {area}", plant=figures.plant, area=figures.area or figures.item or "")
        if figures.area or figures.item
        else said("Figures - {plant}", plant=figures.plant),
        reader,
    )
    yield from lines(
        said(
            "{first} to {last}, as of {at}",
            first=figures.first_day,
            last=figures.last_day,
            at=minute(figures.at, zone),
        ),
        reader,
    )
    yield from lines(
        said("The book began on {day}; figures begin there at the earliest.", day=figures.began),
        reader,
    )


def _shares(figures: Figures, reader: Reader) -> Iterator[str]:
    yield _figure(said("On time"), text(share_said(figures.on_time), reader), reader)
    if figures.area is None and figures.item is None:
        for area, share in figures.by_area.items():
            yield from _named(f"  {area}", text(share_said(share), reader))
    if figures.statutory.base:
        yield from _named(f"  {text(said('required by law'), reader)}", text(share_said(figures.statutory), reader))
    yield from lines(said("The 95 % interval is in brackets: with few cases a share says little."), reader)


def _figure(name: Said, figure: str, reader: Reader, indent: int = 0) -> str:
    return label(name, _NAME, reader, indent) + figure


def _named(name: str, share: str) -> Iterator[str]:
    *above, last = [f"  {line}" for line in wrapped(visible(name), _NAME - 4)]
    yield from above
    yield f"{padded(last, _NAME)}{share}"


def _indicators(seen: Indicators, reader: Reader) -> Iterator[str]:
    """Each figure beside its name, numbered as its definition below them."""
    rows = list(indicator_rows(seen))
    for number, row in enumerate(rows, 1):
        named = text(said("{name} [{number}]", name=row.name, number=number), reader)
        first, *rest = wrapped(visible(text(row.figure, reader)), WIDTH - _NAME)
        yield f"{padded(visible(named), _NAME)}{first}"
        yield from (" " * _NAME + line for line in rest)
    yield ""
    for number, row in enumerate(rows, 1):
        yield from lines(said("[{number}] {definition}", number=number, definition=row.definition), reader, 0, 4)


def _counts(figures: Figures, reader: Reader) -> Iterator[str]:
    yield from lines(said("Counted in the base"), reader)
    for verdict in BASE:
        yield _figure(term(verdict, "verdict"), f"{count_text(figures.counts[verdict], reader):>7}", reader, 2)
    yield from lines(said("Not counted"), reader)
    for verdict in Verdict:
        if verdict not in BASE:
            yield _figure(term(verdict, "verdict"), f"{count_text(figures.counts[verdict], reader):>7}", reader, 2)
    yield _figure(said("signed though not required"), f"{count_text(figures.signed_besides, reader):>7}", reader, 2)
    yield _figure(said("Deferrals signed in this period"), f"{count_text(figures.deferrals, reader):>7}", reader)


def _late(figures: Figures, zone: Zone, names: Names, reader: Reader) -> Iterator[str]:
    yield from lines(said("Not on time"), reader)
    for answered in figures.late:
        parts = listed(_late_parts(answered, zone, names), Join.SEMICOLON)
        yield from lines(said("{parts}", parts=parts), reader, 2, 4)
    if not figures.late:
        yield from lines(said_as("lines", "none"), reader, 2)


def _late_parts(answered: Answered, zone: Zone, names: Names) -> Iterator[Said]:
    yield said(
        "{line} ({area}) for {occurrence}, due {at}: {verdict}",
        line=answered.line,
        area=answered.area,
        occurrence=occurrence_said(answered.occurrence),
        at=minute(answered.due_at, zone),
        verdict=term(answered.verdict, "verdict"),
    )
    if answered.done_at is not None and answered.done_by is not None:
        done = said(
            "done {at} by {name} (#{entry})",
            at=minute(answered.done_at, zone),
            name=names.of(answered.done_by, answered.entry or 0),
            entry=Numeral(answered.entry or 0),
        )
        gap = answered.gap_days
        yield done if gap is None else said("{done}, {n} days after the previous time", done=done, n=gap)
    if answered.deferred:
        yield said("it was deferred")
    if answered.statutory:
        yield said("required by law")


def _changes(figures: Figures, zone: Zone, names: Names, reader: Reader) -> Iterator[str]:
    yield from lines(said("Intervals and windows changed in this period"), reader)
    for change in figures.changes:
        yield from lines(_change(change, zone, names), reader, 2, 4)
    if not figures.changes:
        yield from lines(said_as("changes", "none"), reader, 2)


def _change(change: ChangedTask, zone: Zone, names: Names) -> Said:
    who = said(
        "{task}, {at} by {name} (#{entry})",
        task=change.task,
        at=minute(change.at, zone),
        name=names.of(change.by, change.entry),
        entry=Numeral(change.entry),
    )
    fields = listed(change.fields, Join.SEMICOLON)
    if not change.because:
        return said("{who}. {fields}", who=who, fields=fields)
    return said("{who}: {because}. {fields}", who=who, because=change.because, fields=fields)
