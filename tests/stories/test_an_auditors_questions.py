"""Who changed what and why, what was late and why, what was permitted, who may sign, how good the data are."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, person, plant, task
from upkeep.book import Book
from upkeep.errors import NotFound
from upkeep.quality.pruning import Advice, advice_on, chance_of_none
from upkeep.views.evidence.permits import PermitEnd
from upkeep.views.evidence.quality import Counted, Measure

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 1}
CRIMP = define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT])
WASH = task("wash", "module", every="7 days", late_days=1)
GUARD = task("guard", "press", by=["maintenance technician"], every="30 days", second_signature="maintenance lead")
TRAINED = [{"work": "guard", "since": "2026-01-01", "until": "2026-12-31"}]
EXPIRED = [{"work": "guard", "since": "2025-01-01", "until": "2025-12-31"}]
MORE = (
    CRIMP,
    item("DS-031", family="tab"),
    person("tom", "Tom", "maintenance technician", training=TRAINED),
    person("ana", "Ana", "operator", "set-up technician", "maintenance technician", training=EXPIRED),
)
STORY = """
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at P-07 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 at P-07 100 by ana
    2026-03-02 14:00 count P-07 1100 by ben recorded 2026-03-02 17:00
    2026-03-03 06:00 hold DS-031 by lea because "burr"
    2026-03-03 06:10 permit DS-031 strokes 500 by lea because "order A-1 ends today"
    2026-03-03 14:00 count P-07 1800 by ben
    2026-03-04 06:00 release DS-031 by lea because "stoned"
    2026-03-12 10:00 sign M-12/wash for 2026-03-08 by tom because "the washer was out of order"
    2026-03-13 14:00 count P-07 9800 by ben
"""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two weeks with a permit, late work, a reading told late, and definitions that changed."""
    folder = tmp_path_factory.mktemp("auditor")
    with book_of(folder, STORY, tasks=(WASH, GUARD), more=MORE, training=["guard"]) as book:
        later = at("2026-03-14 08:00")
        changed = [
            task("wash", "module", every="14 days", late_days=1),
            define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[{**HEIGHT, "upper": 1.24}]),
            plant(training=["guard"], late_hours=48, rights={**plant().content["rights"], "pause": ["stores"]}),
        ]
        book.load(changed, later, "lea", later, because="washed for nothing every week")
        return book.path


def test_who_changed_an_interval_when_why_and_from_what(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In words; and how it stood before."""
    page = Terminal(path, capsys).types("2026-03-15 08:00", "changes", "wash").out
    assert "2026-03-14 08:00 task wash changed by Lea" in page
    assert "because: washed for nothing every week" in page
    assert "interval: 7 days, then 14 days" in page
    assert "AS IT STOOD 2026-03-15 08:00: task wash" in page
    before = Terminal(path, capsys).types("2026-03-15 08:00", "changes", "wash", "--at", "2026-03-10 08:00").out
    assert "Nothing changed." not in before  # it was defined
    assert "interval: 7 days" in before
    assert "14 days" not in before
    assert "{" not in page


def test_limits_rules_and_rights_are_told_in_words(path: Path) -> None:
    """Nested fields go by what people call them."""
    with Book.open(path) as book:
        found = book.changes(at("2026-03-15 08:00"))
        told = {f"{one.key} {field.path}": f"{field.field}: {field.before}, then {field.after}"
                for one in found.changes for field in one.fields}  # fmt: skip
        assert told["T-05 points.crimp-height.upper"] == "point crimp-height, upper limit: 1.25, then 1.24"
        assert told["plant late_hours"] == "told late after, hours: none, then 48"
        assert told["plant rights.pause"].startswith("right to put items out of use or bring them back: none, then")
        assert {one.by for one in found.changes} == {"lea"}
        assert book.changes(at("2026-03-15 08:00"), by="tom").changes == ()
        with pytest.raises(NotFound, match="wosh"):
            book.changes(at("2026-03-15 08:00"), "wosh")


def test_late_work_says_its_reason(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Signed four days after it was due, because the washer was out of order."""
    with Book.open(path) as book:
        late = book.late(at("2026-03-15 08:00"))
        (wash,) = [line for line in late.lines if line.line == "M-12/wash"]
        assert (wash.days, wash.because, wash.by) == (4, "the washer was out of order", "Tom")
        assert [line.line for line in book.late(at("2026-03-15 08:00"), item="P-07").lines] == []
    page = Terminal(path, capsys).types("2026-03-15 08:00", "late", "--item", "M-12").out
    assert "reason: the washer was out of order" in page


def test_permits_say_how_much_was_used_and_how_they_ended(path: Path) -> None:
    """500 more were allowed and 700 made: used up before the release."""
    with Book.open(path) as book:
        (permit,) = book.permits(at("2026-03-15 08:00")).permits
        assert (permit.strokes, permit.by, permit.because) == (500, "Lea", "order A-1 ends today")
        assert permit.ends is PermitEnd.USED_UP
        (running,) = book.permits(at("2026-03-03 06:30")).permits
        assert running.ends is PermitEnd.RUNNING


def test_who_may_sign_and_trained_until_when(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Tom is trained, Ana's training ran out, the lead stands for the role and is not trained."""
    with Book.open(path) as book:
        (guard,) = book.signers(at("2026-03-15 08:00"), "guard").tasks
        assert [(one.person, str(one.trained[0][1])) for one in guard.signers] == [("tom", "2026-12-31")]
        assert [(one.person, str(one.ended)) for one in guard.not_trained] == [("ana", "2025-12-31"), ("lea", "None")]
        assert guard.second_role == "maintenance lead"
    page = Terminal(path, capsys).types("2026-03-15 08:00", "signers").out
    assert "NOT Ana (ana): training for guard ran out 2025-12-31" in page
    assert "release what is held: maintenance lead, quality technician; now lea" in page


def test_the_quality_of_the_data_by_area_and_week(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One of five readings was written three hours late; ten shifts with strokes had no reading."""
    with Book.open(path) as book:
        found = book.data_quality(at("2026-03-15 08:00"), weeks=2)
        assert found.weeks == ("2026-W10", "2026-W11")
        rows = {(row.measure, row.area): row for row in found.rows}
        late = rows[Measure.LATE_READINGS, None]
        assert (late.whole, late.weeks) == (Counted(1, 4), (Counted(1, 3), Counted(0, 1)))
        assert rows[Measure.MISSING, "press hall"].whole.number > 0
        assert rows[Measure.UNPROVEN, None].whole == Counted(3, 3)
        assert rows[Measure.GAUGES, None].whole == Counted(0, 1)
    page = Terminal(path, capsys).types("2026-03-15 08:00", "data-quality", "--weeks", "2").out
    assert "whole plant: 25 %, 1 of 4; by week 33 %, 0 %" in page


def test_nothing_in_sixty_times_when_others_find_one_in_twenty() -> None:
    """0.95 to the power 60 is 4.6 %, to the power 90 1.0 % (by arithmetic; the trade brief of the house has the same).

    Below 5 % it is no accident; above it is too few to say.
    """
    assert chance_of_none(60, 0.05) == pytest.approx(0.0461, abs=5e-5)
    assert chance_of_none(90, 0.05) == pytest.approx(0.0099, abs=5e-5)
    assert advice_on(0, 60, 0.05) is Advice.NEVER_FINDS
    assert advice_on(0, 50, 0.05) is Advice.NOTHING_TO_SAY
    assert advice_on(0, 60, None) is Advice.NOTHING_TO_SAY
    assert advice_on(20, 40, 0.05) is Advice.FINDS_TOO_MUCH
    assert advice_on(2, 60, 0.05) is Advice.FINDS


def test_which_tasks_are_listed_with_their_numbers(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One time says nothing."""
    told = json.loads(Terminal(path, capsys).types("2026-03-15 08:00", "which-tasks", "--json").out)
    assert [(one["task"], one["times"], one["findings"], one["advice"]) for one in told["tasks"]] == [
        ("wash", 1, 0, "too few to say")
    ]


def test_late_work_is_asked_for_its_reason_and_never_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Picked by number or in words; without one it is taken, and the writer told; work of a shift is not asked."""
    swept = task("sweep", "press", each_shift=True)
    with book_of(tmp_path, STORY.partition("    2026-03-12")[0], tasks=(WASH, GUARD, swept), more=MORE) as book:
        terminal = Terminal(book.path, capsys)
    assert "no reason was given" in terminal.types("2026-03-12 10:00", "sign", "M-12/wash", "--by", "tom").out
    again = terminal.types("2026-03-12 10:01", "sign", "P-07/sweep", "--by", "tom")
    assert (again.code, "no reason" in again.out) == (0, False)
    asks = terminal.types("2026-03-25 10:00", "sign", "M-12/wash", "--because", "list", "--by", "tom")
    assert asks.code == 2
    assert "1 the press had to run, 2 nobody was free" in " ".join(asks.err.split())
    late = terminal.types("2026-03-25 10:00", "sign", "M-12/wash", "--because", "2", "--by", "tom")
    assert (late.code, "no reason" in late.out) == (0, False)
    page = terminal.types("2026-03-25 10:05", "late", "--item", "M-12").out
    assert "reason: no reason given" in page
    assert "reason: nobody was free" in page
    assert "1 of them says no reason." in page
