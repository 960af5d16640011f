"""Charts, capability and pulls of one die set: what is told, and what is refused because it would say nothing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from statistics import fmean, stdev

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, write
from upkeep.book import Book
from upkeep.entries.checking import Check
from upkeep.errors import NotFound, Refused
from upkeep.papers.chart_text import chart_page, plots_of
from upkeep.quality.capability import proofs

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 5}
HIGHER = {**HEIGHT, "lower": 1.45, "nominal": 1.51, "upper": 1.55}
PULL = {"id": "pull", "title": "Pull force", "unit": "N", "lower": 60, "readings": 5}
MORE = (
    define("crimp", "T-05", title="Tab on 0.5", family="tab", size="0.5 mm2", points=[HEIGHT, PULL]),
    define("crimp", "T-10", title="Tab on 1.0", family="tab", size="1.0 mm2", points=[HIGHER]),
    item("DS-031", family="tab"),
)
LATER = at("2026-03-20 12:00")
STEADY = ((1.199, 1.2, 1.201, 1.2, 1.2), (1.201, 1.2, 1.202, 1.2, 1.199), (1.2, 1.198, 1.2, 1.2, 1.201))


def checks_of(
    values: Sequence[Sequence[float]], point: str = "crimp-height", crimp: str = "T-05", start: str = "2026-03-02 06:00"
) -> list[Check]:
    """One check an hour."""
    broke = ("wire-broke",) * 5 if point == "pull" else ()
    return [
        Check(
            at=at(start) + timedelta(hours=hour), by="ana", item="DS-031", occasion="as-left", crimp=crimp, gauge="G-1",
            points=((point, tuple(readings)),), broke=broke,
        )
        for hour, readings in enumerate(values)
    ]  # fmt: skip


def told(book: Book, checks: Sequence[Check]) -> None:
    book.write(checks, max(check.at for check in checks))


def test_means_and_ranges_of_five_have_the_limits_of_the_textbook(tmp_path: Path) -> None:
    """Mean +- 0.577 mean range, range up to 2.114 mean ranges (constants: NIST/SEMATECH e-Handbook, 6.3.2.1)."""
    with book_of(tmp_path, more=MORE) as book:
        rows = STEADY * 8
        told(book, checks_of(rows))
        means, ranges = book.checks(LATER).chart("DS-031", "crimp-height").control.drawn
        centre, width = fmean(map(fmean, rows)), fmean(max(row) - min(row) for row in rows)
        assert (means.low, means.high) == pytest.approx((centre - 0.577 * width, centre + 0.577 * width))
        assert (ranges.low, ranges.high) == pytest.approx((0, 2.114 * width))


def test_a_check_that_breaks_a_rule_is_named_with_the_rule_in_words(tmp_path: Path) -> None:
    """Which entry, when, and what it does not keep."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of([*STEADY * 5, (1.22,) * 4 + (1.221,), *STEADY * 2]))
        drawn = book.checks(LATER).chart("DS-031", "crimp-height").control.drawn[0]
        assert ("1 beyond 3 sigma", at("2026-03-02 21:00")) in [(one.rule, one.at) for one in drawn.broken]


def test_one_chart_of_deviations_runs_across_the_crimps_of_a_set(tmp_path: Path) -> None:
    """From the nominal of each: as the drawing says it, or the middle of its limits."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(STEADY * 2))
        told(
            book,
            checks_of([[value + 0.31 for value in row] for row in STEADY * 2], crimp="T-10", start="2026-03-05 06:00"),
        )
        views = book.checks(LATER)
        with pytest.raises(Refused, match="T-05, T-10, each with its own nominal"):
            views.chart("DS-031", "crimp-height")
        charted = views.chart("DS-031", "crimp-height", of_nominal=True)
        assert charted.crimps == ("T-05", "T-10")
        first, second = charted.control.drawn[0].points[:6], charted.control.drawn[0].points[6:]
        assert first == pytest.approx(second, abs=1e-9)
        assert first[0] == pytest.approx(0)
        with pytest.raises(Refused, match="at least 8"):
            views.chart("DS-031", "crimp-height", crimp="T-10")


def test_slow_drift_shows_on_the_moving_average_and_no_single_check_shows_it(tmp_path: Path) -> None:
    """Up and down by 2 um from check to check, and 0.4 um higher each time."""
    rows = [[1.2 + (0.002 if n % 2 else 0) + n * 0.0004] * 5 for n in range(20)]
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(rows))
        views = book.checks(LATER)
        single = views.chart("DS-031", "crimp-height", "single").control.drawn[0]
        drifting = views.chart("DS-031", "crimp-height", "ewma").control.drawn[0]
        assert "1 beyond 3 sigma" not in [one.rule for one in single.broken]
        assert drifting.broken


def test_what_was_found_before_adjusting_and_bad_gauges_stay_off_the_charts(tmp_path: Path) -> None:
    """And the chart says how many, and why."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(STEADY * 4))
        write(book, "2026-03-03 06:00 check DS-031 as-found of T-05 with G-1 crimp-height=1.3,1.3,1.3,1.3,1.3 by ana")
        charted = book.checks(LATER).chart("DS-031", "crimp-height")
        assert len(charted.checks) == 12
        assert tuple(map(str, charted.left_out)) == ("1 as found, before adjusting",)
        write(book, "2026-03-03 07:00 out-of-tolerance G-1 off 0.02 by lea")
        with pytest.raises(NotFound, match="12 with a gauge that was not valid"):
            book.checks(LATER).chart("DS-031", "crimp-height")


def test_no_capability_from_five_pieces_and_why(tmp_path: Path) -> None:
    """A Ppk of 1.67 measured on five may as well be 0.67 (computed, Bissell's approximation)."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(STEADY[:1]))
        with pytest.raises(Refused, match=r"from 5 readings: a measured Ppk of 1\.67 could then just as well be 0\.67"):
            book.checks(LATER).capability("DS-031", "crimp-height")
        told(book, checks_of(STEADY * 2, start="2026-03-03 06:00"))
        found = book.checks(LATER).capability("DS-031", "crimp-height").found
        values = [value for row in (STEADY[0], *STEADY * 2) for value in row]
        by_hand = min(1.25 - fmean(values), fmean(values) - 1.15) / (3 * stdev(values))
        assert found.n == 35
        assert found.cpk == pytest.approx(by_hand)
        assert found.low < found.cpk


def test_a_capability_takes_only_readings_under_the_limits_of_now(tmp_path: Path) -> None:
    """A drawing that changed begins anew, and says what it left out."""
    narrower = define("crimp", "T-05", title="Tab", family="tab", points=[{**HEIGHT, "upper": 1.22}])
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(STEADY * 2))
        noon = at("2026-03-04 12:00")
        book.load([narrower], noon, "lea", noon, "new drawing")
        told(book, checks_of(STEADY * 2, start="2026-03-05 06:00"))
        report = book.checks(LATER).capability("DS-031", "crimp-height")
        assert (report.upper, report.checks) == (1.22, 6)
        assert tuple(map(str, report.left_out)) == ("6 for another crimp, or under other limits",)


def test_five_good_pulls_leave_45_percent_open_and_the_margin_is_a_bound(tmp_path: Path) -> None:
    """1 - 0.05 ** (1/5) is 45 %; k for five is 5.74 (computed; ISO 16269-6 tabulates such factors, from memory)."""
    forces = (71.0, 74.0, 72.0, 75.0, 73.0)
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of([forces], point="pull"))
        report = book.checks(LATER).pulls("DS-031")
        assert report.last.not_excluded == pytest.approx(1 - 0.05 ** (1 / 5))
        assert report.last.k == pytest.approx(5.74, abs=5e-3)
        assert report.last.bound == pytest.approx(73 - 5.74 * stdev(forces), abs=0.01)
        assert report.last.to_exclude == 59
        assert report.last.broke == (("wire-broke", 5),)


def test_how_many_good_pulls_prove_what_is_told_without_any_data(capsys: pytest.CaptureFixture[str]) -> None:
    """The one-sided bound of Clopper and Pearson (Biometrika 26, 1934), against scipy.stats.binomtest; five good leave
    45 % open and 59 exclude 5 %, as tables of zero-failure sampling have it (common practice, no source)."""
    from scipy.stats import binomtest

    for one in (*proofs(None), *proofs(28, 2), *proofs(0)):
        tested = binomtest(one.bad, one.n, alternative="less").proportion_ci(0.95, "exact").high if one.n else 1.0
        assert one.not_excluded == pytest.approx(tested)
    assert [one.to_exclude for one in proofs(5)] == [59]
    assert [one.to_exclude for one in proofs(5, 1)] == [93]
    terminal = Terminal(Path("no.book"), capsys)
    assert "5 good: up to 45 % of all pieces may still be bad" in terminal.types("2026-03-20 12:00", "pulls").out
    told = terminal.types("2026-03-20 12:00", "pulls", "--good", "59").out
    assert "59 good: up to 5 % of all pieces" in told
    told = terminal.types("2026-03-20 12:00", "pulls", "--good", "28", "--bad", "2", "--json").out
    assert json.loads(told)[0]["n"] == 30


def test_charts_are_read_in_the_units_of_the_plant(tmp_path: Path) -> None:
    """Millimetres and inches both where both are asked for, the drawing in the first; the book keeps millimetres.
    1.2 mm is 0.0472 in (25.4 mm to the inch, NIST SP 811, 2008, Appendix B.8)."""
    with book_of(tmp_path, more=MORE, units=["in", "mm"]) as book:
        told(book, checks_of([*STEADY * 3, (1.22,) * 4 + (1.221,)]))
        charted = book.checks(LATER).chart("DS-031", "crimp-height")
        page = chart_page(charted, book.zone, book.reader("en"))
        assert "in in " in page
        assert " in (1." in page
        plot = plots_of(charted, book.zone, book.reader("en"))[0]
        assert plot.series[0].y[0] == pytest.approx(charted.control.drawn[0].points[0] / 25.4)
        assert plot.y_title.endswith("(in)")


def test_a_characteristic_nobody_checked_names_those_that_were(tmp_path: Path) -> None:
    """A slip of the pen is found."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of(STEADY))
        with pytest.raises(NotFound, match="Did you mean crimp-height"):
            book.checks(LATER).chart("DS-031", "crimp-hight")
        with pytest.raises(NotFound, match="pull"):
            book.checks(LATER).pulls("DS-031")


def test_a_characteristic_that_was_only_looked_at_says_so_and_is_no_slip_of_the_pen(tmp_path: Path) -> None:
    """Nobody is asked whether the very word that was typed is meant."""
    seen = define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT], looks=["burr"])
    with book_of(tmp_path, more=(seen, item("DS-031", family="tab"))) as book:
        write(book, "2026-03-02 07:00 check DS-031 sample of T-05 burr:good by ana")
        with pytest.raises(NotFound, match=r"readings of 'burr' in this book\. It was judged by eye only\.$"):
            book.checks(LATER).chart("DS-031", "burr")


def test_the_commands_say_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As text within a terminal's width, and as JSON."""
    with book_of(tmp_path, more=MORE) as book:
        told(book, checks_of([*STEADY * 3, (1.22,) * 4 + (1.221,)]))
        told(book, checks_of([(71, 74, 72, 75, 55)], point="pull", start="2026-03-04 06:00"))
    terminal = Terminal(tmp_path / "plant.book", capsys)
    pages = [
        terminal.types("2026-03-20 12:00", *words).out
        for words in (
            ("chart", "DS-031", "crimp-height"), ("capability", "DS-031", "crimp-height"), ("pulls", "DS-031"),
        )
    ]  # fmt: skip
    assert "1 beyond 3 sigma" in pages[0]
    assert "n = 50" in pages[1]
    assert "BELOW the smallest force" in pages[2]
    assert max(len(line) for page in pages for line in page.splitlines()) <= 80
    said = terminal.types("2026-03-20 12:00", "chart", "DS-031", "crimp-height", "--kind", "ewma", "--json").out
    assert json.loads(said)["control"]["kind"] == "ewma"
    refused = terminal.types("2026-03-20 12:00", "chart", "DS-031", "crimp-height", "--last", "5")
    assert (refused.code, refused.out) == (1, "")
    picture = tmp_path / "height.svg"
    drawn = terminal.types("2026-03-20 12:00", "chart", "DS-031", "crimp-height", "--plot", picture)
    assert "upper limit" in drawn.out
    assert "breaks a rule" in picture.read_text(encoding="utf-8")
