"""The sign-off form at a terminal, driven by keys."""

from __future__ import annotations

from tests.tui.fake_book import BURR, MORNING, SLUG, FakeBook
from tests.tui.terminal import LARGE, Terminal, terminal
from upkeep.entries.origin import ON_A_SCREEN
from upkeep.entries.signing import Sign
from upkeep.said import said
from upkeep.views.signing import GaugeChoice, GaugesForm, Taken

LINE = "DS-031/wear-inspection"
KIND = "crimp micrometer"
VALID = GaugeChoice("G-1", "Micrometer", True, said("valid"))
NEW = GaugeChoice("G-3", "New one", True, said("valid"))
OLD = GaugeChoice("G-2", "Old one", False, said("overdue: Calibration"))
SCOPE = GaugeChoice("G-9", "Bench microscope", True, said("valid"))
FIRST = Sign(at=MORNING, by="ben", task="wear-inspection", item="DS-031", occurrence="200000")


def inspected() -> FakeBook:
    """A book whose first line asks for everything: readings, gauge, grade."""
    form = {
        "points": (SLUG, BURR),
        "graded": True,
        "gauges": (GaugesForm(KIND, (VALID, OLD), "G-1"),),
        "classes": {"slug": KIND, "burr": KIND},
        "caution": "Lock the press off and bleed the air. Local law and your plant's own procedure decide.",
        "steps": ("Take the die set out.", "Look at punches and anvils under the lens.", "Measure a slug twice."),
    }
    return FakeBook(forms={LINE: form})


async def fill(here: Terminal) -> None:
    """Opens the form and fills everything but grade and name."""
    await here.press("s")
    for reading in ("1,25", "1.26", "0.02"):
        await here.type(reading, "enter")


async def test_the_form_opens_with_its_caution_and_steps() -> None:
    """Above everything that is typed."""
    async with terminal(inspected(), by="ben") as here:
        await here.press("s")
        assert here.rows[0].startswith(" Sign off: Wear inspection on DS-031, 200,000 strokes")
        assert "CAUTION. Lock the press off and bleed the air." in here.rows[2]
        assert "Local law and your plant's own procedure decide." in here.text
        assert " 2  Look at punches and anvils under the lens." in "\n".join(here.rows)


async def test_a_reading_is_judged_as_it_is_typed() -> None:
    """With a decimal comma as with a decimal point."""
    async with terminal(inspected(), by="ben") as here:
        await here.press("s")
        await here.type("1,2")
        assert "in limits, past the" in here.row_with("Slug height 1 of 2")
        await here.type("5", "enter")
        assert here.row_with("Slug height 1 of 2").endswith("in limits")
        await here.type("1.4")
        assert here.row_with("Slug height 2 of 2").endswith("OUT: 0.1 mm over the limit")
        await here.type("x")
        assert "a number in mm" in here.text


async def test_an_inspection_is_signed_with_enter_and_figures_alone() -> None:
    """Enter goes from field to field, a figure picks the grade, the last Enter saves."""
    book = inspected()
    async with terminal(book, by="ben") as here:
        await fill(here)
        await here.press("2")
        await here.type("worn on the left", "enter", "enter", "enter")
        assert book.written == [
            Sign(
                at=MORNING,
                by="ben",
                task="wear-inspection",
                item="DS-031",
                occurrence="200000",
                points=(("slug", (1.25, 1.26)), ("burr", (0.02,))),
                gauge="G-1",
                grade=2,
                remark="worn on the left",
                recorded_at=MORNING,
            )
        ]
        assert book.origins == [ON_A_SCREEN]
        assert "SIGNED Mon 2026-03-02 06:05 Ben Sample: done by me." in here.text


async def test_what_is_missing_is_said_and_the_field_waits() -> None:
    """One thing after another, from the top; nothing typed is lost."""
    book = inspected()
    async with terminal(book, LARGE, by="ben") as here:
        await here.press("s")
        await here.type("1,25", "ctrl+s")
        assert "Type every reading of Slug height: a number in mm, like 1.25 or 1,25" in here.text
        await here.type("1.26", "enter")
        await here.type("0.02", "ctrl+s")
        assert "Give the grade: 0 to 4." in here.text
        await here.press("1", "enter", "backspace", "ctrl+s")
        assert "Type your short id, then press Enter." in here.text
        await here.type("ben", "ctrl+s")
        (entry,) = book.written
        assert isinstance(entry, Sign)
        assert (entry.grade, entry.points[0]) == (1, ("slug", (1.25, 1.26)))


async def test_no_grade_and_no_doubtful_gauge_is_chosen_for_anybody() -> None:
    """The one valid gauge is; with two, somebody says which by its number, those that count first."""
    book = inspected()
    book.forms[LINE]["gauges"] = (GaugesForm(KIND, (VALID, NEW, OLD), None),)
    async with terminal(book, LARGE, by="ben") as here:
        await here.press("s")
        assert "(x)" not in here.text
        assert "1 G-1 valid" in here.text
        assert "3 G-2 Overdue: Calibration" in here.text
        await here.press("down", "ctrl+s")
        assert "Type every reading of Slug height" in here.text
        await here.press("shift+tab", "2")
        for reading in ("1,25", "1.26", "0.02"):
            await here.type(reading, "enter")
        await here.press("4", "ctrl+s")
        (entry,) = book.written
        assert isinstance(entry, Sign)
        assert (entry.gauge, entry.grade) == ("G-3", 4)


async def test_each_kind_of_gauge_is_asked_for_where_it_measures() -> None:
    """The burr by the microscope, the slug by the micrometer."""
    book = inspected()
    book.forms[LINE] |= {
        "gauges": (GaugesForm(KIND, (VALID, NEW), "G-1"), GaugesForm("microscope", (SCOPE,), "G-9")),
        "classes": {"slug": KIND, "burr": "microscope"},
    }
    async with terminal(book, LARGE, by="ben") as here:
        await here.press("s")
        rows = here.rows
        places = [next(n for n, row in enumerate(rows) if words in row) for words in ("G-1", "Slug", "G-9", "Burr")]
        assert places == sorted(places)
        await here.type("1.25", "enter")
        await here.type("1.26", "enter", "enter")
        await here.type("0.02", "enter")
        await here.press("1", "ctrl+s")
        (entry,) = book.written
        assert isinstance(entry, Sign)
        assert (entry.gauge, entry.gauges) == (None, (("slug", "G-1"), ("burr", "G-9")))


async def test_what_a_check_of_the_set_up_measured_is_not_typed_twice() -> None:
    """It stands in one row with the number of its check; 2 there measures it anew."""
    book = inspected()
    book.forms[LINE]["taken"] = (Taken("slug", (1.25, 1.26), "G-3", 700, MORNING),)
    async with terminal(book, LARGE, by="ben") as here:
        await here.press("s")
        assert "from check #700: 1.25, 1.26 mm, G-3" in here.text
        assert "Slug height 1 of 2" not in here.text
        await here.type("0.02", "enter")
        await here.press("1", "ctrl+s")  # seven keys and a save: the burr, a grade
        (entry,) = book.written
        assert isinstance(entry, Sign)
        assert entry.points == (("slug", (1.25, 1.26)), ("burr", (0.02,)))
        assert (entry.taken, entry.gauges) == ((("slug", 700),), (("slug", "G-3"), ("burr", "G-1")))


async def test_what_was_taken_over_can_be_measured_anew() -> None:
    """By the number of the other row; its fields come up at once."""
    book = inspected()
    book.forms[LINE]["taken"] = (Taken("slug", (1.25, 1.26), "G-3", 700, MORNING),)
    async with terminal(book, LARGE, by="ben") as here:
        await here.press("s", "shift+tab", "2")
        for reading in ("1.27", "1.28", "0.02"):
            await here.type(reading, "enter")
        await here.press("1", "ctrl+s")
        (entry,) = book.written
        assert isinstance(entry, Sign)
        assert (entry.points[0], entry.taken, entry.gauge) == (("slug", (1.27, 1.28)), (), "G-1")


async def test_who_signed_first_is_named_and_the_work_can_be_an_extra() -> None:
    """The form stays as it was typed."""
    book = inspected()
    async with terminal(book, LARGE, by="cleo") as here:
        await fill(here)
        await here.press("2")
        book.write([FIRST], MORNING)
        await here.press("ctrl+s")
        assert "is already signed: Ben Sample, 06:01 (#812)." in here.text
        assert "Ctrl+R writes it anyway." in here.text
        assert "1,25" in here.row_with("Slug height 1 of 2")
        await here.press("ctrl+r")
        extra = book.written[-1]
        assert isinstance(extra, Sign)
        assert (extra.by, extra.occurrence) == ("cleo", "extra")
        assert "Wear inspection on DS-031, as an extra" in here.text


async def test_leaving_a_filled_form_takes_a_second_press() -> None:
    """An empty one closes at once."""
    async with terminal(inspected(), by="ben") as here:
        await here.press("s", "escape")
        assert "7 of 7 to do" in here.text
        await here.press("s")
        await here.type("1.25", "escape")
        assert "Press Esc once more to go back; what you typed will be lost." in here.text
        await here.press("escape")
        assert "7 of 7 to do" in here.text


async def test_the_name_means_something_and_is_shown_in_full() -> None:
    """Beside the short id."""
    async with terminal(inspected(), LARGE, by="ben") as here:
        await here.press("s", "shift+tab", "shift+tab", "shift+tab")
        await here.type("cleo")
        assert here.row_with("Name: your short id").endswith("Cleo Pattern")
        assert "Your name will mean: done by me" in here.text


async def test_who_it_is_is_asked_before_a_long_form_opens() -> None:
    """Nobody fills in eight values to hear then that they may not sign."""
    async with terminal(inspected()) as here:
        await here.press("s")
        assert "Who is here?" in here.text
        await here.type("ben", "enter")
        assert here.rows[0].startswith(" Sign off: Wear inspection on DS-031")
