"""The inspection of a die set: each point by its own gauge, what a check of the same set-up measured taken over."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, entries_of, item, line_at, task, write
from upkeep.book import Book
from upkeep.entries.signing import Sign
from upkeep.errors import Refused
from upkeep.views.signing import with_measured

MICROMETER, SCOPE = "crimp micrometer", "microscope"
INSPECT = task(
    "inspect", "die set", strokes=5000, graded=True, photo="Punch faces", by=["maintenance technician"],
    points=[
        {"id": "slug-height", "title": "Slug", "unit": "mm", "readings": 2, "gauge_class": MICROMETER},
        {"id": "crimp-height", "title": "Height", "unit": "mm", "readings": 2, "gauge_class": MICROMETER},
        {"id": "dial", "title": "Dial", "unit": "step"},
        {"id": "burr", "title": "Burr", "unit": "mm", "upper": 0.05, "gauge_class": SCOPE},
    ],
)  # fmt: skip
CALIBRATE = task("calibrate", "gauge", every="1 year", stop_days=0)
CRIMP = define(
    "crimp", "CR-1", title="Tab", family="tab", terminal="tab", wire="stranded", size="1.0 mm2",
    points=[
        {"id": "crimp-height", "title": "Height", "unit": "mm", "lower": 1.2, "upper": 1.3, "readings": 2,
         "gauge_class": MICROMETER},
    ],
)  # fmt: skip
MORE = [
    item("G-2", kind="gauge", gauge_class=MICROMETER), item("G-9", kind="gauge", gauge_class=SCOPE),
    item("DS-031", kind="die set", place="rack", family="tab"), CRIMP,
]  # fmt: skip
HUNG = """
    2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea
    2026-03-01 00:00 stated G-2/calibrate done 2025-09-01 by lea
    2026-03-01 00:00 stated G-9/calibrate done 2025-09-01 by lea
    2026-03-02 05:00 fit CP-a in DS-031 by ana
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at P-07 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:10 check DS-031 set-up of CR-1 dial=12 by ana
    2026-03-02 06:20 check DS-031 first-off of CR-1 with G-2 crimp-height=1.25,1.26 by ana
"""
SIGN = "2026-03-02 07:00 sign DS-031/inspect for extra grade {grade} {points} by tom"
EACH = "slug-height=1.18,1.19 with G-1 crimp-height=1.25,1.26 with G-1 dial=12 burr=0.02 with {scope}"


@pytest.fixture
def book(tmp_path: Path) -> Book:
    """A set that hangs and was checked, and gauges that count."""
    return book_of(tmp_path, HUNG, tasks=[INSPECT, CALIBRATE], more=MORE)


def test_each_point_has_its_own_gauge_and_is_refused_without(book: Book) -> None:
    """Of the kind that the point asks for."""
    with book:
        with pytest.raises(Refused, match=r"Say which microscope measured Burr"):
            write(book, SIGN.format(grade=0, points=EACH.replace(" with {scope}", "")))
        with pytest.raises(Refused, match=r"Burr is measured with a microscope; G-1 is a crimp micrometer\."):
            write(book, SIGN.format(grade=0, points=EACH.format(scope="G-1")))
        write(book, SIGN.format(grade=0, points=EACH.format(scope="G-9")))


def test_a_gauge_found_out_opens_the_work_again_whichever_point_it_measured(book: Book) -> None:
    """The microscope as well as the micrometer; one that measured nothing of it does not."""
    with book:
        write(book, "2026-03-02 08:00 count P-07 6500 by ana")
        planned = line_at(book, "DS-031/inspect", "2026-03-02 08:10").occurrence
        told = SIGN.replace("extra", planned).replace("07:00", "08:10")
        write(book, told.format(grade=0, points=EACH.format(scope="G-9")))
        assert line_at(book, "DS-031/inspect", "2026-03-02 08:30").state == "later"
        write(book, "2026-03-02 08:40 out-of-tolerance G-2 off 0.01 by lea")
        assert line_at(book, "DS-031/inspect", "2026-03-02 08:50").state == "later"
        write(book, "2026-03-02 09:00 out-of-tolerance G-9 off 0.01 by lea")
        line = line_at(book, "DS-031/inspect", "2026-03-02 09:30")
        assert (line.state, line.occurrence.split(".")[0]) == ("due", "gauge-found-out")
        doubt = book.checks(at("2026-03-02 10:00")).gauge("G-9").doubts[-1]
        assert [one.line for one in doubt.tasks] == ["DS-031/inspect"]
        assert doubt.results == 1  # the burr alone: what the micrometer measured is not in doubt


def test_from_grade_two_on_each_gauge_has_to_be_valid(book: Book) -> None:
    """One that is overdue is told of with grade 1 and refused with grade 2; the set can be held at once."""
    late = "2026-09-10 07:00"
    with book:
        text = SIGN.replace("2026-03-02 07:00", late).format(grade="{grade}", points=EACH.format(scope="G-9"))
        with pytest.raises(Refused, match=r"Grade 2 rests on what was measured, and G-1 is not valid .* hold it\."):
            write(book, text.format(grade=2))
        write(book, text.format(grade=1))


def test_what_a_check_of_the_same_set_up_measured_is_taken_over(book: Book) -> None:
    """With the number of its check and its gauge; it is measured once in the wear of the set, not twice."""
    with book:
        form = book.sign_form("DS-031/inspect", at("2026-03-02 07:00"))
        offered = {taken.point: (taken.values, taken.gauge) for taken in form.taken}
        assert offered == {"crimp-height": ((1.25, 1.26), "G-2"), "dial": ((12.0,), None)}
        (bare,) = entries_of(book, "2026-03-02 07:00 sign DS-031/inspect for extra grade 1 by tom")
        assert isinstance(bare, Sign)
        typed = {"slug-height": (1.18, 1.19), "burr": (0.02,)}
        sign = with_measured(bare, form, typed, {MICROMETER: "G-1", SCOPE: "G-9"})
        assert sign.gauges_used == ("G-1", "G-2", "G-9")
        book.write([sign], at("2026-03-02 07:01"))
        write(book, "2026-03-02 08:00 out-of-tolerance G-2 off 0.01 by lea")
        doubt = book.checks(at("2026-03-02 10:00")).gauge("G-2").doubts[-1]
        assert [one.line for one in doubt.tasks] == ["DS-031/inspect"]
        assert doubt.results == 1  # the check; what was taken over of it is no other result


@pytest.mark.parametrize(
    ("points", "why"),
    [
        ("crimp-height=1.25,1.27 with G-2 from #{first}", "crimp-height is not as #"),
        ("crimp-height=1.25,1.26 with G-1 from #{first}", "measured with G-2"),
        ("crimp-height=1.25,1.26 with G-2 from #{other}", "no crimp-height that can be taken over"),
    ],
)
def test_nobody_takes_over_what_no_check_has(book: Book, points: str, why: str) -> None:
    """Other values, another gauge, another entry."""
    with book:
        taken = {one.point: one.entry for one in book.sign_form("DS-031/inspect", at("2026-03-02 07:00")).taken}
        told = points.format(first=taken["crimp-height"], other=taken["dial"])
        text = f"slug-height=1.18,1.19 with G-1 {told} dial=12 burr=0.02 with G-9"
        with pytest.raises(Refused, match=why):
            write(book, SIGN.format(grade=1, points=text))


@pytest.mark.parametrize(
    "between",
    [
        "2026-03-02 06:30 unfit CP-a by ana\n2026-03-02 06:35 fit CP-b in DS-031 by ana",
        '2026-03-02 06:30 rework CP-a granted 100000 by ana because "polished"',
        "2026-03-02 06:30 out-of-tolerance G-2 off 0.01 by lea",
    ],
)
def test_nothing_is_taken_over_of_another_part_or_a_gauge_found_out(book: Book, between: str) -> None:
    """A part was changed or reworked since; the gauge read wrong."""
    with book:
        write(book, between)
        form = book.sign_form("DS-031/inspect", at("2026-03-02 07:00"))
        assert "crimp-height" not in {taken.point for taken in form.taken}


def test_what_hung_before_is_another_set_up(book: Book) -> None:
    """Taken off and hung again, the pieces of before are no pieces of this set-up; taken off, they are the last."""
    with book:
        write(book, "2026-03-02 06:30 unfit DS-031 at P-07 1500 to rack by ana")
        assert book.sign_form("DS-031/inspect", at("2026-03-02 07:00")).taken
        write(book, "2026-03-02 06:40 fit DS-031 in M-12 at P-07 1500 by ana")
        assert not book.sign_form("DS-031/inspect", at("2026-03-02 07:00")).taken


def test_the_words_of_a_sign_off_with_one_gauge_are_what_they_were(book: Book) -> None:
    """One gauge for all stands before the points, as earlier programs wrote it."""
    old = "2026-03-02 07:00 sign DS-031/inspect for extra grade 1 with G-1 slug-height=1.18,1.19 burr=0.02 by tom"
    (entry,) = entries_of(book, old)
    assert isinstance(entry, Sign)
    assert (entry.gauge, entry.gauges, entry.taken) == ("G-1", (), ())
    assert {entry.gauge_of(point) for point, _ in entry.points} == {"G-1"}
    assert replace(entry, gauges=(("burr", "G-9"),)).gauge_of("burr") == "G-9"
    book.close()
