"""Holds that a release ended: what was in force just before it, by all that had been told until then."""

from __future__ import annotations

from pathlib import Path

from tests.plants import INSPECT, book_of, define, item
from upkeep.due.holds import FailedCheck, GradedOut, HoldReason, ToAdjust
from upkeep.keeping.context import Context
from upkeep.keeping.holds import holds_of
from upkeep.units.instants import NEVER

_HEIGHT = {"id": "height", "title": "Crimp height", "unit": "mm", "lower": 1.15, "upper": 1.25, "readings": 1}
_WIDTH = {**_HEIGHT, "id": "width", "title": "Crimp width", "lower": 1.9, "upper": 2.1}
_MORE = (
    define("crimp", "T-05", title="Tab on 0.5", family="tab", points=[_HEIGHT, _WIDTH]),
    item("DS-031", family="tab"),
)
FITTED = """
    2026-03-02 06:00 count P-07 100 by ana
    2026-03-02 06:00 fit M-12 in P-07 at 100 by ana
    2026-03-02 06:00 fit DS-031 in M-12 by ana
"""


def holds(tmp_path: Path, text: str) -> list[tuple[HoldReason, str, str]]:
    """The holds of DS-031: why, since when and until when."""
    with book_of(tmp_path, FITTED + text, tasks=[INSPECT], more=_MORE) as book:
        found = list(holds_of(Context(book._file, book.known, NEVER), "DS-031"))
    return [(one.reason, f"{one.since:%d %H:%M}", f"{one.until:%d %H:%M}" if one.until else "") for one in found]


def test_an_item_graded_out_again_was_held_the_first_time_too(tmp_path: Path) -> None:
    """The last inspection is not the one that held it before the first release."""
    text = """
        2026-03-02 08:00 sign DS-031/inspect for extra grade 4 by tom
        2026-03-02 09:00 release DS-031 by lea because "ground"
        2026-03-03 08:00 sign DS-031/inspect for extra grade 4 by tom
    """
    assert holds(tmp_path, text) == [(GradedOut(), "02 08:00", "02 09:00"), (GradedOut(), "03 08:00", "")]


def test_a_value_measured_good_again_held_nothing_at_the_release(tmp_path: Path) -> None:
    """The width alone was still to be adjusted when somebody released the set."""
    text = """
        2026-03-02 07:00 check DS-031 as-found of T-05 height=1.3 width=2.5 by ana
        2026-03-02 07:10 check DS-031 as-left of T-05 height=1.2 by ana
        2026-03-02 09:00 release DS-031 by lea because "the width does not matter here"
        2026-03-03 07:00 check DS-031 as-left of T-05 height=1.2 width=2.0 by ana
    """
    assert holds(tmp_path, text) == [(ToAdjust(("width",)), "02 07:00", "02 09:00")]


def test_a_value_measured_good_only_after_the_release_held_until_then(tmp_path: Path) -> None:
    """The last good value came later; before the release the set was still to be adjusted."""
    text = """
        2026-03-02 07:00 check DS-031 as-found of T-05 height=1.3 by ana
        2026-03-02 09:00 release DS-031 by lea because "runs another terminal"
        2026-03-03 07:00 check DS-031 as-left of T-05 height=1.2 by ana
    """
    assert holds(tmp_path, text) == [(ToAdjust(("height",)), "02 07:00", "02 09:00")]


def test_a_set_found_bad_twice_was_stopped_before_its_release(tmp_path: Path) -> None:
    """It does not keep its setting: the hold that was released is the one that was in force."""
    text = """
        2026-03-02 07:00 check DS-031 as-found of T-05 height=1.3 by ana
        2026-03-02 07:10 check DS-031 as-left of T-05 height=1.2 by ana
        2026-03-02 08:00 check DS-031 as-found of T-05 height=1.3 by ana
        2026-03-02 08:10 check DS-031 as-left of T-05 height=1.2 by ana
        2026-03-02 09:00 release DS-031 by lea because "screw renewed"
    """
    assert holds(tmp_path, text) == [(FailedCheck("as-found", ("height",), True), "02 08:00", "02 09:00")]
