"""The dossier of an item against one made by hand from the same story."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import Terminal
from tests.plants import INSPECT, book_of, define, item, task
from upkeep.book import Book

HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 2}
BLOCK = {"id": "zero", "title": "Zero", "unit": "mm", "lower": -0.002, "upper": 0.002}
MORE = (
    define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[HEIGHT], looks=["burr"]),
    item("DS-031", family="tab", owner="Customer K", since="2024-05-01"),
    item("CP-a", life=500_000),
)
TASKS = (INSPECT, task("block-check", "gauge", every="30 days", points=[BLOCK], gauge_class=None))
STORY = """
    2026-03-02 05:50 stated G-1/block-check done 2026-03-01 by lea
    2026-03-02 05:55 fit CP-a in DS-031 by ana
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at P-07 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 at P-07 100 by ana
    2026-03-02 06:25 check DS-031 first-off of T-05 with G-1 crimp-height=1.2,1.2 burr:good order A-1 reel R-1 by lea
    2026-03-02 09:00 fault DS-031 "burr on the left" stopped by ben
    2026-03-02 09:05 repair #30 taken by tom
    2026-03-02 09:10 repair #30 fixed cause other text "stoned" by tom
    2026-03-02 09:15 repair #30 verified what hand-cycle,first-piece,guard by lea
    2026-03-02 09:20 release DS-031 by lea because "stoned and looked at"
    2026-03-02 13:50 check DS-031 last-off of T-05 with G-1 crimp-height=1.22,1.26 burr:good order A-1 by ben
    2026-03-02 13:55 check DS-031 last-off of T-05 with G-1 crimp-height=1.22,1.27 burr:good order A-1 by ben \
corrects #35 because "read again from the slip"
    2026-03-02 14:00 count P-07 3100 by ben
    2026-03-02 14:10 permit DS-031 strokes 500 by lea because "order A-1 ends today"
    2026-03-02 14:30 sign DS-031/inspect for extra grade 1 remark "clean" by tom
    2026-03-02 14:40 unfit CP-a at P-07 3100 to toolroom by ana
    2026-03-02 14:41 fit CP-b in DS-031 at P-07 3100 by ana
"""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A day with a set: fitted, checked, stopped, checked badly, permitted, inspected; a count corrected."""
    more = (*MORE, define("place", "toolroom", title="Toolroom", area="toolroom", route=3))
    with book_of(tmp_path_factory.mktemp("dossier"), STORY, tasks=TASKS, more=more) as book:
        return book.path


BY_HAND = {
    "WHAT IT IS, AND WHOSE": """
        die set of the family tab
        belongs to Customer K
        is at P-07, in M-12
        in use since 2024-05-01; in this book since 2026-03-01 00:00
        HELD: failed check (last-off): crimp-height
    """,
    "WHERE IT SAT": "since 2026-03-02 06:00 in M-12 (#28)",
    "WHAT SAT IN IT, AND BATCHES": """
        2026-03-02 05:55 to 2026-03-02 14:40 CP-a (#25, #40), then to toolroom
        since 2026-03-02 14:41 CP-b (#41)
    """,
    "STROKES, AND WHAT THEY REST ON": """
        since new (in this book)   3,000 strokes
        since last inspection      0 strokes (2026-03-02 14:30)
        counted until              2026-03-02 14:41
        since 2026-03-02 06:00 on P-07: 3,000 strokes
    """,
    "CHECKS, WITH THE LIMITS OF THEN": """
        first-off 2026-03-02 06:25  Lea  #29  good
        crimp-height  1.2, 1.2 mm  (1.15 to 1.25)
        gauge G-1 that day: valid, next due in 29 days
        last-off  2026-03-02 13:55  Ben  #36  OUT: crimp-height
    """,
    "WORK SIGNED, BY THE INSTRUCTIONS AND RIGHTS OF THEN": """
        #39 2026-03-02 14:30 DS-031/inspect, Task inspect, for an extra
        by the instruction of #20, 2026-03-01 00:00
        grade 1
        "clean"
    """,
    "FAULTS AND REPAIRS": """
        #30     RELEASED  DS-031   burr on the left (stopped)
        cause: another cause, described in words; done: stoned
    """,
    "HOLDS": "since 2026-03-02 13:55 failed check (last-off): crimp-height (#36); still held",
    "SUSPECT PRODUCT AND DISPOSITIONS": """
        HOLD LIST #36   DS-031   3,000 strokes suspect
        From   2026-03-02 06:25: its last good check (#29)
    """,
    "CORRECTIONS": "",
    "NOT KNOWN": "Names that nothing proved: 3 of 3 checks and sign-offs.",
}
"""What the story says of DS-031 at three in the afternoon, section by section, written by hand."""


def test_a_dossier_says_what_one_made_by_hand_says(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each row that was written by hand stands in its section."""
    page = Terminal(path, capsys).types("2026-03-02 15:00", "dossier", "DS-031").out
    sections = _sections(page)
    for title, rows in BY_HAND.items():
        for row in filter(None, map(str.strip, rows.splitlines())):
            assert row in sections[title], title
    assert max(map(len, page.splitlines())) <= 80
    told = " ".join(" ".join(sections["CORRECTIONS"]).split())
    assert "#35 said: 2026-03-02 13:50 check DS-031 last-off" in told
    assert "crimp-height=1.22,1.26" in told
    assert "corrected by #36: 2026-03-02 13:55 check DS-031 last-off" in told
    assert "by Ben 2026-03-02 13:55, because: read again from the slip" in told


def _sections(page: str) -> dict[str, list[str]]:
    """The rows of each section, without indents."""
    found: dict[str, list[str]] = {}
    rows: list[str] = []
    for line in page.splitlines():
        if line.isupper() and line.rstrip() == line and not line.startswith(" "):
            rows = found.setdefault(line, [])
        rows.append(line.strip())
    return found


def test_a_part_has_what_was_measured_on_its_set_while_it_sat_there(path: Path) -> None:
    """CP-a was in for both checks and the inspection, CP-b for none of them."""
    with Book.open(path) as book:
        now = book.zone.read("2026-03-02 15:00")
        was_in, came_later = book.dossier("CP-a", now), book.dossier("CP-b", now)
        assert [(row.entry, row.item) for row in was_in.checks] == [(29, "DS-031"), (36, "DS-031")]
        assert [row.entry for row in was_in.signed] == [39]
        assert (was_in.about.place, was_in.life.since_new) == ("toolroom", (3000, 3000, 3000))
        assert (came_later.checks, came_later.signed) == ((), ())
        assert [row.entry for row in book.dossier("P-07", now).checks] == [29, 36]


def test_it_shows_the_moment_asked_for_and_no_more(path: Path) -> None:
    """Before the last piece nothing had failed; from two o'clock on only the inspection was signed."""
    with Book.open(path) as book:
        before = book.dossier("DS-031", book.zone.read("2026-03-02 10:00"))
        assert ([row.entry for row in before.checks], before.permits, before.corrections) == ([29], (), ())
        assert [row.entry for row in before.holds] == [30]
        later = book.dossier("DS-031", book.zone.read("2026-03-02 15:00"), since=book.zone.read("2026-03-02 14:00"))
        assert ([row.entry for row in later.checks], [row.entry for row in later.signed]) == ([], [39])
        assert [row.strokes for row in later.permits] == [500]
        assert [row.item for row in later.contents] == ["CP-a", "CP-b"]


def test_as_json_and_as_a_pdf_it_says_the_same(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Scripts get the numbers, paper the words; both have the seal or the entry they go back to."""
    terminal = Terminal(path, capsys)
    told = json.loads(terminal.types("2026-03-02 15:00", "dossier", "DS-031", "--json").out)
    assert (told["about"]["owner"], told["about"]["held_reason"]["kind"]) == ("Customer K", "failed-check")
    assert next(row["limits"] for row in told["checks"]) == [["crimp-height", 1.15, 1.25]]
    paper = tmp_path / "DS-031.pdf"
    assert terminal.types("2026-03-02 15:00", "dossier", "DS-031", "--pdf", str(paper), "--by", "lea").code == 0
    words = " ".join(page.extract_text() for page in PdfReader(paper).pages)
    assert "DOSSIER DS-031 Item DS-031" in " ".join(words.split())
    assert "Seal:" in words
    assert "read again from the slip" in words
    assert terminal.types("2026-03-02 15:00", "dossier", "DS-777").code == 1


def test_rights_and_training_are_those_of_then(tmp_path: Path) -> None:
    """Tom lost his role and his training ran out later; the sign-off shows what he had."""
    rows = [{"work": "inspect", "since": "2026-01-01", "until": "2026-03-05"}]
    tom = define("person", "tom", name="Tom", roles=["maintenance technician"], training=rows)
    with book_of(tmp_path, "2026-03-02 14:30 sign DS-031/inspect for extra grade 1 by tom", tasks=TASKS, more=(tom,),
                 training=["inspect"]) as book:  # fmt: skip
        later = book.zone.read("2026-03-20 08:00")
        retired = define("person", "tom", name="Tom", roles=["operator"])
        book.load([retired], later, "lea", later, because="moved to the line")
        (row,) = book.dossier("DS-031", later).signed
        assert (row.authority.roles, row.authority.given) == (("maintenance technician",), True)
        assert [(work, str(until), held) for work, until, held in row.authority.trained] == [
            ("inspect", "2026-03-05", True)
        ]
