"""How often to look, how long parts live, where to look first: from the entries of a plant to the sentence.

All figures are invented; the twelve lives are made to shape 6.0, scale 361,000 and a tenth worn by 248,000.
"""

from __future__ import annotations

import json
from datetime import timedelta
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import at, book_of, define, item, task, write, write_each
from upkeep.book import Book
from upkeep.errors import NotFound, Refused
from upkeep.papers.wear_text import wear_text
from upkeep.plant.model import Kind
from upkeep.wear.separation import Suspect
from upkeep.wording.sentences import ENGLISH

SLUG = {
    "id": "slug-height", "title": "Slug height", "unit": "mm", "lower": 1.17, "warn_upper": 1.23, "upper": 1.24,
    "part": "conductor punch",
}  # fmt: skip
INSPECT = task("inspect", "die set", strokes=50_000, graded=True, points=[SLUG])
SHUT = task("shut", "press", every="1 year", points=[
    {"id": "shut-height", "title": "Shut height", "unit": "mm", "lower": 135.76, "upper": 135.84, "nominal": 135.8},
])  # fmt: skip
VALUES = (1.2007, 1.202, 1.208, 1.216, 1.2184, 1.2198, 1.2275, 1.2351)
FITTED = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
"""


def day(number: int) -> str:
    """A day of the plant, from the second of March on."""
    return str((at("2026-03-02 00:00") + timedelta(days=number)).date())


def inspected(values: tuple[float, ...], grades: tuple[int, ...]) -> str:
    """Inspections 40,000 strokes and a day apart."""
    return "".join(
        f"{day(number)} 14:00 count P-07 {number * 40_000} by ana\n"
        f"{day(number)} 14:00 sign DS-031/inspect for extra grade {grade} slug-height={value} by tom\n"
        for number, (value, grade) in enumerate(zip(values, grades, strict=True))
    )


# How often to look


def test_the_interval_is_half_of_warning_to_limit_whatever_the_grades_say(tmp_path: Path) -> None:
    """10 um at some 0.12 um per 1,000 strokes: 41,000 or less, though three good findings would lengthen 50,000."""
    with book_of(tmp_path, FITTED + inspected(VALUES, (1,) * 8), tasks=[INSPECT]) as book:
        (advice,) = book.wear(at(f"{day(8)} 06:00")).advice("DS-031")
        assert advice.grades == (1,) * 8
        assert advice.proposal.strokes == 41_000
        assert "slug-height of CP-a: from warning to limit 10 um, at +0.12" in str(advice.proposal.why)
        assert advice.definition == 'strokes_for = { "DS-031" = 41000 }'
        assert book.line("DS-031/inspect", at(f"{day(8)} 06:00")).due_strokes == 50_000  # nothing is applied


def test_findings_before_a_change_of_the_interval_speak_of_another_one(tmp_path: Path) -> None:
    """Three good ones were the reason to lengthen it; they are not counted twice."""
    with book_of(tmp_path, FITTED + inspected((1.2,) * 3, (1, 0, 1)), tasks=[INSPECT]) as book:
        (advice,) = book.wear(at(f"{day(3)} 06:00")).advice("DS-031")
        assert advice.proposal.strokes == 62_000
        longer = define(**{"what": "task", "key": "inspect", **INSPECT.content, "strokes_for": {"DS-031": 62_000}})
        book.load([longer], at(f"{day(3)} 07:00"), "lea", at(f"{day(3)} 07:00"), "three good findings")
        (advice,) = book.wear(at(f"{day(3)} 08:00")).advice("DS-031")
        assert (advice.grades, advice.proposal.strokes, advice.proposal.changes) == ((), 62_000, False)


def test_one_finding_at_the_limit_halves(tmp_path: Path) -> None:
    """And what left for ever gets no advice."""
    with book_of(tmp_path, FITTED + inspected((1.2, 1.2, 1.24), (1, 0, 3)), tasks=[INSPECT]) as book:
        (advice,) = book.wear(at(f"{day(3)} 06:00")).advice("DS-031")
        assert advice.proposal.strokes == 25_000
        write_each(book, f"{day(3)} 07:00 unfit DS-031 at 90000 by ana\n{day(3)} 08:00 retire DS-031 worn by lea")
        assert book.wear(at(f"{day(3)} 09:00")).advice("DS-031") == ()


# How long parts live

FAILED = (258_000, 260_000, 291_000, 298_000, 332_000, 399_000, 431_000)
RUNNING = (117_000, 220_000, 241_000, 242_000, 330_000)
"""The lives of twelve punches."""


def twelve(tmp_path: Path, ends: tuple[str, ...] = ("worn",) * 7, **more: str) -> Book:
    """Twelve punches in one set, one after the other, each of its life; five are out and still good."""
    punches = [f"CP-{number}" for number in range(1, 13)]
    text = FITTED.replace("2026-03-02 06:00 fit CP-a in DS-031 by ana", "")
    total = 0
    for number, (punch, life) in enumerate(zip(punches, (*FAILED, *RUNNING), strict=True)):
        start, end = day(number * 10), day(number * 10 + 9)
        text += f"{start} 06:30 count P-07 {total} by ana\n{start} 06:30 fit {punch} in DS-031 by ana\n"
        total += life
        text += f"{end} 12:00 count P-07 {total} by ana\n{end} 12:00 unfit {punch} by ana\n"
        if number < len(ends):
            text += f"{end} 13:00 retire {punch} {ends[number]} by lea\n"
    items = [item(punch, kind="conductor punch") for punch in punches]
    return book_of(tmp_path, text, more=[*items, item("DS-031", family="tab")])


END = f"{day(125)} 06:00"


def test_twelve_lives_have_the_figures_of_the_illustration(tmp_path: Path) -> None:
    """Seven worn and five still good: shape 6.0, scale 361,000, a tenth worn by 248,000."""
    with twelve(tmp_path) as book:
        found = book.wear(at(END)).lives("tab", cost_ratio=10)
        ((name, report),) = found.reports
        assert (name, report.failures, report.suspensions) == ("new", 7, 5)
        assert sorted(life.strokes[1] for life in found.lives if life.failed) == list(FAILED)
        assert report.curve is not None
        assert report.curve.weibull.shape == pytest.approx(6.0, abs=0.05)
        assert report.curve.worn_by == pytest.approx(248_000, abs=500)
        assert report.replacing is not None
        assert report.replacing.age is not None


def test_a_part_gone_for_another_reason_has_not_failed(tmp_path: Path) -> None:
    """Three of the seven were lost: four failures are too few."""
    with twelve(tmp_path, ("worn", "broken", "worn", "worn", "other", "other", "other")) as book:
        ((_, report),) = book.wear(at(END)).lives("tab").reports
        assert (report.failures, report.suspensions, report.curve) == (4, 8, None)
        assert "Too few" in str(report.why)
        ((_, stated),) = book.wear(at(END)).lives("tab", shape=3).reports
        assert stated.curve is not None


def test_a_rework_ends_a_life_as_a_failure_only_after_a_finding_at_the_limit(tmp_path: Path) -> None:
    """Grade 3 in that life, on the set it sat in; reworked in time it is cut off.  The life after is another group."""
    reworked = """
        {when} 15:00 unfit CP-a by tom
        {when} 16:00 rework CP-a granted 200000 by lea because "polished"
        {when} 17:00 fit CP-a in DS-031 by tom
    """
    first = inspected((1.2, 1.21), (0, 1)) + reworked.format(when=day(1))
    second = f"""
        {day(2)} 14:00 count P-07 90000 by ana
        {day(2)} 14:00 sign DS-031/inspect for extra grade 3 slug-height=1.24 by tom
    """ + reworked.format(when=day(2))
    third = f"{day(3)} 14:00 count P-07 95000 by ana\n"
    more = [item("DS-031", family="tab")]
    with book_of(tmp_path, FITTED + first + second + third, tasks=[INSPECT], more=more) as book:
        lives = book.wear(at(f"{day(4)} 06:00")).lives("tab").lives
        assert [(life.failed, str(life.how).split(" (")[0], life.group) for life in lives] == [
            (False, "reworked before its limit", "new"),
            (True, "reworked after grade 3", "reworked"),
            (False, "running", "reworked"),
        ]
        assert [life.strokes[2] for life in lives[:1]] >= [40_000]


def test_a_life_nobody_knows_counts_nowhere(tmp_path: Path) -> None:
    """It is named."""
    with book_of(tmp_path, FITTED, more=[item("DS-031", family="tab")]) as book:
        write(book, '2026-03-02 07:00 unknown-life CP-a by lea because "found in a drawer"')
        write(book, f"{day(1)} 14:00 count P-07 5000 by ana")
        found = book.wear(at(f"{day(2)} 06:00")).lives("tab")
        assert (found.lives, found.unknown) == ((), ("CP-a",))
        with pytest.raises(NotFound, match=r"'tap' in this book\. The families: tab"):
            book.wear(at(f"{day(2)} 06:00")).lives("tap")


def test_terminals_are_pooled_only_where_their_lives_agree(tmp_path: Path) -> None:
    """By the terminal checked most often in that life; here one that is not named, and one."""
    crimps = [define("crimp", key, title=key, family="tab", terminal=key, looks=["burr"]) for key in ("tin", "gold")]
    with twelve(tmp_path) as book:
        book.load(crimps, at(f"{day(120)} 06:00"), "lea", at(f"{day(120)} 06:00"), "as it is now")
        write(book, f"{day(1)} 12:00 check DS-031 sample of gold burr:good by lea recorded {day(121)} 06:00")
        found = book.wear(at(END)).lives("tab", by_terminal=True)
        assert {life.group for life in found.lives} == {"gold, new", "terminal not named, new"}
        left = "Left out of the pool because they have too few failures to compare: gold, new"
        assert left in str(found.agreement.why)
        blades = book.wear(at(END)).lives("tab", Kind.CUT_OFF_BLADE)
        assert blades.lives == ()


def test_a_blade_counts_with_the_family_of_its_modules_last_set(tmp_path: Path) -> None:
    """It sits in the module, which belongs to none."""
    text = f"{FITTED}2026-03-02 06:00 fit CB-1 in M-12 by ana\n{day(1)} 14:00 count P-07 5000 by ana"
    with book_of(tmp_path, text, more=[item("DS-031", family="tab"), item("DS-102", family="pin")]) as book:
        wear = book.wear(at(f"{day(2)} 06:00"))
        assert [life.item for life in wear.lives("tab", Kind.CUT_OFF_BLADE).lives] == ["CB-1"]
        assert wear.lives("pin", Kind.CUT_OFF_BLADE).lives == ()
        assert [life.item for life in wear.lives("tab", Kind.DIE_SET).lives] == ["DS-031"]


# Where to look first


def test_good_on_one_press_and_high_on_another_asks_for_the_shut_height_of_the_other(tmp_path: Path) -> None:
    """The same set in the same module: not the die.  Measured off, it is the press."""
    text = f"""
        {FITTED}
        2026-03-02 07:00 sign DS-031/inspect for extra grade 1 slug-height=1.2 by tom
        2026-03-02 08:00 count P-08 500 by ana
        2026-03-02 08:00 unfit M-12 at 1000 by ana
        2026-03-02 08:05 fit M-12 in P-08 at 500 by ana
        2026-03-02 08:10 sign DS-031/inspect for extra grade 2 slug-height=1.235 by tom
    """
    with book_of(tmp_path, text, tasks=[INSPECT, SHUT]) as book:
        hint = book.wear(at("2026-03-02 09:00")).hint("CP-a")
        assert hint is not None
        assert (hint.suspect, hint.about) == (Suspect.PRESS, "P-08")
        assert str(hint.ask) == "the shut height of P-08 (line P-08/shut)"
        write(book, "2026-03-02 09:00 sign P-08/shut for extra shut-height=135.9 by tom")
        hint = book.wear(at("2026-03-02 10:00")).hint("M-12")
        assert hint is not None
        assert str(hint.why) == "slug and shut height moved on P-08"
        assert book.wear(at("2026-03-02 07:30")).hint("DS-031") is None
        assert book.wear(at("2026-03-02 10:00")).hint("CP-b") is None


def test_a_set_in_another_module_is_another_standing(tmp_path: Path) -> None:
    """What was good in the module before says nothing about this one; with the shut height good it is the die."""
    text = f"""
        {FITTED}
        2026-03-02 07:00 sign DS-031/inspect for extra grade 1 slug-height=1.2 by tom
        2026-03-02 08:00 unfit DS-031 by ana
        2026-03-02 08:05 unfit M-12 at 1000 by ana
        2026-03-02 08:10 fit M-44 in P-07 at 1000 by ana
        2026-03-02 08:15 fit DS-031 in M-44 by ana
        2026-03-02 08:20 sign DS-031/inspect for extra grade 2 slug-height=1.235 by tom
    """
    with book_of(tmp_path, text, tasks=[INSPECT, SHUT]) as book:
        hint = book.wear(at("2026-03-02 09:00")).hint("DS-031")
        assert hint is not None
        assert "whose shut height has not been measured since" in str(hint.why)
        write(book, "2026-03-02 09:00 sign P-07/shut for extra shut-height=135.8 by tom")
        hint = book.wear(at("2026-03-02 10:00")).hint("DS-031")
        assert hint is not None
        assert hint.suspect is Suspect.DIE


# The slug and the commands


def test_the_slug_names_its_cautions_first_and_moves_the_setting(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In mm and inch, against the limits and the shut height the plant sets."""
    text = FITTED + "2026-03-02 07:00 sign P-07/shut for extra shut-height=135.81 by tom"
    book_of(tmp_path, text, tasks=[INSPECT, SHUT]).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    said = terminal.types("2026-03-02 08:00", "slug", "DS-031", "--height", "1.20", "--found", "1.23,1.23,1.24").out
    words = " ".join(said.split())
    assert said.startswith("Lock the press off, bleed the air and try to start it before")
    assert "about 40 mm long, about 1.700 mm (0.0669 in) thick" in words
    assert "Found 1.230, 1.230, 1.240 mm: mean 1.233 mm (0.0486 in), within the limits." in words
    assert "has to become smaller (ram lower) by 0.033 mm (0.0013 in)" in words
    assert "Shut height of P-07: 135.810 mm (5.3469 in) on 2026-03-02 07:00, +0.010 mm off, within its limits" in words
    inch = terminal.types("2026-03-02 08:00", "slug", "DS-031", "--height", "0.05", "--unit", "in", "--json").out
    assert json.loads(inch)["slug"]["height"] == pytest.approx(1.27)
    assert terminal.types("2026-03-02 08:00", "slug", "DS-031", "--found", "wide").code == 2


def test_the_slug_takes_its_height_from_limits_or_crimp_or_asks(tmp_path: Path) -> None:
    """Its own nominal, the middle of its limits, the crimp's height; else it is refused."""
    crimp = define("crimp", "T-05", title="Tab", family="tab", points=[
        {"id": "crimp-height", "title": "Height", "unit": "mm", "nominal": 1.29},
    ])  # fmt: skip
    with book_of(tmp_path, FITTED, more=[crimp, item("DS-031", family="tab")]) as book:
        wear = book.wear(at("2026-03-02 09:00"))
        assert str(wear.slug("DS-031").height_from) == "nominal of crimp-height, T-05"
        with pytest.raises(Refused, match="The closed height of DS-102 is not known"):
            wear.slug("DS-102")
    (tmp_path / "limits").mkdir()
    with book_of(tmp_path / "limits", FITTED, tasks=[INSPECT]) as book:
        found = book.wear(at("2026-03-02 09:00")).slug("DS-031")
        assert found.slug.height == pytest.approx(1.205)
        assert str(found.height_from) == "middle of the limits of slug-height"


def test_life_tells_trend_and_plot_and_json_keeps_its_names(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The numbers there were stay where they were; wear stands beside them."""
    book_of(tmp_path, FITTED + inspected(VALUES, (1,) * 8), tasks=[INSPECT]).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    moment = f"{day(8)} 06:00"
    page = terminal.types(moment, "life", "CP-a", "--point", "slug-height", "--plot", tmp_path / "t.svg").out
    assert "plan by" in page
    assert "┈  upper limit 1.24 mm" in page
    assert "measured (means)" in (tmp_path / "t.svg").read_text(encoding="utf-8")
    found = json.loads(terminal.types(moment, "life", "CP-a", "--json").out)
    assert {"item", "since_new", "since_rework", "life_left", "points", "settings", "alarms", "hint"} <= set(found)
    assert found["points"][0]["trend"]["ahead"]["side"] == "high"
    assert terminal.types(moment, "life", "CP-a", "--point", "width").code == 1
    assert "3 values" not in page


def test_lives_and_advice_are_printed_and_given_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """An end that is not known is null, never an infinite number."""
    twelve(tmp_path, ("worn",)).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    moment = f"{END}"
    page = terminal.types(
        moment, "lives", "tab", "--shape", "3", "--cost-ratio", "10", "--plot", tmp_path / "l.png"
    ).out
    assert "1 failed, 11 running or gone for another reason" in page
    assert "Kaplan-Meier" in page
    assert (tmp_path / "l.png").read_bytes().startswith(b"\x89PNG")
    found = json.loads(terminal.types(moment, "lives", "tab", "--json").out, parse_constant=pytest.fail)
    assert len(found["lives"]) == 12
    assert terminal.types(moment, "lives", "tab", "--kind", "cut-off blade").out.startswith("tab: lives of parts of")
    assert terminal.types(moment, "advise").out == "No graded inspection is defined for it.\n"


def test_the_trend_of_a_part_leaves_out_the_press_that_is_to_be_looked_at_first(tmp_path: Path) -> None:
    """Steady wear on P-07; on P-08 the same set measures 35 um more, which is no wear and asks for no new punch."""
    steady = "".join(
        f"""
        {day(n)} 14:00 count P-07 {n * 10_000} by ana
        {day(n)} 14:00 sign DS-031/inspect for extra grade 1 slug-height={1.2 + n * 0.001:.3f} by tom
        """
        for n in range(1, 7)
    )
    text = f"""
        {FITTED}
        {steady}
        {day(6)} 15:00 count P-08 500 by ana
        {day(6)} 15:00 unfit M-12 at 60000 by ana
        {day(6)} 15:05 fit M-12 in P-08 at 500 by ana
        {day(6)} 15:10 sign DS-031/inspect for extra grade 2 slug-height=1.235 by tom
    """
    with book_of(tmp_path, text, tasks=[INSPECT, SHUT]) as book:
        views = book.wear(at(f"{day(6)} 16:00"))
        hint = views.hint("CP-a")
        assert hint is not None
        assert (hint.suspect, hint.about) == (Suspect.PRESS, "P-08")
        (slug,) = (point for point in views.item("CP-a").points if point.point == "slug-height")
        assert (len(slug.values), slug.blamed, slug.blamed_press) == (6, 1, "P-08")
        assert slug.trend.jump is None
        page = " ".join(wear_text(views.item("CP-a"), book.zone, ENGLISH).split())
        assert "Left out: 1 measured on P-08, which is to be looked at first." in page


def test_nothing_is_drawn_of_lives_of_which_nothing_can_be_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A thick line at 0 % worn reads like "never wears"."""
    text = f"{FITTED}{day(1)} 14:00 count P-07 5000 by ana"
    book_of(tmp_path, text, more=[item("DS-031", family="tab")]).close()
    terminal = Terminal(tmp_path / "plant.book", capsys)
    picture = tmp_path / "lives.svg"
    told = terminal.types(f"{day(2)} 06:00", "lives", "tab", "--plot", picture)
    assert told.code == 1
    assert "Nothing to draw for tab" in told.err
    assert not picture.exists()
    page = terminal.types(f"{day(2)} 06:00", "lives", "tab").out
    assert "Too few failures" in page
    assert "% worn" not in page
