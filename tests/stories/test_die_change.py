"""A change of tools, told by its entries: what comes next, what is void, what is told before it begins."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, task, write
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.views.changeover import Change, Step
from upkeep.wording.changeover import step_said, waits_said, warnings_said

HAND = task("hand-cycle", "die set", by=["operator"], after=["fitting"], energy="unplug", title="Turn by hand")
GUARD = task("guard", "press", by=["operator"], after=["tool setting"], energy="look", title="Test the guard")
HEIGHT = {"id": "height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}
SLUG = {"id": "slug-height", "title": "Slug", "unit": "mm", "lower": 1.0, "upper": 1.4}
CRIMP = define("crimp", "CR-1", title="Tab", family="tab", points=[HEIGHT, SLUG])
BEFORE = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 05:10 check DS-102 set-up on P-08 of CR-1 dial=4.0 by ana
    2026-03-02 06:00 count P-07 900 by ana
"""
NOON = at("2026-03-02 12:00")
OUT_AND_IN = """
    2026-03-02 10:00 changeover P-07 begun to DS-102 by ana
    2026-03-02 10:05 unfit DS-031 at P-07 950 to rack by ana
    2026-03-02 10:10 fit DS-102 in M-12 at P-07 950 by ana
"""
MEASURED = """
    2026-03-02 10:15 sign DS-102/hand-cycle for {hand} by ana
    2026-03-02 10:20 check DS-102 slug on P-07 of CR-1 slug-height=1.2 by ana
"""


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    more = [item(key, family="tab") for key in ("DS-031", "DS-102")]
    with book_of(tmp_path, BEFORE, tasks=[HAND, GUARD], more=[*more, CRIMP]) as opened:
        yield opened


def change(book: Book) -> Change:
    found = book.changing(NOON).open_on("P-07")
    assert found is not None
    return found


def left(book: Book) -> list[str]:
    return [str(step_said(step)) for step in change(book).steps if not step.is_done]


def does(book: Book, text: str) -> None:
    """Writes lines; an occurrence in braces is what a sign-off of that line answers."""
    for line in filter(str.strip, text.splitlines()):
        occurrences = {
            "hand": book.occurrence_signed("DS-102/hand-cycle", NOON),
            "guard": book.occurrence_signed("P-07/guard", NOON),
        }
        write(book, line.format(**occurrences))


def test_the_steps_follow_each_other_until_the_press_is_released(book: Book) -> None:
    assert book.changing(NOON).open_on("P-07") is None
    write(book, OUT_AND_IN.strip().splitlines()[0])
    assert left(book) == [
        "DS-031 out, with its last piece", "DS-102 in, with its settings", "Turn by hand (DS-102/hand-cycle)",
        "the solder slug of DS-102", "the first piece of DS-102", "Test the guard (P-07/guard)", "the release of P-07",
    ]  # fmt: skip
    does(book, "\n".join(OUT_AND_IN.strip().splitlines()[1:]) + MEASURED)
    assert change(book).next.step is Step.FIRST_OFF
    with pytest.raises(Refused, match="P-07 is not released: still to be done is the first piece of DS-102 or Test"):
        write(book, "2026-03-02 10:25 changeover P-07 released by ana")
    does(book, "2026-03-02 10:30 check DS-102 first-off on P-07 of CR-1 height=1.2 by ana")
    does(book, "2026-03-02 10:35 sign P-07/guard for {guard} by ana")
    assert left(book) == ["the release of P-07"]
    write(book, '2026-03-02 10:38 lock P-07 "air valve" by ana')
    with pytest.raises(Refused, match="P-07 is locked: Ana at air valve"):
        write(book, "2026-03-02 10:39 changeover P-07 released by ana")
    write(book, f"2026-03-02 10:39 unlock #{book.locks(at('2026-03-02 10:39'))[0].number} by ana")
    write(book, "2026-03-02 10:40 changeover P-07 released by ana")
    assert book.changing(NOON).open_on("P-07") is None


def test_after_a_bad_first_piece_what_is_left_is_measured_next(book: Book) -> None:
    does(book, OUT_AND_IN + MEASURED + "2026-03-02 10:30 check DS-102 first-off on P-07 of CR-1 height=1.4 by ana")
    assert (change(book).next.step, change(book).next.again) == (Step.FIRST_OFF, True)
    assert left(book)[0] == "what was left of DS-102 after adjusting"
    does(book, "2026-03-02 10:40 check DS-102 as-left on P-07 of CR-1 height=1.2 by ana")
    assert change(book).next.step is Step.GUARD


def test_settings_stand_as_they_were_last_time(book: Book) -> None:
    does(book, OUT_AND_IN)
    (dial,) = change(book).last_settings
    assert (dial.point, dial.value, dial.press) == ("dial", 4.0, "P-08")


def test_a_press_that_ran_while_the_change_was_paused_makes_void_what_was_measured(book: Book) -> None:
    does(book, OUT_AND_IN + MEASURED)
    write(book, "2026-03-02 10:30 count P-07 955 by ana")
    write(book, '2026-03-02 10:30 changeover P-07 paused text "waits for wire" by ana')
    assert change(book).waits is not None
    assert [str(one) for one in waits_said(change(book), book.zone)] == [
        "PAUSED by Ana, 2026-03-02 10:30: waits for wire."
    ]
    with pytest.raises(Refused, match="paused"):
        write(book, "2026-03-02 10:31 changeover P-07 released by ana")
    write(book, "2026-03-02 11:00 count P-07 985 by ben")
    write(book, "2026-03-02 11:00 changeover P-07 resumed by ben")
    found = change(book)
    assert found.in_hand_of == ("ben", "Ben")
    assert found.begun_by == ("ana", "Ana")
    assert [str(one) for one in waits_said(found, book.zone)] == [
        "VOID: the press ran 30 strokes while the change was paused. Do anew what was signed and measured before."
    ]
    assert left(book)[:2] == ["Turn by hand (DS-102/hand-cycle)", "the solder slug of DS-102"]


def test_a_press_that_stood_while_the_change_was_paused_makes_nothing_void(book: Book) -> None:
    does(book, OUT_AND_IN + MEASURED)
    does(book, "2026-03-02 10:30 count P-07 955 by ana\n2026-03-02 10:30 changeover P-07 paused by ana")
    does(book, "2026-03-02 11:00 count P-07 955 by ana\n2026-03-02 11:00 changeover P-07 resumed by ana")
    assert change(book).next.step is Step.FIRST_OFF


def test_one_change_at_a_time_and_nobody_goes_on_with_none(book: Book) -> None:
    for stage in ("paused", "resumed", "released", 'given-up text "no"'):
        with pytest.raises(Refused, match="No change of tools is open on P-07"):
            write(book, f"2026-03-02 09:00 changeover P-07 {stage} by ana")
    does(book, OUT_AND_IN)
    for words, refused in (
        ("begun to DS-031", "is open on P-07 already: DS-102 goes in, begun by Ana"),
        ("resumed", "is yours already"),
        ("given-up", "Say why"),
        ("paused to DS-031", "said where the change begins"),
    ):
        with pytest.raises(Refused, match=refused):
            write(book, f"2026-03-02 11:00 changeover P-07 {words} by ana")
    write(book, '2026-03-02 11:00 changeover P-07 given-up text "wrong set" by ben')
    assert book.changing(NOON).open_on("P-07") is None


@pytest.mark.parametrize(
    ("words", "refused"),
    [
        ("P-07 begun", "Say what goes in"),
        ("P-07 begun to CP-a", "no die set hangs on P-07|goes into"),
        ("P-08 begun to DS-102", "no module hangs on P-08 that takes it"),
        ("P-07 begun to DS-031", "is in M-12 already"),
        ("M-12 begun to DS-102", "not a press|no press"),
    ],
)
def test_what_cannot_be_changed_is_refused_at_the_first_step(book: Book, words: str, refused: str) -> None:
    with pytest.raises(Exception, match=refused):
        write(book, f"2026-03-02 10:00 changeover {words} by ana")


def test_what_is_held_overdue_of_another_family_or_beyond_its_life_is_told_before(book: Book) -> None:
    more = [item("DS-102", family="ring"), task("inspect", "die set", strokes=1000, stop_at=110, graded=True)]
    book.load(more, NOON, "lea", NOON, because="as it is")
    write(book, "2026-03-02 11:00 order A-1 5000 with DS-102 on P-08 from 2026-03-03 by lea")
    write(book, "2026-03-02 11:00 order A-2 500 with DS-031 on P-07 from 2026-03-03 by lea")
    write(book, '2026-03-02 11:10 hold DS-102 by lea because "burr"')
    candidate = book.changing(NOON).candidate("P-07", "DS-102")
    told = " ".join(map(str, warnings_said(candidate)))
    assert "DS-102 must not run: burr." in told
    assert "goes 4,000 strokes past the limit of DS-102/inspect" in told
    assert "DS-102 makes ring. What waits for P-07 is of another family: A-2 tab." in told


def test_sets_that_orders_wait_for_come_first(book: Book) -> None:
    write(book, "2026-03-02 11:00 order A-1 500 with DS-102 on P-07 from 2026-03-03 by lea")
    before = book.changing(NOON).before("P-07")
    assert [(one.item, one.orders) for one in before.ordered] == [("DS-102", ("A-1",))]
    assert [one.item for one in before.hanging] == ["P-07", "M-12", "DS-031"]
