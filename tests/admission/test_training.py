"""Who is not, or no longer, trained for work is refused with the reason; past work by the training of its day."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import CLEAN, at, book_of, person, write
from upkeep.book import Book
from upkeep.errors import DefinitionProblems, Refused
from upkeep.plant.files import read_definitions
from upkeep.plant.people import person_from
from upkeep.wording.sentences import ENGLISH, text
from upkeep.wording.training import training_said

BEN = person(
    "ben", "Ben", "operator",
    training=[
        {"work": "clean", "since": "2026-01-01", "until": "2026-03-02"},
        {"work": "press", "since": "2026-03-02"},
    ],
)  # fmt: skip
SOON = person("tom", "Tom", "operator", training=[{"work": "clean", "since": "2026-04-01"}])


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """Cleaning and work on presses ask for training."""
    with book_of(tmp_path, tasks=[CLEAN], more=[BEN, SOON], training=["clean", "press"]) as opened:
        yield opened


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("2026-03-03 07:00 sign M-12/clean for extra by ben", "the training for clean ran out on 2026-03-02"),
        ("2026-03-03 07:00 sign M-12/clean for extra by tom", "the training for clean begins on 2026-04-01"),
        ("2026-03-03 07:00 sign M-12/clean for extra by ana", "clean asks for training, and none is on record"),
        ("2026-03-03 07:00 sign M-12/clean for extra by lea", "clean asks for training, and none is on record"),
        ("2026-03-03 07:00 fit M-12 in P-07 by ana", "press asks for training, and none is on record"),
    ],
)
def test_who_is_not_trained_is_refused_with_the_reason(book: Book, line: str, why: str) -> None:
    """Never, no longer, not yet; the lead, who stands above the roles, as well."""
    with pytest.raises(Refused, match=why):
        write(book, line)


def test_who_is_trained_works_and_what_asks_for_nothing_is_anybodys(book: Book) -> None:
    """On the first and the last day too."""
    write(book, "2026-03-02 06:00 fit M-12 in P-07 by ben")
    write(book, "2026-03-02 07:00 sign M-12/clean for extra by ben")
    write(book, "2026-03-03 07:00 fit DS-031 in M-12 by ana")


def test_work_told_late_is_judged_by_the_training_of_its_day(book: Book) -> None:
    """Also once the training has run out, and what stands in the book stays when training is taken back."""
    write(book, "2026-03-02 07:00 sign M-12/clean for extra by ben recorded 2026-03-04 07:00")
    book.load([person("ben", "Ben", "operator")], at("2026-03-05 07:00"), "lea", at("2026-03-05 07:00"), "revoked")
    with pytest.raises(Refused, match="none is on record"):
        write(book, "2026-03-02 08:00 sign M-12/clean for extra by ben recorded 2026-03-05 08:00")
    assert book.prove().clean


FILES = {
    "plant.toml": '[plant]\nname = "T"\nzone = "UTC"\nkeepers = ["lea", "quin"]\ntraining = ["press"]\n',
    "places.csv": "id,title,area\nhall,Hall,press hall\n",
    "people.csv": "id,name,roles\nlea,Lea,maintenance lead\nquin,Quin,quality technician\nben,Ben,operator\n",
    "items.csv": "id,kind,title,place,digits,max_rate\nP-07,press,Press,hall,7,4000\n",
    "tasks.toml": "",
    "training.csv": "person,work,since,until\nben,press,2026-01-01,2026-12-31\nben,press,2025-01-01,2025-12-31\n",
}


def test_training_is_a_small_file_of_its_own(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Its rows become part of the people, and the table of rights shows them."""
    for name, content in FILES.items():
        (tmp_path / name).write_text(content)
    definitions = read_definitions(tmp_path)
    ben = next(person_from(one.content) for one in definitions if one.key == "ben")
    assert [(row.work, str(row.since), str(row.until)) for row in ben.training] == [
        ("press", "2025-01-01", "2025-12-31"), ("press", "2026-01-01", "2026-12-31"),
    ]  # fmt: skip
    with Book.create(tmp_path / "plant.book") as book:
        book.load(definitions, at("2026-03-01 06:00"), "lea", at("2026-03-01 06:00"))
    told = Terminal(tmp_path / "plant.book", capsys).types("2026-03-02 08:00", "rights")
    assert "Work on press asks for training\n    trained: ben (until 2026-12-31)\n" in told.out
    told = Terminal(tmp_path / "plant.book", capsys).types("2027-03-02 08:00", "rights")
    assert "trained: nobody\n    run out: ben (2026-12-31)\n" in told.out


@pytest.mark.parametrize(
    ("file", "old", "new", "problem"),
    [
        ("training.csv", "ben,press,2026", "bem,press,2026", r"training.csv line 2, field person: found 'bem'.*'ben'"),
        ("training.csv", "ben,press,2026", "ben,pres,2026", r"training.csv line 2, field work: found 'pres'.*'press'"),
        ("training.csv", "2026-12-31", "2020-12-31", r"training.csv line 2, field until: found '2020-12-31'"),
        ("plant.toml", '"press"', '"presss"', r"plant.toml line 5, field training: found 'presss'.*'press'"),
    ],
)
def test_training_that_leads_nowhere_is_a_problem_of_its_line(
    tmp_path: Path, file: str, old: str, new: str, problem: str
) -> None:
    """A person or work the plant does not have; a last day before the first."""
    for name, content in FILES.items():
        (tmp_path / name).write_text(content.replace(old, new) if name == file else content)
    with pytest.raises(DefinitionProblems, match=problem):
        read_definitions(tmp_path)


# That it ends

ENDS = [
    person("ben", "Ben", "operator", training=[{"work": "clean", "since": "2026-01-01", "until": "2026-03-20"}]),
    person(
        "tom", "Tom", "operator",
        training=[
            {"work": "clean", "since": "2025-01-01", "until": "2026-02-20"},
            {"work": "clean", "since": "2026-04-01"},
        ],
    ),
    person(
        "ana", "Ana", "operator",
        training=[
            {"work": "clean", "since": "2025-03-11", "until": "2026-03-10"},
            {"work": "clean", "since": "2026-03-11", "until": "2027-03-10"},
        ],
    ),
    person(
        "kim", "Kim", "operator", until="2026-03-01",
        training=[{"work": "clean", "since": "2026-01-01", "until": "2026-03-05"}],
    ),
]  # fmt: skip
"""Ben's ends, Tom's is over and begins again, Ana's goes on, Kim has left."""


def told(book: Book, moment: str) -> list[str]:
    """What is told of training that ends, in words."""
    return [text(training_said(end), ENGLISH) for end in book.training_ends(at(moment))]


def test_training_that_ends_is_told_before_and_after_on_board_questions_and_week(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Thirty days to each side unless the plant says otherwise; what is renewed in time, and who has left, is not."""
    book_of(tmp_path, tasks=[CLEAN], more=ENDS, training=["clean"]).close()
    shell = Terminal(tmp_path / "plant.book", capsys)
    tom = "Tom may not work on clean: the training ran out on 2026-02-20, the next is valid from 2026-04-01."
    ben = "Training of Ben for clean ends on 2026-03-20, in 18 days."
    for words in (["board"], ["board", "--role", "maintenance lead"], ["questions"], ["week"]):
        said = " ".join(shell.types("2026-03-02 08:00", *words).out.split())
        assert f"{tom} {ben}" in said, words
        assert "Ana for clean" not in said
        assert "Kim" not in said
    assert "Training of" not in shell.types("2026-03-02 08:00", "board", "--role", "operator").out
    week = json.loads(shell.types("2026-03-02 08:00", "week", "--json").out)
    assert [(end["person"], end["last_day"], end["days"]) for end in week["training"]] == [
        ("tom", "2026-02-20", -10), ("ben", "2026-03-20", 18),
    ]  # fmt: skip


def test_the_days_ahead_are_the_plants_own(tmp_path: Path) -> None:
    """With five it is told on the 15th and not on the 14th of March, and up to the 25th."""
    with book_of(tmp_path, tasks=[CLEAN], more=ENDS[:1], training=["clean"], training_days=5) as book:
        assert told(book, "2026-03-14 08:00") == []
        assert told(book, "2026-03-15 08:00") == ["Training of Ben for clean ends on 2026-03-20, in 5 days."]
        assert told(book, "2026-03-20 08:00") == ["Training of Ben for clean ends today, 2026-03-20."]
        assert told(book, "2026-03-25 08:00") == ["Ben may not work on clean: the training ran out on 2026-03-20."]
        assert told(book, "2026-03-26 08:00") == []


def test_training_for_work_that_asks_for_none_is_not_told(tmp_path: Path) -> None:
    """Where the plant names no work, nobody's end matters."""
    with book_of(tmp_path, tasks=[CLEAN], more=ENDS, training=["press"]) as book:
        assert told(book, "2026-03-02 08:00") == []
