"""From an order, a reel, a gauge, a person, a part or a press to what was made, and back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import book_of, define, item
from upkeep.book import Book
from upkeep.errors import NotFound, Refused
from upkeep.views.evidence.trace import PartIn, Trace, Traceable

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 2}
MORE = (
    define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT], looks=["burr"]),
    item("DS-031", family="tab"),
    item("DS-102", family="tab"),
)
STORY = """
    2026-03-02 05:50 fit CP-a in DS-031 by ana
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at P-07 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 at P-07 100 by ana
    2026-03-02 06:05 check DS-031 set-up of T-05 dial=15.0 cam=2.0 order A-1 by ana
    2026-03-02 06:25 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.2 order A-1 reel R-1 wire W-9 by lea
    2026-03-02 13:50 check DS-031 last-off of T-05 with G-1 crimp-height=1.22,1.224 order A-1 reel R-1 by ben
    2026-03-02 14:00 count P-07 3100 by ben
    2026-03-02 14:00 quantity P-07 2900 over 460 min with DS-031 order A-1 by ben
    2026-03-02 14:10 check DS-031 set-up of T-05 dial=12.0 cam=2.0 order A-2 by ben
    2026-03-02 14:20 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.2 order A-2 reel R-2 by ben
    2026-03-02 21:00 count P-07 5100 by ben
    2026-03-02 21:00 quantity P-07 1900 over 400 min order A-3 by ben
"""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A day of two set-ups on one press; A-2 is known from a check alone, A-3 from pieces that name no set."""
    with book_of(tmp_path_factory.mktemp("trace"), STORY, more=MORE) as book:
        return book.path


def _traced(path: Path, name: str, what: Traceable | None = None) -> Trace:
    with Book.open(path) as book:
        return book.trace(name, book.zone.read("2026-03-02 22:00"), what=what)


def _began(trace: Trace) -> list[str]:
    return [f"{one.set_up.since:%H:%M}" for one in trace.set_ups]


def test_an_order_leads_to_its_set_up_with_all_that_belongs_to_it(path: Path) -> None:
    """Settings, pieces, strokes, reel and wire, gauge, people and the part in the set; from there the trace goes on."""
    trace = _traced(path, "A-1")
    (one,) = trace.set_ups
    assert (trace.what, one.set_up.item, one.press) == (Traceable.ORDER, "DS-031", "P-07")
    assert [(booked.pieces, booked.order) for booked in one.pieces] == [(2900, "A-1")]
    assert (one.reels, one.wires, one.gauges, one.people) == (("R-1",), ("W-9",), ("G-1",), ("Ana", "Lea", "Ben"))
    assert one.parts == (PartIn("CP-a", None),)
    assert dict(one.set_up.checks[0].points) == {"dial": (15.0,), "cam": (2.0,)}
    assert one.strokes[0] <= one.strokes[1] <= one.strokes[2]


def test_an_order_that_only_a_check_names_is_found(path: Path) -> None:
    """Nobody booked pieces for A-2; and pieces of A-3 name no set, but one hung there."""
    assert _began(_traced(path, "A-2")) == ["14:10"]
    assert _began(_traced(path, "A-3")) == ["14:10"]


@pytest.mark.parametrize(
    ("name", "began"),
    [
        ("R-1", ["06:00"]),
        ("W-9", ["06:00"]),
        ("lea", ["06:00"]),
        ("ben", ["14:10", "06:00"]),
        ("G-1", ["14:10", "06:00"]),
        ("CP-a", ["14:10", "06:00"]),
        ("P-07", ["14:10", "06:00"]),
        ("M-12", ["14:10", "06:00"]),
        ("DS-031", ["14:10", "06:00"]),
        ("DS-102", []),
        ("P-08", []),
    ],
)
def test_each_thing_leads_to_its_set_ups_newest_first(path: Path, name: str, began: list[str]) -> None:
    """Lot, person, gauge, part, press, module and set alike."""
    assert _began(_traced(path, name)) == began


def test_the_way_back_is_the_same_command(path: Path) -> None:
    """Whatever a set-up names leads back to that set-up."""
    for one in _traced(path, "DS-031").set_ups:
        names = (*one.orders, *one.reels, *one.wires, *one.gauges, *(part.item for part in one.parts), one.press or "")
        for name in names:
            assert one.set_up.since in [back.set_up.since for back in _traced(path, name).set_ups], name


def test_what_names_nothing_is_refused(path: Path) -> None:
    """Never answered with nothing."""
    with pytest.raises(NotFound, match="A-77"):
        _traced(path, "A-77")
    with pytest.raises(NotFound, match="A-1"):
        _traced(path, "A-1", Traceable.REEL)


def test_one_name_of_two_things_asks_which(tmp_path: Path) -> None:
    """An order that is called like a reel."""
    with book_of(tmp_path, STORY.replace("reel R-2", "reel A-1"), more=MORE) as book:
        now = book.zone.read("2026-03-02 22:00")
        with pytest.raises(Refused, match="order and reel"):
            book.trace("A-1", now)
        assert _began(book.trace("A-1", now, what=Traceable.REEL)) == ["14:10"]


def test_the_command_lists_and_prints_set_ups(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As text of 80 columns, whole pages, JSON, PDF."""
    terminal = Terminal(path, capsys)
    page = terminal.types("2026-03-02 22:00", "trace", "DS-031").out
    assert "It belongs to 2 set-ups." in page
    assert "2,900 pieces booked" in page
    assert "Not in the book: the last piece." in page
    assert max(map(len, page.splitlines())) <= 80
    assert "SET-UP  DS-031" in terminal.types("2026-03-02 22:00", "trace", "A-1", "--whole").out
    told = json.loads(terminal.types("2026-03-02 22:00", "trace", "A-2", "--json").out)
    assert (told["what"], told["total"], told["set_ups"][0]["reels"]) == ("order", 1, ["R-2"])
    paper = tmp_path / "set-ups.pdf"
    assert terminal.types("2026-03-02 22:00", "trace", "P-07", "--pdf", str(paper), "--by", "lea").code == 0
    assert paper.read_bytes().startswith(b"%PDF")
