"""Reasons are kept as JSON: what is read back is what was written, and it holds no prose and no decimal numbers."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from typing import Any, get_args

from hypothesis import given
from hypothesis import strategies as st

from upkeep.due.holds import FailedCheck, GaugeOutOfTolerance, HoldReason
from upkeep.due.reason_json import hold_from, reasons_from, text_of
from upkeep.due.reason_list import Reasons
from upkeep.due.reasons import Asked, Asking, Deferred, Floating, Held, NeverSigned, Reason, Source, Spread, Usage
from upkeep.plant.names import Names
from upkeep.units.instants import Zone
from upkeep.wording.holds import hold_text
from upkeep.wording.reasons import sentence
from upkeep.wording.sentences import ENGLISH

EPOCH = datetime(2000, 1, 1, tzinfo=UTC)
INSTANTS = st.integers(0, 3_000_000_000).map(lambda seconds: EPOCH + timedelta(seconds=seconds))
st.register_type_strategy(datetime, INSTANTS)
EVERY = st.sampled_from(["1 day", "7 days", "2 weeks", "1 month", "6 months", "1 year"])
for dated in (Floating, Spread):
    st.register_type_strategy(dated, st.builds(dated, every=EVERY))
st.register_type_strategy(
    GaugeOutOfTolerance,
    st.builds(
        GaugeOutOfTolerance,
        off=st.integers(-999, 999).map(lambda thousandths: f"{thousandths / 1000:+g}"),
        unit=st.sampled_from(["", "mm", "N"]),
    ),
)


def any_of(kinds: object) -> st.SearchStrategy[Any]:
    """Any value of a union of types."""
    return st.one_of(*(st.from_type(kind) for kind in get_args(kinds) if kind is not Asked))


ASKED = st.builds(Asked, combine=st.sampled_from(["first", "last"]), by=st.lists(any_of(Asking), min_size=1).map(tuple))
ALL = st.builds(Reasons, st.lists(any_of(Reason) | ASKED).map(tuple))


@given(ALL)
def test_all_reasons_of_a_line_read_back_as_they_were(reasons: Reasons) -> None:
    """Every kind, with every field there or not; and every one of them has words."""
    kept = text_of(reasons)
    assert reasons_from(kept) == reasons
    assert text_of(reasons_from(kept)) == kept
    assert sentence(reasons, Zone("Europe/Berlin"), Names(), ENGLISH).endswith(".")


@given(any_of(HoldReason))
def test_the_reason_of_a_hold_reads_back_as_it_was(reason: HoldReason) -> None:
    """Every kind, and every one has words."""
    assert hold_from(text_of(reason)) == reason
    assert isinstance(hold_text(reason, ENGLISH), str)


@given(ALL)
def test_the_json_has_sorted_keys_and_no_decimal_numbers(reasons: Reasons) -> None:
    """So equal reasons are equal texts on every machine."""

    def walk(value: Any) -> None:
        assert value is not None
        assert not isinstance(value, float)
        if isinstance(value, dict):
            assert list(value) == sorted(value)
            assert "kind" in value
        for one in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
            walk(one)

    walk(json.loads(text_of(reasons)))


def test_a_line_of_the_table_by_hand() -> None:
    """As it stands in the file, and in ``--json``."""
    deferred = Deferred("5000", "6000", "lea", 1, 12)
    usage = Usage(2800, 2800, 2950, 2500, True, halved_after=3, deferred=deferred)
    held = Held(FailedCheck("as-found", ("crimp-height",), True))
    came = NeverSigned(datetime(2026, 3, 1, tzinfo=UTC))
    assert text_of(Reasons((held, Asked("first", (usage,)), came, Source("handbook, page 12")))) == (
        '[{"kind":"held","reason":{"again":true,"kind":"failed-check","occasion":"as-found","points":["crimp-height"]}},'
        '{"by":[{"allowed":2500,"deferred":{"by":"lea","entry":12,"kind":"deferred","occurrence":"5000","times":1,'
        '"to":"6000"},"done":2800,"halved_after":3,"high":2950,"kind":"usage","low":2800,"since_done":true}],'
        '"combine":"first","kind":"asked"},{"kind":"never-signed","since":"2026-03-01T00:00:00Z"},'
        '{"kind":"source","text":"handbook, page 12"}]'
    )
