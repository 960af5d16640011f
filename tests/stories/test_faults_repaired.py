"""A fault from its report to the release: what each step asks, and what is refused.

The proofs before a release (hand cycle, first piece, guard; a pull test for the crimp) are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, number_of, person, task, write, write_each
from upkeep.book import Book
from upkeep.errors import NotFound, Refused
from upkeep.views.faults import FaultCase

ON_PRESS = """
    2026-03-02 06:00 count P-07 1000 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 1000 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""
RELEASE = '2026-03-02 08:20 release M-12 by lea because "feeds again"'


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A module with its die set on a press."""
    with book_of(tmp_path, ON_PRESS) as opened:
        yield opened


def reported(book: Book, words: str = 'M-12 "Terminal not fed or half fed" listed not-fed stopped') -> int:
    """The number of a fault reported at 07:00."""
    return number_of(write(book, f"2026-03-02 07:00 fault {words} by ben"))


def case(book: Book, number: int, moment: str = "2026-03-02 16:00") -> FaultCase:
    """The fault at a moment."""
    return book.faults(at(moment)).case(number)


def refused(book: Book, line: str) -> str:
    """The sentence with which a line is refused."""
    with pytest.raises(Refused) as refusal:
        write(book, line)
    return str(refusal.value)


def test_a_fault_goes_from_report_to_release_with_its_three_times(book: Book) -> None:
    """Taken after 12 minutes, fixed 33 minutes later, released 80 minutes after the report."""
    number = reported(book)
    write_each(
        book,
        f"""
        2026-03-02 07:12 repair #{number} taken by tom
        2026-03-02 07:15 repair #{number} checked what air yes by tom
        2026-03-02 07:20 repair #{number} checked what clean no text "strip ends on the wheel" by tom
        2026-03-02 07:45 repair #{number} fixed cause debris text "wheel brushed" by tom
        2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by ana
        {RELEASE}
        """,
    )
    found = case(book, number)
    assert (found.response, found.repair, found.restoration) == (12, 33, 80)
    assert (found.state, found.cause, found.found_by, found.missing) == ("released", "debris", "clean", ())
    assert found.cause_title == "debris on the feed wheel"
    assert [(one.check, one.yes) for one in found.answers] == [("air", True), ("clean", False)]
    assert (found.taken_by, found.module) == ("Tom", "M-12")
    assert book.holds() == ()


@pytest.mark.parametrize(
    ("steps", "lacks"),
    [
        ((), ("not fixed", "not verified (hand-cycle, first-piece, guard)")),
        (('fixed cause debris text "brushed"',), ("not verified (hand-cycle, first-piece, guard)",)),
    ],
)
def test_what_a_fault_stopped_is_not_released_before_it_is_fixed_and_verified(
    book: Book, steps: tuple[str, ...], lacks: tuple[str, ...]
) -> None:
    """The sentence names the fault and what is missing; it stays held."""
    number = reported(book)
    for step in steps:
        write(book, f"2026-03-02 07:30 repair #{number} {step} by tom")
    sentence = refused(book, RELEASE)
    assert sentence.startswith(f"M-12 cannot be released yet: fault #{number} (Terminal not fed or half fed) is ")
    assert all(one in sentence for one in lacks)
    assert book.holds()[0][0] == "M-12"


def test_who_may_release_stays_who_may_release(book: Book) -> None:
    """Fixed and verified, it still takes the lead or quality."""
    number = reported(book)
    write_each(
        book,
        f"""
        2026-03-02 07:45 repair #{number} fixed cause debris text "brushed" by tom
        2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by ana
        """,
    )
    assert "may not release what is held" in refused(book, RELEASE.replace("by lea", "by tom"))
    write(book, RELEASE)


def test_a_fix_after_the_proof_asks_for_another_proof(book: Book) -> None:
    """The guard was seen before the last screw was turned."""
    number = reported(book)
    write_each(
        book,
        f"""
        2026-03-02 07:45 repair #{number} fixed cause debris text "brushed" by tom
        2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by ana
        2026-03-02 08:10 repair #{number} fixed cause feed-speed text "throttle opened" by tom
        """,
    )
    assert "not verified" in refused(book, RELEASE)
    assert case(book, number).cause == "feed-speed"


def test_every_stopped_fault_of_an_item_is_named(book: Book) -> None:
    """Two faults, one repaired: the other still holds it."""
    first, second = reported(book), reported(book, 'M-12 "guard loose" stopped')
    write_each(
        book,
        f"""
        2026-03-02 07:45 repair #{first} fixed cause debris text "brushed" by tom
        2026-03-02 08:00 repair #{first} verified what hand-cycle,first-piece,guard by ana
        """,
    )
    sentence = refused(book, RELEASE)
    assert f"#{second} (guard loose)" in sentence
    assert f"#{first}" not in sentence


def test_a_fault_of_the_crimp_is_proven_by_a_pull_test_too(book: Book) -> None:
    """Each proof that is missing is named."""
    number = reported(book, 'DS-031 "Pull test below minimum" listed pull-low stopped')
    write(book, f'2026-03-02 07:45 repair #{number} fixed cause worn text "punch changed" by tom')
    words = f"2026-03-02 08:00 repair #{number} verified what"
    assert refused(book, f"{words} hand-cycle,first-piece by ana") == (
        f"To verify #{number}, these are still missing: guard (guard in place and working); pull (pull test good)."
    )
    assert "'looked' is not a way to verify a repair" in refused(book, f"{words} looked by ana")
    write(book, f"{words} hand-cycle,first-piece,guard,pull by ana")


def test_a_gauge_is_proven_by_its_block(book: Book) -> None:
    """Nobody hand cycles a micrometer."""
    number = reported(book, 'G-1 "dropped" stopped')
    write_each(
        book,
        f"""
        2026-03-02 07:45 repair #{number} fixed cause other text "anvil faces cleaned, zero set" by lea
        2026-03-02 08:00 repair #{number} verified what block by tom
        2026-03-02 08:10 release G-1 by lea because "reads right"
        """,
    )
    assert case(book, number).state == "released"


def test_a_fault_that_stopped_nothing_is_closed_after_its_proof(book: Book) -> None:
    """Not before; and what was stopped is not closed but released."""
    number = reported(book, 'M-12 "Unusual noise or heat" listed noise-heat')
    close = f"2026-03-02 09:00 repair #{number} closed by tom"
    assert "cannot be closed until it is fixed; verified (hand-cycle, first-piece, guard)" in refused(book, close)
    write_each(
        book,
        f"""
        2026-03-02 07:45 repair #{number} fixed cause bearing text "greased" by tom
        2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by ana
        """,
    )
    write(book, close)
    found = case(book, number)
    assert (found.state, found.restoration) == ("closed", 120)
    stopped = reported(book)
    assert "releasing the item closes the fault" in refused(book, f"2026-03-02 09:00 repair #{stopped} closed by tom")
    assert "report it again" in refused(book, f"2026-03-02 10:00 repair #{number} taken by tom")


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("fixed", "Name the cause. It is one of:\n  worn: worn punch, anvil or radius"),
        ("fixed cause unknown", "Name the cause"),
        ("fixed cause debris", "Say what was done"),
        ("fixed cause other", "Describe the other cause in your own words"),
        ("checked what air", "Answer one check with yes (all is well) or no (it found something):\n  air: "),
        ("checked what air,clean no", "Answer one check"),
        ("checked what rubbish no", "Answer one check"),
        ("verified what hand-cycle,first-piece,guard", "is not fixed yet"),
        ("analysed cause adjusted", "Tom (maintenance technician) may not sign a root cause"),
        ("taken cause debris", "'taken' takes no cause"),
        ("mended", "'mended' is not a step of a repair. Use one of: taken, checked"),
    ],
)
def test_a_step_says_all_that_it_means_and_nothing_else(book: Book, step: str, sentence: str) -> None:
    """What is missing is asked for with what there is to choose from."""
    number = reported(book)
    assert sentence in refused(book, f"2026-03-02 07:30 repair #{number} {step} by tom")


def test_no_step_comes_before_the_report_or_on_a_fault_that_is_none(book: Book) -> None:
    """Nor on one that was struck."""
    number = reported(book)
    assert "no step can be earlier than that" in refused(book, f"2026-03-02 06:59 repair #{number} taken by tom")
    write(book, f'2026-03-02 07:05 strike #{number} by ben because "wrong module"')
    for other in (number, 1, 9999):
        with pytest.raises(NotFound, match="no fault in effect"):
            write(book, f"2026-03-02 07:30 repair #{other} taken by tom")


def test_a_double_cycling_press_is_held_by_its_report_and_touched_by_maintenance_only(book: Book) -> None:
    """Whether or not the operator said that it stands; the caution comes with the answer."""
    written = write(book, '2026-03-02 07:00 fault P-07 "Press double-cycles" listed double-cycles by ben')
    number = number_of(written)
    assert str(written.notes[0]).startswith("STOP the press now and lock it off. Maintenance only")
    assert case(book, number).stopped
    assert book.holds()[0][0] == "P-07"
    assert "Ben (operator) may not work on" in refused(book, f"2026-03-02 07:05 repair #{number} taken by ben")
    write(book, f"2026-03-02 07:05 repair #{number} taken by tom")


def test_a_symptom_that_is_not_in_the_list_is_refused_as_one(book: Book) -> None:
    """It can be told in words."""
    assert "'feedy' is not a symptom in the list" in refused(
        book, '2026-03-02 07:00 fault M-12 "x" listed feedy by ben'
    )
    assert case(book, reported(book, 'M-12 "rattles"')).listed is None


def test_steps_stay_with_a_fault_that_is_corrected(book: Book) -> None:
    """It gets another number; what was done on it is still done."""
    number = reported(book)
    write(book, f"2026-03-02 07:12 repair #{number} taken by tom")
    again = number_of(
        write(
            book,
            '2026-03-02 07:00 fault M-12 "Terminal not fed or half fed, left" listed not-fed stopped by ben '
            f'recorded 2026-03-02 07:20 corrects #{number} because "which side"',
        )
    )
    assert (case(book, again).response, case(book, again).state) == (12, "taken")


def test_a_cause_written_wrongly_is_corrected_after_the_release(book: Book) -> None:
    """The fault stays released."""
    number = reported(book)
    fixed = number_of(write(book, f'2026-03-02 07:45 repair #{number} fixed cause worn text "brushed" by tom'))
    write_each(book, f"2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by ana\n{RELEASE}")
    write(
        book,
        f'2026-03-02 07:45 repair #{number} fixed cause debris text "brushed" by tom recorded 2026-03-02 09:00 '
        f'corrects #{fixed} because "wrong key"',
    )
    assert (case(book, number).cause, case(book, number).state) == ("debris", "released")
    assert book.prove().differences == ()


def test_a_fault_of_the_past_is_seen_as_it_stood_then(book: Book) -> None:
    """At 07:30 it was taken and nothing more."""
    number = reported(book)
    write_each(
        book,
        f"""
        2026-03-02 07:12 repair #{number} taken by tom
        2026-03-02 07:45 repair #{number} fixed cause debris text "wheel brushed" by tom
        """,
    )
    then = case(book, number, "2026-03-02 07:30")
    assert (then.state, then.cause) == ("taken", None)
    assert case(book, number).state == "fixed"


def test_that_it_was_stopped_is_not_taken_back_by_everybody(book: Book) -> None:
    """The one who wrote it may have meant another item; anybody else would release it that way."""
    number = reported(book)
    correction = '2026-03-02 07:00 fault M-12 "feeds badly" by {} recorded 2026-03-02 07:30 corrects #{} because "no"'
    assert "may not release what is held" in refused(book, correction.format("tom", number))
    again = number_of(write(book, correction.format("ben", number)))
    assert not case(book, again).stopped


def test_what_is_open_is_what_has_not_ended(book: Book) -> None:
    """Closed, released and struck ones are not; one told in words that end like a stop is."""
    closed, stopped = reported(book, 'M-12 "noise"'), reported(book)
    struck, still = reported(book, 'M-12 "x" stopped'), reported(book, 'DS-031 "the feed has stopped"')
    crash = reported(book, 'P-07 "bang" stopped crash')
    steps = ('fixed cause debris text "brushed" by tom', "verified what hand-cycle,first-piece,guard by ana")
    for number in (closed, stopped):
        write_each(book, "\n".join(f"2026-03-02 07:45 repair #{number} {step}" for step in steps))
    write_each(
        book,
        f"""
        2026-03-02 07:50 strike #{struck} by ben because "no"
        2026-03-02 07:55 repair #{closed} closed by tom
        {RELEASE}
        """,
    )
    found = book.faults(at("2026-03-02 16:00")).listing(only_open=True)
    assert [one.number for one in found.faults] == [crash, still]


def test_whoever_fixed_a_fault_does_not_verify_it(book: Book) -> None:
    """Two people look at it."""
    number = reported(book)
    write(book, f'2026-03-02 07:45 repair #{number} fixed cause debris text "brushed" by tom')
    verified = f"2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by"
    assert f"Tom fixed #{number}; somebody else must verify it." in refused(book, f"{verified} tom")
    write(book, f"{verified} ana")


def test_a_second_account_of_one_person_verifies_nothing(tmp_path: Path) -> None:
    """Whether the plant says that it is the same person or it only has the same name; where one works alone, the plant
    says so."""
    others = [person("tom2", "T. of the night", "operator", same_as="tom"), person("tom3", "TOM", "operator")]
    for alone in (False, True):
        (tmp_path / str(alone)).mkdir()
        with book_of(tmp_path / str(alone), more=others, verified_by_fixer=alone) as book:
            number = reported(book)
            write(book, f'2026-03-02 07:45 repair #{number} fixed cause debris text "brushed" by tom')
            for account in ("tom2", "tom3"):
                words = f"2026-03-02 08:00 repair #{number} verified what hand-cycle,first-piece,guard by {account}"
                if alone:
                    write(book, words)
                else:
                    assert "somebody else must verify it" in refused(book, words)


def test_a_second_account_gives_no_second_signature(tmp_path: Path) -> None:
    """A person is one; accounts hang on it."""
    looked = task("look", "die set", second_signature="operator")
    with book_of(tmp_path, tasks=[looked], more=[person("tom2", "Tom", "operator")]) as book:
        number = number_of(write(book, "2026-03-02 07:00 sign DS-031/look for extra by tom"))
        assert "somebody else must give the second signature" in refused(
            book, f"2026-03-02 07:05 verify #{number} by tom2"
        )
        write(book, f"2026-03-02 07:05 verify #{number} by ben")
