"""Jobs: begun, interrupted, taken over, done or given up.  Locks: hung by many, each taken off by its owner."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.plants import at, book_of, person, task, write
from upkeep.book import Book
from upkeep.errors import NotFound, Refused

TEXT = """
    2026-03-01 04:00 count P-07 0 by lea
    2026-03-02 06:00 fit M-12 in P-07 at P-07 1000 by ana
"""
LUBE = task(
    "lube", "module", every="3 days", by=["operator", "maintenance technician"], steps=["open", "grease", "close"]
)
PROCEDURE = "Call the owner twice, see that nobody is at the press, tell the owner at the gate."


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A press with a module, three people who may grease it, and one who may not."""
    people = [person("quin", "Quin", "quality technician")]
    with book_of(tmp_path, TEXT, tasks=[LUBE], more=people, lock_removal=PROCEDURE) as opened:
        yield opened


def notes(book: Book, text: str) -> str:
    """What the book says besides to an entry it takes."""
    return " ".join(map(str, write(book, text).notes))


def number(book: Book) -> int:
    """The number of the last entry."""
    return book.newest_written(1)[0].entry


def alarms(book: Book, when: str) -> list[str]:
    """What waits to be seen as an alarm."""
    asked = map(str, (one.asks for one in book.questions(at(when))))
    return [sentence for sentence in asked if sentence.startswith("ALARM")]


def test_a_job_is_begun_left_and_taken_over_and_its_sign_off_ends_it(book: Book) -> None:
    """Whose it is, since when, what it waits for and how far it is stand on its line, and who had it before."""
    write(book, "2026-03-02 09:10 start M-12/lube by ana")
    job = book.line("M-12/lube", at("2026-03-02 09:15")).job
    assert job is not None
    assert (job.name, job.since, job.interrupted_at) == ("Ana", at("2026-03-02 09:10"), None)
    write(book, f'2026-03-02 09:30 interrupt #{job.number} step 2 left "bench 2" by ana because "waits for a brush"')
    job = book.line("M-12/lube", at("2026-03-02 09:31")).job
    assert job is not None
    assert (job.interrupted_at, job.why, job.step, job.steps, job.left) == (
        at("2026-03-02 09:30"), "waits for a brush", 2, 3, "bench 2",
    )  # fmt: skip
    assert "taken over from Ana" in notes(book, f"2026-03-02 10:00 go-on #{job.number} by ben")
    (job,) = book.jobs(at("2026-03-02 10:01"))
    assert (job.name, job.before, job.interrupted_at) == ("Ben", ("Ana",), None)
    write(book, "2026-03-02 10:20 sign M-12/lube for 2026-03-04 by lea")
    assert book.jobs(at("2026-03-02 10:21")) == ()
    assert len(book.jobs(at("2026-03-02 10:10"))) == 1
    assert book.prove().differences == ()


def test_a_struck_sign_off_gives_its_job_back(book: Book) -> None:
    """And striking the beginning takes the job away."""
    write(book, "2026-03-02 09:10 start M-12/lube by ana")
    began = number(book)
    write(book, "2026-03-02 10:20 sign M-12/lube for 2026-03-04 by lea")
    write(book, f'2026-03-02 10:30 strike #{number(book)} by lea because "another module"')
    assert [job.number for job in book.jobs(at("2026-03-02 10:31"))] == [began]
    write(book, f'2026-03-02 10:40 strike #{began} by lea because "never begun"')
    assert book.jobs(at("2026-03-02 10:41")) == ()
    assert book.prove().differences == ()


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("2026-03-02 09:20 start M-12/lube by ben", "Ana began M-12/lube"),
        ("2026-03-02 09:20 go-on #{job} by ana", "You are working on M-12/lube already"),
        ('2026-03-02 09:20 interrupt #{job} by ben because "x"', "Take it over first"),
        ("2026-03-02 09:20 interrupt #{job} by ana", "Say what M-12/lube waits for"),
        ('2026-03-02 09:20 interrupt #{job} step 4 by ana because "x"', "has 3 steps, not 4"),
        ("2026-03-02 09:20 give-up #{job} by ana", "Say why M-12/lube is given up"),
        ("2026-03-02 09:20 go-on #{job} by quin", "may not sign Task lube on M-12"),
        ('2026-03-02 09:00 interrupt #{job} by ana because "x"', "nothing can have become of that job before"),
        ("2026-03-02 09:20 start P-07/lube by ana", "is no work on P-07"),
        ('2026-03-02 09:20 start M-12/lube by ana corrects #{job} because "x"', "is struck, and written anew"),
    ],
)  # fmt: skip
def test_what_cannot_become_of_a_job_is_refused(book: Book, text: str, why: str) -> None:
    """Somebody else's, what nobody may sign, what says nothing."""
    write(book, "2026-03-02 09:10 start M-12/lube by ana")
    with pytest.raises(Refused, match=why):
        write(book, text.format(job=number(book)))


def test_a_job_that_is_over_takes_nothing_more(book: Book) -> None:
    """Given up, it can be begun anew."""
    write(book, "2026-03-02 09:10 start M-12/lube by ana")
    job = number(book)
    write(book, f'2026-03-02 09:20 give-up #{job} by ana because "no grease"')
    with pytest.raises(NotFound):
        write(book, f"2026-03-02 09:30 go-on #{job} by ben")
    write(book, "2026-03-02 09:40 start M-12/lube by ben")
    assert [one.name for one in book.jobs(at("2026-03-02 09:41"))] == ["Ben"]
    assert book.prove().differences == ()


def test_what_was_done_before_the_press_ran_counts_no_more(book: Book) -> None:
    """A count that says so makes the job begin anew, also after somebody has gone on with it."""
    write(book, "2026-03-02 09:10 start M-12/lube by ana")
    job = number(book)
    write(book, f'2026-03-02 09:30 interrupt #{job} step 2 by ana because "shift ends"')
    write(book, "2026-03-02 09:31 count P-07 1000 by ana")
    assert book.jobs(at("2026-03-02 09:40"))[0].ran == 0
    write(book, "2026-03-02 12:00 count P-07 1400 by ben")
    assert book.jobs(at("2026-03-02 12:01"))[0].ran == 400
    said = notes(book, f"2026-03-02 12:05 go-on #{job} by ben")
    assert "400 strokes while the job waited" in said
    assert "Begin at step 1" in said


def test_each_lock_comes_off_by_its_owner_and_the_press_is_not_released_before(book: Book) -> None:
    """Group work: several locks on one press."""
    write(book, '2026-03-02 08:00 hold P-07 by ana because "noise"')
    write(book, '2026-03-02 09:00 lock P-07 "main switch" by ana')
    first = number(book)
    write(book, '2026-03-02 09:01 lock P-07 "air valve" by ben')
    second = number(book)
    assert [(lock.name, lock.point) for lock in book.locks(at("2026-03-02 09:02"))] == [
        ("Ana", "main switch"), ("Ben", "air valve"),
    ]  # fmt: skip
    with pytest.raises(Refused, match=r"P-07 is locked: Ana at main switch, Ben at air valve"):
        write(book, '2026-03-02 09:30 release P-07 by lea because "quiet"')
    with pytest.raises(
        Refused, match=r"Ben \(operator\) may not take somebody else's lock off the list.* Ask Ana or Lea"
    ):
        write(book, f"2026-03-02 09:31 unlock #{first} by ben")
    with pytest.raises(Refused, match="hangs at 'main switch' of P-07 already"):
        write(book, '2026-03-02 09:32 lock P-07 "Main switch" by ana')
    write(book, f"2026-03-02 09:40 unlock #{first} by ana")
    write(book, f"2026-03-02 09:41 unlock #{second} by ben")
    write(book, '2026-03-02 09:42 release P-07 by lea because "quiet"')
    assert book.locks(at("2026-03-02 09:43")) == ()
    assert len(book.locks(at("2026-03-02 09:30"))) == 2
    with pytest.raises(Refused, match="came off"):
        write(book, f"2026-03-02 09:45 unlock #{first} by ana")
    assert book.prove().differences == ()


def test_a_press_that_counts_while_it_is_locked_is_an_alarm_until_somebody_has_seen_it(book: Book) -> None:
    """What it may have done before the lock was hung is no proof; two readings under the lock are."""
    write(book, '2026-03-02 09:00 lock P-07 "main switch" by ana')
    first = number(book)
    write(book, '2026-03-02 09:20 lock P-07 "air valve" by ben')
    second = number(book)
    assert "ALARM" not in notes(book, "2026-03-02 09:30 count P-07 1400 by ana")
    assert alarms(book, "2026-03-02 09:31") == []
    told = notes(book, "2026-03-02 09:40 count P-07 1450 by ana")
    assert "ALARM: P-07 has been locked since" in told
    assert "(Ana at main switch, Ben at air valve) and has counted at least 50 strokes since" in told
    assert "stop it and look, at once" in told
    write(book, f"2026-03-02 09:50 unlock #{first} by ana")
    write(book, f"2026-03-02 09:55 unlock #{second} by ben")
    (asked,) = alarms(book, "2026-03-02 12:00")
    assert "P-07 counted at least 50 strokes while it was locked" in asked
    assert "ALARM" not in notes(book, "2026-03-02 12:00 count P-07 2000 by ana")
    for entry in book.seen("P-07", "lea", at("2026-03-02 12:05")):
        book.write([entry], lambda: at("2026-03-02 12:05"))
    assert alarms(book, "2026-03-02 12:10") == []
    assert book.prove().differences == ()


def test_the_alarm_of_a_locked_press_names_who_has_to_know(tmp_path: Path) -> None:
    """The safety officer by name, and each locked time by itself."""
    text = TEXT + (
        '2026-03-02 09:00 lock P-07 "main switch" by ana\n2026-03-02 09:10 count P-07 1400 by ana\n'
        "2026-03-02 09:20 count P-07 1450 by ana\n2026-03-02 09:30 unlock #LOCK by ana\n"
        '2026-03-02 10:00 lock P-07 "main switch" by ana\n2026-03-02 10:10 count P-07 1500 by ana\n'
        "2026-03-02 10:20 count P-07 1600 by ana\n"
    )
    with book_of(tmp_path, more=[person("sara", "Sara", "safety officer")]) as book:
        for row in filter(None, map(str.strip, text.splitlines())):
            write(book, row.replace("#LOCK", f"#{number(book) - 2}"))
        told = alarms(book, "2026-03-02 11:00")
    assert len(told) == 2
    assert "50 strokes while it was locked" in told[0]
    assert "has counted at least 100 strokes since" in told[1]
    assert all("the safety officer (Sara) have to know of it" in one for one in told)


def test_the_lock_of_somebody_who_is_away_comes_off_by_the_plants_procedure_alone(book: Book) -> None:
    """By the lead, with a third person as witness and the reason (as 29 CFR 1910.147(e)(3) asks for; from memory)."""
    write(book, '2026-03-02 09:00 lock P-07 "main switch" by ana')
    lock = number(book)
    with pytest.raises(Refused, match="Only its owner strikes a lock"):
        write(book, f'2026-03-02 22:00 strike #{lock} by lea because "gone home"')
    with pytest.raises(Refused, match=r"name a witness and say why.*Call the owner twice"):
        write(book, f"2026-03-02 22:00 unlock #{lock} by lea")
    with pytest.raises(Refused, match="The witness is a third person"):
        write(book, f'2026-03-02 22:00 unlock #{lock} witness ana by lea because "gone home"')
    said = notes(book, f'2026-03-02 22:00 unlock #{lock} witness ben by lea because "gone home, not reached"')
    assert PROCEDURE in said
    assert "Ana has to know of it before working on P-07 again" in said
    assert book.locks(at("2026-03-02 22:01")) == ()


def test_a_plant_without_a_procedure_takes_nobody_elses_lock_off_the_list(tmp_path: Path) -> None:
    """It has to be written before."""
    with book_of(tmp_path, TEXT + '2026-03-02 09:00 lock P-07 "main switch" by ana') as book:
        text = f'2026-03-02 22:00 unlock #{number(book)} witness ben by lea because "gone home"'
        with pytest.raises(Refused, match="states no procedure"):
            write(book, text)
