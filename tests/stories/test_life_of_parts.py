"""Die sets that rest, parts of different age in one set, parts that are reworked.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import (
    at,
    book_of,
    item,
    line_at,
    number_of,
    person,
    state,
    strokes,
    task,
    why_of,
    write,
    write_each,
)
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.papers.board_text import life_text
from upkeep.wording.sentences import ENGLISH

# Seven months in the store, then fitted in a hurry

FIRST_USE = task(
    "first-use", "die set", after=["storage"], stop_days=0, energy="unplug", caution="Plug in your hand.",
    steps=["Oil film off, no rust.", "Hand cycle: nothing touches.", "Slug and first piece within limits."],
    points=[{"id": "slug", "title": "Slug height", "unit": "mm", "lower": 1.15, "upper": 1.25}],
)  # fmt: skip
OIL = task("oil", "die set", every="3 months", while_resting=True)
STORED = '2026-03-02 06:00 pause DS-031 by lea because "spare set"'
BACK = "2026-10-05 06:00"


def stored(tmp_path: Path) -> Book:
    """DS-031 rests from March to October."""
    return book_of(tmp_path, f"2026-03-02 06:00 count P-07 10000 by ana\n{STORED}", tasks=[FIRST_USE, OIL])


def test_a_die_set_from_the_store_is_not_fitted_before_it_is_brought_back(tmp_path: Path) -> None:
    """Whoever fits it in a hurry is told what is missing."""
    book = stored(tmp_path)
    with pytest.raises(Refused, match=r"out of use since 2026-03-02 06:00 \(spare set\). Bring it back first"):
        write(book, f"{BACK} fit DS-031 in M-12 by ana")


def test_a_fitting_told_late_from_before_it_was_stored_is_taken(tmp_path: Path) -> None:
    """It hung there on Sunday and went into the store on Monday."""
    book = stored(tmp_path)
    write(book, "2026-03-01 06:00 fit DS-031 in M-12 by ana recorded 2026-03-02 07:00")


def test_brought_back_it_asks_for_its_first_use_work_and_stops_when_run_without(tmp_path: Path) -> None:
    """Due at once, stopped with the first stroke it does before that."""
    book = stored(tmp_path)
    write_each(
        book,
        f"""
        {BACK} resume DS-031 by lea
        {BACK} fit DS-031 in M-12 by ana
        {BACK} fit M-12 in P-07 at 10000 by ana
        """,
    )
    line = line_at(book, "DS-031/first-use", BACK)
    assert line.state == "due"
    assert "due before it runs again, since the storage of 2026-10-05 06:00" in why_of(book, line)
    write(book, "2026-10-05 06:30 count P-07 10012 by ana")
    assert state(book, "DS-031/first-use", "2026-10-05 06:30") == "stop"


def test_its_first_use_work_is_not_signed_without_what_it_measures(tmp_path: Path) -> None:
    """Rust, hand cycle, slug and first piece are its steps; the slug's height is a number."""
    book = stored(tmp_path)
    number = number_of(write(book, f"{BACK} resume DS-031 by lea"))
    form = book.sign_form("DS-031/first-use", at(BACK))
    assert (form.steps, str(form.caution).split(".")[0]) == (
        ("Oil film off, no rust.", "Hand cycle: nothing touches.", "Slug and first piece within limits."),
        "Unplug the press, keep the plug in reach and sight, and bleed any air before hands go in",
    )
    signed = f"2026-10-05 06:20 sign DS-031/first-use for storage.{number}"
    with pytest.raises(Refused, match="Slug height needs 1 reading in mm; 0 given"):
        write(book, f"{signed} by ana")
    write(book, f"{signed} slug=1.204 by ana")
    assert state(book, "DS-031/first-use", "2026-10-05 06:20") == "not required"


def test_at_rest_its_strokes_stand_still_and_its_oil_is_looked_at(tmp_path: Path) -> None:
    """Three months from the day storage began, and no longer once it is back."""
    book = stored(tmp_path)
    assert state(book, "DS-031/oil", "2026-05-31 12:00") == "later"
    assert state(book, "DS-031/oil", "2026-06-02 12:00") == "due"
    write(book, f"{BACK} resume DS-031 by lea")
    assert state(book, "DS-031/oil", BACK) == "later"


# A new conductor punch in a set with old parts

WORN = task("worn", "die set", life=True, stop_at=100)
LIVED = {"CP-a": 5_000, "CP-b": 5_000, "IP-1": 8_000}
MIXED = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 06:00 fit IP-1 in DS-031 by ana
    2026-03-02 14:00 unfit CP-a at 14000 by ana
    2026-03-02 14:00 fit CP-b in DS-031 at 14000 by ana
    2026-03-02 20:00 count P-07 16000 by ana
"""


def mixed(tmp_path: Path) -> Book:
    """CP-b came new into a set whose insulation punch had done 4,000."""
    return book_of(tmp_path, MIXED, tasks=[WORN], more=[item(key, life=life) for key, life in LIVED.items()])


def test_each_part_of_a_set_keeps_a_life_of_its_own(tmp_path: Path) -> None:
    """CP-a 4,000 and out; CP-b 2,000; the insulation punch and the set 6,000."""
    book = mixed(tmp_path)
    assert {key: strokes(book, key, "2026-03-02 20:00")[1] for key in ("CP-a", "CP-b", "IP-1", "DS-031")} == {
        "CP-a": 4_000, "CP-b": 2_000, "IP-1": 6_000, "DS-031": 6_000,
    }  # fmt: skip
    assert book.life("IP-1", at("2026-03-02 20:00")).life_left == 2_000


def test_the_set_is_due_when_the_first_of_its_parts_is(tmp_path: Path) -> None:
    """IP-1 has 2,000 left, CP-b 3,000: the set goes by IP-1, and by CP-b once IP-1 is out."""
    book = mixed(tmp_path)
    line = line_at(book, "DS-031/worn", "2026-03-02 20:00")
    assert line.remaining == 2_000
    assert "6,000 of 8,000 strokes of the life of IP-1 since new, 2,000 left" in why_of(book, line)
    write(book, "2026-03-02 22:00 count P-07 18000 by ana")
    assert state(book, "DS-031/worn", "2026-03-02 22:00") == "stop"
    write(book, "2026-03-02 22:00 unfit IP-1 at 18000 by ana")
    line = line_at(book, "DS-031/worn", "2026-03-02 22:00")
    assert (line.state, line.remaining) == ("open", 1_000)
    assert "of the life of CP-b" in why_of(book, line)


# A punch is re-polished

POLISHED = '2026-03-02 14:00 rework CP-a granted 3000 by tom because "re-polished, 1.204 before, 1.199 after"'
USED = """
    2026-03-02 06:00 count P-07 10000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 10000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
    2026-03-02 14:00 count P-07 14800 by ana
"""
WORN_PUNCH = task("worn", "conductor punch", life=True, stop_at=100)


def polished(tmp_path: Path) -> Book:
    """CP-a had done 4,800 of its 5,000 strokes, was granted 3,000 by its first rework, and has done 1,000 of them."""
    book = book_of(tmp_path, USED, tasks=[WORN_PUNCH], more=[item("CP-a", life=5_000, max_reworks=2)])
    write_each(book, f"{POLISHED}\n2026-03-02 22:00 count P-07 15800 by ana")
    return book


def test_a_reworked_part_goes_on_counting_since_new_and_is_granted_strokes_by_rule(tmp_path: Path) -> None:
    """4,800 + 1,000 since new, 1,000 since the rework, 2,000 of the 3,000 left; nothing is set back to 0."""
    book = polished(tmp_path)
    life = book.life("CP-a", at("2026-03-02 22:00"))
    low, best, high = life.since_new
    assert (low, best, high) == (5_800, 5_800, 5_800)
    assert (life.since_rework, life.life_left, life.reworks) == ((1_000, 1_000, 1_000), 2_000, 1)
    line = line_at(book, "CP-a/worn", "2026-03-02 22:00")
    assert (line.remaining, line.occurrence) == (2_000, "7800")
    assert "granted by rework 1" in why_of(book, line)


def test_no_rework_grants_more_than_a_new_part_has(tmp_path: Path) -> None:
    """5,000 is the life of a new one."""
    book = polished(tmp_path)
    with pytest.raises(Refused, match=r"5,001 is more than the life of a new part \(5,000 strokes\)"):
        write(book, '2026-03-03 06:00 rework CP-a granted 5001 by tom because "re-polished"')


def test_a_part_is_reworked_so_often_and_no_more(tmp_path: Path) -> None:
    """Twice; then it is scrap."""
    book = polished(tmp_path)
    write(book, '2026-03-03 06:00 rework CP-a granted 3000 by tom because "re-polished again"')
    with pytest.raises(
        Refused, match=r"CP-a has been reworked 2 times, and 2 is the limit\. Scrap it and fit a new one"
    ):
        write(book, '2026-03-04 06:00 rework CP-a granted 3000 by tom because "and again"')


def test_a_part_that_may_be_reworked_once_is_reworked_once(tmp_path: Path) -> None:
    """The first rework is taken, the second refused."""
    book = book_of(tmp_path, USED, tasks=[WORN_PUNCH], more=[item("CP-a", life=5_000, max_reworks=1)])
    write(book, POLISHED)
    assert book.life("CP-a", at("2026-03-02 14:00")).reworks == 1
    with pytest.raises(Refused, match=r"CP-a has been reworked 1 times?, and 1 is the limit"):
        write(book, '2026-03-03 06:00 rework CP-a granted 3000 by tom because "re-polished again"')


def test_a_rework_written_for_the_wrong_punch_is_struck_and_all_is_as_before(tmp_path: Path) -> None:
    """Its life since new never moved, so there is nothing to repair."""
    book = polished(tmp_path)
    (number,) = [line.entry for line in book.history("CP-a") if line.kind == "rework"]
    write(book, f'2026-03-02 22:30 strike #{number} by tom because "it was CP-b"')
    life = book.life("CP-a", at("2026-03-02 22:30"))
    assert (life.since_new[1], life.since_rework, life.reworks, life.life_left) == (5_800, None, 0, -800)
    assert state(book, "CP-a/worn", "2026-03-02 22:30") == "stop"


def test_a_rework_keeps_what_was_measured_before_and_after_and_who_granted_its_strokes(tmp_path: Path) -> None:
    """On the page of the part, with the units of the crimps; whose account was closed grants nothing."""
    book = book_of(tmp_path, more=[person("old", "Olaf", "lead", until="2026-02-28")])
    told = "rework CP-a granted 60000 granted-by {by} before slug-height=1.204,1.206 after slug-height=1.199 by tom"
    with pytest.raises(Refused, match="Olaf granted nothing on 2026-03-02"):
        write(book, f'2026-03-02 08:00 {told.format(by="old")} because "re-polished"')
    (number,) = write(book, f'2026-03-02 08:00 {told.format(by="lea")} because "re-polished"').entries
    page = " ".join(life_text(book.life("CP-a", at("2026-03-02 09:00")), book.zone, ENGLISH).split())
    granted = f"60,000 strokes by Lea, 2026-03-02 08:00 (#{number}). Before: slug-height 1.204, 1.206"
    assert granted in page
    assert "After: slug-height 1.199" in page
    assert book.prove().clean
