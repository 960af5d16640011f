"""A press that moves, ids that come back, people who leave.  All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, line_at, person, state, strokes, task, why_of, write, write_each
from upkeep.book import BoardQuery, Book, Written
from upkeep.due.states import State
from upkeep.errors import Refused
from upkeep.plant.definition import Definition

WIPE = task("wipe", "press", every="7 days")


def load(book: Book, definition: Definition, moment: str) -> Written:
    """Loads a changed definition."""
    return book.load([definition], at(moment), "lea", at(moment), because="as it is now")


# P-07 goes to another line in the middle of the month


def moved(tmp_path: Path) -> Book:
    """P-07 stands in the press hall until 16 March, and at line 2 from then on."""
    line_2 = define("place", "line-2", title="Line 2", area="line 2", route=3)
    book = book_of(tmp_path, "2026-03-02 06:00 count P-07 10000 by ana", tasks=[WIPE], more=[line_2])
    write(book, "2026-03-08 10:00 sign P-07/wipe for 2026-03-08 by tom")
    write(book, "2026-03-16 10:00 count P-07 30000 by ana")
    load(book, item("P-07", place="line-2"), "2026-03-16 12:00")
    write_each(
        book,
        """
        2026-03-17 10:00 sign P-07/wipe for 2026-03-15 by tom
        2026-03-20 10:00 count P-07 42000 by ana
        """,
    )
    return book


def overdue_in(book: Book, area: str, moment: str) -> list[str]:
    """The overdue lines of P-07 that a board of an area shows."""
    query = BoardQuery(area=area, item="P-07", states=frozenset({State.OVERDUE}))
    return [row.line for row in book.board(at(moment), query).rows]


def test_a_late_job_belongs_to_the_line_at_which_the_press_stood_then(tmp_path: Path) -> None:
    """Overdue on the 16th: before noon that is the press hall's, after it line 2's; afterwards nobody's."""
    book = moved(tmp_path)
    seen = {
        moment: (overdue_in(book, "press hall", moment), overdue_in(book, "line 2", moment))
        for moment in ("2026-03-16 11:00", "2026-03-16 13:00", "2026-03-17 11:00")
    }
    assert seen == {
        "2026-03-16 11:00": (["P-07/wipe"], []),
        "2026-03-16 13:00": ([], ["P-07/wipe"]),
        "2026-03-17 11:00": ([], []),
    }


def test_the_history_and_the_strokes_of_the_press_stay_in_one_piece(tmp_path: Path) -> None:
    """32,000 strokes and both sign-offs, whatever line it stood at."""
    book = moved(tmp_path)
    assert strokes(book, "P-07", "2026-03-20 10:00") == (32_000, 32_000, 32_000)
    kinds = [line.kind for line in book.history("P-07")]
    assert (kinds.count("sign"), kinds.count("count"), kinds.count("define")) == (2, 3, 2)


# The id of a scrapped die set is used again


def scrapped(tmp_path: Path) -> Book:
    """DS-031 is scrap since 10 March."""
    book = book_of(tmp_path, tasks=[task("inspect", "die set", strokes=5_000)])
    load(book, item("DS-031", scrapped="2026-03-10"), "2026-03-10 08:00")
    return book


@pytest.mark.parametrize("again", [{}, {"scrapped": "2026-04-01"}, {"title": "a new one"}])
def test_the_id_of_a_scrapped_set_is_never_used_again(tmp_path: Path, again: dict[str, str]) -> None:
    """Not for the set itself, not for a new one."""
    book = scrapped(tmp_path)
    with pytest.raises(Refused, match="DS-031 was scrapped on 2026-03-10; an id is never used again"):
        load(book, item("DS-031", **again), "2026-03-12 08:00")


def test_a_scrapped_set_is_neither_fitted_nor_signed(tmp_path: Path) -> None:
    """Whoever reads that id on the metal is told to look again."""
    book = scrapped(tmp_path)
    with pytest.raises(Refused, match="DS-031 was scrapped on 2026-03-10 and cannot be used again"):
        write(book, "2026-03-12 08:00 fit DS-031 in M-12 by ana")
    with pytest.raises(Refused, match="DS-031 was scrapped on 2026-03-10; there is nothing to sign on it"):
        write(book, "2026-03-12 08:00 sign DS-031/inspect for extra by ana")


def test_what_it_did_stays_to_be_read(tmp_path: Path) -> None:
    """It makes no lines any more; its history stays."""
    book = scrapped(tmp_path)
    assert book.board(at("2026-03-12 08:00"), BoardQuery(item="DS-031")).total == 0
    assert len(book.history("DS-031")) == 2


# Ben leaves


def left(tmp_path: Path) -> Book:
    """Ben wiped P-07 and left on 10 March."""
    book = book_of(tmp_path, "2026-03-08 10:00 sign P-07/wipe for 2026-03-08 by ben", tasks=[WIPE])
    load(book, person("ben", "Ben", "operator", until="2026-03-10"), "2026-03-11 08:00")
    return book


def test_what_somebody_signed_keeps_their_name_when_they_have_left(tmp_path: Path) -> None:
    """In the history, and in the sentence of the line."""
    book = left(tmp_path)
    assert [line.by_name for line in book.history("P-07") if line.kind == "sign"] == ["Ben"]
    assert "last done 2026-03-08 10:00 by Ben" in why_of(book, line_at(book, "P-07/wipe", "2026-03-12 08:00"))


def test_their_account_signs_no_more(tmp_path: Path) -> None:
    """Not after the last day; what they did before it may still be told."""
    book = left(tmp_path)
    with pytest.raises(
        Refused, match=r"Ben \(ben\) has not been allowed to sign since 2026-03-10\. Sign with your own id"
    ):
        write(book, "2026-03-15 10:00 sign P-07/wipe for 2026-03-15 by ben")
    assert ("ben", "Ben") not in book.sign_form("P-07/wipe", at("2026-03-15 10:00")).signers
    write(book, '2026-03-10 10:00 fault P-07 "belt loose" by ben recorded 2026-03-11 09:00')


def test_their_id_is_not_given_to_somebody_else(tmp_path: Path) -> None:
    """Or what Ben signed would be Bea's; Ben himself may come back."""
    book = left(tmp_path)
    with pytest.raises(
        Refused, match="ben is Ben, who has not been allowed to sign since 2026-03-10; what they signed keeps their"
    ):
        load(book, person("ben", "Bea", "operator"), "2026-04-01 08:00")
    load(book, person("ben", "Ben", "operator"), "2026-04-01 08:00")
    write(book, "2026-04-01 09:00 sign P-07/wipe for 2026-03-15 by ben")
    assert state(book, "P-07/wipe", "2026-04-01 09:00") == "later"
