"""A suspect window in a book of ten years, against the raw indexed reads it stands on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from tests.benchmarks.measuring import Measured, best, timed
from tests.benchmarks.writing import connected
from tests.plants import at, define, item, person, plant, task
from upkeep.book import Book
from upkeep.entries.checking import Check
from upkeep.entries.counting import Count, QuantityMade
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.signing import Sign
from upkeep.plant.definition import Definition
from upkeep.units.instants import utc_text

_BEGAN = at("2016-03-01 06:00")
_DAYS = 3650
_PRESSES = ("P-03", "P-07")
_STROKES_A_DAY = 9_000
_FULL = 10**7
_YEAR = 365

_HEIGHT = {"id": "crimp-height", "title": "Height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 1}


def measured(folder: Path) -> Iterator[Measured]:
    """One hold list of the last day: its page, and the same rows read by hand."""
    path = folder / "ten_years.book"
    number = _ten_years(path)
    end = _BEGAN + timedelta(days=_DAYS, hours=9)
    with Book.open(path) as book, closing(connected(path)) as connection:
        found = book.suspects(end).hold_list(number)
        assert len(found.lines) == len(_PRESSES)
        start, until = utc_text(found.start), utc_text(found.end)
        reads = list(_reads(number, found.start_entry or 0, start, until))

        def ours() -> None:
            book.suspects(end).hold_list(number)

        def theirs() -> None:
            for sql, values in reads:
                connection.execute(sql, values).fetchall()

        mine, raw = best(lambda: timed(ours), lambda: timed(theirs), 40)
    yield Measured("suspect window in a book of ten years", mine, raw, f"{len(reads)} indexed reads", 10.0)


def _reads(number: int, good: int, start: str, until: str) -> Iterator[tuple[str, tuple[object, ...]]]:
    """What has to be read: the checks back to the good one, where the set hung, the marks at every edge, what was made
    and who wrote about it, what was measured with the same gauge."""
    yield "SELECT * FROM entries WHERE id = ?", (number,)
    yield "SELECT * FROM entries WHERE id = ?", (good,)
    back = "SELECT * FROM measured WHERE item = ? AND point = ? AND at {} ? ORDER BY at {} LIMIT {}"
    yield back.format("<=", "DESC", 2), ("DS-031", "crimp-height", until)
    yield back.format(">=", "ASC", 2), ("DS-031", "crimp-height", until)
    yield (
        "SELECT * FROM stays WHERE item = ? AND start <= ? AND (until IS NULL OR until >= ?)",
        ("DS-031", until, start),
    )
    for task_id in ("calibrate",):
        yield "SELECT * FROM sign_offs WHERE item = ? AND task = ? AND at <= ? ORDER BY at DESC LIMIT 2", (
            "G-1", task_id, until,
        )  # fmt: skip
    yield "SELECT * FROM out_of_tolerance WHERE gauge = ?", ("G-1",)
    yield "SELECT * FROM dispositions WHERE list = ?", (number,)
    yield "SELECT * FROM restrictions WHERE list = ?", (number,)
    for press in _PRESSES:
        for edge in (start, until):
            yield "SELECT * FROM marks WHERE press = ? AND at <= ? ORDER BY at DESC, entry DESC LIMIT 1", (press, edge)
            yield "SELECT * FROM marks WHERE press = ? AND at > ? ORDER BY at, entry LIMIT 1", (press, edge)
        yield "SELECT * FROM quantities WHERE press = ? AND until > ? AND since < ?", (press, start, until)
        yield "SELECT * FROM counter_configurations WHERE press = ?", (press,)
        for about in (press, "DS-031"):
            yield "SELECT DISTINCT by FROM entries WHERE item = ? AND at >= ? AND at <= ?", (about, start, until)
        yield "SELECT * FROM uncounted_strokes WHERE item = ? AND at >= ?", ("DS-031", start)
        yield "SELECT * FROM entries WHERE item = ? AND at >= ? AND at <= ? AND kind = 'check'", (
            "DS-031", start, until,
        )  # fmt: skip
    yield "SELECT * FROM fittings WHERE inside = ? AND (until IS NULL OR until > ?)", ("DS-031", start)
    yield "SELECT * FROM measured INDEXED BY measured_by_gauge WHERE gauge = ? AND at >= ? AND at <= ?", (
        "G-1", start, until,
    )  # fmt: skip
    yield (
        "SELECT DISTINCT item FROM entries WHERE at >= ? AND at <= ? AND by = 'ana' AND kind = 'check'",
        (start, until),
    )


def _ten_years(path: Path) -> int:
    """A book in which a set is run on two presses a day and measured on each; gives the number of the failed check."""
    with Book.create(path) as book:
        book.load(list(_definitions()), _BEGAN, "lea", _BEGAN)
        for day in range(_DAYS):
            morning = _BEGAN + timedelta(days=day)
            entries = list(_day(morning, day, failing=day == _DAYS - 1))
            if day % _YEAR == 0:
                asked = book.line("G-1/calibrate", morning).occurrence
                entries.insert(0, Sign(at=morning, by="lea", task="calibrate", item="G-1", occurrence=asked))
            numbers = book.write(entries, morning + timedelta(hours=8)).entries
    return numbers[-1]


def _definitions() -> Iterator[Definition]:
    yield plant()
    yield define("place", "hall", title="Hall", area="press hall", route=1)
    yield person("ana", "Ana", "operator", "set-up technician", "maintenance technician")
    yield person("lea", "Lea", "maintenance lead", "quality technician")
    for key in (*_PRESSES, "M-12", "DS-031", "CP-a", "G-1"):
        yield item(key, **({"digits": 7} if key in _PRESSES else {"family": "tab"} if key == "DS-031" else {}))
    yield task("calibrate", "gauge", by=["maintenance lead"], every="1 year", late_days=30)
    yield define("crimp", "CR-1", title="Tab on 0.5", family="tab", points=[_HEIGHT])


def _day(morning: datetime, day: int, failing: bool) -> Iterator[Entry]:
    """Half a shift on each press, with a move between."""
    if day == 0:
        yield Fit(at=morning, by="ana", item="DS-031", inside="M-12")
        yield Fit(at=morning, by="ana", item="CP-a", inside="DS-031")
    half = _STROKES_A_DAY // 2
    before = half * day
    for place, press in enumerate(_PRESSES):
        begin, end = morning + timedelta(hours=4 * place), morning + timedelta(hours=4 * place + 3)
        yield Count(at=begin, by="ana", press=press, value=before % _FULL)
        yield Fit(at=begin, by="ana", item="M-12", inside=press)
        if place == 0:
            yield _check(begin, "first-off", 1.2)
        rolled_over = (before + half) // _FULL > before // _FULL
        yield Count(at=end, by="ana", press=press, value=(before + half) % _FULL, rolled_over=rolled_over)
        yield QuantityMade(at=end, by="ana", press=press, pieces=half, minutes=180, item="DS-031", order=f"A-{day}")
        yield Unfit(at=end, by="ana", item="M-12")
    yield _check(morning + timedelta(hours=7, minutes=5), "last-off", 1.3 if failing else 1.2)


def _check(moment: datetime, occasion: str, height: float) -> Check:
    return Check(
        at=moment, by="ana", item="DS-031", occasion=occasion, crimp="CR-1", gauge="G-1",
        points=(("crimp-height", (height,)),),
    )  # fmt: skip
