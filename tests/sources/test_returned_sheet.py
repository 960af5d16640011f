"""A weekly list that comes back from the wall: its rows entered by number, against the very list that was printed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.commands import Said, Terminal
from tests.plants import at, book_of, line_at, person, strokes, task, write, write_each
from upkeep.book import Book, HistoryLine, WeekList
from upkeep.entries.origin import Origin, Proof, WayIn
from upkeep.papers.week.week_text import week_text
from upkeep.units.instants import utc_text
from upkeep.wording.sentences import ENGLISH

POINTS = [{"id": "gap", "title": "Gap", "unit": "mm", "upper": 2.0}]
TASKS = [
    task("lube", "module", every="3 days", late_days=1),
    task("tidy", "module", rule="FREQ=WEEKLY;BYDAY=WE", early_days=1),
    task("look", "die set", every="3 days", graded=True),
    task("gap", "insulation punch", every="3 days", points=POINTS),
    task("guard", "press", every="3 days", statutory=True, by=["appointed person"]),
    task("bolts", "press", every="3 days", second_signature="maintenance lead"),
    task("deep", "module", every="1 year", covers=["lube"], by=["maintenance lead"]),
]
SPEAKING = [person("al", "Al Berg", "operator"), person("app", "Ada Prior", "appointed person")]
HANGING = """
    2026-03-01 06:00 count P-07 1204300 by ana
    2026-03-01 06:00 fit M-12 in P-07 at 1204300 by ana
"""
MONDAY, FRIDAY = "2026-03-02 04:00", "2026-03-06 09:00"


class Wall:
    """A printed list, what happens while it hangs on the wall, and its return on Friday."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.book: Book = book_of(folder, HANGING, tasks=TASKS, more=SPEAKING)
        self.listed: WeekList = self.book.week(at(MONDAY))
        self._terminal, self._file = Terminal(self.book.path, capsys), folder / "sheet.txt"

    def row(self, line: str) -> int:
        """The number of the row of a line."""
        return next(row.row for row in self.listed.rows if row.line == line)

    def comes_back(self, *rows: str, moment: str = FRIDAY, **given: str) -> Said:
        """Enters the sheet; ``{lube}`` in a row is the number of the row of M-12/lube, ``{lube44}`` that of M-44."""
        numbers = {row.task + row.item.removeprefix("M-").replace("12", ""): row.row for row in self.listed.rows}
        text = "\n".join(rows).format_map(numbers)
        self._file.write_text(text, encoding="utf-8")
        header = {"revision": f"{self.listed.revision:,}", "week": "2026-W10", "printed": MONDAY, "by": "lea"}
        header |= {"rows": self.listed.letters, **given}
        options = [word for name, value in header.items() if value for word in (f"--{name}", value)]
        return self._terminal.types(f"{moment}:00", "sheet", self._file, *options)

    def newest(self) -> HistoryLine:
        """The entry written last."""
        return self.book.newest_written(1)[0]


@pytest.fixture
def wall(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Wall:
    """A list printed on Monday 04:00."""
    return Wall(tmp_path, capsys)


# The list that was printed


def test_the_list_of_a_revision_is_printed_again_letter_for_letter(wall: Wall) -> None:
    """Whatever was signed, counted or defined since."""
    write_each(
        wall.book,
        "2026-03-02 08:00 count P-07 1206000 by ana\n2026-03-03 09:00 sign M-44/tidy for 2026-03-04 by tom\n"
        "2026-03-04 07:00 sign M-12/lube for 2026-03-04 by ana",
    )
    again = wall.book.week_of_revision(wall.listed.revision, "2026-W10", at=at(MONDAY))
    assert week_text(again, ENGLISH) == week_text(wall.listed, ENGLISH)
    assert week_text(wall.book.week(at(FRIDAY), week="2026-W10"), ENGLISH) != week_text(wall.listed, ENGLISH)


def test_the_revision_says_which_entries_of_the_printed_minute_the_list_knows(wall: Wall) -> None:
    """A sheet carries minutes; of two sign-offs in that minute the print came between, it knows the first."""
    write(wall.book, "2026-03-04 07:00:10 sign M-12/lube for 2026-03-04 by ana")
    printed = wall.book.week(at("2026-03-04 07:00:20"), week="2026-W10")
    write(wall.book, "2026-03-04 07:00:30 sign M-44/lube for 2026-03-04 by ana")
    again = wall.book.week_of_revision(printed.revision, "2026-W10", at=at("2026-03-04 07:00:59"))
    assert again.rows == printed.rows
    assert wall.book.week(at("2026-03-04 07:00:59")).rows != printed.rows


def test_the_moment_of_print_tells_how_its_rows_stood_by_then(wall: Wall) -> None:
    """Nothing was written since Sunday; on Thursday some lines are overdue, lubrication is not yet."""
    thursday = "2026-03-05 04:00"
    wall.listed = wall.book.week(at(thursday))
    assert wall.listed.rows != wall.book.week(at(MONDAY)).rows
    said = wall.comes_back("{lube} 2026-03-05 10:20 ana", printed=thursday)
    assert "M-12/lube signed by Ana" in said.out


# Good rows


def test_a_row_is_signed_by_who_ticked_it_at_the_time_written(wall: Wall) -> None:
    """Wednesday's work, typed in on Friday: both moments stay, and where it comes from."""
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana")
    assert said.code == 0, said.err
    assert f"row {wall.row('M-12/lube')}: M-12/lube signed by Ana, 2026-03-04 10:20, in time (#" in said.out
    assert wall.newest().text == (
        "2026-03-04 10:20 sign M-12/lube for 2026-03-04 by ana recorded 2026-03-06 09:00 because "
        f'"row {wall.row("M-12/lube")} of the list of 2026-W10, revision {wall.listed.revision}; typed in by lea"'
    )
    assert str(line_at(wall.book, "M-12/lube", FRIDAY).due_day) == "2026-03-07"
    assert wall.book.prove().differences == ()


def test_work_is_in_time_by_when_it_was_done_not_by_when_it_is_typed(wall: Wall) -> None:
    """Thursday is the last day in time; Friday 06:00 is late, though both are typed on Friday."""
    said = wall.comes_back("{lube} 2026-03-05 23:00 ana", "{lube44} 2026-03-06 06:00 ana")
    assert re.search(r"M-12/lube signed by Ana, 2026-03-05 23:00, in time", said.out)
    assert re.search(r"M-44/lube signed by Ana, 2026-03-06 06:00, late", said.out)


def test_a_row_was_signed_on_paper_and_typed_in_by_somebody_else(wall: Wall) -> None:
    """Of a row that the lead ticked and typed nobody else is named."""
    assert wall.comes_back("{lube} 2026-03-04 10:20 ana", by="lea").code == 0
    assert wall.book.entry(wall.newest().entry).origin == Origin(WayIn.SHEET, None, Proof.PAPER, "lea")
    assert wall.comes_back("{lube44} 2026-03-04 10:30 lea", by="lea").code == 0
    assert wall.book.entry(wall.newest().entry).origin == Origin(WayIn.SHEET, None, Proof.PAPER, None)


def test_a_count_goes_to_the_press_on_which_the_item_hung(wall: Wall) -> None:
    """M-12 hung on P-07 on Wednesday; grouped as people write it, with a remark behind it."""
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana count 1,206,300 remark nozzle was clogged")
    assert said.code == 0, said.err
    assert strokes(wall.book, "P-07", FRIDAY) == (2_000, 2_000, 2_000)
    assert 'remark "nozzle was clogged"' in wall.newest().text


def test_a_counter_that_rolled_over_is_confirmed_on_its_row(wall: Wall) -> None:
    """9,999,900 and then 400: refused with the figures, and confirmed as the refusal says."""
    write(wall.book, "2026-03-02 06:00 count P-08 9999900 by ana\n")
    write(wall.book, "2026-03-02 06:00 fit M-44 in P-08 at 9999900 by ana")
    refused = wall.comes_back("{lube44} 2026-03-04 10:20 ana count 400")
    assert "that is 500 strokes: confirm with 'rolled over'" in refused.err
    assert wall.comes_back("{lube44} 2026-03-04 10:20 ana count 400 rolled over remark x").code == 0
    assert strokes(wall.book, "P-08", FRIDAY) == (500, 500, 500)


def test_initials_are_an_id_its_beginning_or_the_letters_of_a_name(wall: Wall) -> None:
    """As people write them."""
    for initials in ("ben", "BE", "A.B.", "AB"):
        said = wall.comes_back(f"{{lube}} 2026-03-04 10:20 {initials}")
        assert "signed by" in said.out, said.err
        assert ("Al Berg" if "A" in initials else "Ben") in said.out
        write(wall.book, f'2026-03-06 09:00 strike #{wall.newest().entry} by lea because "the next try"')


def test_rows_that_did_not_come_back_are_listed(wall: Wall) -> None:
    """Nobody has to compare two lists by eye."""
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana", "# the rest was blank")
    rest = ", ".join(str(row.row) for row in wall.listed.rows if row.line != "M-12/lube")
    assert f"Not on this sheet: {rest}\n" in said.out


def test_work_of_days_ago_goes_in_where_the_lead_types_it(wall: Wall) -> None:
    """The sheet hangs all week: on Sunday Wednesday's tick is more than 72 hours old, and stays Ana's."""
    sunday = "2026-03-08 09:00"
    by_tom = wall.comes_back("{lube} 2026-03-04 10:20 ana", moment=sunday, by="tom")
    assert (
        "2026-03-04 10:20 is more than 72 hours ago. To enter something so late needs the role of maintenance lead"
        in by_tom.err
    )
    by_lead = wall.comes_back("{lube} 2026-03-04 10:20 ana", moment=sunday)
    assert "M-12/lube signed by Ana, 2026-03-04 10:20, in time" in by_lead.out


# Old sheets


def test_a_row_that_was_signed_since_is_told_and_is_no_error(wall: Wall) -> None:
    """By whom, when and under which number; nothing is entered twice."""
    write(wall.book, "2026-03-04 07:00 sign M-12/lube for 2026-03-04 by tom")
    number = wall.newest().entry
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana")
    assert said.code == 0
    assert f"M-12/lube is already signed: Tom, 2026-03-04 07:00 (#{number}). Nothing was entered." in said.out
    assert wall.newest().entry == number


def test_the_same_sheet_twice_changes_nothing(wall: Wall) -> None:
    """A sheet with a bad row is mended and entered again as a whole."""
    first = wall.comes_back("{lube} 2026-03-04 10:20 ana count 1206300", "{lube44} 2026-03-04 10:30 nobody")
    assert first.code == 1
    second = wall.comes_back("{lube} 2026-03-04 10:20 ana count 1206300", "{lube44} 2026-03-04 10:30 ben")
    assert second.code == 0
    assert "M-12/lube is already signed: Ana" in second.out
    assert "M-44/lube signed by Ben" in second.out
    assert [line.kind for line in wall.book.newest_written(3)] == ["sign", "sign", "count"]


def test_a_row_that_was_cancelled_since_is_told(wall: Wall) -> None:
    """Cancelled is not done: whoever did it all the same records an extra."""
    write(wall.book, '2026-03-02 07:00 cancel M-12/lube for 2026-03-04 by lea because "in the toolroom"')
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana")
    assert "M-12/lube is already cancelled: Lea, 2026-03-02 07:00" in said.out


def test_a_row_finds_its_line_however_the_list_looks_now(wall: Wall) -> None:
    """Other rows were signed, another interval holds since: the row is the line it was on that paper."""
    write(wall.book, "2026-03-04 07:00 sign M-44/lube for 2026-03-04 by tom")
    wall.book.load([task("lube", "module", every="4 days", late_days=1)], at("2026-03-04 08:00"), "lea",
                   at("2026-03-04 08:00"), "less wear")  # fmt: skip
    said = wall.comes_back("{lube} 2026-03-05 10:20 ana")
    assert said.code == 0, said.err
    assert "M-12/lube signed by Ana, 2026-03-05 10:20, in time" in said.out


def test_work_before_other_work_covered_it_answers_what_was_printed(wall: Wall) -> None:
    """Lubricated on Wednesday, overhauled on Thursday: the paper's sign-off takes its place before."""
    write(wall.book, "2026-03-05 07:00 sign M-12/deep for 2027-03-01 by lea")
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana")
    assert said.code == 0, said.err
    assert "for 2026-03-04 by ana" in wall.newest().text
    assert wall.book.prove().differences == ()


# Bad rows


def test_good_rows_go_in_and_bad_ones_are_told_by_their_numbers(wall: Wall) -> None:
    """One bad row costs no other; the exit code says that something is left to do."""
    said = wall.comes_back(
        "{lube} 2026-03-04 10:20 ana",
        "99 2026-03-04 10:20 ana",
        "{lube44} 2026-03-04 25:20 ana",
        "{tidy} 2026-03-04 10:40 nobody",
        "12 ana",
    )
    assert said.code == 1
    assert "M-12/lube signed by Ana" in said.out
    assert f"row 99: there is no such row; the list of revision {wall.listed.revision} has" in said.err
    assert f"row {wall.row('M-44/lube')}: '2026-03-04 25:20' is not a real date and time." in said.err
    assert f"row {wall.row('M-12/tidy')}: There is no person 'nobody' in this book." in said.err
    assert "line 5: '12 ana' is not a row; write row (its number, its code or its line), date, time" in said.err


def test_a_row_ticked_twice_is_for_a_person_to_decide(wall: Wall) -> None:
    """Two times or two names: neither goes in.  The same twice is one tick."""
    said = wall.comes_back(
        "{lube} 2026-03-04 10:20 ana", "{lube} 2026-03-04 11:00 ben",
        "{lube44} 2026-03-04 10:20 ana", "{lube44} 2026-03-04 10:20 ana",
    )  # fmt: skip
    assert "ticked twice: 2026-03-04 10:20 ana and 2026-03-04 11:00 ben." in said.err
    assert "M-44/lube signed by Ana" in said.out
    assert "M-12" not in said.out


def test_initials_that_may_be_two_people_are_asked_about(wall: Wall) -> None:
    """a may be al, ana or app."""
    said = wall.comes_back("{lube} 2026-03-04 10:20 a")
    assert "'a' could be al, ana or app; write the full id." in said.err


def test_a_count_that_cannot_be_true_keeps_its_whole_row_out(wall: Wall) -> None:
    """The row is mended and comes again; half a row is never in the book."""
    before = wall.newest().entry
    said = wall.comes_back("{lube} 2026-03-04 10:20 lea count 9,206,300")
    assert said.code == 1
    assert f"row {wall.row('M-12/lube')}: " in said.err
    assert wall.newest().entry == before


def test_the_count_of_an_item_on_no_press_is_nobodys(wall: Wall) -> None:
    """M-44 lay in the rack."""
    said = wall.comes_back("{lube44} 2026-03-04 10:20 ana count 1206300")
    assert "M-44 was not on a press at that time; which press does the count 1,206,300 belong to?" in said.err


def test_work_that_has_not_come_yet_is_refused(wall: Wall) -> None:
    """Saturday, typed on Friday: a slip."""
    said = wall.comes_back("{lube} 2026-03-07 10:20 ana")
    assert "2026-03-07 10:20 is in the future" in said.err


# No time on the sheet


def test_a_tick_without_a_time_stands_at_the_end_of_its_shift_day(wall: Wall) -> None:
    """Wednesday's night shift ends on Thursday 06:00; a minute before that is still Wednesday's shift day."""
    said = wall.comes_back("{lube} 2026-03-04 ? tom", "{lube44} 2026-03-04 ? tom remark dry")
    assert said.code == 0, said.err
    texts = [line.text for line in wall.book.newest_written(2)]
    assert any('2026-03-05 05:59 sign M-12/lube for 2026-03-04 remark "time unknown" by tom' in text for text in texts)
    assert any('remark "time unknown; dry" by tom' in text for text in texts)
    assert {line.shift_day for line in wall.book.newest_written(2)} == {"2026-03-04"}


def test_without_shifts_it_stands_at_noon(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of the day it was ticked for."""
    (tmp_path / "day").mkdir()
    wall = Wall.__new__(Wall)
    wall.book = book_of(tmp_path / "day", tasks=TASKS, shifts=[])
    wall.listed = wall.book.week(at(MONDAY))
    wall._terminal, wall._file = Terminal(wall.book.path, capsys), tmp_path / "sheet.txt"
    assert wall.comes_back("{lube} 2026-03-04 ? tom").code == 0
    assert wall.newest().text.startswith("2026-03-04 12:00 sign M-12/lube")


def test_while_the_day_lasts_it_stands_at_now(wall: Wall) -> None:
    """Ticked and typed in the early shift of Wednesday; a tick for tomorrow is a slip."""
    said = wall.comes_back("{lube} 2026-03-04 ? tom", "{lube44} 2026-03-05 ? tom", moment="2026-03-04 11:00")
    assert "M-12/lube signed by Tom, 2026-03-04 11:00" in said.out
    assert "2026-03-06 05:59 is in the future" in said.err


@pytest.mark.parametrize(
    ("row", "missing"),
    [
        ("{lookDS-031} 2026-03-04 ? tom", "a grade"),
        ("{gapIP-1} 2026-03-04 ? tom", "measured points"),
        ("{boltsP-07} 2026-03-04 ? tom", "a second signature"),
        ("{guardP-07} 2026-03-04 ? app", "a legal requirement"),
    ],
)
def test_some_work_is_not_entered_without_its_time(wall: Wall, row: str, missing: str) -> None:
    """Whoever did it is asked."""
    before = wall.newest().entry
    said = wall.comes_back(row)
    assert f"has {missing}, so it cannot be entered without the time it was done. Ask " in said.err
    assert wall.newest().entry == before


def test_work_asked_for_by_law_goes_in_with_its_time(wall: Wall) -> None:
    """By somebody who may sign it."""
    said = wall.comes_back("{guardP-07} 2026-03-04 10:20 app", "{boltsP-07} 2026-03-04 10:20 tom")
    assert said.code == 0, said.err
    assert line_at(wall.book, "P-07/bolts", FRIDAY).unverified is not None


# What stands at the head of the sheet


def test_a_revision_the_print_cannot_have_known_is_refused(wall: Wall) -> None:
    """Figures of the revision swapped: the list of another day would sign other work."""
    write(wall.book, "2026-03-03 05:00 count P-07 1204400 by ana")
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana", revision=str(wall.listed.revision + 1))
    assert said.code == 1
    assert "A list printed 2026-03-02 04:00 cannot know entry" in said.err
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana", revision="99,999")
    assert "There is no entry '#99999' in this book." in said.err


def test_a_sheet_whose_revision_and_moment_contradict_each_other_writes_nothing(wall: Wall) -> None:
    """An older number with a newer moment: its rows would be those of another list, and sign work nobody did."""
    revision = wall.listed.revision
    write(wall.book, "2026-03-02 03:00 count P-07 1204400 by ana")
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana", revision=str(revision))
    assert said.code == 1
    assert f"#{revision} was the last entry only until 2026-03-02 03:00" in said.err
    assert wall.newest().text.startswith("2026-03-02 03:00 count")


def test_a_revision_that_is_no_number_is_wrong_usage(wall: Wall) -> None:
    """Written 812 or 4,812 on the sheet."""
    said = wall.comes_back("{lube} 2026-03-04 10:20 ana", revision="8,12")
    assert said.code == 2
    assert "'8,12' is not a number; write it like 4812 or 4,812." in said.err


# As people write it


@pytest.mark.parametrize(
    "written",
    ["2026-03-04 10:20", "Wed 10.20", "we 1020", "wednesday 10:20", "4.3. 10.20", "04.03.2026 10:20", "10:20"],
)
def test_days_and_times_are_read_as_people_write_them(wall: Wall, written: str) -> None:
    """A weekday is that of the printed week; without a day the one of the whole sheet is meant."""
    said = wall.comes_back(f"{{lube}} {written} ana", day="4.3.")
    assert "M-12/lube signed by Ana, 2026-03-04 10:20, in time" in said.out, said.err


def test_a_row_without_a_day_needs_that_of_the_sheet(wall: Wall) -> None:
    """It is not guessed."""
    said = wall.comes_back("{lube} 10:20 ana")
    assert "it has no date, and none was given for the whole sheet." in said.err
    said = wall.comes_back("{lube} 32.13. 10:20 ana")
    assert "'32.13.' is not a date; write it like 2026-03-04, 4.3. or Wed." in said.err


def test_counts_go_in_by_when_they_were_read_however_their_days_are_written(wall: Wall) -> None:
    """Thursday's row stands before Wednesday's."""
    said = wall.comes_back("{tidy} Thu 10:20 ana count 1,206,300", "{lube} 4.3. 10:20 ana count 1,205,300")
    assert said.code == 0, said.err
    assert strokes(wall.book, "P-07", FRIDAY) == (2_000, 2_000, 2_000)


def test_a_row_without_initials_is_asked_about_until_the_lead_has_seen_it(wall: Wall) -> None:
    """Nothing is signed; whoever sees the question says so."""
    said = wall.comes_back("{lube} Wed 10:20 ? remark nozzle dry")
    assert said.code == 0, said.err
    assert "M-12/lube has no initials, so it is not signed; the lead is asked who did it (#" in said.out
    assert wall.newest().kind == "remark"
    assert line_at(wall.book, "M-12/lube", FRIDAY).last_done_at is None
    again = wall.comes_back("{lube} Wed 10:20 ? remark nozzle dry")
    assert "is already kept as a remark" in again.out
    asked = [question for question in wall.book.questions(at(FRIDAY)) if "without initials" in str(question.asks)]
    assert [question.about for question in asked] == ["M-12"]
    assert "Lea remarks on M-12/lube: 'ticked 2026-03-04 10:20 without initials, nozzle dry; row" in str(asked[0].asks)
    write(wall.book, f"2026-03-06 09:30 seen M-12 since {utc_text(asked[0].since)} by lea")
    assert asked[0] not in wall.book.questions(at("2026-03-06 09:31"))
