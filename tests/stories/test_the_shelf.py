"""The storekeeper's day as a story: received, taken for a job, used by its sign-off, counted, ordered, kitted."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shutil import copyfile

import pytest

from tests.plants import at, book_of, define, item, person, task, write, write_each
from upkeep.book import Book, Written
from upkeep.errors import NotFound, Refused
from upkeep.views.overview.shelf import ShelfRow

SAM = person("sam", "Sam", "stores")
SPRING = define("spare", "SP-SPRING", kind="module part", title="Hold-down spring", place="rack", names=["spring"])
WIPES = define("spare", "SP-WIPES", kind="consumable", title="Wipes", pack=100, place="rack", lead_days=7)
PUNCH = define(
    "spare", "SP-CP", kind="conductor punch", title="Conductor punch", families=["tab"], place="rack", lead_days=56,
    least=2, life=1000,
)  # fmt: skip
CHANGE = task("spring-change", "module", every="7 days", early_days=7, late_days=3, parts={"SP-SPRING": 2})
LINE = "M-12/spring-change"
MORE = (SAM, SPRING, WIPES, PUNCH, item("DS-031", family="tab"), item("DS-102", family="ring"))


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of a shop with a shelf and nothing on it."""
    folder = tmp_path_factory.mktemp("shop")
    with book_of(folder, tasks=[CHANGE], more=MORE) as made:
        made.backup(folder / "shop.book")
    return folder / "shop.book"


@pytest.fixture
def book(shop: Path, tmp_path: Path) -> Iterator[Book]:
    """A copy of it, on its first Monday."""
    with Book.open(Path(copyfile(shop, tmp_path / "plant.book"))) as opened:
        yield opened


def on_shelf(book: Book, spare: str, moment: str = "2026-03-31 12:00") -> ShelfRow:
    """A spare as it lies there."""
    (row,) = book.shelf(at(moment), spare)
    return row


def notes(written: Written) -> str:
    """What the book gave to mind, as one text."""
    return "\n".join(map(str, written.notes))


def test_what_came_in_and_was_taken_is_told_by_number_and_batch(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 batch B-1 by sam")
    write(book, "2026-03-03 07:00 receive SP-SPRING 5 batch B-2 by sam")
    write(book, '2026-03-04 07:00 issue SP-SPRING 12 by tom because "for the lab"')
    row = on_shelf(book, "SP-SPRING")
    assert row.number == 3
    assert row.batches == (("B-2", 3),), "the oldest batch goes first"
    assert on_shelf(book, "SP-SPRING", "2026-03-03 12:00").number == 15, "as it lay there the day before"


def test_a_sign_off_books_what_its_task_takes(book: Book) -> None:
    """SP3: stock falls by what was used, and nobody fills in a form for it."""
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 by sam")
    write(book, f"2026-03-03 07:00 sign {LINE} for 2026-03-08 by tom")
    assert on_shelf(book, "SP-SPRING").number == 8


def test_a_sign_off_says_what_it_used_instead(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 by sam")
    write(book, f"2026-03-03 07:00 sign {LINE} for 2026-03-08 used SP-SPRING=1,SP-WIPES=4 by tom")
    write(book, "2026-03-03 07:00 sign M-44/spring-change for 2026-03-08 used nothing by tom")
    assert on_shelf(book, "SP-SPRING").number == 9
    assert on_shelf(book, "SP-WIPES").number == -4, "taken though the book had none: counted, never hidden"


def test_what_was_bagged_for_a_job_is_not_taken_twice(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 by sam")
    write(book, f"2026-03-02 08:00 issue SP-SPRING 3 for {LINE} by sam")
    assert (on_shelf(book, "SP-SPRING").number, on_shelf(book, "SP-SPRING").bagged) == (7, 3)
    signed = write(book, f"2026-03-03 07:00 sign {LINE} for 2026-03-08 by tom")
    row = on_shelf(book, "SP-SPRING")
    assert (row.number, row.bagged) == (8, 0), "three were in the bag, two were used, one lies there again"
    assert "1 of SP-SPRING taken for it were not used" in notes(signed)


def test_the_last_one_taken_is_told(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 2 by sam")
    assert "the last of SP-SPRING" in notes(write(book, f"2026-03-03 07:00 sign {LINE} for 2026-03-08 by tom"))
    taken = write(book, '2026-03-03 08:00 issue SP-SPRING 1 by tom because "broken"')
    assert "The book had 0 pieces of SP-SPRING" in notes(taken)


def test_a_strike_puts_back_what_a_sign_off_used(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 by sam")
    (number,) = write(book, f"2026-03-03 07:00 sign {LINE} for 2026-03-08 by tom").entries
    write(book, f'2026-03-03 07:05 strike #{number} by tom because "wrong module"')
    assert on_shelf(book, "SP-SPRING").number == 10
    assert book.prove().differences == ()


# Counting, and what it finds


def test_a_count_keeps_its_difference(book: Book) -> None:
    write(book, "2026-03-02 07:00 receive SP-SPRING 10 by sam")
    told = notes(write(book, "2026-03-30 07:00 count-shelf SP-SPRING 9 by sam"))
    assert "1 fewer of SP-SPRING than the book had (10)" in told
    row = on_shelf(book, "SP-SPRING")
    assert (row.number, row.difference, row.counted_by) == (9, -1, "Sam")


def test_boxes_counted_as_pieces_are_asked_about(book: Book) -> None:
    """The trap of box and piece, where it comes in and where it is counted."""
    with pytest.raises(Refused, match="3 pieces is no whole box: SP-WIPES comes in boxes of 100"):
        write(book, "2026-03-02 07:00 receive SP-WIPES 3 by sam")
    write(book, "2026-03-02 07:00 receive SP-WIPES 300 by sam")
    with pytest.raises(Refused, match="was that boxes of 100"):
        write(book, "2026-03-30 07:00 count-shelf SP-WIPES 3 by sam")
    write(book, '2026-03-30 07:00 count-shelf SP-WIPES 3 by sam because "a leak wetted the rest"')
    assert on_shelf(book, "SP-WIPES").number == 3


def test_another_name_is_the_same_spare(book: Book) -> None:
    """The trap of two names for one part."""
    assert "spring is SP-SPRING here" in notes(write(book, "2026-03-02 07:00 receive spring 4 by sam"))
    assert on_shelf(book, "SPRING").number == 4
    with pytest.raises(NotFound, match="SP-SPRING"):
        write(book, "2026-03-02 07:00 receive SP-SPRIN 4 by sam")


# Parts with ids of their own


def _received(book: Book, *pieces: str, batch: str = "B-7", moment: str = "2026-03-02 07:00", used: int = 0) -> Written:
    entries = book.received(at(moment), "sam", "SP-CP", len(pieces), batch=batch, pieces=pieces, used=used)
    return book.write(entries, at(moment))


def test_parts_that_wear_come_as_items_and_leave_the_shelf_when_they_are_fitted(book: Book) -> None:
    _received(book, "CP-201", "CP-202")
    assert [piece.item for piece in on_shelf(book, "SP-CP").pieces] == ["CP-201", "CP-202"]
    write(book, "2026-03-03 07:00 fit CP-201 in DS-031 by ana")
    row = on_shelf(book, "SP-CP")
    assert [(piece.item, piece.batch) for piece in row.pieces] == [("CP-202", "B-7")]
    write(book, "2026-03-04 07:00 unfit CP-201 by ana")
    assert on_shelf(book, "SP-CP").number == 1, "what was used is not a spare again by itself"
    write(book, "2026-03-04 08:00 give-back SP-CP 1 as CP-201 by sam")
    assert on_shelf(book, "SP-CP").number == 2


def test_each_piece_has_to_be_named(book: Book) -> None:
    with pytest.raises(Refused, match="name the 2 pieces"):
        write(book, "2026-03-02 07:00 receive SP-CP 2 by sam")
    with pytest.raises(Refused, match="IP-1 is a insulation punch, and SP-CP are of the kind conductor punch"):
        write(book, "2026-03-02 07:00 receive SP-CP 1 as IP-1 by sam")
    with pytest.raises(Refused, match="its pieces have no ids"):
        write(book, "2026-03-02 07:00 receive SP-SPRING 1 as CP-a by sam")


def test_a_part_nobody_received_is_told_when_it_is_fitted(book: Book) -> None:
    """The trap of a spare put in without record: its life would begin wrong."""
    assert "CP-a was never received on the shelf" in notes(write(book, "2026-03-03 07:00 fit CP-a in DS-031 by ana"))
    _received(book, "CP-201")
    assert "never received" not in notes(write(book, "2026-03-03 08:00 fit CP-201 in DS-102 by ana"))


def test_a_count_names_the_piece_that_is_not_there(book: Book) -> None:
    _received(book, "CP-201", "CP-202")
    told = notes(write(book, "2026-03-30 07:00 count-shelf SP-CP 1 as CP-202 by sam"))
    assert "Not there: CP-201. If one was fitted, write that down" in told
    row = on_shelf(book, "SP-CP")
    assert (row.number, row.missing) == (1, ("CP-201",))
    write(book, "2026-03-30 08:00 give-back SP-CP 1 as CP-201 by sam")
    assert on_shelf(book, "SP-CP").missing == ()


def test_strokes_before_the_book_are_told_as_such(book: Book) -> None:
    _received(book, "CP-201", used=400)
    numbers = book.life("CP-201", at("2026-03-02 12:00"))
    assert (numbers.since_new, numbers.before_book, numbers.life_left) == ((400, 400, 400), 400, 600)
    with pytest.raises(Refused, match="CP-201 is told to have done 400 strokes before this book"):
        write(book, "2026-03-02 13:00 uncounted CP-201 other-plant 5 by sam")


def test_spares_of_a_family_that_is_gone_are_told(book: Book) -> None:
    assert not on_shelf(book, "SP-CP").obsolete
    write(book, '2026-03-05 07:00 retire DS-031 worn by lea because "scrapped"')
    assert on_shelf(book, "SP-CP").obsolete
    entries = book.received(at("2026-03-06 07:00"), "sam", "SP-CP", 1, pieces=["CP-203"])
    assert "Every die set that SP-CP is for has left ('tab')" in notes(book.write(entries, at("2026-03-06 07:00")))
    assert "SP-CP" not in [row.shelf.spare for row in book.to_order(at("2026-03-06 12:00")).rows]


# Orders, kits, batches


def test_an_order_stands_as_expected_until_it_came(book: Book) -> None:
    (number,) = write(book, '2026-03-02 07:00 buy SP-WIPES 200 expected 2026-03-09 text "order 4711" by sam').entries
    (coming,) = on_shelf(book, "SP-WIPES", "2026-03-03 07:00").coming
    assert (coming.number, str(coming.expected), coming.entry) == (200, "2026-03-09", number)
    write(book, "2026-03-06 07:00 receive SP-WIPES 100 by sam")
    (coming,) = on_shelf(book, "SP-WIPES").coming
    assert coming.number == 100, "half of it came"
    write(book, f"2026-03-09 07:00 receive SP-WIPES 100 for #{number} by sam")
    assert on_shelf(book, "SP-WIPES").coming == ()


def test_what_is_kept_as_an_insurance_is_ordered_without_any_use(book: Book) -> None:
    _received(book, "CP-201")
    (row,) = [row for row in book.to_order(at("2026-03-03 12:00")).rows if row.shelf.spare == "SP-CP"]
    assert (row.now, row.number, str(row.comes)) == (True, 1, "2026-04-28")


def test_kits_are_shared_out_in_the_order_of_the_list(book: Book) -> None:
    """SP2: what is short is told before the week begins."""
    write(book, "2026-03-02 07:00 receive SP-SPRING 3 by sam")
    write(book, "2026-03-02 07:00 buy SP-SPRING 5 expected 2026-03-12 by sam")
    found = book.kits(at("2026-03-06 12:00"), "2026-W10")
    parts = {kit.item: [(part.number, part.there, part.short, str(part.expected)) for part in kit.parts]
             for kit in found.kits}  # fmt: skip
    assert parts == {"M-12": [(2, 2, 0, "None")], "M-44": [(2, 1, 1, "2026-03-12")]}
    assert [kit.item for kit in found.short] == ["M-44"]


def test_the_other_pieces_of_a_batch_are_found(book: Book) -> None:
    """QU9: where to look when one of them failed."""
    _received(book, "CP-201", "CP-202")
    _received(book, "CP-203", batch="B-8")
    write(book, "2026-03-03 07:00 fit CP-202 in DS-102 by ana")
    found = book.pieces_of(at("2026-03-04 12:00"), "CP-201")
    assert [(piece.item, piece.inside) for piece in found.pieces] == [("CP-201", None), ("CP-202", "DS-102")]


# Rework outside the plant


def test_what_comes_back_from_rework_is_inspected_before_it_is_fitted(book: Book) -> None:
    """F34 and the receiving inspection."""
    _received(book, "CP-201")
    write(book, '2026-03-03 07:00 send-out CP-201 to "the grinder" expected 2026-03-10 "re-polish" by sam')
    (out,) = book.outside(at("2026-03-11 12:00"))
    assert (out.state, out.to, out.late) == ("out for rework", "the grinder", True)
    row = on_shelf(book, "SP-CP")
    assert (row.number, [(one.item, str(one.expected)) for one in row.coming]) == (0, [("CP-201", "2026-03-10")])
    with pytest.raises(Refused, match="CP-201 is out for rework; it cannot be fitted"):
        write(book, "2026-03-04 07:00 fit CP-201 in DS-031 by ana")
    write(book, '2026-03-12 07:00 come-back CP-201 text "note 881" by sam')
    with pytest.raises(Refused, match="back from rework and not inspected"):
        write(book, "2026-03-12 08:00 fit CP-201 in DS-031 by ana")
    write(book, "2026-03-12 09:00 take-in CP-201 good height=12.04 by tom")
    write(book, "2026-03-12 10:00 fit CP-201 in DS-031 by ana")
    assert book.outside(at("2026-03-12 12:00")) == ()


def test_what_was_refused_at_its_receiving_inspection_is_not_fitted(book: Book) -> None:
    write(book, '2026-03-03 07:00 send-out CP-a to "the grinder" expected 2026-03-10 "re-polish" by sam')
    write(book, "2026-03-09 07:00 come-back CP-a by sam")
    with pytest.raises(Refused, match="Say what is wrong with CP-a"):
        write(book, "2026-03-09 08:00 take-in CP-a bad by tom")
    write(book, '2026-03-09 08:00 take-in CP-a bad text "edge chipped" by tom')
    with pytest.raises(Refused, match="CP-a was refused at its receiving inspection"):
        write(book, "2026-03-09 09:00 fit CP-a in DS-031 by ana")
    write(book, '2026-03-09 10:00 send-out CP-a to "the grinder" expected 2026-03-20 "again" by sam')


def test_another_piece_that_came_instead_is_another_item(book: Book) -> None:
    """F34: it comes back with a different serial."""
    write(book, '2026-03-03 07:00 send-out CP-a to "the grinder" expected 2026-03-10 "re-polish" by sam')
    with pytest.raises(Refused, match="IP-1 is none"):
        write(book, "2026-03-09 07:00 come-back CP-a bears IP-1 by sam")
    assert "What CP-b has done before is not known" in notes(
        write(book, "2026-03-09 07:00 come-back CP-a bears CP-b by sam")
    )
    with pytest.raises(Refused, match="another piece came"):
        write(book, "2026-03-09 09:00 fit CP-a in DS-031 by ana")


# Rights


@pytest.mark.parametrize(
    ("line", "who"),
    [
        ("receive SP-SPRING 1", "stores or maintenance lead"),
        ("count-shelf SP-SPRING 1", "stores or maintenance lead"),
        ("buy SP-SPRING 1 expected 2026-03-09", "stores or maintenance lead"),
        ('send-out CP-a to "x" expected 2026-03-09 "y"', "stores, maintenance technician, "),
    ],
)
def test_the_shelf_is_kept_by_the_stores(book: Book, line: str, who: str) -> None:
    with pytest.raises(Refused, match=f"Ben .* may not .*{who}"):
        write(book, f"2026-03-02 07:00 {line} by ben")


def test_anybody_takes_a_spare_and_says_what_for(book: Book) -> None:
    write_each(book, "2026-03-02 07:00 receive SP-SPRING 5 by sam")
    with pytest.raises(Refused, match="Say what SP-SPRING is taken for"):
        write(book, "2026-03-02 08:00 issue SP-SPRING 1 by ben")
    write(book, '2026-03-02 08:00 issue SP-SPRING 1 by ben because "jaw bent"')
    assert on_shelf(book, "SP-SPRING").number == 4
