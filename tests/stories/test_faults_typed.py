"""Faults at the command line: three words to report one, cautions before the work, pages and JSON to read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, person, write

DAY = "2026-03-02"


@pytest.fixture
def terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    """A terminal on a book with a module on a press."""
    with book_of(tmp_path, f"{DAY} 06:00 count P-07 1000 by ana\n{DAY} 06:00 fit M-12 in P-07 at 1000 by ana") as book:
        path = book.path
    return Terminal(path, capsys)


def asked(terminal: Terminal, moment: str, *words: str) -> Any:
    """What a command answers as JSON."""
    said = terminal.types(f"{DAY} {moment}", *words, "--json")
    assert said.code == 0, said.err
    return json.loads(said.out)


def reported(terminal: Terminal, *words: str) -> str:
    """The number of a fault on M-12 reported at 07:00."""
    said = terminal.types(f"{DAY} 07:00", "fault", "M-12", *words, "--by", "ben")
    assert said.code == 0, said.err
    return said.out.split("#")[1].split(".")[0]


def test_a_fault_is_reported_with_an_item_a_number_and_whether_it_stands(terminal: Terminal) -> None:
    """Number 9 of the list; an id does as well; other words are kept as they are."""
    reported(terminal, "9", "--stopped")
    reported(terminal, "noise-heat", "--remark", "left bearing")
    reported(terminal, "rattles")
    found = asked(terminal, "07:05", "faults")["faults"][::-1]
    assert [(one["listed"], one["symptom"], one["stopped"]) for one in found] == [
        ("not-fed", "Terminal not fed or half fed", True),
        ("noise-heat", "Unusual noise or heat: left bearing", False),
        (None, "rattles", False),
    ]


def test_cautions_come_before_anything_else_that_is_said(terminal: Terminal) -> None:
    """Where hands go in; a release has none."""
    number = reported(terminal, "9")
    for step in (("taken",), ("checked", "--what", "air", "--yes"), ("fixed", "--cause", "debris", "--text", "clean")):
        said = terminal.types(f"{DAY} 07:10", "repair", number, *step, "--by", "tom")
        assert said.out.startswith("CAUTION. Look from outside first, with the guard in place. Lock the press off"), (
            said.err
        )
        assert "Local law and your plant's own procedure decide." in " ".join(said.out.split())
    said = terminal.types(f"{DAY} 07:20", "repair", number, "verified", "--what", "guard", "--by", "ana")
    assert said.code == 1
    assert "these are still missing: hand-cycle (hand cycled, power off); first-piece" in said.err


def test_a_double_cycling_press_is_answered_with_stop(terminal: Terminal) -> None:
    """The operator reads it with the number of the entry."""
    said = terminal.types(f"{DAY} 07:00", "fault", "P-07", "13", "--by", "ben")
    assert "Note: STOP the press now and lock it off. Maintenance only" in said.out
    page = terminal.types(f"{DAY} 07:01", "causes", "--symptom", "13").out
    assert "STOP, LOCK, MAINTENANCE ONLY. There is nothing for anybody else to check." in page


def test_a_repaired_fault_shows_its_three_times_and_its_watch(terminal: Terminal) -> None:
    """In the list and on its page."""
    number = reported(terminal, "9", "--stopped")
    for moment, words in (
        ("07:12", ("repair", number, "taken")),
        ("07:20", ("repair", number, "checked", "--what", "clean", "--no")),
        ("07:45", ("repair", number, "fixed", "--cause", "debris", "--text", "wheel brushed")),
        ("08:00", ("repair", number, "verified", "--what", "hand-cycle, first-piece, guard")),
        ("08:20", ("release", "M-12", "--because", "feeds again")),
    ):
        said = terminal.types(f"{DAY} {moment}", *words, "--by", "ana" if "verified" in words else "lea")
        assert said.code == 0, said.err
    listed = terminal.types(f"{DAY} 09:00", "faults", "--shares").out
    for told in (
        "RELEASED", "response 12 min, repair 33 min, restoration 1 h 20 min",
        "cause: debris on the feed wheel, found by the check 'clean'; done: wheel brushed",
        "watched: 0 of 1,000 strokes", "Mean restoration 1 h 20 min over 1", "By module 1 M-12: 1 h 20 min",
    ):  # fmt: skip
        assert told in " ".join(listed.split()), told
    page = terminal.types(f"{DAY} 09:00", "faults", number).out
    assert "NO, found something" in " ".join(page.split())
    assert all(len(row) <= 80 for row in (listed + page).splitlines())
    assert terminal.types(f"{DAY} 09:00", "faults", "--open").out == "No faults.\n"


def test_an_open_fault_says_what_is_missing_and_who_has_to_know(terminal: Terminal) -> None:
    """The lead finds it among the questions as well."""
    number = reported(terminal, "9", "--stopped")
    page = " ".join(terminal.types(f"{DAY} 07:40", "faults", number).out.split())
    assert "NEEDS lead since 2026-03-02 07:30: stopped for more than 30 min" in page
    assert "not fixed; not verified (hand-cycle, first-piece, guard)" in page
    questions = asked(terminal, "07:40", "questions")
    assert [one["about"] for one in questions if f"#{number}" in one["asks"]] == ["M-12"]


def test_likely_causes_are_told_with_counts_checks_and_the_way_they_are_ordered(terminal: Terminal) -> None:
    """Of the open fault of an item, or of a symptom."""
    number = reported(terminal, "9")
    page = " ".join(terminal.types(f"{DAY} 07:05", "causes", "M-12").out.split())
    for told in (
        f"Terminal not fed or half fed of #{number} on M-12 CAUTION. Look from outside first",
        "1 air pressure low (air-low): 44 %, nothing confirmed yet; common practice, no source",
        "1 Is the air pressure right at the machine (not at the main) while it feeds? (air)",
        "Share = (confirmed + 4 x table) / (all confirmed + 4).",
    ):
        assert told in page, told
    (found,) = asked(terminal, "07:05", "causes", "M-12", "--symptom", "9")
    assert [one["cause"]["id"] for one in found["likely"]][:2] == ["air-low", "debris"]


def test_the_list_of_symptoms_has_numbers_and_ids(terminal: Terminal) -> None:
    """All that can be picked."""
    page = terminal.types(f"{DAY} 07:00", "causes").out
    assert "  9  Terminal not fed or half fed        not-fed" in page
    assert " 13  Press double-cycles                 double-cycles  STOP and LOCK" in page
    assert all(len(row) <= 80 for row in page.splitlines())
    assert len(asked(terminal, "07:00", "causes")) == 22


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("causes", "M-12"), "M-12 has no open fault. Name a symptom"),
        (("causes", "--symptom", "99"), "'99' is not a symptom in the list"),
        (("causes", "M-99", "--symptom", "9"), "M-99"),
        (("faults", "4711"), "There is no fault in effect '#4711'"),
        (("faults", "--item", "M-99"), "M-99"),
    ],
)
def test_what_is_not_there_is_said(terminal: Terminal, words: tuple[str, ...], sentence: str) -> None:
    """With what to do instead."""
    said = terminal.types(f"{DAY} 07:00", *words)
    assert said.code == 1
    assert sentence in said.err


def test_the_hours_after_which_the_lead_is_called_are_the_plants_own(tmp_path: Path) -> None:
    """Minutes of shift time in plant.toml; the safety officer is a role, and stands there by name."""
    officer = person("sam", "Sam", "safety officer")
    with book_of(tmp_path, more=[officer], call_lead_after=60) as book:
        write(book, f'{DAY} 07:00 fault M-12 "stuck" stopped by ben')
        write(book, f'{DAY} 07:05 fault P-07 "Guard" listed guard stopped by ben')
        early, late = ([str(one.asks) for one in book.questions(at(f"{DAY} {hour}"))] for hour in ("07:45", "08:01"))
        assert not any("lead since" in asks and "M-12" in asks for asks in early)
        assert any("lead since 2026-03-02 08:00" in asks and "M-12" in asks for asks in late)
        assert any("safety officer (Sam) since 2026-03-02 07:05" in asks for asks in early)


def test_a_running_permit_stands_among_the_questions(tmp_path: Path) -> None:
    """As long as it has strokes left."""
    with book_of(tmp_path) as book:
        write(book, f'{DAY} 07:00 hold M-12 by lea because "chip seen"')
        write(book, f'{DAY} 07:10 permit M-12 strokes 500 by lea because "order ends"')
        asked = [str(one.asks) for one in book.questions(at(f"{DAY} 08:00"))]
        assert any("M-12 is held, and a deviation permit (#" in asks and "500 strokes more" in asks for asks in asked)


@pytest.mark.parametrize("role", ["quality technician", "plant manager", "safety officer"])
def test_what_waits_to_be_seen_stands_on_the_board_of_each_role_that_may_say_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], role: str
) -> None:
    """By the table of rights: quality, the manager and the safety officer beside the lead; no operator."""
    with book_of(tmp_path, more=[person("quin", "Quin", role)]) as book:
        write(book, f'{DAY} 07:00 fault M-12 "stuck" stopped by ben')
        shell = Terminal(book.path, capsys)
        assert "Waiting to be seen" not in shell.types(f"{DAY} 07:45", "board", "--role", "operator").out
        refused = shell.types(f"{DAY} 07:45", "seen", "M-12", "--by", "ben")
        assert "Ben (operator) may not say that a question or alarm was seen" in refused.err
        assert (
            "Waiting to be seen ('strokebook seen ITEM'): 1" in shell.types(f"{DAY} 07:46", "board", "--role", role).out
        )
        assert shell.types(f"{DAY} 07:47", "seen", "M-12", "--by", "quin").code == 0
        assert "Waiting to be seen" not in shell.types(f"{DAY} 07:50", "board", "--role", role).out


def test_what_is_asked_about_a_task_can_be_seen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And a word that is neither an item nor a task is refused."""
    with book_of(tmp_path, tasks=[CLEAN]) as book:
        shell = Terminal(book.path, capsys)
        assert (
            "Nothing about clean waits to be seen." in shell.types(f"{DAY} 07:45", "seen", "clean", "--by", "lea").err
        )
        assert "M-12" in shell.types(f"{DAY} 07:45", "seen", "M-13", "--by", "lea").err


def test_what_somebody_has_seen_in_his_name_is_asked_no_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It stands on the lead's board and on the weekly list until then, and again once it is worse."""
    with book_of(tmp_path) as book:
        write(book, f'{DAY} 07:00 fault M-12 "stuck" stopped by ben')
        shell = Terminal(book.path, capsys)
        lead = ("board", "--role", "maintenance lead")
        assert "Waiting to be seen ('strokebook seen ITEM'): 1" in shell.types(f"{DAY} 07:45", *lead).out
        assert "Waiting to be seen by the lead: 1 (M-12)" in shell.types(f"{DAY} 07:45", "week").out
        assert shell.types(f"{DAY} 07:46", "seen", "M-12", "--by", "lea").code == 0
        assert "seen M-12 since 2026-03-02T07:30:00Z by lea" in book.newest_written(1)[0].text
        assert "Waiting to be seen" not in shell.types(f"{DAY} 07:50", *lead).out
        assert "Nothing about M-12 waits to be seen." in shell.types(f"{DAY} 07:50", "seen", "M-12", "--by", "lea").err
        assert "manager since 2026-03-02 09:00" in " ".join(shell.types(f"{DAY} 09:30", "questions").out.split())
