"""What bigger work covers, and what it never does: the law, a second signature, an appointed person's certificate."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.plants import at, book_of, line_at, task, why_of, write
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.units.instants import utc_text

OIL = task("oil", "press", every="7 days")
FILTER = task("filter", "press", every="7 days")
SERVICE = task("service", "press", every="1 day", covers=["oil"], cover_days=8)
BIG = task("big", "press", every="1 day", covers=["service"], cover_days=30)
SERVED = "2026-03-02 10:00 sign P-07/big for 2026-03-02 by tom"


def test_covering_goes_on_along_a_chain_as_far_as_its_shortest_reach(tmp_path: Path) -> None:
    """The big work covers the service, which covers the oil eight days ahead; the filter nobody named."""
    book = book_of(tmp_path, SERVED, tasks=[OIL, FILTER, SERVICE, BIG])
    oil = line_at(book, "P-07/oil", "2026-03-02 12:00")
    assert "covered by big" in why_of(book, oil)
    assert oil.occurrence == "2026-03-09"
    assert line_at(book, "P-07/filter", "2026-03-02 12:00").last_done_at is None


def test_a_chain_does_not_reach_farther_than_the_task_between(tmp_path: Path) -> None:
    """The oil falls due on the 8th; a service on the 2nd that reaches five days ahead does not cover it."""
    service = task("service", "press", every="1 day", covers=["oil"], cover_days=5)
    book = book_of(tmp_path, SERVED, tasks=[OIL, service, BIG])
    assert line_at(book, "P-07/oil", "2026-03-02 12:00").last_done_at is None


ITS_OWN_WORK = [
    ({"statutory": True}, "required by law"),
    ({"second_signature": "quality technician"}, "needs a second signature"),
    ({"by": ["appointed person"]}, "only an appointed person signs it"),
    ({"points": [{"id": "gap", "title": "Gap", "unit": "mm"}]}, "has to be measured"),
]
ON_ANOTHER_KIND = ({"applies_to": "module"}, "bigger is done on a press and guard on a module")


@pytest.mark.parametrize(("own", "why"), [*ITS_OWN_WORK, ON_ANOTHER_KIND])
def test_a_cover_that_can_never_work_is_refused_with_its_reason(tmp_path: Path, own: dict[str, Any], why: str) -> None:
    """Whoever declares it hears at once that the guard test is asked for by itself."""
    guard = task("guard", **{"applies_to": "press", "every": "7 days", **own})
    bigger = task("bigger", "press", every="1 day", covers=["guard"])
    with pytest.raises(Refused, match=f"bigger can never cover guard: .*{why}"):
        book_of(tmp_path, tasks=[guard, bigger])


def test_a_cover_of_a_task_there_is_not_is_refused(tmp_path: Path) -> None:
    """A slip of the pen covers nothing."""
    with pytest.raises(Refused, match="big can never cover oyl: this plant has no such task"):
        book_of(tmp_path, tasks=[OIL, task("big", "press", every="1 day", covers=["oyl"])])


def test_a_covered_task_cannot_become_one_that_nothing_covers_behind_the_back_of_the_bigger(tmp_path: Path) -> None:
    """The oil becomes the law's: whoever says so has to take it out of the service as well."""
    book = book_of(tmp_path, tasks=[OIL, SERVICE])
    law = task("oil", "press", every="7 days", statutory=True)
    moment = at("2026-03-02 08:00")
    with pytest.raises(Refused, match="service can never cover oil: it is required by law"):
        book.load([law], moment, "lea", moment, "the law asks for it")
    book.load([law, task("service", "press", every="1 day")], moment, "lea", moment, "the law asks for it")


@pytest.mark.parametrize(("own", "why"), ITS_OWN_WORK)
def test_an_old_book_with_a_cover_that_never_works_opens_and_asks_the_lead(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, own: dict[str, Any], why: str
) -> None:
    """Written before the rule was: the guard test is asked for by itself, and the lead hears what to change."""
    guard = task("guard", "press", **{"every": "7 days", **own})
    bigger = task("big", "press", every="1 day", covers=["guard"], cover_days=30)
    monkeypatch.setattr("upkeep.book.writing.check_covers", lambda *_: None)
    book_of(tmp_path, SERVED, tasks=[guard, bigger]).close()
    monkeypatch.undo()
    with Book.open(tmp_path / "plant.book") as book:
        assert line_at(book, "P-07/guard", "2026-03-02 12:00").last_done_at is None
        (question,) = book.questions(at("2026-03-02 12:00"))
        assert question.about == "big"
        assert why in str(question.asks)
        write(book, "2026-03-02 13:00 count P-07 1 by ana")
        write(book, f"2026-03-02 13:10 seen big since {utc_text(question.since)} by lea")
        assert book.questions(at("2026-03-02 14:00")) == ()
