"""Checks as they are written down: the right crimp on the right set, all readings, a gauge that counts, what follows.

Limits and forces are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, define, item, number_of, person, task, write
from upkeep.book import Book
from upkeep.entries.checking import Check
from upkeep.errors import NotFound, Refused
from upkeep.wording.holds import hold_text
from upkeep.wording.sentences import ENGLISH

HEIGHT = {
    "id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 5,
    "gauge_class": "crimp micrometer",
}  # fmt: skip
PULL = {"id": "pull", "title": "Pull force", "unit": "N", "readings": 3, "gauge_class": "pull tester"}
CAM = {"id": "cam", "title": "Cam", "unit": "step", "steps": [1, 2, 3]}
TAB = define(
    "crimp", "T-05", title="Tab on 0.5", family="tab", size="0.5 mm2", points=[HEIGHT, PULL, CAM], looks=["burr"],
    pull_table="house",
)  # fmt: skip
PIN = define("crimp", "N-05", title="Pin on 0.5", family="pin", size="0.5 mm2", points=[HEIGHT])
HOUSE = define(
    "pull-table", "house", title="House table", edition="2026-01", source="own trials", checked_by="lea",
    forces={"0.5 mm2": 60},
)  # fmt: skip
MORE = (
    HOUSE, TAB, PIN,
    item("DS-031", family="tab"), item("DS-102", family="pin"),
    item("G-2", kind="gauge", gauge_class="pull tester"),
)  # fmt: skip
FITTED = """
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
GOOD = "crimp-height=1.2,1.2,1.21,1.2,1.19"
HOW = "wire-broke,pulled-out,wire-broke"
BAD = "crimp-height=1.2,1.2,1.262,1.2,1.19"
CALIBRATE = task("calibrate", "gauge", every="1 year", stop_days=0)


def checked(book: Book, words: str, moment: str = "2026-03-02 06:15") -> tuple[Check, tuple[str, ...]]:
    """The entry of a check as the book keeps it, and what the writer is told."""
    written = write(book, f"{moment} check {words} by ana")
    entry = book.entry(number_of(written))
    assert isinstance(entry, Check)
    return entry, tuple(map(str, written.notes))


def refusal(book: Book, words: str) -> str:
    """Why the book does not take a check."""
    with pytest.raises(Refused) as caught:
        checked(book, words)
    return str(caught.value)


def test_the_book_puts_in_press_and_limits(tmp_path: Path) -> None:
    """Where it hung then and what held then; a later change of the crimp does not touch it."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        entry, notes = checked(book, f"DS-031 first-off of T-05 with G-1 {GOOD} burr:good")
        assert (entry.press, entry.limits, notes) == ("P-07", (("crimp-height", 1.15, 1.25),), ())


def test_a_check_told_late_is_judged_by_the_limits_that_held_then(tmp_path: Path) -> None:
    """The drawing changed at noon; the check of the morning is told in the afternoon."""
    narrower = define(**{"what": "crimp", "key": "T-05", **TAB.content, "points": [{**HEIGHT, "upper": 1.2}]})
    with book_of(tmp_path, FITTED, more=MORE) as book:
        noon = book.zone.read("2026-03-02 12:00")
        book.load([narrower], noon, "lea", noon, "new drawing")
        entry, _ = checked(book, f"DS-031 first-off of T-05 with G-1 {GOOD}", "2026-03-02 06:15")
        assert entry.limits == (("crimp-height", 1.15, 1.25),)
        entry, _ = checked(book, f"DS-031 sample of T-05 with G-1 {GOOD}", "2026-03-02 13:00")
        assert entry.limits == (("crimp-height", 1.15, 1.2),)


def test_a_wrong_terminal_on_a_set_is_refused_and_says_what_the_set_makes(tmp_path: Path) -> None:
    """Also through the module the set sits in."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        told = refusal(book, f"DS-031 first-off of N-05 with G-1 {GOOD}")
        assert "N-05 is run with pin; DS-031 is tab. This set makes T-05." in told
        assert "DS-031 is tab" in refusal(book, f"M-12 first-off of N-05 with G-1 {GOOD}")


def test_every_reading_is_asked_for_again_after_adjusting(tmp_path: Path) -> None:
    """One of five is out: the note says by how much, the set is held, and two readings do not lift it."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        _, notes = checked(book, f"DS-031 first-off of T-05 with G-1 {BAD}")
        assert notes == (
            "crimp-height 1.262 is 0.012 mm above the limit of 1.25",
            "DS-031 is held: adjust, then take all readings again: crimp-height (5).",
        )
        assert "needs 5 readings in mm; 2 given" in refusal(
            book, "DS-031 as-left of T-05 with G-1 crimp-height=1.2,1.2"
        )
        assert book.holds()
        checked(book, f"DS-031 as-left of T-05 with G-1 {GOOD}", "2026-03-02 06:30")
        assert book.holds() == ()


def test_two_heights_found_out_in_a_row_stop_the_set(tmp_path: Path) -> None:
    """It does not keep its setting: adjusting once more is no answer, somebody releases it."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        first, second = (f"DS-031 {occasion} of T-05 with G-1" for occasion in ("as-found", "as-left"))
        checked(book, f"{first} {BAD}", "2026-03-02 06:15")
        checked(book, f"{second} {GOOD}", "2026-03-02 06:25")
        assert book.holds() == ()
        _, notes = checked(book, f"{first} {BAD}", "2026-03-03 06:15")
        assert "twice in a row" in notes[-1]
        checked(book, f"{second} {GOOD}", "2026-03-03 06:25")
        assert hold_text(book.holds()[0].reason, ENGLISH) == "failed check (as-found, twice in a row): crimp-height"
        checked(book, f"{first} {GOOD}", "2026-03-02 14:00")
        assert book.holds() == ()  # told late: between the two it was found good
        write(book, '2026-03-03 07:00 hold DS-031 by lea because "looked at"')
        assert book.prove().clean


def test_a_bad_look_in_the_run_holds_the_set_and_points_to_suspect_product(tmp_path: Path) -> None:
    """Whatever the height says."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        _, notes = checked(book, f"DS-031 sample of T-05 with G-1 {GOOD} burr:bad")
        assert notes[0] == "burr judged bad by eye"
        assert "strokebook suspect --item DS-031" in notes[2]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("DS-031 later of T-05 with G-1 burr:good", "'later' is not an occasion"),
        ("P-07 sample of T-05 with G-1 burr:good", "P-07 is a press"),
        ("DS-031 sample of T-05 with G-1", "Nothing was measured"),
        (f"DS-031 sample of T-05 {GOOD}", "Say which crimp micrometer measured crimp-height"),
        (f"DS-031 sample of T-05 with G-2 {GOOD}", "G-2 is a pull tester"),
        (f"DS-031 sample of T-05 with P-07 {GOOD}", "P-07 is a press, not a gauge"),
        (
            "DS-031 sample of T-05 width=2.1",
            "T-05 has no characteristic 'width'; its characteristics: crimp-height, pull, cam",
        ),
        ("DS-031 sample of T-05 dent:bad", "T-05 has nothing called 'dent' to look at; it has: burr"),
        ("DS-031 sample burr:bad", "Say which crimp was run"),
        ("DS-031 set-up of T-05 cam=4", "Cam has no position 4; its positions: 1, 2, 3"),
        ("DS-031 sample of T-05 dial=4", "is recorded during setting only"),
        ("DS-031 sample of T-05 with G-2 pull=70,71,72", "Pieces pulled: 3; how they broke was given for 0"),
        ("DS-031 sample of T-05 with G-2 pull=70,71,72 broke a,b,c", "'a' is not a way for a piece to break"),
        (f"DS-031 sample of T-05 with G-1 {GOOD} within crimp-height=1.0:2.0", "The book puts in the limits"),
        ("DS-031 sample of T-05 with G-1 burr:good table \"My own\"", "The book puts in"),
    ],
)  # fmt: skip
def test_what_a_check_has_to_bring(tmp_path: Path, words: str, said: str) -> None:
    """Each refusal says what is wrong and what is known instead."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        assert said in refusal(book, words)


def test_an_unknown_crimp_names_near_ones(tmp_path: Path) -> None:
    """A slip of the pen."""
    with book_of(tmp_path, FITTED, more=MORE) as book, pytest.raises(NotFound, match="T-05"):
        checked(book, f"DS-031 first-off of T-50 with G-1 {GOOD}")


def test_settings_are_written_down_at_set_up_without_limits(tmp_path: Path) -> None:
    """Dial, shut height and the position of the cam, before anything is measured."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        entry, notes = checked(book, "DS-031 set-up of T-05 dial=14 shut-height=135.8 cam=2")
        assert (entry.limits, notes) == ((), ())


def test_a_pull_is_judged_by_the_table_and_keeps_its_name_and_edition(tmp_path: Path) -> None:
    """The size is looked up as the drawing gives it."""
    with book_of(tmp_path, FITTED, more=MORE) as book:
        entry, notes = checked(
            book, "DS-031 sample of T-05 with G-2 pull=70,58,72 broke wire-broke,pulled-out,wire-broke"
        )
        assert (entry.limits, entry.table) == ((("pull", 60, None),), "House table, 2026-01")
        assert notes[0] == "pull 58 is 2 N below the limit of 60"


def test_a_table_that_quality_did_not_compare_judges_nothing(tmp_path: Path) -> None:
    """Somebody typed it in; nobody signed it."""
    unsigned = {key: value for key, value in HOUSE.content.items() if key != "checked_by"}
    more = (*MORE, define(**{"what": "pull-table", "key": "house", **unsigned}))
    with book_of(tmp_path, FITTED, more=more) as book:
        told = refusal(book, f"DS-031 sample of T-05 with G-2 pull=70,58,72 broke {HOW}")
        assert "Quality has not compared" in told


def test_a_size_or_a_table_that_is_not_there_judges_nothing(tmp_path: Path) -> None:
    """Nothing is converted, nothing guessed; without any minimum the force is kept."""
    words = f"DS-031 sample of T-05 with G-2 pull=70,58,72 broke {HOW}"
    crimp = {"what": "crimp", "key": "T-05", **TAB.content}
    cases = (
        ({"size": "20 AWG"}, "has no wire size '20 AWG'; its sizes: 0.5 mm2"),
        ({"pull_table": "hous"}, "names a pull table, 'hous', that does not exist"),
    )
    for place, (change, said) in enumerate(cases):
        (tmp_path / str(place)).mkdir()
        with book_of(tmp_path / str(place), FITTED, more=(*MORE, define(**{**crimp, **change}))) as book:
            assert said in refusal(book, words)
    without = {key: value for key, value in crimp.items() if key != "pull_table"}
    (tmp_path / "none").mkdir()
    with book_of(tmp_path / "none", FITTED, more=(*MORE, define(**without))) as book:
        entry, notes = checked(book, words)
        assert (entry.limits, notes) == ((), ("No pull force is set for T-05: the result is kept, but not judged.",))


def test_a_drawing_stands_before_the_table(tmp_path: Path) -> None:
    """The limit of the crimp's own point is the customer's."""
    drawn = define(**{"what": "crimp", "key": "T-05", **TAB.content, "points": [{**PULL, "lower": 80}]})
    with book_of(tmp_path, FITTED, more=(*MORE, drawn)) as book:
        entry, _ = checked(book, f"DS-031 sample of T-05 with G-2 pull=90,91,92 broke {HOW}")
        assert (entry.limits, entry.table) == ((("pull", 80, None),), "")


def test_an_upper_limit_of_the_crimp_and_the_table_are_one_limit_of_the_pull(tmp_path: Path) -> None:
    """The least from the table, the most from the crimp's own point, each stamped once."""
    capped = define(**{"what": "crimp", "key": "T-05", **TAB.content, "points": [HEIGHT, {**PULL, "upper": 95}]})
    with book_of(tmp_path, FITTED, more=(*MORE, capped)) as book:
        entry, notes = checked(book, f"DS-031 sample of T-05 with G-2 pull=70,96,72 broke {HOW}")
        assert (entry.limits, entry.table) == ((("pull", 60, 95),), "House table, 2026-01")
        assert notes[0] == "pull 96 is 1 N above the limit of 95"


def test_an_overdue_gauge_is_flagged_or_refused_as_the_plant_says(tmp_path: Path) -> None:
    """Flagged, its reading is kept and makes no last good check."""
    stated = "2026-03-01 00:00 stated G-1/calibrate done 2025-02-01 by lea\n"
    words = f"DS-031 first-off of T-05 with G-1 {GOOD}"
    with book_of(tmp_path, stated + FITTED, tasks=[CALIBRATE], more=MORE) as book:
        _, notes = checked(book, words)
        assert notes == (
            "G-1 was not valid at that time (Task calibrate: overdue since 2026-02-02); the reading is kept, but "
            "the check never counts as a last good check.",
        )
    (tmp_path / "strict").mkdir()
    with book_of(tmp_path / "strict", stated + FITTED, tasks=[CALIBRATE], more=MORE, overdue_gauge="refuse") as book:
        assert "this plant accepts no readings from it" in refusal(book, words)


def test_an_overdue_gauge_never_makes_the_last_good_check(tmp_path: Path) -> None:
    """The window goes back past it to the check by a gauge that counted."""
    text = f"""
        2026-03-01 00:00 stated G-1/calibrate done 2025-02-01 by lea
        2026-03-01 00:00 stated G-3/calibrate done 2025-09-01 by lea
        {FITTED}
        2026-03-02 06:15 check DS-031 first-off of T-05 with G-3 {GOOD} by ana
        2026-03-02 08:00 count P-07 1100 by ana
        2026-03-02 08:00 check DS-031 sample of T-05 with G-1 {GOOD} by ana
        2026-03-02 09:00 count P-07 2100 by ana
        2026-03-02 09:00 check DS-031 sample of T-05 with G-3 {BAD} by ana
    """
    third = item("G-3", kind="gauge", gauge_class="crimp micrometer")
    with book_of(tmp_path, text, tasks=[CALIBRATE], more=(*MORE, third)) as book:
        (found,) = book.suspects(book.zone.read("2026-03-02 10:00")).lists()
        assert (found.start, found.strokes) == (book.zone.read("2026-03-02 06:15"), 2000)
        assert "overdue since 2026-02-02" in str(found.passed_over[0])


def test_a_gauge_found_wrong_or_held_is_refused_whatever_the_plant_says(tmp_path: Path) -> None:
    """Until it is calibrated and released; what was measured before and is told late is taken and does not count."""
    stated = "2026-03-01 00:00 stated G-1/calibrate done 2025-09-01 by lea\n"
    words = f"DS-031 first-off of T-05 with G-1 {GOOD}"
    with book_of(tmp_path, stated + FITTED, tasks=[CALIBRATE], more=MORE) as book:
        written = write(book, "2026-03-02 07:00 out-of-tolerance G-1 off -0.008 by lea")
        assert "Everything it measured since it came into this book" in str(written.notes[0])
        with pytest.raises(Refused, match="G-1 has been held since"):
            checked(book, words, "2026-03-02 07:10")
        _, notes = checked(book, words, "2026-03-02 06:50")
        assert "found on 2026-03-02 to read -0.008 mm off" in notes[0]
        write(book, '2026-03-02 07:20 release G-1 by lea because "adjusted"')
        with pytest.raises(Refused, match="has not been calibrated since"):
            checked(book, words, "2026-03-02 07:30")
        write(book, "2026-03-02 08:00 sign G-1/calibrate for extra by lea")
        assert checked(book, words, "2026-03-02 08:10")[1] == ()


def test_an_inspection_measured_with_an_overdue_gauge_follows_the_same_rule(tmp_path: Path) -> None:
    """It is a reading like any other."""
    stated = "2026-03-01 00:00 stated G-1/calibrate done 2025-02-01 by lea\n"
    slug = {"id": "slug-height", "title": "Slug height", "unit": "mm"}
    measure = task("slug", "die set", every="7 days", points=[slug], gauge_class="crimp micrometer")
    sign = "2026-03-08 06:15 sign DS-031/slug for 2026-03-08 with G-1 slug-height=1.2 by tom"
    with book_of(tmp_path, stated, tasks=[CALIBRATE, measure], more=MORE) as book:
        assert "never counts as a last good check" in str(write(book, sign).notes[0])
    (tmp_path / "strict").mkdir()
    strict = book_of(tmp_path / "strict", stated, tasks=[CALIBRATE, measure], more=MORE, overdue_gauge="refuse")
    with strict as book, pytest.raises(Refused, match="accepts no readings"):
        write(book, sign)


def test_only_who_is_known_signs_a_check(tmp_path: Path) -> None:
    """An account that was closed before the check does not sign it."""
    gone = person("ana", "Ana", "operator", until="2026-03-01")
    with book_of(tmp_path, more=(*MORE, gone)) as book, pytest.raises(Refused, match="has not been allowed to sign"):
        checked(book, "DS-031 sample of T-05 burr:good")
