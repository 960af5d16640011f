"""What was measured on a part over its strokes: through inspections and checks, fittings and reworks.

All figures are invented; those of the eight inspections are made to slope 0.121 um per 1,000 strokes and scatter 2.3.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from tests.plants import at, book_of, define, item, number_of, task, write, write_each
from upkeep.book import Book
from upkeep.views.wear import ItemWear, PointWear

SLUG = {
    "id": "slug-height", "title": "Slug height", "unit": "mm", "lower": 1.17, "warn_upper": 1.23, "upper": 1.24,
    "part": "conductor punch",
}  # fmt: skip
LOOSE = {"id": "twist", "title": "Twist", "unit": "deg"}
INSPECT = task("inspect", "die set", strokes=40_000, graded=True, points=[SLUG, LOOSE])
VALUES = (1.2007, 1.202, 1.208, 1.216, 1.2184, 1.2198, 1.2275, 1.2351)
"""Measured at 0, 40,000 ... 280,000 strokes."""

FITTED = """
    2026-03-02 06:00 count P-07 0 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
    2026-03-02 06:00 fit CP-a in DS-031 by ana
"""


def day(number: int) -> str:
    """A day of the plant, from the second of March on."""
    return str((at("2026-03-02 00:00") + timedelta(days=number)).date())


def inspected(number: int, value: float, grade: int = 1, strokes: int | None = None) -> str:
    """The count of a day and the inspection after it, ``number`` days on (40,000 strokes apart)."""
    count = number * 40_000 if strokes is None else strokes
    return f"""
        {day(number)} 14:00 count P-07 {count} by ana
        {day(number)} 14:00 sign DS-031/inspect for extra grade {grade} slug-height={value} twist=0.1 by tom
    """


def run(tmp_path: Path, values: tuple[float, ...] = VALUES) -> Book:
    """DS-031 with the punch CP-a, inspected every 40,000 strokes."""
    entries = FITTED + "".join(
        inspected(number, value, 4 if value > 1.24 else 1) for number, value in enumerate(values)
    )
    return book_of(tmp_path, entries, tasks=[INSPECT])


def wear(book: Book, key: str, moment: str) -> ItemWear:
    """The wear of an item at a moment."""
    return book.wear(at(moment)).item(key)


def point(book: Book, key: str, moment: str, name: str = "slug-height") -> PointWear:
    """One point of an item."""
    (found,) = (one for one in wear(book, key, moment).points if one.point == name)
    return found


def test_what_is_measured_on_a_set_is_the_wear_of_the_part_that_sat_in_it(tmp_path: Path) -> None:
    """Over the strokes of the part; what belongs to no part stays with the set."""
    with run(tmp_path) as book:
        found = point(book, "CP-a", f"{day(8)} 06:00")
        assert [value.strokes[1] for value in found.values] == list(range(0, 280_001, 40_000))
        assert [value.value for value in found.values] == pytest.approx(VALUES)
        assert [one.point for one in wear(book, "CP-a", f"{day(8)} 06:00").points] == ["slug-height"]
        assert [one.point for one in wear(book, "DS-031", f"{day(8)} 06:00").points] == ["twist"]


def test_eight_inspections_are_planned_by_less_than_the_line_says(tmp_path: Path) -> None:
    """The limit is 40 um away: about 341,000 on average, about 295,000 to plan by; with the days that makes."""
    with run(tmp_path) as book:
        found = point(book, "CP-a", f"{day(8)} 06:00")
        ahead = found.trend.ahead
        assert ahead is not None
        assert found.trend.line is not None
        assert found.trend.line.slope * 1e6 == pytest.approx(0.121, abs=0.002)
        assert ahead.mean == pytest.approx(341_000, rel=0.03)
        assert ahead.safe == pytest.approx(295_000, rel=0.03)
        assert (found.left, found.left_safe) == (ahead.mean - 280_000, ahead.safe - 280_000)


def test_strokes_are_told_as_days_once_there_is_a_rate(tmp_path: Path) -> None:
    """Twelve working days of 4,000 strokes, so 20,000 left to plan by are five days; without a rate it is said."""
    values = "".join(
        f"{day(number)} 14:00 count P-07 {4000 * number} by ana\n"
        f"{day(number)} 14:00 sign DS-031/inspect for extra grade 1 slug-height={1.2 + 0.0012 * number:.4f} "
        "twist=0.1 by tom\n"
        for number in range(15)
        if at(f"{day(number)} 00:00").weekday() < 5
    )
    with book_of(tmp_path, FITTED + values, tasks=[INSPECT]) as book:
        found = point(book, "CP-a", f"{day(15)} 06:00")
        assert found.expected is not None
        assert found.safe_until is not None
        assert found.safe_until <= found.expected
        assert "left on the safe side" in str(found.when)
    (tmp_path / "young").mkdir()
    with run(tmp_path / "young") as book:
        assert "No forecast: of the last 20 working days 6 have a count" in str(
            point(book, "CP-a", f"{day(8)} 06:00").when
        )


def test_a_new_punch_begins_a_run_of_its_own_and_the_old_one_keeps_its_values(tmp_path: Path) -> None:
    """Both in the same die set."""
    with run(tmp_path) as book:
        write_each(
            book,
            f"""
            {day(8)} 06:00 unfit CP-a at 290000 by tom
            {day(8)} 06:05 fit CP-b in DS-031 by tom
            {day(8)} 06:30 sign DS-031/inspect for extra grade 0 slug-height=1.2 twist=0.1 by tom
            """,
        )
        new = point(book, "CP-b", f"{day(9)} 06:00")
        assert [value.strokes[1] for value in new.values] == [0]
        assert str(new.trend.why) == "No trend: 1 value measured since new; 4 are needed."
        assert len(point(book, "CP-a", f"{day(9)} 06:00").values) == 8


def test_values_before_a_rework_belong_to_another_run(tmp_path: Path) -> None:
    """They are counted, and in no trend; the strokes begin again."""
    with run(tmp_path) as book:
        write_each(
            book,
            f"""
            {day(7)} 15:00 unfit CP-a by tom
            {day(7)} 16:00 rework CP-a granted 200000 by lea because "polished, 1.235 to 1.2 mm"
            {day(7)} 17:00 fit CP-a in DS-031 by tom
            {inspected(8, 1.201)}
            """,
        )
        found = point(book, "CP-a", f"{day(9)} 06:00")
        assert (str(found.run), found.earlier, len(found.values)) == ("since rework 1", 8, 1)
        assert found.values[0].strokes[2] <= 40_000


def test_a_correction_of_a_count_moves_the_points(tmp_path: Path) -> None:
    """Nothing is kept that could go stale."""
    entries = FITTED + "".join(inspected(number, value) for number, value in enumerate(VALUES[:3]))
    with book_of(tmp_path, entries, tasks=[INSPECT]) as book:
        number = number_of(write(book, f"{day(3)} 14:00 count P-07 120000 by ana"))
        write(book, f"{day(3)} 14:05 sign DS-031/inspect for extra grade 1 slug-height=1.216 twist=0.1 by tom")
        assert point(book, "CP-a", f"{day(4)} 06:00").values[-1].strokes[1] == 120_000
        write(book, f'{day(3)} 14:00 count P-07 110000 by ana corrects #{number} because "read wrong"')
        assert point(book, "CP-a", f"{day(4)} 06:00").values[-1].strokes[1] == 110_000


def test_what_was_set_is_no_wear(tmp_path: Path) -> None:
    """As left and first off are what somebody adjusted to; as found is what wore."""
    crimp = define("crimp", "T-05", title="Tab", family="tab", points=[SLUG])
    checks = """
        2026-03-02 07:00 check DS-031 as-found of T-05 slug-height=1.23 by ana
        2026-03-02 07:10 check DS-031 as-left of T-05 slug-height=1.2 by ana
        2026-03-02 07:20 check DS-031 first-off of T-05 slug-height=1.2 by ana
        2026-03-02 12:00 check DS-031 sample of T-05 slug-height=1.205 by ana
    """
    with book_of(tmp_path, FITTED + checks, more=[crimp, item("DS-031", family="tab")]) as book:
        found = point(book, "CP-a", "2026-03-02 13:00")
        assert [value.occasion for value in found.values] == ["as-found", "sample"]
        assert "No trend: 2 values" in str(found.trend.why)


def test_values_by_a_gauge_that_read_wrong_are_left_out(tmp_path: Path) -> None:
    """They are counted as left out."""
    text = f"""
        {FITTED}
        2026-03-02 07:00 sign DS-031/inspect for extra grade 1 with G-1 slug-height=1.2 twist=0.1 by tom
        2026-03-02 08:00 out-of-tolerance G-1 off 0.02 by lea
    """
    with book_of(tmp_path, text, tasks=[INSPECT]) as book:
        assert [one.point for one in wear(book, "CP-a", "2026-03-02 09:00").points] == []


def test_a_value_that_jumps_is_an_alarm(tmp_path: Path) -> None:
    """It stands with the alarms of the part."""
    with run(tmp_path, (*VALUES[:7], 1.26)) as book:
        (alarm,) = wear(book, "CP-a", f"{day(8)} 06:00").alarms
        assert str(alarm).startswith("Slug height: The last value is")


DIAL = {"id": "dial", "title": "Dial", "unit": "step", "steps": [1, 2, 3, 4, 5, 6, 7, 8, 9]}
HEIGHT = {"id": "crimp-height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25}


def dialled_back(tmp_path: Path) -> Book:
    """DS-031 with CP-a, set up every day, the dial one step further each time and the height always the same."""
    crimp = define("crimp", "T-05", title="Tab", family="tab", points=[HEIGHT, DIAL])
    heights = (1.201, 1.199, 1.2, 1.202, 1.198, 1.2)
    text = FITTED
    for number, height in enumerate(heights):
        text += f"""
            {day(number)} 07:00 count P-07 {number * 30_000} by ana
            {day(number)} 07:05 check DS-031 set-up of T-05 dial={number + 2} by ana
            {day(number)} 07:10 check DS-031 first-off of T-05 crimp-height={height} by ana
        """
    return book_of(tmp_path, text, more=[crimp, item("DS-031", family="tab")])


def test_settings_that_hide_wear_are_asked_about_until_somebody_has_seen_it(tmp_path: Path) -> None:
    """Also once the set is in the rack; the next set-up that drifts asks anew."""

    def asked(moment: str) -> list[str]:
        return [str(one.asks)[:40] for one in book.questions(at(moment)) if one.about == "DS-031"]

    with dialled_back(tmp_path) as book:
        write(book, f"{day(6)} 05:00 check DS-031 set-up of T-05 dial=7 by ana")
        write(book, f"{day(6)} 05:01 unfit DS-031 by ana")
        assert asked(f"{day(6)} 06:00") == ["ALARM: Dial of DS-031 with CP-a has drif"]
        write(book, f"{day(6)} 06:01 seen DS-031 since {day(6)}T05:00:00Z by lea")
        assert asked(f"{day(6)} 06:02") == []
        write(book, f"{day(6)} 06:10 check DS-031 set-up on P-07 of T-05 dial=8 by ana")
        assert asked(f"{day(6)} 06:11") == ["ALARM: Dial of DS-031 with CP-a has drif"]
        write(book, f'{day(6)} 06:20 retire DS-031 worn by lea because "beyond repair"')
        assert asked(f"{day(6)} 06:21") == []


def test_a_height_dialled_back_at_every_changeover_hides_wear(tmp_path: Path) -> None:
    """The chart of the height is flat, the dial is not: an alarm on the punch."""
    with dialled_back(tmp_path) as book:
        written = write(book, f"{day(6)} 05:00 check DS-031 set-up of T-05 dial=7 by ana")
        assert str(written.notes[-1]).startswith("ALARM: Dial of DS-031 with CP-a has drifted by 5")
        write(book, f"{day(6)} 05:00 strike #{number_of(written)} by ana")
        found = wear(book, "CP-a", f"{day(6)} 06:00")
        (dial,) = found.settings
        assert dial.drift.line is not None
        assert dial.drift.line.slope == pytest.approx(1 / 30_000, rel=1e-2)
        assert [str(alarm).startswith("ALARM: Dial has drifted by 5 step") for alarm in found.alarms] == [True]
        assert wear(book, "CP-a", f"{day(2)} 06:00").alarms == ()


def test_the_blade_in_the_module_wears_by_what_is_measured_on_the_set(tmp_path: Path) -> None:
    """And by what is measured on itself."""
    burr = {"id": "tab-burr", "title": "Burr", "unit": "mm", "upper": 0.1, "part": "cut-off blade"}
    tasks = [
        task("look", "die set", strokes=9, points=[burr]),
        task("blade", "cut-off blade", strokes=9, points=[burr]),
    ]
    text = f"""
        {FITTED}
        2026-03-02 06:00 fit CB-1 in M-12 by ana
        2026-03-02 07:00 sign DS-031/look for extra tab-burr=0.02 by tom
        2026-03-02 08:00 sign CB-1/blade for extra tab-burr=0.03 by tom
    """
    with book_of(tmp_path, text, tasks=tasks) as book:
        assert [one.value for one in point(book, "CB-1", "2026-03-02 09:00", "tab-burr").values] == [0.02, 0.03]
        assert wear(book, "DS-031", "2026-03-02 09:00").points == ()


def test_without_its_part_in_it_the_set_carries_the_wear(tmp_path: Path) -> None:
    """A plant that tracks no punches."""
    text = FITTED.replace("2026-03-02 06:00 fit CP-a in DS-031 by ana", "") + inspected(0, 1.2)
    with book_of(tmp_path, text, tasks=[INSPECT]) as book:
        assert [one.point for one in wear(book, "DS-031", f"{day(1)} 06:00").points] == ["slug-height", "twist"]


def test_crimps_with_limits_of_their_own_are_trends_of_their_own(tmp_path: Path) -> None:
    """A set that makes two; what names no crimp stands beside them."""
    crimps = [define("crimp", key, title=key, family="tab", points=[SLUG]) for key in ("T-05", "T-10")]
    text = f"""
        {FITTED}
        2026-03-02 07:00 check DS-031 sample of T-05 slug-height=1.2 by ana
        2026-03-02 08:00 check DS-031 sample of T-10 slug-height=1.3 by ana
        {inspected(1, 1.2)}
    """
    with book_of(tmp_path, text, tasks=[INSPECT], more=[*crimps, item("DS-031", family="tab")]) as book:
        found = wear(book, "CP-a", f"{day(2)} 06:00").points
        assert [(one.point, one.crimp) for one in found] == [
            ("slug-height", None), ("slug-height", "T-05"), ("slug-height", "T-10"),
        ]  # fmt: skip
