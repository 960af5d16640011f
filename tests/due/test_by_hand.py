"""Due lines of the book are those of a sheet of paper kept by hand, day by day and stroke by stroke."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.due_by_hand import Sheet
from tests.plants import BEGINS, at, book_of, item, task
from tests.shop_plant import opened_copy
from upkeep.book import Book
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault
from upkeep.entries.signing import Cancel, Defer, Sign
from upkeep.errors import AlreadySigned, Refused

LINE, BIGGER = "M-12/work", "M-12/bigger"
REACH = 2
EXAMPLES = 20
Fields = dict[str, st.SearchStrategy[Any]]
DAYS_LOOKED_AHEAD = 45

windows: Fields = {
    "early_days": st.integers(0, 4),
    "late_days": st.integers(0, 4),
    "stop_days": st.integers(0, 12),
    "early_percent": st.sampled_from((10, 25, 60)),
    "late_percent": st.sampled_from((10, 20, 50)),
    "window_cap_days": st.integers(0, 3),
    "max_deferrals": st.integers(0, 2),
    "after": st.just(["crash"]),
    "used_from": st.sampled_from((1, 5, 40)),
}
strokes: Fields = {
    "late_strokes": st.integers(0, 30),
    "stop_at": st.integers(100, 130),
    "plan_from": st.integers(50, 100),
}
every: Fields = {"every": st.sampled_from(("1 days", "3 days", "7 days", "30 days", "1 month", "2 months"))}
rules: Fields = {
    "rule": st.sampled_from(
        ("FREQ=DAILY", "FREQ=DAILY;INTERVAL=3", "FREQ=WEEKLY;BYDAY=MO,TH", "FREQ=MONTHLY;BYMONTHDAY=31")
    )
}
usage: Fields = {"strokes": st.integers(20, 200)}
usage_rules: Fields = {"deduct_overrun": st.booleans(), "own_usage_clock": st.booleans(), **strokes}
combined: Fields = {"combine": st.sampled_from(("first", "last"))}
TASKS = {
    "floating": st.fixed_dictionaries(every, optional=windows),
    "fixed": st.fixed_dictionaries(rules, optional=windows),
    "usage": st.fixed_dictionaries(usage, optional=windows | usage_rules),
    "floating and usage": st.fixed_dictionaries(every | usage | combined, optional=windows | usage_rules),
    "fixed and usage": st.fixed_dictionaries(rules | usage | combined, optional=windows | usage_rules),
}

acts = st.tuples(
    st.sampled_from(("count", "count", "wait", "wait", "sign", "sign", "defer", "cancel", "cover", "crash")),
    st.integers(0, 120),
)


class Line:
    """One line, kept in a book and on a sheet of paper alike."""

    def __init__(self, book: Book, content: dict[str, Any], begins: datetime) -> None:
        self.book, self.now, self.shown = book, begins, 0
        self.sheet = Sheet(content, book.zone.day(begins))

    @property
    def today(self) -> date:
        """The day on the plant's wall."""
        return self.book.zone.day(self.now)

    def write(self, entry: Entry) -> int | None:
        """Writes an entry; None where the book refuses it."""
        try:
            return self.book.write([entry], self.now).entries[0]
        except Refused:
            return None

    def do(self, act: str, number: int) -> None:
        """Does one act in the book and on the sheet; the counter is read before, so that nothing has to be guessed."""
        self.now += timedelta(minutes=1)
        if act not in ("count", "wait"):
            self._count(0)
        getattr(self, f"_{act}")(number)
        self.agree()

    def _count(self, number: int) -> None:
        self.shown += number
        assert self.write(Count(at=self.now, by="ana", press="P-07", value=self.shown))
        self.sheet.count(number)

    def _wait(self, number: int) -> None:
        self.now += timedelta(hours=number * 5)

    def _sign(self, number: int) -> None:
        occurrence = self.book.line(LINE, self.now).occurrence
        if self._signed("work", occurrence):
            self.sheet.work(self.today, occurrence)

    def _cover(self, number: int) -> None:
        if self._signed("bigger", self.book.line(BIGGER, self.now).occurrence):
            self.sheet.cover(self.today, REACH)

    def _signed(self, name: str, occurrence: str) -> bool:
        try:
            sign = Sign(at=self.now, by="lea", task=name, item="M-12", occurrence=occurrence)
            return bool(self.book.write([sign], self.now))
        except AlreadySigned:
            return False

    def _cancel(self, number: int) -> None:
        occurrence = self.book.line(LINE, self.now).occurrence
        cancel = Cancel(
            at=self.now, by="lea", task="work", item="M-12", occurrence=occurrence, because="no material"
        )  # fmt: skip
        assert occurrence == "extra" or self.write(cancel)
        if occurrence != "extra":
            self.sheet.cancel(occurrence)

    def _defer(self, number: int) -> None:
        occurrence = self.book.line(LINE, self.now).occurrence
        if occurrence.isdigit():
            to = str(int(occurrence) + 1 + number)
        elif "-" in occurrence and "." not in occurrence:
            to = str(date.fromisoformat(occurrence) + timedelta(days=1 + number % 9))
        else:
            to = occurrence
        written = self.write(
            Defer(
                at=self.now, by="lea", task="work", item="M-12", occurrence=occurrence, to=to, risk="dust",
                because="no time",
            )
        )  # fmt: skip
        assert bool(written) == (occurrence != "extra" and self.sheet.defer(occurrence, to))

    def _crash(self, number: int) -> None:
        entry = self.write(Fault(at=self.now, by="ana", item="P-07", symptom="crash", crash=True))
        if "after" in self.sheet.task:
            self.sheet.happen(f"crash.{entry}")

    def agree(self) -> None:
        """The book and the sheet say the same."""
        line = self.book.line(LINE, self.now)
        assert line.state == self.sheet.state(self.today)
        assert line.occurrence in (self.sheet.planned() or {"extra"})
        if line.due_strokes is not None and line.strokes is not None:
            assert str(line.due_strokes + self.sheet.done_at) in self.sheet.planned()
            assert line.strokes == self.sheet.total - self.sheet.done_at

    def agree_from_now_on(self) -> None:
        """And would for weeks if nobody did anything."""
        for _ in range(DAYS_LOOKED_AHEAD):
            self.now += timedelta(days=1)
            self.agree()


ZONES = ("UTC", "Europe/Berlin", "Asia/Kolkata")


@pytest.fixture(scope="module")
def hung(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """For each zone a book in which a module hangs on a press, and nothing is asked of it yet."""
    text = "2026-03-01 00:00Z fit M-12 in P-07 by ana\n2026-03-01 00:00Z count P-07 0 by ana"
    made = {}
    for zone in ZONES:
        folder = tmp_path_factory.mktemp("hung")
        with book_of(folder, text, zone, more=[item("P-07", max_rate=100_000)], begins=f"{BEGINS}Z") as book:
            book.backup(folder / "hung.book")
        made[zone] = folder / "hung.book"
    return made


@pytest.mark.parametrize("kind", TASKS)
def test_a_line_of_the_book_is_the_line_kept_by_hand(hung: dict[str, Path], kind: str) -> None:
    """Whatever is counted, signed, put off, cancelled, covered or crashes, in any order."""
    both_ways(hung, TASKS[kind])()


def both_ways(hung: dict[str, Path], contents: st.SearchStrategy[dict[str, Any]]) -> Callable[[], None]:
    """Keeps lines with such tasks both ways, and compares them after every act."""

    @settings(max_examples=EXAMPLES, deadline=None)
    @given(contents, st.lists(acts, min_size=4, max_size=14), st.sampled_from(ZONES))
    def keep(content: dict[str, Any], told: list[tuple[str, int]], zone: str) -> None:
        work = task("work", "module", on_day_off="keep", **content)
        bigger = task("bigger", "module", every="1 day", covers=["work"], cover_days=REACH)
        with opened_copy(hung[zone]) as book:
            begins = at(BEGINS)
            book.load([work, bigger], begins, "lea", begins, "as it is now")
            line = Line(book, content, begins)
            for act, number in told:
                line.do(act, number)
            line.agree_from_now_on()

    return keep
