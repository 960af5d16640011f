"""Wire sizes as drawings give them: square millimetres or AWG, kept as given and never converted.

The geometry of an AWG size (ASTM B258: the diameters of sizes 36 and 0000 are 0.005 inch and 0.46 inch, with 39 steps
of equal ratio between) only tells whether two sizes written together belong together.
"""

from __future__ import annotations

import math
import re

from upkeep.frozen import frozen
from upkeep.said import said

_SIZE = re.compile(r"(?P<mm2>\d+(?:\.\d+)?) mm2\Z|(?P<awg>\d{1,2}) AWG\Z|(?P<aught>[1-4])/0 AWG\Z")
_TOGETHER = re.compile(r"(?P<first>[^()]+?)(?: \((?P<second>[^()]+)\))?\Z")

SIZE_SAYS = said("a wire size like '0.5 mm2' or '20 AWG', or both like '20 AWG (0.5 mm2)'")

_STEP = 92 ** (2 / 39)
"""By how much the area grows from one AWG size to the next thicker one."""


@frozen
class Size:
    """One wire size: the text as given and the area in mm2, of a solid wire where the text names an AWG size."""

    text: str
    area: float


def sizes_in(text: str) -> tuple[Size, ...]:
    """The one or two sizes a text names; raises ValueError for any other text."""
    written = _TOGETHER.match(" ".join(text.split()))
    if written is None:
        raise ValueError("no wire size")
    return tuple(_size(group) for group in written.groups() if group is not None)


def _size(text: str) -> Size:
    read = _SIZE.match(text)
    if read is None:
        raise ValueError("no wire size")
    if read["mm2"]:
        return Size(text, _positive(float(read["mm2"])))
    return Size(text, awg_area(int(read["awg"]) if read["awg"] else 1 - int(read["aught"])))


def _positive(area: float) -> float:
    if area <= 0:
        raise ValueError("no wire size")
    return area


def awg_diameter(size: int) -> float:
    """The diameter of a solid wire in mm; 0 is 1/0, -1 is 2/0, -3 is 4/0 (ASTM B258)."""
    return float(0.127 * 92 ** ((36 - size) / 39))


def awg_area(size: int) -> float:
    """Its area in mm2."""
    return math.pi / 4 * awg_diameter(size) ** 2


def belong_together(sizes: tuple[Size, ...]) -> bool:
    """Whether sizes written together are at most one AWG step apart (plant default, no source)."""
    areas = [size.area for size in sizes]
    return max(areas) / min(areas) < _STEP * (1 + 1e-9)
