"""Two pictures side by side at one scale: an item as it was new, and as it is now."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

from upkeep.errors import Unreadable

_DPI = 100
_WIDEST = 1600
"""Points across that a picture is drawn with at most; both are made smaller by the same factor."""

_GAP, _TITLE = 20, 40


def side_by_side(pictures: tuple[tuple[Path, str], tuple[Path, str]]) -> bytes:
    """A PNG of two pictures, each below its title: a point of one is as large as a point of the other.

    Taken from the same distance, the same width on both is the same length.  Raises :class:`Unreadable` for a file that
    is no picture.
    """
    from matplotlib import rc_context
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    shown = [_read(file) for file, _ in pictures]
    scale = min(1.0, _WIDEST / max(image.shape[1] for image in shown))
    sizes = [(image.shape[1] * scale, image.shape[0] * scale) for image in shown]
    wide = sum(width for width, _ in sizes) + 3 * _GAP
    high = max(height for _, height in sizes) + 2 * _GAP + _TITLE
    out = BytesIO()
    with rc_context({"text.parse_math": False, "font.family": "DejaVu Sans", "font.size": 9.0}):
        figure = Figure(figsize=(wide / _DPI, high / _DPI), dpi=_DPI)
        FigureCanvasAgg(figure)
        left = float(_GAP)
        for image, (width, height), (_, title) in zip(shown, sizes, pictures, strict=True):
            axes = figure.add_axes((left / wide, _GAP / high, width / wide, height / high))
            axes.imshow(image, cmap="gray", aspect="auto")
            axes.set_axis_off()
            axes.set_title(title, loc="left")
            left += width + _GAP
        figure.savefig(out, format="png", metadata={"Software": "Strokebook"})
    return out.getvalue()


def _read(file: Path) -> Any:
    from matplotlib.image import imread

    try:
        return imread(file)
    except (OSError, ValueError, SyntaxError) as error:
        raise Unreadable(f"{file} is no picture that can be read (PNG, JPEG).") from error
