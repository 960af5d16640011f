"""Cells as people type them: counts, days, roles and intervals."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from upkeep.sources.first_load.cell_values import Misread, OrderUnsaid, Way, said_by
from upkeep.sources.first_load.grids import Cell, column_letters
from upkeep.sources.first_load.wanted import Holds, columns_named, plain, sheet_named
from upkeep.sources.first_load.wanted import Sheet as PlantSheet


def value(cell: Cell, holds: Holds, way: Way = Way()) -> object:  # noqa: B008 (frozen)
    """What a cell says."""
    says = said_by(cell, holds, way)
    return None if says is None else says.value


@pytest.mark.parametrize(
    ("cell", "number"),
    [
        ("4812", 4812), (4812.0, 4812), ("4,812", 4812), ("4.812", 4812), ("4 812", 4812), ("4'812", 4812),
        ("1.204.300", 1_204_300), ("1,204,300", 1_204_300), ("1209.5k", 1_209_500), ("1209,5 K", 1_209_500),
        ("1,209.5k", 1_209_500), ("1.209,5 Tsd.", 1_209_500), ("120k", 120_000), ("1.5 mio", 1_500_000), ("?", None),
        ("4812,0", 4812),
    ],
)  # fmt: skip
def test_counts_are_read_however_thousands_and_decimals_are_written(cell: Cell, number: int | None) -> None:
    """In both conventions, and short."""
    assert value(cell, Holds.WHOLE) == number


@pytest.mark.parametrize("cell", ["1.209k", "1,209k", "12,34,567", "1209.5", 1209.5, "12.5.3", "k", "#N/A", "####", ""])
def test_counts_that_can_be_read_in_two_ways_or_none_are_not_guessed(cell: Cell) -> None:
    """Somebody writes them out."""
    with pytest.raises(Misread):
        value(cell, Holds.WHOLE)


@given(st.integers(0, 10**9), st.sampled_from([",", ".", " ", "'"]))
def test_a_count_comes_back_from_how_it_is_grouped(number: int, mark: str) -> None:
    """Whatever stands between its thousands."""
    assert value(f"{number:,}".replace(",", mark), Holds.WHOLE) == number


@given(st.dates(date(1950, 1, 1), date(2100, 1, 1)), st.sampled_from(["dmy", "mdy", "ymd"]), st.sampled_from("./-"))
def test_a_day_comes_back_from_how_it_is_written(day: date, order: str, mark: str) -> None:
    """In the order that was said, and as a number of a day in both systems."""
    parts = {"y": f"{day.year:04}", "m": f"{day.month:02}", "d": f"{day.day:02}"}
    assert value(mark.join(parts[part] for part in order), Holds.DAY, Way(order)) == day.isoformat()
    in_1900 = (day - date(1900, 1, 1)).days + 2  # day 1 is the first of January, and 1900-02-29 is counted
    assert value(float(in_1900), Holds.DAY) == day.isoformat()
    assert value(float((day - date(1904, 1, 1)).days), Holds.DAY, Way(old_days=True)) == day.isoformat()


def test_known_numbers_of_days() -> None:
    """2008-01-01 is 39448 where days count from 1900, and 1,462 less where they count from 1904.

    Both are widely printed in spreadsheet handbooks; from memory.
    """
    assert value(39448.0, Holds.DAY) == "2008-01-01"
    assert value("39448", Holds.DAY) == "2008-01-01"
    assert value(float(39448 - 1462), Holds.DAY, Way(old_days=True)) == "2008-01-01"


def test_a_day_in_two_ways_waits_for_the_order_and_iso_does_not() -> None:
    """2026-03-04 is one day everywhere."""
    assert value("2026-03-04", Holds.DAY) == value("2026-03-04 00:00:00", Holds.DAY) == "2026-03-04"
    with pytest.raises(OrderUnsaid):
        value("03/04/2026", Holds.DAY)
    for bad in ("04.03.26", "31.02.2026", "soon", 17.0, "2026-02-30"):
        with pytest.raises(Misread):
            value(bad, Holds.DAY, Way("dmy"))


@pytest.mark.parametrize(
    ("cell", "every"),
    [("weekly", "7 days"), ("Every 2 weeks", "2 weeks"), ("14 d", "14 days"), ("vierteljährlich", "3 months"),
     ("cada 6 meses", "6 months"), (30.0, "30 days"), ("each shift", "each shift"), ("1 año", "1 years")],
)  # fmt: skip
def test_intervals_in_the_words_of_shops(cell: Cell, every: str) -> None:
    """In three languages."""
    assert value(cell, Holds.INTERVAL) == every


def test_roles_headings_and_sheets_by_their_names() -> None:
    """Whatever the case, the accents and what stands in brackets."""
    assert value("Operator; set-up", Holds.ROLES) == ["operator", "set-up technician"]
    assert value("Técnico y calidad", Holds.ROLES) == ["maintenance technician", "quality technician"]
    assert sheet_named("Prensas") is PlantSheet.PRESSES
    assert sheet_named(" DIE SETS ") is PlantSheet.DIE_SETS
    assert columns_named(PlantSheet.MODULES, "Lagerort (Regal)") == ["place"]
    assert plain("Größe & Länge [mm]") == "grosse lange"
    assert [column_letters(place) for place in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]
