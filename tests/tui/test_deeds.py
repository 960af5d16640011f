"""Every job of the lead and the set-up technician has its key: from the board, by key or palette, to the entry written.

The list of jobs is that of people who tried the screens and were driven into the shell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from tests.clock import Clock
from tests.plants import CLEAN, INSPECT, at, book_of, define, item, number_of, task, write, written_lines
from tests.tui.terminal import Terminal, terminal
from tui.present.moments import Now
from tui.screens.acts.deed import Deed, Filled, Subject
from tui.screens.acts.palette import DEEDS, offered
from tui.screens.acts.reading import read
from tui.screens.acts.subjects import subject_of
from tui.screens.home.home import HomeScreen
from tui.widgets.folded_choice import FoldedChoice
from upkeep.book import Book
from upkeep.frozen import frozen

MONDAY = at("2026-03-02 07:00")
OILING = task("oiling", "press", every="7 days", late_days=2)
SCREENS = "via screen proof none"

BEGUN = """
2026-03-01 22:00 fit M-12 in P-07 by ana
2026-03-01 22:00 fit DS-031 in M-12 by ana
2026-03-01 22:00 fit CP-a in DS-031 by ana
2026-03-02 06:00 count P-07 1204300 by ana
2026-03-02 06:55 count P-07 1205000 by ana
"""


@pytest.fixture
def path(tmp_path: Path) -> Iterator[Path]:
    """The file of a book in which M-12 with DS-031 ran this morning."""
    more = [define("place", "bench", title="Bench", area="toolroom", route=3), item("CP-a", life=100_000)]
    more.append(define("spare", "SP-OIL", kind="consumable", title="Oil"))
    with book_of(tmp_path, BEGUN, tasks=[CLEAN, INSPECT, OILING], more=more) as book:
        found = book.path
    yield found
    with Book.open(found) as book:
        assert book.prove().clean


def newest(path: Path, n: int = 1) -> str:
    """The text of the entry written last, or of one before it."""
    with Book.open(path) as book:
        return written_lines(book)[-n]


async def select(here: Terminal, words: str) -> None:
    """Finds a line by words, among all lines of the board, and selects it."""
    if isinstance(here.app.screen, HomeScreen):
        await here.press("b")
    await here.press("t", "slash")
    await here.type(words, "enter")


async def burst(here: Terminal, text: str, *then: str) -> None:
    """Types as fast as a scanner: all of a text, and keys after it, before anybody looks."""
    await here.pilot.press(*("space" if char == " " else char for char in text), *then)
    await here.settle()


async def fill(here: Terminal, *values: str) -> None:
    """Types the values of a form, Enter after each ("" leaves a field as it stands; a figure picks a row at once);
    then writes, after a look at what it moves where it moves something."""
    for value in values:
        picks = isinstance(here.app.screen.focused, FoldedChoice)
        await burst(here, value, *(() if picks and value else ("enter",)))
    await here.press("ctrl+s")
    if "Nothing is written yet." in here.text:
        await here.press("enter")


@frozen
class Job:
    """A job: what people call it, about which item or line, the deed, what is typed into its fields by their keys, and
    the words of the entry."""

    name: str
    about: str
    deed: str
    typed: dict[str, str]
    written: str
    by: str = "lea"


JOBS = (
    Job("order", "P-07", "order",
        {"order": "A-77", "pieces": "30,000", "item": "DS-031", "press": "P-07", "day": "2026-03-09"},
        "order A-77 30000 with DS-031 on P-07 from 2026-03-09 by lea"),
    Job("pieces made", "P-07", "quantity", {"pieces": "5000", "minutes": "240", "item": "ds-031", "order": "A-77"},
        "quantity P-07 5000 over 240 min with DS-031 order A-77"),
    Job("counter replaced or set back", "P-07", "restart", {"shown": "1205000", "now": "0", "because": "new counter"},
        "restart P-07 from 1205000 to 0"),
    Job("counter smashed", "P-07", "restart", {"now": "0", "because": "by the forklift"}, "restart P-07 from ? rate"),
    Job("how a counter counts", "P-07", "configure-counter",
        {"way": "running", "digits": "6", "times": "0,5", "because": "counts twice"},
        "configure-counter P-07 running digits 6 times 0.5"),
    Job("uncounted strokes", "P-07", "uncounted", {"way": "hand", "strokes": "14"}, "uncounted P-07 hand 14"),
    Job("rework", "CP-a", "rework", {"granted": "60000", "because": "polished, 1.204 before"}, "rework CP-a granted"),
    Job("nobody knows its life", "CP-b", "unknown-life", {"because": "from a drawer"}, "unknown-life CP-b by lea"),
    Job("pause", "CP-b", "pause", {"because": "spare"}, "pause CP-b by lea"),
    Job("resume", "CP-b", "resume", {"because": "needed"}, "resume CP-b by lea"),
    Job("retire", "CP-b", "retire", {"end": "worn", "because": "edges rounded"}, "retire CP-b worn"),
    Job("guard off", "P-07", "happened", {"what": "guard removed"}, "happened P-07 guard-removed"),
    Job("gauge found out", "G-1", "out-of-tolerance", {"off": "-0.008"}, "out-of-tolerance G-1 off -0.008"),
    Job("hold", "DS-031", "hold", {"because": "chip seen"}, "hold DS-031 by lea"),
    Job("deviation permit", "DS-031", "permit", {"strokes": "2000", "because": "order ends"}, "permit DS-031 strokes"),
    Job("release", "DS-031", "release", {"because": "no chip"}, "release DS-031 by lea"),
    Job("remark", "DS-031", "remark-item", {"text": "look at the shank"}, 'remark DS-031 "look at the shank"'),
    Job("fit", "M-44", "hang", {"inside": "P-08", "count": "120"}, "fit M-44 in P-08 at P-08 120 by lea"),
    Job("fit into the module that hangs", "P-08", "take-in", {"what": "DS-102", "count": "120"},
        "fit DS-102 in M-44 at P-08 120"),
    Job("unfit to a place", "DS-102", "take-out", {"count": "130", "to": "bench"}, "unfit DS-102 at P-08 130 to bench"),
    Job("swap", "P-07", "take-in", {"what": "DS-102", "count": "40"}, "fit DS-102 in M-12 at P-07 40"),
    Job("put to a place", "DS-031", "put", {"to": "bench", "how": "in-pieces"}, "put DS-031 to bench in-pieces"),
    Job("fault taken", "M-12", "taken", {"fault": "FAULT", "text": "on it"}, "repair #FAULT taken"),
    Job("fault fixed", "M-12", "fixed", {"fault": "FAULT", "cause": "debris", "text": "brushed"},
        'repair #FAULT fixed cause debris text "brushed"', by="tom"),
    Job("fault verified", "M-12", "verified", {"fault": "FAULT"}, "repair #FAULT verified what hand-cycle"),
    Job("fault closed", "M-12", "closed", {"fault": "FAULT"}, "repair #FAULT closed"),
    Job("strike", "DS-102", "strike", {"entry": "ORDER", "because": "no order came"}, "strike #ORDER"),
    Job("correct a count", "P-03", "correct", {"entry": "COUNT", "figure": "110", "because": "figures swapped"},
        "count P-03 110 by lea recorded 2026-03-02 07:27 corrects #COUNT"),
    Job("sign with another time", "M-12/clean", "done", {"done": "6:30"}, "2026-03-02 06:30 sign M-12/clean for"),
    Job("cancel", "P-07/oiling", "cancel", {"because": "done by the maker"}, "cancel P-07/oiling for"),
    Job("interval change", "DS-031/inspect", "interval",
        {"whose": "item", "strokes": "4000", "because": "worn early"}, '"strokes_for":{"DS-031":4000}'),
    Job("a job begun", "M-12/clean", "start", {}, "start M-12/clean by lea"),
    Job("left for a while", "M-12/clean", "interrupt",
        {"because": "waits for a brush", "left": "bench 2"}, 'left "bench 2" by lea because "waits for a brush"'),
    Job("taken over", "M-12/clean", "go-on", {}, "by ben", by="ben"),
    Job("given up", "M-12/clean", "give-up", {"because": "no brush"}, 'by ben because "no brush"', by="ben"),
    Job("a lock", "P-07", "lock", {"point": "main switch"}, 'lock P-07 "main switch" by lea'),
    Job("a lock off", "P-07", "unlock", {"lock": "LOCK"}, "unlock #LOCK by ben", by="ben"),
    Job("the shift before accepted", "P-07", "handover", {"side": "accepted", "text": "seen"},
        'handover 2026-02-27/night accepted "seen" by lea'),
    Job("spares in", "P-07", "receive", {"spare": "oil", "many": "12", "batch": "B-1"}, "receive SP-OIL 12 batch B-1"),
    Job("spares ordered", "P-07", "buy", {"spare": "SP-OIL", "many": "12", "expected": "2026-03-20"},
        "buy SP-OIL 12 expected 2026-03-20"),
    Job("spares for a job", "M-12/clean", "issue", {"spare": "SP-OIL", "many": "2"}, "issue SP-OIL 2 for M-12/clean"),
    Job("spares back", "M-12/clean", "give-back", {"spare": "SP-OIL", "many": "1"},
        "give-back SP-OIL 1 for M-12/clean"),
    Job("spares counted", "P-07", "count-shelf", {"spare": "SP-OIL", "many": "9"}, "count-shelf SP-OIL 9 should 11"),
    Job("out for rework", "CB-1", "send-out", {"to": "the grinder", "expected": "2026-03-20", "text": "grind"},
        'send-out CB-1 to "the grinder" expected 2026-03-20 "grind"'),
    Job("back from rework", "CB-1", "come-back", {"text": "note 9"}, 'come-back CB-1 text "note 9"'),
    Job("receiving inspection", "CB-1", "inspect-return", {"found": "good", "text": "12.04 mm"},
        'take-in CB-1 good text "12.04 mm"'),
    Job("stated", "P-08/oiling", "stated", {"done": "2026-02-20"}, "stated P-08/oiling done 2026-02-20"),
)  # fmt: skip
"""All of them by the palette: ``+``, a few letters of what it is called, its form."""


GOES_BEFORE = {
    "FAULT": '2026-03-02 06:56 fault M-12 "wheel sticks" by ben',
    "LOCK": '2026-03-02 06:56 lock P-07 "air valve" by ben',
    "ORDER": "2026-03-02 06:56 order A-1 5 with DS-102 on P-07 from 2026-03-09 by ana",
    "COUNT": "2026-03-02 06:57 count P-03 100 by ben",
}
"""What some jobs are about; their numbers stand where a job names them."""


VALUES = {
    "order": 4, "pieces made": 2, "counter replaced or set back": 1, "counter smashed": 1, "how a counter counts": 2,
    "uncounted strokes": 2, "rework": 2, "nobody knows its life": 1, "pause": 1, "resume": 1, "retire": 2,
    "guard off": 1, "gauge found out": 1, "hold": 1, "deviation permit": 2, "release": 1, "remark": 1, "fit": 1,
    "fit into the module that hangs": 1, "unfit to a place": 0, "swap": 1, "put to a place": 1, "fault taken": 0,
    "fault fixed": 2, "fault verified": 0, "fault closed": 0, "strike": 2, "correct a count": 1,
    "sign with another time": 1, "cancel": 1, "interval change": 1, "a job begun": 0, "left for a while": 1,
    "taken over": 0, "given up": 1, "a lock": 1, "a lock off": 1, "the shift before accepted": 0, "stated": 1,
    "spares in": 2, "spares ordered": 3, "spares for a job": 2, "spares back": 2, "spares counted": 2,
    "out for rework": 3, "back from rework": 0, "receiving inspection": 2,
}  # fmt: skip
"""How many values each job asks for at the least: one action each.  Besides them it takes four: plus, the deed by a few
letters, write, and Enter after the look at what it moves; three where the deed has a key, and one less where it moves
nothing."""


def filled(book: Book, deed: Deed, subject: Subject, typed: dict[str, str], by: str, now: Now) -> Filled:
    """What the form gives for typed texts; what nobody types in stays as it was set."""
    asks = deed.fields(book, subject, now.at)
    texts = {ask.key: typed.get(ask.key, ask.preset) for ask in asks}
    assert set(typed) <= set(texts)
    assert all(texts[ask.key] for ask in asks if ask.needed), texts
    return Filled(subject, now.at, by, {ask.key: read(ask, texts[ask.key], now) for ask in asks if texts[ask.key]})


def test_every_job_that_drove_people_into_the_shell_is_on_the_palette_of_the_lead(path: Path) -> None:
    """What is asked for gives the entry that the command would write, and the book takes it."""
    numbers, values = {}, {}
    with Book.open(path) as book:
        for name, line in GOES_BEFORE.items():
            numbers[name] = str(number_of(write(book, line)))
        for minutes, job in enumerate(JOBS):
            now = Now(MONDAY + timedelta(minutes=minutes), book.zone)
            lines = (job.about,) if "/" in job.about else ()
            subject = subject_of(book, job.about.partition("/")[0], lines, now.at)
            deed = DEEDS[job.deed]
            assert deed in offered(book, subject, job.by, now.at), job
            values[job.name] = sum(ask.needed and not ask.preset for ask in deed.fields(book, subject, now.at))
            typed = {key: numbers.get(words, words) for key, words in job.typed.items()}
            book.write(deed.entries(book, filled(book, deed, subject, typed, job.by, now)), now.at)
            wanted = re.sub("#([A-Z]+)", lambda name: f"#{numbers[name[1]]}", job.written)
            assert wanted in written_lines(book)[-1], (job, written_lines(book)[-1])
    assert values == VALUES


BY_KEY = {
    "defer": ("P-07 oiling", "d", ("2026-03-10", "dry guides", "no stop before"),
              'defer P-07/oiling for 2026-03-08 to 2026-03-10 risk "dry guides" by lea because "no stop before"'),
    "hold": ("DS-031 inspect", "h", ("chip seen",), 'hold DS-031 by lea because "chip seen"'),
    "remark": ("M-12 clean", "n", ("brush is worn",), 'remark M-12/clean "brush is worn" by lea'),
    "done": ("M-12 clean", "g", ("6:30",), "2026-03-02 06:30 sign M-12/clean for 2026-03-02/early by lea"),
    "on paper": ("M-12 clean", "g", ("6:30", "ben"), "sign M-12/clean for 2026-03-02/early by ben"),
}  # fmt: skip


@pytest.mark.parametrize("job", BY_KEY)
async def test_a_frequent_job_has_a_key(path: Path, job: str) -> None:
    """One key on the board, the fields, and it is in the book."""
    words, key, values, written = BY_KEY[job]
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await select(here, words)
        await here.press(key)
        await fill(here, *values)
        assert "WRITTEN:" in here.text
    assert written in newest(path)
    assert ("via screen proof paper entered-by lea" if job == "on paper" else SCREENS) in newest(path)


async def test_the_palette_finds_a_deed_by_a_few_letters_and_the_form_shows_what_it_moves(path: Path) -> None:
    """Plus, letters, Enter; the reason; a look at what it moves; Enter writes it."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await select(here, "DS-031 inspect")
        await here.press("plus")
        await burst(here, "hold", "enter")
        await burst(here, "chip seen")
        await here.press("ctrl+s")
        assert "This moves 1 line: DS-031/inspect: . later -> == held." in here.text
        assert "Nothing is written yet. Enter writes it; Esc goes back." in here.text
        before = newest(path)
        assert " hold " not in before
        await here.press("enter")
        assert "WRITTEN: hold on DS-031, by Lea. Press u to undo." in here.text
        await here.press("u")
        assert "UNDONE: hold on DS-031, by Lea." in here.text


async def test_who_may_not_is_told_before_the_form_opens_and_whom_to_ask(path: Path) -> None:
    """An operator defers nothing, and is told so before typing a word; the palette does not even offer it."""
    async with terminal(lambda: Book.open(path), by="ben", clock=Clock(MONDAY)) as here:
        await select(here, "P-07 oiling")
        await here.press("d")
        assert "Ben (operator) may not" in here.text
        assert "Ask Lea." in here.text
        await here.press("plus")
        await burst(here, "put off", "enter")
        assert "Nothing here contains 'put off'." in here.text


async def test_several_marked_lines_are_put_off_at_once(path: Path) -> None:
    """Space on each, then the key: one form, an entry for each, the marks go."""
    async with terminal(lambda: Book.open(path), by="lea", clock=Clock(MONDAY)) as here:
        await select(here, "oiling")
        await here.press("space", "space")
        assert "2 lines are marked: what you write next is about all of them." in here.text
        assert len([row for row in here.rows if "+P-0" in row]) == 2
        await here.press("d")
        await fill(here, "2026-03-10", "dry guides", "no stop before")
        assert "WRITTEN: 2 lines put off to 2026-03-10, by Lea." in here.text
        assert not [row for row in here.rows if "+P-0" in row]
    assert "defer P-07/oiling for 2026-03-08 to 2026-03-10" in newest(path)
    assert "defer P-03/oiling for 2026-03-08 to 2026-03-10" in newest(path, 2)
