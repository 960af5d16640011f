"""A plant that goes by codes: who is meant, what proves a name, and what the book takes without it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.plants import book_of, entries_of, number_of
from tests.plants_with_codes import HALL, NOON, SECRETS
from upkeep.book import Book
from upkeep.entries.bookkeeping import Note
from upkeep.entries.counting import Count
from upkeep.entries.keys import Given, Key, Withdrawn
from upkeep.entries.origin import FROM_A_FILE, IN_A_SHELL, Origin, Proof, Proven, WayIn
from upkeep.errors import NameNotProven, NotFound, Refused
from upkeep.keys.codes import MustWait, OnlyFirst, WrongCode

ANA, YARA, LEA = Proven("ana", Proof.CODE), Proven("yara", Proof.PASSWORD), Proven("lea", Proof.PASSWORD)
COUNT = Count(at=NOON, by="ana", press="P-07", value=1204300)


@pytest.fixture
def book(folder_with_codes: Path, tmp_path: Path) -> Iterator[Book]:
    shutil.copytree(folder_with_codes, tmp_path / "copy")
    with Book.open(tmp_path / "copy" / "plant.book") as book:
        yield book


# Who is meant


def test_only_a_whole_id_or_a_badge_is_a_person(book: Book) -> None:
    naming = book.naming
    assert [one.id for one in naming.meant("BEN ", NOON)] == ["ben"]
    for typed in ("", "b", "be", "benn", "Ben Somebody"):
        assert naming.meant(typed, NOON) == ()


def test_a_badge_names_both_jobs_of_one_human_being(book: Book) -> None:
    number = book.naming.keys.held.give_badge("ana", NOON)
    assert {one.id for one in book.naming.meant(number, NOON)} == {"ana", "ana-tools"}
    assert [one.id for one in book.naming.meant("ana-tools", NOON)] == ["ana-tools"]
    book.naming.keys.held.withdraw_badges("ana")
    assert book.naming.meant(number, NOON) == ()


def test_whoever_has_left_is_nobody(book: Book) -> None:
    assert book.naming.meant("gone", NOON) == ()
    with pytest.raises(Refused, match="may not sign"):
        book.naming.prove("gone", "000000", NOON)
    with pytest.raises(NotFound):
        book.naming.prove("nobody", "000000", NOON)


# What proves a name


def test_a_code_proves_an_operator_and_a_password_the_lead(book: Book) -> None:
    assert book.naming.prove("ana", SECRETS["ana"], NOON, HALL) == ANA
    assert book.naming.prove("lea", SECRETS["lea"], NOON, HALL) == LEA
    assert book.naming.prove("yara", SECRETS["yara"], NOON) == YARA  # a keeper, whatever her roles


def test_a_plant_of_names_only_takes_the_name(tmp_path: Path) -> None:
    with book_of(tmp_path) as book:
        assert book.naming.prove("ana", "", NOON) == Proven("ana", Proof.NONE)
        assert not book.naming.keys.exist


def test_a_first_code_proves_nothing_until_its_owner_has_chosen_another(book: Book) -> None:
    first = book.naming.keys.codes.give_first("tom", NOON, is_password=False)
    with pytest.raises(OnlyFirst):
        book.naming.prove("tom", first, NOON)
    for weak in (first, "123456", "tom", ""):
        with pytest.raises(Refused):
            book.naming.choose("tom", first, weak, NOON)
    book.naming.choose("tom", first, "884213", NOON)
    assert book.naming.prove("tom", "884213", NOON) == Proven("tom", Proof.CODE)
    with pytest.raises(WrongCode):
        book.naming.prove("tom", first, NOON)


def test_a_first_code_that_lies_about_for_a_week_is_void(book: Book) -> None:
    first = book.naming.keys.codes.give_first("tom", NOON, is_password=False)
    late = NOON + timedelta(days=7, seconds=1)
    with pytest.raises(Refused, match="not used in time"):
        book.naming.choose("tom", first, "884213", late)


def test_the_code_of_a_temporary_worker_ends_with_its_last_day(book: Book) -> None:
    first = book.naming.keys.codes.give_first("tom", NOON, is_password=False, until=date(2026, 3, 4))
    book.naming.choose("tom", first, "884213", NOON)
    assert book.naming.prove("tom", "884213", NOON + timedelta(days=2, hours=11)).person == "tom"
    with pytest.raises(Refused, match="ended on 2026-03-04"):
        book.naming.prove("tom", "884213", NOON + timedelta(days=2, hours=12))


def test_whoever_becomes_lead_needs_a_password(book: Book) -> None:
    book.naming.keys.codes.keep_own("lea", "884213", NOON, is_password=False, until=None)
    with pytest.raises(Refused, match="needs a password"):
        book.naming.prove("lea", "884213", NOON)


def test_without_the_file_of_keys_the_book_is_whole_and_nobody_is_proven(book: Book) -> None:
    path = book.naming.keys.path
    book.naming.keys.close()
    path.unlink()
    with pytest.raises(Refused, match="has no code yet"):
        book.naming.prove("ana", SECRETS["ana"], NOON)
    assert book.prove().differences == ()


# Guessing


def test_five_wrong_codes_begin_a_wait_that_grows(book: Book) -> None:
    naming, moment, waits = book.naming, NOON, []
    for _ in range(7):
        with pytest.raises(WrongCode) as wrong:
            naming.prove("ana", "000000", moment)
        waits.append(sum(wait.seconds for wait in wrong.value.waits))
        moment += timedelta(seconds=waits[-1])
    assert waits == [0, 0, 0, 0, 30, 60, 120]


def test_while_somebody_waits_the_right_code_is_not_looked_at(book: Book) -> None:
    for _ in range(5):
        with pytest.raises(WrongCode):
            book.naming.prove("ana", "000000", NOON)
    with pytest.raises(MustWait, match="12:00:30"):
        book.naming.prove("ana", SECRETS["ana"], NOON + timedelta(seconds=29))
    assert book.naming.prove("ana", SECRETS["ana"], NOON + timedelta(seconds=30)) == ANA


def test_many_guesses_at_once_are_no_faster(book: Book) -> None:
    def guess(code: int) -> str:
        try:
            book.naming.prove("ana", f"{code:06}", NOON)
        except Refused as refusal:
            return type(refusal).__name__
        return "proven"

    with ThreadPoolExecutor(20) as many:
        answers = list(many.map(guess, range(20)))
    assert sorted(answers) == ["MustWait"] * 15 + ["WrongCode"] * 5


def test_guessing_through_many_names_makes_the_station_wait(book: Book) -> None:
    for name in ("ana", "ben", "lea", "yara", "ana"):
        with pytest.raises(WrongCode) as wrong:
            book.naming.prove(name, "000000", NOON, HALL)
    assert [(wait.wrong, wait.whole_station) for wait in wrong.value.waits] == [(5, True)]
    with pytest.raises(MustWait, match="typed here"):
        book.naming.prove("ben", SECRETS["ben"], NOON, HALL)
    assert book.naming.prove("ben", SECRETS["ben"], NOON, "Hall B").person == "ben"


def test_ones_own_right_code_does_not_clear_the_guesses_at_others(book: Book) -> None:
    for _ in range(2):
        for name in ("lea", "yara"):
            with pytest.raises(WrongCode):
                book.naming.prove(name, "000000", NOON, HALL)
        book.naming.prove("ana", SECRETS["ana"], NOON, HALL)
    with pytest.raises(WrongCode):
        book.naming.prove("lea", "000000", NOON, HALL)
    with pytest.raises(MustWait):
        book.naming.prove("ana", SECRETS["ana"], NOON, HALL)


def test_two_accounts_of_one_human_being_wait_together(book: Book) -> None:
    first = book.naming.keys.codes.give_first("ana-tools", NOON, is_password=False)
    for name in ("ana", "ana-tools", "ana", "ana-tools", "ana"):
        with pytest.raises(WrongCode):
            book.naming.prove(name, "000000", NOON)
    with pytest.raises(MustWait):
        book.naming.prove("ana-tools", first, NOON)


def test_badges_of_nobody_make_the_station_wait(book: Book) -> None:
    waits = [book.naming.unknown(NOON, HALL) for _ in range(5)]
    assert [len(one) for one in waits] == [0, 0, 0, 0, 1]
    with pytest.raises(MustWait):
        book.naming.unknown(NOON, HALL)
    (entry,) = book.naming.wait_entries(waits[-1], NOON)
    book.write([entry], NOON, Origin(WayIn.SCREEN, HALL))
    assert book.newest_written(1)[0].text.endswith("wrong-codes 5 wait 30 station by yara")


def test_a_wait_is_written_into_the_book_under_the_name_that_nothing_proved(book: Book) -> None:
    for _ in range(5):
        with pytest.raises(WrongCode) as wrong:
            book.naming.prove("ana", "000000", NOON)
    entries = book.naming.wait_entries(wrong.value.waits, NOON, wrong.value.person.id)
    book.write(entries, NOON, IN_A_SHELL)
    newest = book.newest_written(1)[0]
    assert (newest.by, newest.kind, newest.proof) == ("ana", "wrong-codes", Proof.NONE)


# Sessions and tokens


def test_a_session_gives_the_proof_until_it_ends(book: Book) -> None:
    naming = book.naming
    number = naming.begin_session(ANA, NOON, HALL)
    assert naming.session(number, NOON + timedelta(seconds=89)) == ANA
    following = naming.begin_session(Proven("ben", Proof.CODE), NOON, HALL, instead_of=number)
    assert naming.session(number, NOON) is None
    assert naming.session(following, NOON + timedelta(seconds=90)) is None
    assert naming.session("0" * 32, NOON) is None


def test_a_token_speaks_for_its_person_until_its_last_day_or_until_it_is_withdrawn(book: Book) -> None:
    number = book.naming.keys.held.give_token("night list", "lea", NOON, date(2026, 3, 2))
    assert book.naming.prove_by_token(f"{number}\n", NOON) == Proven("lea", Proof.TOKEN)
    with pytest.raises(Refused, match="ended on 2026-03-02"):
        book.naming.prove_by_token(number, NOON + timedelta(days=1))
    book.naming.keys.held.withdraw_token("night list")
    with pytest.raises(Refused, match="not known"):
        book.naming.prove_by_token(number, NOON)


# What the book takes


@pytest.mark.parametrize("proof", [None, Proven("ana", Proof.NONE)])
@pytest.mark.parametrize("way", [IN_A_SHELL, FROM_A_FILE, Origin(), Origin(WayIn.PAGE), Origin(WayIn.SERVICE)])
def test_nothing_goes_in_under_a_name_that_nothing_proved(book: Book, way: Origin, proof: Proven | None) -> None:
    with pytest.raises(NameNotProven, match="Ana signs with a code"):
        book.write([COUNT], NOON, way, proof)
    with pytest.raises(NameNotProven):
        book.write([Note(at=NOON, by="ana", text="x")], NOON, way, proof)
    assert book.newest_written(1)[0].kind == "fit"


def test_what_was_proven_stands_with_the_entry(book: Book) -> None:
    book.write([COUNT], NOON, IN_A_SHELL, ANA)
    assert book.newest_written(1)[0].proof is Proof.CODE


def test_nobody_signs_with_the_name_of_another(book: Book) -> None:
    with pytest.raises(NameNotProven, match="nobody else may sign with it"):
        book.write([COUNT], NOON, IN_A_SHELL, Proven("ben", Proof.CODE))


def test_a_paper_needs_a_proven_name_of_whoever_types_it(book: Book) -> None:
    paper = Origin(WayIn.SHEET, proof=Proof.PAPER, entered_by="lea")
    for proof in (None, ANA, Proven("lea", Proof.NONE)):
        with pytest.raises(NameNotProven):
            book.write([COUNT], NOON, paper, proof)
    book.write([COUNT], NOON, paper, LEA)
    newest = book.newest_written(1)[0]
    assert (newest.by, newest.proof, newest.entered_by) == ("ana", Proof.PAPER, "lea")


def test_a_keeper_enters_what_was_lost_and_it_stays_marked(book: Book) -> None:
    with pytest.raises(NameNotProven):
        book.write([COUNT], NOON, FROM_A_FILE, LEA)
    book.write([COUNT], NOON, FROM_A_FILE, YARA)
    newest = book.newest_written(1)[0]
    assert (newest.by, newest.proof, newest.entered_by) == ("ana", Proof.NONE, "yara")


def test_definitions_need_a_proven_name_too(book: Book) -> None:
    with pytest.raises(NameNotProven):
        book.write(entries_of(book, '2026-03-02 12:00 define place "x" {"id":"x"} by lea'.replace('"x" ', "x ")), NOON)


# Who gives and withdraws


def test_a_keeper_gives_codes_and_the_book_says_so_but_not_what_they_are(book: Book) -> None:
    book.write([Given(at=NOON, by="yara", key=Key.CODE, person="tom")], NOON, IN_A_SHELL, YARA)
    assert book.newest_written(1)[0].text.endswith('given code "tom" by yara')


@pytest.mark.parametrize(
    "entry",
    [
        Given(at=NOON, by="ana", key=Key.CODE, person="ben"),
        Given(at=NOON, by="ana", key=Key.BADGE, person="ana"),
        Given(at=NOON, by="ana", key=Key.TOKEN, person="ana", name="mine"),
        Withdrawn(at=NOON, by="ana", key=Key.CODE, person="ben"),
    ],
)
def test_an_operator_gives_nothing_to_others_and_no_badge_or_token_at_all(book: Book, entry: Given | Withdrawn) -> None:
    with pytest.raises(Refused, match="Ask a keeper of the book: Yara Holm or Zoltan Reker"):
        book.write([entry], NOON, IN_A_SHELL, ANA)


def test_everybody_chooses_their_own_code(book: Book) -> None:
    book.write([Given(at=NOON, by="ana", key=Key.CODE, person="ana")], NOON, IN_A_SHELL, ANA)


def test_while_the_keeper_is_away_the_lead_gives_codes_for_some_days(book: Book) -> None:
    def given(key: Key, person: str, until: date | None) -> Given:
        return Given(at=NOON, by="lea", key=key, person=person, until=until)

    book.write([given(Key.CODE, "tom", date(2026, 3, 9))], NOON, IN_A_SHELL, LEA)
    for key, person, until in (
        (Key.CODE, "tom", date(2026, 3, 10)),
        (Key.CODE, "tom", None),
        (Key.PASSWORD, "zoltan", date(2026, 3, 9)),
        (Key.TOKEN, "lea", date(2026, 3, 9)),
    ):
        with pytest.raises(Refused):
            book.write([given(key, person, until)], NOON, IN_A_SHELL, LEA)


def test_the_lead_makes_a_lost_badge_void_at_once(book: Book) -> None:
    book.write([Withdrawn(at=NOON, by="lea", key=Key.BADGE, person="ana")], NOON, IN_A_SHELL, LEA)


def test_a_keeper_may_begin_without_a_code_and_nobody_else(book: Book) -> None:
    book.write([Given(at=NOON, by="zoltan", key=Key.PASSWORD, person="zoltan")], NOON, IN_A_SHELL)
    assert book.newest_written(1)[0].proof is Proof.NONE
    with pytest.raises(NameNotProven):
        book.write([Given(at=NOON, by="lea", key=Key.PASSWORD, person="lea")], NOON, IN_A_SHELL)
    with pytest.raises(NameNotProven):
        book.write([Given(at=NOON, by="zoltan", key=Key.PASSWORD, person="lea")], NOON, IN_A_SHELL)


def test_the_second_signature_is_another_person_with_their_own_code(book: Book) -> None:
    wrong = entries_of(book, "2026-03-02 12:00 verify #3 by ben")
    with pytest.raises(NameNotProven):
        book.write(wrong, NOON, IN_A_SHELL, ANA)


def test_codes_asked_for_from_now_on_leave_the_past_as_it_is(tmp_path: Path) -> None:
    with book_of(tmp_path, "2026-03-02 06:00 count P-07 1204300 by ana") as book:
        first = book.newest_written(1)[0]
        assert number_of(book.write([COUNT], NOON)) > first.entry
