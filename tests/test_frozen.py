"""A frozen value is what the standard library's frozen dataclass with slots is."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Mapping
from dataclasses import FrozenInstanceError, asdict, astuple, dataclass, field, fields, is_dataclass, replace
from datetime import date
from inspect import signature
from typing import Any, get_type_hints

import pytest

from upkeep.frozen import frozen

DAY = date(2026, 3, 2)


@frozen
class Reading:
    """A value, and when it was seen, by which readings are not told apart."""

    value: float
    unit: str = "mm"
    seen: date = field(default=DAY, compare=False)
    notes: Mapping[str, int] = field(default_factory=dict, repr=False, compare=False)

    @property
    def tenfold(self) -> Reading:
        """Ten times the value."""
        return replace(self, value=10 * self.value)


@frozen(kw_only=True)
class Signed(Reading):
    """A reading with a name on it."""

    by: str
    because: str = ""


@dataclass(frozen=True, slots=True)
class StandardReading:
    """The same, made by the standard library."""

    value: float
    unit: str = "mm"
    seen: date = field(default=DAY, compare=False)
    notes: Mapping[str, int] = field(default_factory=dict, repr=False, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class StandardSigned(StandardReading):
    """The same, made by the standard library."""

    by: str
    because: str = ""


@frozen
class Nothing:
    """A value without fields."""


@frozen
class Odd:
    """A number that is not even, shown in its own way."""

    number: int

    def __post_init__(self) -> None:
        if self.number % 2 == 0:
            raise ValueError(self.number)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Odd)

    def __repr__(self) -> str:
        return "odd"


TWINS = pytest.mark.parametrize(
    ("ours", "standards", "given"),
    [
        (Reading, StandardReading, {"value": 1.5}),
        (Reading, StandardReading, {"value": 1.5, "unit": "N", "seen": date(2026, 3, 3), "notes": {"a": 1}}),
        (Signed, StandardSigned, {"value": 1.5, "by": "ana"}),
    ],
)


@TWINS
def test_it_has_the_fields_values_and_text_of_the_standard_one(
    ours: type[Reading], standards: type[StandardReading], given: dict[str, Any]
) -> None:
    """And may be called in the same ways."""
    made, standard_made = ours(**given), standards(**given)
    assert is_dataclass(made)
    assert asdict(made) == asdict(standard_made)
    assert astuple(made) == astuple(standard_made)
    assert [(one.name, one.type, one.default) for one in fields(made)] == [
        (one.name, one.type, one.default) for one in fields(standard_made)
    ]
    assert repr(made) == repr(standard_made).replace("Standard", "")
    assert [(one.name, one.kind) for one in signature(ours).parameters.values()] == [
        (one.name, one.kind) for one in signature(standards).parameters.values()
    ]
    assert get_type_hints(ours.__init__) == get_type_hints(standards.__init__)
    assert ours.__match_args__ == standards.__match_args__
    assert ours.__slots__ == standards.__slots__  # type: ignore[attr-defined]


@TWINS
def test_what_the_standard_one_refuses_it_refuses(
    ours: type[Reading], standards: type[StandardReading], given: dict[str, Any]
) -> None:
    """A field that is missing, one that is not there, one too many; writing and deleting."""
    for kind in (ours, standards):
        for wrong in ({}, {**given, "colour": "red"}):
            with pytest.raises(TypeError):
                kind(**wrong)
        with pytest.raises(TypeError):
            kind(*range(9))
        made = kind(**given)
        with pytest.raises(FrozenInstanceError, match="cannot assign to field 'value'"):
            made.value = 2.0  # type: ignore[misc]
        with pytest.raises(FrozenInstanceError, match="cannot delete field 'value'"):
            del made.value


def test_the_first_object_may_be_one_of_a_class_derived_from_it() -> None:
    """Its ``__init__`` is written then, and stays that of the class it stands in."""

    @frozen
    class Gauge:
        """A value."""

        name: str

    class Named(Gauge):
        """A class of its own making."""

        def __init__(self) -> None:
            super().__init__("G-1")

    assert Named().name == "G-1"
    assert Gauge("G-2").name == "G-2"
    assert Named().name == "G-1"


def test_it_equals_another_of_its_class_with_the_same_values() -> None:
    """A field with ``compare=False`` apart; neither a tuple nor an object of a derived class is the same."""
    assert Reading(1.5) == Reading(1.5, seen=date(2026, 3, 3), notes={"a": 1})
    assert hash(Reading(1.5)) == hash(Reading(1.5, seen=date(2026, 3, 3), notes={"a": 1}))
    assert Reading(1.5) != Reading(1.5, "N")
    assert Reading(1.5) != Signed(1.5, by="ana")
    assert Reading(1.5) not in [(1.5, "mm"), (1.5, "mm", DAY, {}), 1.5]
    assert len({Signed(1.5, by="ana"), Signed(1.5, by="ben"), Signed(1.5, by="ana"), Reading(1.5)}) == 3
    assert Nothing() == Nothing() != None  # noqa: E711
    nan = float("nan")
    assert Reading(nan) == Reading(nan)  # the same number that is none, as in a tuple


def test_it_can_be_replaced_matched_copied_and_pickled() -> None:
    """A default made anew is another object each time."""
    signed = Signed(1.5, "N", by="ana", notes={"a": 1})
    assert replace(signed, by="ben") == Signed(1.5, "N", by="ben")
    assert Reading(1.5).tenfold == Reading(15)
    match signed:
        case Reading(value, unit):
            assert (value, unit) == (1.5, "N")
        case _:
            pytest.fail("it did not match")
    for again in (copy.copy(signed), copy.deepcopy(signed), pickle.loads(pickle.dumps(signed))):
        assert asdict(again) == asdict(signed)
    assert Reading(1.5).notes is not Reading(1.5).notes


def test_a_method_of_its_own_stays() -> None:
    """With an ``__eq__`` of its own it is still hashed by its values."""
    assert Odd(3) == Odd(5)
    assert repr(Odd(3)) == "odd"
    assert hash(Odd(3)) == hash(Odd(3)) != hash(Odd(5))
    with pytest.raises(ValueError, match="4"):
        Odd(4)
