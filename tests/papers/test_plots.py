"""Plots: the same picture in a terminal and in a file, without colour or markup, with the same bytes each time."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from upkeep.errors import Unreadable
from upkeep.papers.plot_files import drawn_for, figure_bytes
from upkeep.papers.plots import HEIGHT, Level, Plot, Series, chart_text, ticks_of

PLOT = Plot(
    "Wear of $CP-1$ <b>",
    "strokes since new",
    "mm",
    (
        Series("measured", (0, 100_000, 200_000), (1.2, 1.21, 1.222)),
        Series("line", (0, 300_000), (1.2, 1.233), "line", "."),
        Series("surviving", (0, 150_000, 300_000), (1.24, 1.23, 1.2), "steps", "#"),
    ),
    (Level("limit 1.24 mm", 1.24), Level("reached", 250_000, upright=True)),
)


def test_a_terminal_gets_plain_characters_of_the_width_asked_for() -> None:
    """Title, axes, values with their thousands grouped, and a key that names each mark; no escape."""
    text = chart_text(PLOT, 70)
    lines = text.splitlines()
    assert "\x1b" not in text
    assert max(map(len, lines)) <= 70
    assert lines[0] == "Wear of $CP-1$ <b>"
    assert "100,000" in text
    assert "o  measured" in text
    assert "┈  limit 1.24 mm" in text
    assert len(lines) == HEIGHT + 3 + 5


def test_points_stand_where_their_values_are() -> None:
    """The highest of three points is drawn above the lowest, and to its right."""
    drawn = chart_text(Plot("t", "x", "y", (Series("a", (0, 5, 10), (0, 5, 10), mark="@"),))).splitlines()[2:-2]
    places = [(row, line.index("@")) for row, line in enumerate(drawn) if "@" in line]
    assert len(places) == 3
    assert [column for _, column in places] == sorted((column for _, column in places), reverse=True)


def test_a_level_is_drawn_across_at_its_height_and_an_upright_one_down_at_its_place() -> None:
    """Limits lie level; a number of strokes stands upright."""
    levels = Level("limit", 5.0), Level("reached", 2.5, upright=True)
    rows = chart_text(Plot("t", "x", "y", (Series("a", (0, 10), (0, 10)),), levels), 40, 15).splitlines()
    drawn = [row[row.index("│") + 1 : -1] if "│" in row else row for row in rows[3:14]]
    (across,) = [number for number, row in enumerate(rows) if row.count("┈") > 20]
    marked = [row for row in rows if "o" in row and "a" not in row]
    assert rows.index(marked[0]) < across < rows.index(marked[1])
    (place,) = {row.index("┊") for row in rows[3:13] if "┊" in row}
    assert sum("┊" in row for row in rows[:16]) >= 9
    assert place == pytest.approx(2 + 0.25 * 36, abs=2), drawn
    assert rows[-2:] == ["  ┈  limit", "  ┊  reached"]


@pytest.mark.parametrize(
    ("value", "low", "high"), [(5.0, 4.5, 5.5), (-2.0, -2.2, -1.8), (0.0, -0.1, 0.1)]
)  # fmt: skip
def test_the_span_of_one_value_is_a_tenth_of_it_to_either_side(value: float, low: float, high: float) -> None:
    """Of 0, which has no tenth, a tenth of 1."""
    assert Plot("t", "x", "y", (Series("a", (0, 1), (value, value)),)).span(upright=True) == pytest.approx((low, high))


def test_an_svg_keeps_its_texts_as_texts_and_nothing_in_them_is_markup() -> None:
    """The title stands in it as it was given."""
    drawn = ElementTree.fromstring(figure_bytes([PLOT], "svg"))
    texts = ["".join(one.itertext()).strip() for one in drawn.iter("{http://www.w3.org/2000/svg}text")]
    assert "Wear of $CP-1$ <b>" in texts
    assert {"measured", "limit 1.24 mm", "strokes since new", "200,000"} <= set(texts)


def test_what_cannot_be_drawn_is_shown_by_its_number() -> None:
    """A control character would end the file for every reader of it; the rest of the title stays."""
    plot = replace(PLOT, title="CP-1\x00\x1b 清掃 Жук")
    drawn = ElementTree.fromstring(figure_bytes([plot], "svg"))
    assert "CP-1[U+0000][U+001B] [U+6E05][U+6383] Жук" in {one.text for one in drawn.iter()}


def test_a_png_is_the_svg_drawn_in_black_and_grey_on_white() -> None:
    """Of 7.2 by 4.4 inches at 150 points to the inch; the line of "surviving" goes right through its middle."""
    with Image.open(BytesIO(figure_bytes([PLOT], "png"))) as image:
        drawn = image.convert("RGB")
    assert drawn.size == (1079, 660)
    colours = [colour for _, colour in drawn.getcolors(1 << 20) or []]
    assert all(red == green == blue for red, green, blue in colours)  # type: ignore[misc]
    assert drawn.getpixel((0, 0)) == (255, 255, 255)
    middle = [drawn.getpixel((575, down)) for down in range(70, 160)]
    assert middle.count((0, 0, 0)) > 80


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_the_same_plot_gives_the_same_bytes(kind: str) -> None:
    """No moment of making, no random ids."""
    assert figure_bytes([PLOT], kind) == figure_bytes([PLOT], kind)


def test_a_file_is_drawn_by_its_ending() -> None:
    """Another ending is refused with those there are."""
    assert drawn_for(Path("a.PNG"), PLOT).startswith(b"\x89PNG")
    with pytest.raises(Unreadable, match=r"end it with \.svg or \.png"):
        drawn_for(Path("a.pdf"), PLOT)


@pytest.mark.parametrize(
    ("low", "high", "first", "last"),
    [
        (0, 300_000, "0", "300,000"), (1.19, 1.245, "1.19", "1.24"), (-0.011, 0.04, "-0.01", "0.04"),
        (3, 3.004, "3.000", "3.004"),
    ],
)  # fmt: skip
def test_ticks_are_round_and_within_the_span(low: float, high: float, first: str, last: str) -> None:
    """As many decimals as the step needs."""
    ticks = ticks_of(low, high)
    assert (ticks[0][1], ticks[-1][1]) == (first, last)
    assert all(low - 1e-9 <= value <= high + 1e-9 for value, _ in ticks)
    assert 2 <= len(ticks) <= 7


def test_a_plot_of_one_value_has_a_span() -> None:
    """It is drawn in the middle."""
    assert "o" in chart_text(Plot("t", "x", "y", (Series("one", (3,), (0,)),)))


PATH = "{http://www.w3.org/2000/svg}path"


def _inside(drawn: ElementTree.Element) -> list[bool]:
    """Whether each point of a drawing stands within its frame, with all of its mark."""
    circles = list(drawn.iter("{http://www.w3.org/2000/svg}circle"))[:3]  # the last one is in the key
    frame = next(
        p.get("d", "") for p in drawn.iter("{http://www.w3.org/2000/svg}path") if p.get("d", "").count("L") == 4
    )
    corners = [tuple(map(float, corner.split())) for corner in frame.lstrip("M").split(" L")]
    (left, top), (right, bottom) = min(corners), max(corners)
    return [
        left + float(c.get("r", 0)) <= float(c.get("cx", 0)) <= right - float(c.get("r", 0))
        and top + float(c.get("r", 0)) <= float(c.get("cy", 0)) <= bottom - float(c.get("r", 0))
        for c in circles
    ]


def test_no_point_is_cut_by_the_frame() -> None:
    """Neither the first nor the last, which are the ones people look at."""
    points = Plot("t", "x", "y", (Series("measured", (0, 5, 10), (0, 5, 10)),))
    assert _inside(ElementTree.fromstring(figure_bytes([points], "svg"))) == [True] * 3


def test_a_picture_says_of_which_plant_it_is_and_from_when() -> None:
    """A page that lies about for a year still says what it shows."""
    drawn = ElementTree.fromstring(figure_bytes([replace(PLOT, source="North plant, 2026-03-20 12:00")], "svg"))
    assert "North plant, 2026-03-20 12:00" in {one.text for one in drawn.iter()}
    assert "North plant, 2026-03-20 12:00" in chart_text(replace(PLOT, source="North plant, 2026-03-20 12:00"))


def test_both_limits_are_drawn_alike_and_the_middle_is_not() -> None:
    """An upper limit drawn solid beside a dotted lower one reads as if one mattered more."""
    levels = (Level("upper", 3), Level("centre", 2, form="middle"), Level("lower", 1))
    drawn = ElementTree.fromstring(figure_bytes([Plot("t", "x", "y", (Series("a", (0, 1), (2, 2)),), levels)], "svg"))
    grey = [
        p.get("stroke-dasharray")
        for p in drawn.iter("{http://www.w3.org/2000/svg}path")
        if p.get("stroke") == "#737373"
    ]
    assert grey[0] == grey[2] != grey[1]


def test_several_plots_stand_below_each_other_in_one_file() -> None:
    """Means and their ranges."""
    drawn = ElementTree.fromstring(figure_bytes([PLOT, replace(PLOT, title="Ranges")], "svg"))
    assert [one.get("y") for one in drawn] == ["0", "317"]
    assert {"Wear of $CP-1$ <b>", "Ranges"} <= {one.text for one in drawn.iter()}


def test_places_with_names_are_marked_by_them() -> None:
    """Checks by their day."""
    names = tuple((float(n), f"2026-03-{n:02d}") for n in range(1, 13))
    plot = Plot("t", "checks", "mm", (Series("a", tuple(map(float, range(1, 13))), (1.0,) * 12),), x_names=names)
    assert "2026-03-01" in chart_text(plot)
    assert len(plot.ticks(upright=False, most=6)) == 6
