"""AWG sizes against their definition: ASTM B258, "Standard Specification for Standard Nominal Diameters and
Cross-Sectional Areas of AWG Sizes of Solid Round Wires Used as Electrical Conductors".

The standard fixes 4/0 at 0.4600 inch and 36 at 0.0050 inch with 39 equal ratios between; the diameters in mils below
are those of the AWG table as electrical handbooks print it, from memory.
"""

from __future__ import annotations

from math import pi

import pytest

from upkeep.plant.wire import awg_diameter, belong_together, sizes_in

MIL = 0.0254
"""mm."""


@pytest.mark.parametrize(
    ("size", "mils"),
    [(-3, 460.0), (0, 324.9), (10, 101.9), (14, 64.1), (16, 50.8), (18, 40.3), (20, 32.0), (22, 25.3), (36, 5.0)],
)
def test_the_diameter_of_a_size_is_that_of_the_handbook_table(size: int, mils: float) -> None:
    """To the last figure printed."""
    assert awg_diameter(size) / MIL == pytest.approx(mils, abs=0.05)


@pytest.mark.parametrize(("size", "mm", "mm2"), [(10, 2.588, 5.26), (20, 0.812, 0.518), (30, 0.255, 0.0509)])
def test_diameter_and_area_in_mm(size: int, mm: float, mm2: float) -> None:
    """The metric columns of the table, from memory; to the last figure printed."""
    assert awg_diameter(size) == pytest.approx(mm, abs=5e-4)
    assert pi / 4 * awg_diameter(size) ** 2 == pytest.approx(mm2, rel=1.5e-3)


def test_six_sizes_halve_the_diameter_almost_and_three_the_area() -> None:
    """The rule of thumb that comes with the geometry."""
    assert awg_diameter(20) / awg_diameter(26) == pytest.approx(2.005, abs=0.001)
    assert (awg_diameter(20) / awg_diameter(23)) ** 2 == pytest.approx(2.005, abs=0.001)


@pytest.mark.parametrize("text", ["20 AWG (0.5 mm2)", "18 AWG (0.75 mm2)", "16 AWG (1.5 mm2)", "2/0 AWG (70 mm2)"])
def test_sizes_that_drawings_write_together_belong_together(text: str) -> None:
    """Common practice, no source: the nearest metric size of a stranded wire."""
    assert belong_together(sizes_in(text))


@pytest.mark.parametrize("text", ["20 AWG (0.75 mm2)", "16 AWG (0.5 mm2)", "22 AWG (0.5 mm2)"])
def test_a_neighbouring_even_size_does_not(text: str) -> None:
    """Wires come in every second size: what is one of those too thick or thin is a slip of the pen."""
    assert not belong_together(sizes_in(text))
