"""What a check asks for before it is written: which set, which crimp, occasion and gauge.  Limits are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, task, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.views.check_forms import CheckForm

HEIGHT = {"id": "crimp-height", "title": "Height", "unit": "mm", "upper": 1.3, "gauge_class": "crimp micrometer"}
PULL = {"id": "pull", "title": "Pull", "unit": "N", "gauge_class": "pull tester"}
BURR = {"id": "burr", "title": "Burr", "unit": "mm", "upper": 0.05, "part": "conductor punch"}
TAB = define("crimp", "CR-1", title="Tab", family="tab", size="0.5 mm2", points=[HEIGHT, PULL, BURR], pull_table="own")
WIDE = define("crimp", "CR-2", title="Wide", family="tab", size="1.0 mm2", points=[HEIGHT, PULL], pull_table="own")
TABLE = {"title": "Own", "edition": "1", "source": "own trials", "forces": {"0.5 mm2": 60}}
OWN = define("pull-table", "own", checked_by="lea", **TABLE)
MORE = (OWN, TAB, item("DS-031", family="tab"), item("G-2", kind="gauge", gauge_class="crimp micrometer"))
FITTED = """
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:00 fit CB-1 in M-12 by ana
"""
GOOD = "crimp-height=1.2"


def asked(book: Book, moment: str = "2026-03-02 09:00") -> CheckForm:
    """The form of DS-031 at a moment."""
    return book.check_forms(at(moment)).form("DS-031")


@pytest.mark.parametrize("where", ["hall", "P-07", "M-12", "DS-031", "CP-a", "CB-1"])
def test_the_set_is_found_from_wherever_one_stands(tmp_path: Path, where: str) -> None:
    """The place, the press, the module, the set itself, a part in it and a blade beside it."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        assert book.check_forms(at("2026-03-02 09:00")).sets_at(where) == ("DS-031",)
        assert book.check_forms(at("2026-03-02 09:00")).sets_at("G-1") == ()


def test_the_first_off_is_likely_once_a_run(tmp_path: Path) -> None:
    """Until one was made, and again after new settings or another fitting."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        assert (asked(book).occasion, asked(book).press) == ("first-off", "P-07")
        write(book, f"2026-03-02 09:00 check DS-031 first-off of CR-1 with G-1 {GOOD} by ana")
        assert asked(book).occasion is None
        write(book, "2026-03-02 10:00 check DS-031 set-up of CR-1 dial=12 by ana")
        assert asked(book, "2026-03-02 11:00").occasion == "first-off"
        write_each(book, "2026-03-02 12:00 unfit DS-031 by ana\n2026-03-02 13:00 fit DS-031 in M-12 by ana")
        assert (asked(book, "2026-03-02 12:30").occasion, asked(book, "2026-03-02 12:30").press) == (None, None)
        assert asked(book, "2026-03-02 13:30").occasion == "first-off"


def test_the_crimp_is_the_only_one_or_that_of_the_last_check(tmp_path: Path) -> None:
    """However long ago that was."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        assert asked(book).crimp == "CR-1"
    (tmp_path / "two").mkdir()
    with book_of(tmp_path / "two", FITTED, more=(*MORE, WIDE)) as book:
        assert asked(book).crimp is None
        write(book, f"2026-03-02 09:00 check DS-031 sample of CR-2 with G-1 {GOOD} by ana")
        assert asked(book, "2026-07-20 09:00").crimp == "CR-2"


def test_the_gauge_is_the_one_used_in_this_run_or_the_only_one_that_counts(tmp_path: Path) -> None:
    """Never one that is held."""
    with book_of(tmp_path, FITTED, more=MORE, tasks=[task("calibrate", "gauge", every="1 year", stop_days=0)]) as book:
        assert not any(choice.valid for choice in asked(book).gauges[0].choices)
        write_each(book, "2026-03-02 06:30 stated G-1/calibrate done 2026-02-20 by lea")
        assert asked(book).gauges[0].likely == "G-1"
        write_each(book, "2026-03-02 06:40 stated G-2/calibrate done 2026-02-20 by lea")
        assert asked(book).gauges[0].likely is None
        write(book, f"2026-03-02 09:00 check DS-031 first-off of CR-1 with G-2 {GOOD} by ana")
        assert asked(book).gauges[0].likely == "G-2"
        write(book, '2026-03-02 09:30 hold G-2 by lea because "dropped"')
        found = asked(book, "2026-03-02 10:00").gauges[0]
        assert found.likely == "G-1"
        assert str(found.choices[-1].note) == "held: dropped"


def test_points_are_asked_for_where_they_belong(tmp_path: Path) -> None:
    """Heights of every piece; wear and pulls besides, the pull with the force its table asks for; settings always."""
    with book_of(tmp_path, FITTED, more=(*MORE, WIDE)) as book:
        tab, wide = asked(book).crimps
        assert [point.id for point in tab.pieces] == ["crimp-height"]
        assert [point.id for point in tab.wear] == ["burr"]
        assert (tab.pull.lower if tab.pull else None, tab.pull_table) == (60, "Own, 1")
        assert {point.id for point in tab.settings} >= {"dial", "cam", "shut-height"}
        assert "has no wire size '1.0 mm2'" in str(wide.pull_note)


def test_a_set_nobody_said_anything_of_is_refused_in_words(tmp_path: Path) -> None:
    """So is what is no die set."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        forms = book.check_forms(at("2026-03-02 09:00"))
        with pytest.raises(Refused, match="It is not known what DS-102 makes"):
            forms.form("DS-102")
        with pytest.raises(Refused, match="M-12 is a module"):
            forms.form("M-12")
