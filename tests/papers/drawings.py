"""What stands where on a drawn page or plot, to a tenth of a millimetre, so that a drawing can be kept and compared.

A drawing is a list of sheets; each has its size and what is drawn on it, in order, measured from its top left corner.
No pictures are compared: a thinner pen or another library may give other bytes, and a rule at another place gives
another drawing.

``.venv/bin/python -m tests.papers.drawings`` writes the golden drawings anew; look at each difference before you commit
it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from pypdf import PageObject, PdfReader

from demo_plant.environment import ROOT
from tests.papers.test_plots import PLOT
from tests.papers.weeks import FRAME, WEEKS
from upkeep.papers.frame.page_pdf import page_pdf
from upkeep.papers.plot_files import figure_bytes
from upkeep.papers.plots import Level, Plot, Series
from upkeep.papers.week.week_pdf import week_pdf
from upkeep.wording.sentences import ENGLISH

GOLDEN = ROOT / "tests" / "golden"

Shape = tuple[Any, ...]
"""A kind of shape, its places in mm, and what else can be seen of it."""

Sheet = dict[str, Any]

_MM = 25.4 / 72


def _mm(points: float) -> float:
    return round(points * _MM, 1) + 0.0  # no -0.0


def of_pdf(document: bytes) -> list[Sheet]:
    """The sheets of a PDF: texts (left, down, size in points, face, words), rules (from, to,
    thickness) and the corners of what is filled, as a code is."""
    return [_of_page(page) for page in PdfReader(BytesIO(document)).pages]


def _of_page(page: PageObject) -> Sheet:
    wide, high = float(page.mediabox.width), float(page.mediabox.height)
    drawn: list[Shape] = []
    pen: dict[str, Any] = {"thick": "1 pt", "at": (0.0, 0.0), "squares": []}

    def moved(operator: bytes, operands: list[Any], *_: object) -> None:
        if operator == b"w":
            pen["thick"] = f"{float(operands[0]):g} pt"
        if operator in (b"m", b"l"):
            along, down = float(operands[0]), high - float(operands[1])
            if operator == b"l":
                left, top = pen["at"]
                drawn.append(("rule", _mm(left), _mm(top), _mm(along), _mm(down), pen["thick"]))
            pen["at"] = along, down

        if operator == b"re":
            left, low, across, up = map(float, operands)
            pen["squares"].append((left, high - low - up, left + across, high - low))
        if operator.startswith(b"f") and pen["squares"]:
            sides = list(zip(*pen["squares"], strict=True))
            drawn.append(("filled", *map(_mm, (min(sides[0]), min(sides[1]), max(sides[2]), max(sides[3])))))
            pen["squares"] = []

    def written(words: str, _: object, place: list[float], font: Mapping[str, Any] | None, size: float) -> None:
        if words.strip() and font is not None:
            face = "bold" if str(font["/BaseFont"]).endswith("Bold") else "regular"
            drawn.append(("text", _mm(place[4]), _mm(high - place[5]), size, face, words))

    page.extract_text(visitor_operand_before=moved, visitor_text=written)
    return {"wide": _mm(wide), "high": _mm(high), "drawn": drawn}


_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def of_svg(drawing: bytes) -> list[Sheet]:
    """The sheet of an SVG, or of each one within it: texts, and paths and circles with their thickness, colour and
    dashes; a sheet within another says how far down it stands."""
    root = ElementTree.fromstring(drawing)
    return [_of_drawing(one) for one in ([one for one in root if _kind(one) == "svg"] or [root])]


def _of_drawing(root: ElementTree.Element) -> Sheet:
    wide, high, down = (float(root.get(side, "0").removesuffix("pt")) for side in ("width", "height", "y"))
    drawn = [shape for element in root for shape in _of_element(element)]
    return {"wide": _mm(wide), "high": _mm(high), "drawn": [("sheet", _mm(down)), *drawn]}


def _kind(element: ElementTree.Element) -> str:
    return element.tag.rpartition("}")[2]


def _of_element(element: ElementTree.Element) -> Iterator[Shape]:
    given = element.attrib
    look = f"{given.get('stroke-width', 0)} pt", given.get("stroke", ""), given.get("stroke-dasharray", "")
    match _kind(element):
        case "text":
            places = [given["x"], given["y"]]
            turned = given.get("transform", "")
            if turned:
                places = _NUMBER.findall(turned)[:2]
            upright = "upright" if "rotate(-90)" in turned else "level"
            yield ("text", *(_mm(float(place)) for place in places), given["text-anchor"], upright, element.text or "")
        case "path":
            yield ("path", *(_mm(float(number)) for number in _NUMBER.findall(given["d"])), *look)
        case "circle":
            yield ("circle", *(_mm(float(given[key])) for key in ("cx", "cy", "r")), *look)


# Drawings that are kept

PAGE = "HOLD LIST #12\n\nFound by Ana, êěâǎ\n  1 P-07\n     2,650 strokes\n"
LONG = "\n".join(["PLAN", *(f"  line {number} {'of many words ' * 9}" for number in range(30))])
WORN = Plot(
    "CP-a: Slug height, CR-1",
    "strokes since new",
    "mm",
    (
        Series("measured (means)", (0, 40_000, 80_000, 120_000), (1.2, 1.21, 1.212, 1.222)),
        Series("line", (0, 150_000), (1.2, 1.226), "line", "."),
        Series("95 % prediction limits, each one-sided", (0, 75_000, 150_000), (1.21, 1.222, 1.24), "dashes", "-"),
        Series("", (0, 75_000, 150_000), (1.19, 1.204, 1.212), "dashes", "-"),
        Series("breaks a rule", (80_000,), (1.212,), mark="x"),
    ),
    (
        Level("warning 1.23 mm", 1.23, form="mark"),
        Level("upper limit 1.24 mm", 1.24),
        Level("plan by 130,000 strokes", 130_000, upright=True, form="mark"),
    ),
)

DRAWINGS: Mapping[str, Callable[[], list[Sheet]]] = {
    "drawn_week_mixed": lambda: of_pdf(week_pdf(WEEKS["week_mixed"], ENGLISH)),
    "drawn_week_two_pages": lambda: of_pdf(week_pdf(WEEKS["week_two_pages"], ENGLISH, "Letter")),
    "drawn_week_empty": lambda: of_pdf(week_pdf(WEEKS["week_empty"], ENGLISH)),
    "drawn_page": lambda: of_pdf(page_pdf(PAGE, FRAME, ENGLISH)),
    "drawn_page_overleaf": lambda: of_pdf(page_pdf(LONG, FRAME, ENGLISH, "Letter")),
    "drawn_plot": lambda: of_svg(figure_bytes([PLOT], "svg")),
    "drawn_two_plots": lambda: of_svg(figure_bytes([WORN, PLOT], "svg")),
}
"""What is drawn of each golden drawing, by file name."""


def kept(name: str) -> list[Sheet]:
    """A golden drawing as it is kept."""
    sheets: list[Sheet] = json.loads((GOLDEN / f"{name}.json").read_text(encoding="utf-8"))
    return [{**sheet, "drawn": [tuple(shape) for shape in sheet["drawn"]]} for sheet in sheets]


def kept_text(sheets: list[Sheet]) -> str:
    """A drawing as its file holds it: a shape a row, so that a difference shows which one moved."""
    pages = []
    for sheet in sheets:
        rows = ",\n".join(json.dumps(shape, ensure_ascii=False) for shape in sheet["drawn"])
        pages.append(f'{{"wide": {sheet["wide"]}, "high": {sheet["high"]}, "drawn": [\n{rows}\n]}}')
    return "[" + ",\n".join(pages) + "]\n"


if __name__ == "__main__":
    for name, draw in DRAWINGS.items():
        (GOLDEN / f"{name}.json").write_text(kept_text(draw()), encoding="utf-8")
