"""Work that an event asks for: a fitting, a setting of tools, a fault, a crash, a rework, the end of storage."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of, line_at, state, task, why_of, write, write_each
from upkeep.book import Book
from upkeep.errors import Refused
from upkeep.plant.catalogue import shipped_tasks

CHECK = task("check", "module", after=["crash"])
LINE = "M-12/check"
HUNG = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 by ana
"""
CRASHED = '2026-03-02 08:00 count P-07 2000 by ana\n2026-03-02 08:00 fault P-07 "double feed" crash by ana\n'
NOON = "2026-03-02 12:00"


def test_nothing_is_asked_before_it_happens(tmp_path: Path) -> None:
    """The line says what it waits for."""
    book = book_of(tmp_path, HUNG, tasks=[CHECK])
    line = line_at(book, LINE, NOON)
    assert line.state == "not required"
    assert "no crash since it was last done" in why_of(book, line)


@pytest.mark.parametrize(("count", "expected"), [(2000, "due"), (2001, "overdue")])
def test_it_is_due_before_the_item_runs_again(tmp_path: Path, count: int, expected: str) -> None:
    """Due from the crash on, for days if nothing runs; overdue with the first stroke done without it."""
    book = book_of(tmp_path, f"{HUNG}{CRASHED}2026-03-04 10:00 count P-07 {count} by ana", tasks=[CHECK])
    assert state(book, LINE, "2026-03-04 11:00") == expected


def test_with_a_hard_stop_the_first_stroke_without_it_stops_it(tmp_path: Path) -> None:
    """``stop_days`` of an event is no time of grace."""
    stopping = task("check", "module", after=["crash"], stop_days=3)
    book = book_of(tmp_path, f"{HUNG}{CRASHED}2026-03-02 08:05 count P-07 2001 by ana", tasks=[stopping])
    assert state(book, LINE, NOON) == "stop"


@pytest.mark.parametrize(("cycles", "expected"), [(9, "due"), (10, "overdue")])
def test_hand_cycles_below_its_limit_are_no_running(tmp_path: Path, cycles: int, expected: str) -> None:
    """Turned over by hand nine times to see what is bent; the tenth stroke counts as running."""
    trial = task("check", "module", after=["crash"], used_from=10)
    by_hand = f"2026-03-02 09:00 uncounted M-12 hand {cycles} by ana"
    assert state(book_of(tmp_path, HUNG + CRASHED + by_hand, tasks=[trial]), LINE, NOON) == expected


def test_signed_it_is_asked_for_no_more_until_it_happens_again(tmp_path: Path) -> None:
    """Each event has its own occurrence, named by its entry."""
    book = book_of(tmp_path, HUNG + CRASHED, tasks=[CHECK])
    first = line_at(book, LINE, NOON).occurrence
    assert first.startswith("crash.")
    write(book, f"2026-03-02 12:00 sign {LINE} for {first} by tom")
    assert state(book, LINE, "2026-03-02 12:01") == "not required"
    write(book, '2026-03-02 13:00 fault P-07 "again" crash by ana')
    line = line_at(book, LINE, "2026-03-02 13:01")
    assert (line.state, line.occurrence != first) == ("due", True)


def test_a_crash_concerns_what_hung_there_then_wherever_it_is_now(tmp_path: Path) -> None:
    """A later crash, after the module had left, does not make the first one forgotten; M-44 saw only the second."""
    later = """
        2026-03-02 09:00 count P-07 2000 by ana
        2026-03-02 09:00 unfit M-12 by ana
        2026-03-02 09:30 fit M-44 in P-07 by ana
        2026-03-02 10:00 fault P-07 "again" crash by ana
    """
    book = book_of(tmp_path, HUNG + CRASHED + later, tasks=[CHECK])
    lines = [line_at(book, f"{module}/check", NOON) for module in ("M-12", "M-44")]
    assert [line.state for line in lines] == ["due", "due"]
    assert "crash of 2026-03-02 08:00" in why_of(book, lines[0])
    assert "crash of 2026-03-02 10:00" in why_of(book, lines[1])
    assert book.prove().differences == ()


def test_it_comes_first_whatever_else_the_task_waits_for(tmp_path: Path) -> None:
    """Every 30 days and 100,000 strokes, whichever comes last - and after a crash at once."""
    both = task("check", "module", every="30 days", strokes=100_000, combine="last", after=["crash"])
    book = book_of(tmp_path, HUNG, tasks=[both])
    assert state(book, LINE, "2026-03-02 07:00") == "later"
    write_each(book, CRASHED)
    line = line_at(book, LINE, NOON)
    assert (line.state, line.occurrence.split(".")[0]) == ("due", "crash")


@pytest.mark.parametrize(
    ("event", "told"),
    [
        ("fitting", "2026-03-02 08:00 fit DS-031 in M-12 by ana"),
        ("tool setting", "2026-03-02 08:00 fit CP-a in DS-031 by ana"),
        ("fault", '2026-03-02 08:00 fault DS-031 "burr" by ana'),
        ("storage", '2026-03-02 07:00 pause DS-031 by lea because "x"\n2026-03-02 08:00 resume DS-031 by lea'),
    ],
)
def test_each_event_asks_for_the_work_that_waits_for_it(tmp_path: Path, event: str, told: str) -> None:
    """And for no other work."""
    waiting = [
        task(name.replace(" ", "-"), "die set", after=[name])
        for name in ("fitting", "tool setting", "fault", "crash", "storage")
    ]
    book = book_of(tmp_path, HUNG + told, tasks=waiting)
    lines = [row for row in book.board(book.zone.read(NOON), limit=200).rows if row.item == "DS-031"]
    assert [row.task for row in lines if row.state == "due"] == [event.replace(" ", "-")]
    assert f"since the {event} of 2026-03-02 08:00" in next(why_of(book, row) for row in lines if row.state == "due")


def test_a_rework_asks_for_a_measurement_before_the_part_runs_again(tmp_path: Path) -> None:
    """A reground punch is measured first."""
    measure = task("measure", "conductor punch", after=["rework"])
    told = '2026-03-02 08:00 rework CP-a granted 5000 by tom because "reground 0.1 mm, 3.20 before, 3.10 after"'
    assert state(book_of(tmp_path, told, tasks=[measure]), "CP-a/measure", NOON) == "due"


def test_setting_the_tools_of_a_module_concerns_the_press_it_hangs_on(tmp_path: Path) -> None:
    """A die set goes into the module while that hangs on the press; one changed on the rack before does not count."""
    setting = task("check", "press", after=["tool setting"])
    book = book_of(tmp_path, "2026-03-02 05:00 fit DS-031 in M-12 by ana" + HUNG, tasks=[setting])
    assert "tool setting of 2026-03-02 06:00" in why_of(book, line_at(book, "P-07/check", NOON))
    write(book, "2026-03-02 09:00 fit CB-1 in M-12 by ana")
    assert "tool setting of 2026-03-02 09:00" in why_of(book, line_at(book, "P-07/check", NOON))


# Storage

IN_STORE = '2026-03-02 08:00 pause DS-031 by lea because "no orders"'


def stored(tmp_path: Path, text: str = "") -> Book:
    """A die set whose oil is looked at every 7 days in storage, and which is cleaned every 30 days in use."""
    turn = task("turn", "die set", every="7 days", while_resting=True, on_day_off="keep")
    clean = task("clean", "die set", every="30 days")
    return book_of(tmp_path, text, tasks=[turn, clean])


def test_a_storage_check_is_asked_for_at_rest_only(tmp_path: Path) -> None:
    """And then it is the work in use that waits."""
    book = stored(tmp_path, HUNG + "2026-03-02 06:10 fit DS-031 in M-12 by ana")
    assert state(book, "DS-031/turn", "2026-03-20 12:00") == "not required"
    write(book, "2026-03-02 08:00 unfit DS-031 by ana")
    write(book, IN_STORE)
    assert [state(book, f"DS-031/{name}", "2026-03-09 12:00") for name in ("turn", "clean")] == ["due", "paused"]
    write(book, "2026-03-10 08:00 resume DS-031 by lea")
    write(book, "2026-03-10 09:00 fit DS-031 in M-12 by ana")
    assert state(book, "DS-031/turn", "2026-03-20 12:00") == "not required"


def test_a_storage_check_runs_in_the_rack_though_nobody_told_of_storage(tmp_path: Path) -> None:
    """Every 100 days from the day it left the press; every 7 days, it waits until it has lain 90 days and rests."""
    seldom = task("seldom", "die set", every="100 days", while_resting=True)
    often = task("often", "die set", every="7 days", while_resting=True)
    told = HUNG + "2026-03-02 06:10 fit DS-031 in M-12 by ana"
    book = book_of(tmp_path, told, tasks=[seldom, often])
    write(book, "2026-03-05 08:00 unfit DS-031 by ana")
    assert line_at(book, "DS-031/seldom", "2026-03-06 12:00").occurrence == "2026-06-13"
    assert line_at(book, "DS-031/often", "2026-03-06 12:00").occurrence == "2026-06-03"
    write(book, "2026-06-03 08:00 sign DS-031/often for 2026-06-03 by ana")
    assert line_at(book, "DS-031/often", "2026-06-03 12:00").occurrence == "2026-06-10"
    write(book, "2026-06-04 08:00 fit DS-031 in M-12 by ana")
    assert state(book, "DS-031/often", "2026-07-01 12:00") == "not required"


def test_its_interval_counts_from_the_day_storage_began_and_then_from_each_check(tmp_path: Path) -> None:
    """Stored on the 2nd: due on the 9th; looked at on the 9th: due on the 16th."""
    book = stored(tmp_path, IN_STORE)
    line = line_at(book, "DS-031/turn", "2026-03-03 12:00")
    assert line.occurrence == "2026-03-09"
    assert "7 days from the day storage began, Mon 2026-03-02" in why_of(book, line)
    write(book, "2026-03-09 10:00 sign DS-031/turn for 2026-03-09 by tom")
    assert line_at(book, "DS-031/turn", "2026-03-09 12:00").occurrence == "2026-03-16"


def test_said_twice_that_it_is_stored_it_is_stored_since_the_first(tmp_path: Path) -> None:
    """A second word about the reason begins no new storage."""
    book = stored(tmp_path, f'{IN_STORE}\n2026-03-06 08:00 pause DS-031 by lea because "order cancelled"')
    line = line_at(book, "DS-031/turn", "2026-03-07 12:00")
    assert line.occurrence == "2026-03-09"
    assert "order cancelled" in why_of(book, line_at(book, "DS-031/clean", "2026-03-07 12:00"))


# After a die change, and events that somebody tells

GUARD = task("guard", "press", each_shift=True, after=["tool setting", "guard removed", "press moved"])
TURN = task("turn", "die set", after=["fitting", "tool setting"])
CHANGED = f"""{HUNG}
    2026-03-02 06:05 sign P-07/guard for 2026-03-02/early by tom
    2026-03-02 07:00 fit DS-031 in M-12 at 0 by ana
"""


def test_after_a_die_change_guard_and_hand_cycle_are_asked_for(tmp_path: Path) -> None:
    """Though the guard was tried this shift; and again for the set when its module goes on another press."""
    book = book_of(tmp_path, CHANGED, tasks=[GUARD, TURN])
    lines = [line_at(book, line, NOON) for line in ("P-07/guard", "DS-031/turn")]
    assert [(line.state, line.occurrence.partition(".")[0]) for line in lines] == [
        ("due", "tool-setting"), ("due", "fitting"),
    ]  # fmt: skip
    write(book, f"2026-03-02 12:00 sign DS-031/turn for {lines[1].occurrence} by tom")
    write_each(book, "2026-03-02 12:10 unfit M-12 by ana\n2026-03-02 12:20 fit M-12 in P-08 by ana")
    turn = line_at(book, "DS-031/turn", "2026-03-02 12:30")
    assert (turn.state, turn.occurrence.partition(".")[0]) == ("due", "tool-setting")
    assert book.prove().differences == ()


def test_a_count_while_they_are_open_raises_an_alarm(tmp_path: Path) -> None:
    """It names the event and each task; done, or with no stroke since, there is none."""
    book = book_of(tmp_path, CHANGED, tasks=[GUARD, TURN])
    assert write(book, "2026-03-02 07:10 count P-07 0 by ana").notes == ()
    (turned, tried) = map(str, write(book, "2026-03-02 08:00 count P-07 40 by ana").notes)
    assert "ALARM: P-07 ran although this has not been done since the tool setting of 2026-03-02 07:00" in tried
    assert "Task guard (P-07/guard). Stop the press" in tried
    assert "since the fitting of 2026-03-02 07:00" in turned
    for line in ("P-07/guard", "DS-031/turn"):
        write(book, f"2026-03-02 08:10 sign {line} for {line_at(book, line, NOON).occurrence} by tom")
    assert write(book, "2026-03-02 09:00 count P-07 90 by ana").notes == ()


@pytest.mark.parametrize("what", ["press-moved", "guard-removed"])
def test_what_happened_to_a_press_is_told_and_asks_for_its_tasks(tmp_path: Path, what: str) -> None:
    """Whoever tells it reads what is due now."""
    book = book_of(tmp_path, f"{HUNG}2026-03-02 06:05 sign P-07/guard for 2026-03-02/early by tom", tasks=[GUARD])
    (note,) = write(book, f"2026-03-02 07:00 happened P-07 {what} by tom").notes
    assert str(note) == "Before P-07 runs again, this is due: Task guard."
    assert line_at(book, "P-07/guard", NOON).occurrence.partition(".")[0] == what
    assert f"since the {what.replace('-', ' ')} of 2026-03-02 07:00" in why_of(book, line_at(book, "P-07/guard", NOON))
    assert book.prove().differences == ()


def test_an_item_comes_back_from_outside_and_a_gauge_is_found_out(tmp_path: Path) -> None:
    """Each asks for the tasks that wait for it; what is no such event is refused."""
    back = task("ready", "die set", after=["back from outside"])
    again = task("again", "gauge", after=["gauge found out"])
    book = book_of(tmp_path, HUNG, tasks=[back, again])
    write(book, "2026-03-02 07:00 happened DS-031 back-from-outside by tom")
    write(book, '2026-03-02 07:00 out-of-tolerance G-1 off 0.01 by lea because "block"')
    assert state(book, "DS-031/ready", NOON) == "due"
    assert "gauge-found-out." in line_at(book, "G-1/again", NOON).occurrence
    for words in ("DS-031 press-moved", "P-07 fitting", "P-07 lunch"):
        with pytest.raises(Refused):
            write(book, f"2026-03-02 07:05 happened {words} by tom")
    assert book.prove().differences == ()


def test_the_shipped_tasks_ask_after_a_die_change_and_before_a_first_use() -> None:
    """What a plant takes over without a word of its own."""
    shipped = {definition.key: definition.content for definition in shipped_tasks()}
    assert "tool setting" in shipped["guard-check"]["after"]
    assert shipped["guard-check"]["each_shift"]
    assert shipped["hand-cycle"]["after"] == ["fitting", "tool setting"]
    assert {"press moved", "crash", "back from outside"} <= set(shipped["shut-height"]["after"])
    first_use = shipped["first-use"]
    steps = " ".join(first_use["steps"]).casefold()
    assert all(word in steps for word in ("oil film", "rust", "hand cycle", "slug", "first piece"))
    assert [point["id"] for point in first_use["points"]] == ["slug-height"]
    assert first_use["stop_days"] == 0
