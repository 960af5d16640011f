"""A plot as a file for a report: SVG with its texts as text, or the same as PNG.

Black and grey on white.  Text is drawn as it stands, nothing in it is markup; the same plot gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree.ElementTree import Element, SubElement, tostring

from upkeep.errors import Unreadable
from upkeep.papers.letters import faces, font_file
from upkeep.papers.plots import Level, Plot, Series, stepped
from upkeep.said import Quoted, either, said
from upkeep.wording.text import visible

_KINDS = {".svg": "svg", ".png": "png"}

_WIDE, _HIGH = 518.0, 317.0
"""The size of the drawing in points."""

_DPI = 150
"""Points of a PNG to an inch."""

_SIZE, _LEADING = 9.0, 12.0
_TICK, _MARK = 3.5, 2.5
_GRID, _LEVEL = "#e5e5e5", "#737373"
_DASHES = {"line": "", "steps": "", "dashes": "4 2", "dots": "1 2"}
_LEVEL_DASHES = {"limit": "7 2 1.5 2", "middle": "", "mark": "1.5 2.5"}

Point = tuple[float, float]


def drawn_for(path: Path, *plots: Plot) -> bytes:
    """Plots below each other as the content of a file: SVG with its texts as text, or PNG, as its name ends.

    Raises :class:`Unreadable` for another ending.
    """
    kind = _KINDS.get(path.suffix.lower())
    if kind is None:
        raise Unreadable(
            said(
                "{path} does not say what kind of picture to write; end it with {kinds}.",
                path=Quoted(path.name),
                kinds=either(_KINDS),
            )
        )
    return figure_bytes(plots, kind)


def figure_bytes(plots: Sequence[Plot], kind: str) -> bytes:
    """Plots below each other as the bytes of a picture ("svg" or "png"), without a moment of making in it."""
    drawings = [_Drawing(plot).drawn() for plot in plots]
    sheet = drawings[0]
    if len(drawings) > 1:
        high = f"{_HIGH * len(drawings):g}"
        size = {"viewBox": f"0 0 {_WIDE:g} {high}", "width": f"{_WIDE:g}pt", "height": f"{high}pt"}
        sheet = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size})
        for place, drawing in enumerate(drawings):
            drawing.attrib.pop("xmlns")
            drawing.attrib |= {"y": f"{_HIGH * place:g}", "width": f"{_WIDE:g}", "height": f"{_HIGH:g}"}
            sheet.append(drawing)
    svg = bytes(tostring(sheet, encoding="utf-8", xml_declaration=True))
    return svg if kind == "svg" else _png(svg)


def _png(svg: bytes) -> bytes:
    from resvg_py import svg_to_bytes

    with TemporaryDirectory() as folder:
        font = Path(folder, "face.ttf")
        font.write_bytes(font_file())
        return bytes(svg_to_bytes(svg.decode(), dpi=_DPI, skip_system_fonts=True, font_files=[str(font)]))


class _Drawing:
    """The plot on a sheet; places are points from its top left corner."""

    def __init__(self, plot: Plot) -> None:
        self._plot, self._face = plot, faces()[0]
        drawn: tuple[Series | Level, ...] = (*plot.series, *plot.levels)
        self._named = [shape for shape in drawn if shape.name]
        self._spans = plot.span(upright=False), plot.span(upright=True)
        self._ticks = plot.ticks(upright=False, most=6), plot.ticks(upright=True, most=6)
        self._rows = -(-len(self._named) // 2)
        self._left = 40 + max(self._face.width(text, _SIZE) for _, text in self._ticks[1])
        rows = self._rows + bool(plot.source)
        self._right, self._top, self._bottom = _WIDE - 20, 22.0, _HIGH - 42 - _LEADING * rows
        named = {"font-family": f"{self._face.name}, sans-serif", "font-size": f"{_SIZE:g}"}
        sheet = {"viewBox": f"0 0 {_WIDE:g} {_HIGH:g}", "width": f"{_WIDE:g}pt", "height": f"{_HIGH:g}pt"}
        self._root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **sheet, **named})

    def drawn(self) -> Element:
        """Everything, the last over the first."""
        SubElement(self._root, "rect", width="100%", height="100%", fill="white")
        self._axes()
        for drawn in self._plot.series:
            x, y = stepped(drawn) if drawn.form == "steps" else (drawn.x, drawn.y)
            self._draw(drawn, [self._place(*value) for value in zip(x, y, strict=True)])
        for level in self._plot.levels:
            along, up = self._place(level.at, level.at)
            across = (self._left, up), (self._right, up)
            self._draw(level, ((along, self._bottom), (along, self._top)) if level.upright else across)
        self._key()
        if self._plot.source:
            self._text(self._right, _HIGH - 6, self._plot.source, "end")
        return self._root

    def _place(self, along: float, up: float) -> Point:
        (first, last), (low, high) = self._spans
        return (
            self._left + (along - first) / (last - first) * (self._right - self._left),
            self._bottom - (up - low) / (high - low) * (self._bottom - self._top),
        )

    def _axes(self) -> None:
        left, right, top, bottom = self._left, self._right, self._top, self._bottom
        for value, text in self._ticks[0]:
            along, _ = self._place(value, 0)
            self._line(((along, top), (along, bottom)), 0.6, _GRID)
            self._line(((along, bottom), (along, bottom + _TICK)), 0.8)
            self._text(along, bottom + 12.5, text, "middle")
        for value, text in self._ticks[1]:
            _, up = self._place(0, value)
            self._line(((left, up), (right, up)), 0.6, _GRID)
            self._line(((left - _TICK, up), (left, up)), 0.8)
            self._text(left - 6, up + 3, text, "end")
        self._line(((left, top), (right, top), (right, bottom), (left, bottom), (left, top)), 0.8)
        self._text(left, top - 6, self._plot.title).set("font-size", "10.8")
        self._text((left + right) / 2, bottom + 27, self._plot.x_title, "middle")
        turned = self._text(0, 0, self._plot.y_title, "middle")
        turned.set("transform", f"translate(14 {(top + bottom) / 2:.2f}) rotate(-90)")

    def _key(self) -> None:
        for number, drawn in enumerate(self._named):
            column, row = divmod(number, self._rows)
            left, down = 82 + 200 * column, self._bottom + 43 + _LEADING * row
            middle = down - 3.0
            points = isinstance(drawn, Series) and drawn.form == "points"
            self._draw(drawn, [(left + 10, middle)] if points else [(left, middle), (left + 20, middle)])
            self._text(left + 27, down, drawn.name)

    def _draw(self, drawn: Series | Level, corners: Sequence[Point]) -> None:
        """Draws a series through its corners or a level from end to end, or the sample of either in the key."""
        if isinstance(drawn, Level):
            self._line(corners, 1.4, _LEVEL, _LEVEL_DASHES[drawn.form])
        elif drawn.form == "points":
            for corner in corners:
                self._mark(*corner, crossed=drawn.mark == "x")
        else:
            self._line(corners, 2.2 if drawn.form == "steps" else 1.1, dashes=_DASHES[drawn.form])

    def _mark(self, along: float, down: float, crossed: bool) -> None:
        if crossed:
            self._line(((along - _MARK, down - _MARK), (along + _MARK, down + _MARK)), 1.0)
            self._line(((along - _MARK, down + _MARK), (along + _MARK, down - _MARK)), 1.0)
        else:
            self._add("circle", 1.0, cx=f"{along:.2f}", cy=f"{down:.2f}", r=f"{_MARK}")

    def _line(self, corners: Sequence[Point], thick: float, colour: str = "black", dashes: str = "") -> None:
        path = "M" + " L".join(f"{along:.2f} {down:.2f}" for along, down in corners)
        self._add("path", thick, colour, **({"stroke-dasharray": dashes} if dashes else {}), d=path)

    def _add(self, shape: str, thick: float, colour: str = "black", **attributes: str) -> None:
        look = {"fill": "none", "stroke": colour, "stroke-width": f"{thick}"}
        SubElement(self._root, shape, {**look, **attributes})

    def _text(self, along: float, down: float, text: str, anchor: str = "start") -> Element:
        drawn = SubElement(self._root, "text", {"x": f"{along:.2f}", "y": f"{down:.2f}", "text-anchor": anchor})
        drawn.text = self._face.shown(visible(text))
        return drawn
