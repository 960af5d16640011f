"""The weekly due list in a folder: each week once as text and once as PDF, never written over."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path

from upkeep.book import Book, Watch, WeekList, nobody
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.papers.week.week_text import week_text
from upkeep.units.weeks import iso_week, week_days

_WEEK_OF = re.compile(r"strokebook-(\d{4}-W\d\d)")

ENDINGS = (".txt", ".pdf")

PRINTED_BY = "the service"


def is_written(folder: Path, week: str) -> bool:
    """Whether the list of a week is there, as text and as PDF."""
    texts = folder.glob(f"strokebook-{week}*.txt")
    return any(text.with_suffix(".pdf").is_file() for text in texts)


def weeks_without(folder: Path, week: str) -> list[str]:
    """The weeks between the last one that has a list in a folder and this one, in order; none where none has a list."""
    named = {match[1] for path in folder.glob("strokebook-*.txt") if (match := _WEEK_OF.match(path.name))}
    before = [other for other in named if other < week and is_written(folder, other)]
    if not before:
        return []
    first, last = week_days(max(before))[0], week_days(week)[0]
    return [iso_week(first + timedelta(weeks=weeks)) for weeks in range(1, (last - first).days // 7)]


def write_list(book: Book, folder: Path, week: str, at: datetime, watch: Watch = nobody) -> tuple[Path, ...]:
    """Writes the list of a week, as it looks at a moment, into new files.

    It speaks the first language of the plant.  The files are ``strokebook-2026-W10.txt`` and ``.pdf``; where one of
    them is there already, the number of the last entry joins the name.  ``watch`` is told how far the list has come;
    what it raises ends it, and nothing is written.
    Raises OSError where the folder cannot be written to.
    """
    listed = book.week(at, week=week, by=PRINTED_BY, watch=watch)
    reader = book.reader(book.facts.languages[0])
    contents = {".txt": week_text(listed, reader, watch).encode(), ".pdf": week_pdf(listed, reader, watch=watch)}
    folder.mkdir(parents=True, exist_ok=True)
    stem = next(stem for stem in _stems(listed) if not any((folder / f"{stem}{end}").exists() for end in ENDINGS))
    return tuple(_written(folder, stem, contents))


def _stems(listed: WeekList) -> Iterator[str]:
    first = f"strokebook-{listed.week}"
    revision = f"{first}-r{listed.revision}"
    yield first
    yield revision
    yield from (f"{revision}-{number}" for number in count(2))


def _written(folder: Path, stem: str, contents: Mapping[str, bytes]) -> Iterator[Path]:
    for ending, content in contents.items():
        path = folder / f"{stem}{ending}"
        partial = path.with_name(f".{path.name}.part")
        with partial.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(partial, path)
        yield path
