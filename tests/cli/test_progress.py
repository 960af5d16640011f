"""How far long work has come shows on a terminal, and nowhere else."""

from __future__ import annotations

import io
import sys
import time
from pathlib import Path

import pytest

from tests.papers.weeks import row, week
from tests.plants import CLEAN, at, book_of
from tests.templates import BRACKETS, write_brackets
from upkeep.book import Book, Progress
from upkeep.cli import progress, saying
from upkeep.entries.bookkeeping import Note
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.sources.drop import COUNTS, take
from upkeep.wording import sentences
from upkeep.wording.sentences import ENGLISH, Reader

BOOK = Path("plant.book")


class Screen(io.StringIO):
    """A stderr that is a terminal."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def screen_of(monkeypatch: pytest.MonkeyPatch) -> Screen:
    """A terminal, and a clock that moves on by a second at each look."""
    shown, seconds = Screen(), iter(range(1000))
    monkeypatch.setattr(sys, "stderr", shown)
    monkeypatch.setattr(time, "monotonic", lambda: float(next(seconds)))
    return shown


def rows(screen: Screen) -> list[str]:
    """What stood in the line at the foot, one after another."""
    return [text.strip() for text in screen.getvalue().split("\r\r")]


def test_work_that_goes_on_says_how_far_it_is_and_how_long_it_takes(monkeypatch: pytest.MonkeyPatch) -> None:
    """The line is wiped at the end, and never wider than a terminal."""
    screen = screen_of(monkeypatch)
    watch = progress.watch_of(BOOK)
    for told in (("reading", 500, 4000), ("reading", 2000, 4000), ("filling", 0, 12345), ("filling", 12345, 12345)):
        watch(Progress(*told))
    assert rows(screen) == [
        "Rebuilding the tables of plant.book: 500 of 4,000 entries read.",
        "Rebuilding the tables of plant.book: 2,000 of 4,000 entries read, 1 s left.",
        "Rebuilding the tables of plant.book: 12,345 rows written.",
        "",
    ]
    assert {len(text.strip("\r")) for text in screen.getvalue().split("\r\r")} == {79}


def test_a_file_of_counts_says_how_far_it_is_and_is_wiped_once_all_are_entered(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Its lines are read, then entries are checked and added."""
    file = tmp_path / "counts.csv"
    counted = (f"P-07,2026-03-02 {6 + n // 60:02}:{n % 60:02},{n}" for n in range(600))
    file.write_text("\n".join(["press,at,count", *counted]), encoding="utf-8")
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        path, recorded = book.path, at("2026-03-03 06:00")
    screen = screen_of(monkeypatch)
    watch = progress.watch_of(BOOK)
    with Book.open(path, watch) as book:
        assert take(book, file, COUNTS, "ana", recorded, watch).written == 600
    assert "Entering into plant.book: 500 of 600 lines of the file read." in rows(screen)
    assert any("entries checked" in row for row in rows(screen))
    assert "Entering into plant.book: 600 of 600 entries added." in rows(screen)
    assert rows(screen)[-1] == ""


def test_figures_say_how_far_they_are(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Line by line of the board, and no word where the work is short."""
    screen = screen_of(monkeypatch)
    watch = progress.watch_of(BOOK)
    watch(Progress("figures", 100, 100))
    assert rows(screen) == [""]
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        told: list[Progress] = []
        book.figures(at("2026-03-02 06:00"), watch=told.append)
    assert told[-1].stage == "figures"
    assert told[-1].done == told[-1].of > 0


def test_a_week_says_how_much_of_the_board_was_gone_through(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Page by page, and the line is wiped once its rows are gathered."""
    screen = screen_of(monkeypatch)
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        told: list[Progress] = []
        listed = book.week(at("2026-03-02 06:00"), watch=told.append)
    assert {each.stage for each in told} == {"calling", "ahead", "gathered"}
    assert all(0 <= each.done <= each.of for each in told)
    assert told[-1].stage == "gathered"
    assert told[-1].of == len(listed.rows)
    watch = progress.watch_of(BOOK)
    for stages in (Progress("calling", 500, 1500), Progress("gathered", 3, 3)):
        watch(stages)
    assert rows(screen) == [
        "Gathering the week of plant.book: 500 of 1,500 lines open or due.",
        "",
    ]


def test_a_past_says_how_much_of_what_was_written_later_is_taken_back(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Entries, their effects, and lines; a list that came back as well."""
    with book_of(tmp_path, "2026-03-02 05:00 count P-07 0 by ana", tasks=[CLEAN]) as book:
        late = [Note(at=at("2026-03-02 05:30"), by="ana", text="a long day") for _ in range(600)]
        revision = book.newest_written(1)[0].entry
        book.write(late, at("2026-03-03 06:00"))
        path = book.path
    screen = screen_of(monkeypatch)
    with Book.open(path, progress.watch_of(BOOK)) as book:
        book.board(at("2026-03-03 06:00"), known_at=at("2026-03-02 06:00"))
        told: list[Progress] = []
        book.week_of_revision(revision, "2026-W10", watch=told.append)
    assert "Going back in plant.book: 500 of 600 later entries taken back." in rows(screen)
    assert "Going back in plant.book: effects of 500 of 600 later entries undone." in rows(screen)
    assert rows(screen)[-1] == ""
    assert told[-1].stage == "gathered"


def test_a_proof_says_what_it_does_and_is_wiped_when_it_ends(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Also where it ends before its last stage, at an entry that does not follow."""
    screen = screen_of(monkeypatch)
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        moment = at("2026-03-02 06:00")
        last = book.write([Note(at=moment, by="ana", text="a long day") for _ in range(600)], moment).entries[-1]
        assert book.prove(progress.watch_of(BOOK, progress.PROVING)).clean
        assert rows(screen)[0] == f"Proving plant.book: 500 of {last} entries followed along the chain."
        assert rows(screen)[-2].endswith(" tables compared, 1 s left.")
        assert rows(screen)[-1] == ""
        screen.seek(screen.truncate(0))
        book._file.connection.executescript(
            f"{_LOOSENED}; UPDATE entries SET words = 'note \"short\"' WHERE id = {last}"
        )
        assert book.prove(progress.watch_of(BOOK, progress.PROVING)).first_entry == last
        followed = [text for text in rows(screen) if "followed along the chain" in text]
        assert rows(screen) == [*followed, ""]
        assert len(followed) == 2


_LOOSENED = "DROP TRIGGER entries_never_change"


def test_waiting_for_another_program_says_so_and_is_wiped(monkeypatch: pytest.MonkeyPatch) -> None:
    """However long it takes."""
    screen = screen_of(monkeypatch)
    watch = progress.watch_of(BOOK)
    for done in (0, 0, 1):
        watch(Progress("waiting", done, 1))
    assert rows(screen) == [
        "Another program is rebuilding the tables of plant.book; waiting, 1 s.",
        "Another program is rebuilding the tables of plant.book; waiting, 2 s.",
        "",
    ]


def test_a_pipe_hears_nothing(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever reads it has no use for it."""
    watch = progress.watch_of(BOOK)
    for _ in range(3):
        watch(Progress("reading", 1, 100))
    assert capsys.readouterr() == ("", "")


def test_a_long_week_says_how_many_rows_are_set_and_pages_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """And the line is wiped once the paper is made; the same bytes come out as for nobody."""
    listed = week(row(number) for number in range(1, 601))
    screen = screen_of(monkeypatch)
    assert week_pdf(listed, ENGLISH, "A4", progress.watch_of(BOOK, progress.PRINTING)) == week_pdf(listed, ENGLISH)
    shown = rows(screen)
    assert shown[0] == "Printing the week of plant.book: 500 of 600 rows worded."
    assert "Printing the week of plant.book: 500 of 600 rows set." in shown
    assert "pages drawn" in shown[-2]
    assert shown[-1] == ""


def test_the_line_is_read_in_the_language_of_its_reader(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What is done, how far it is, the time left; and that somebody waits."""
    write_brackets(tmp_path)
    monkeypatch.setattr(sentences, "CATALOGUES", tmp_path)
    monkeypatch.setattr(saying, "READER", Reader(BRACKETS))
    screen = screen_of(monkeypatch)
    watch = progress.watch_of(BOOK, progress.PROVING)
    watch(Progress("waiting", 0, 1))
    watch(Progress("reading", 500, 4000))
    watch(Progress("reading", 1000, 4000))
    waiting, _, reading = rows(screen)[:3]
    assert waiting.startswith("[Another program is rebuilding the tables of plant.book; waiting, [")
    assert reading.startswith("[[Proving plant.book]: [1\u00a0000 of 4\u00a0000 entries read], [")
