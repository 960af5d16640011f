"""Weekly due lists of an invented plant, for the tests of papers.

``.venv/bin/python -m tests.papers.weeks`` writes their golden pages anew; look at each difference before you commit it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime
from typing import Any

from demo_plant.environment import ROOT
from upkeep.due.states import State
from upkeep.entries.origin import Proof
from upkeep.papers.frame.frame_rows import frame_cells
from upkeep.papers.week.week_text import week_text
from upkeep.views.printed import Printed, Seal
from upkeep.views.week import Deferred, Permit, Stands, WeekList, WeekRow
from upkeep.wording.sentences import ENGLISH

PRINTED = Printed(
    plant="Crimp shop South",
    zone="UTC",
    at=datetime(2026, 3, 2, 15, tzinfo=UTC),
    known_at=None,
    by="Lea",
    proof=Proof.CODE,
    counts_as_of=datetime(2026, 2, 27, 21, 50, tzinfo=UTC),
    oldest_press="P-07",
    never_read=("P-09",),
    seal=Seal(18422, "c154fecce629b000d48dd4efee500697a0fb9a5b80f31aa6f540daff7a56d6a0"),
)
FRAME = frame_cells(PRINTED, ENGLISH)
"""The head of a paper of that plant."""

GOLDEN = ROOT / "tests" / "golden"

LISTED: Mapping[str, Any] = {
    "plant": "Crimp shop South",
    "zone": "UTC",
    "area": "Hall A",
    "week": "2026-W10",
    "first_day": date(2026, 3, 2),
    "last_day": date(2026, 3, 8),
    "printed_at": datetime(2026, 3, 2, 6, tzinfo=UTC),
    "printed_by": "Lea",
    "counts_as_of": datetime(2026, 2, 27, 21, 50, tzinfo=UTC),
    "oldest_count_press": "P-07",
    "revision": 18422,
    "link": PRINTED.seal.link,
    "left_to_rounds": 212,
}


def row(number: int, **changed: Any) -> WeekRow:
    """A short row: one module to be cleaned on Monday."""
    usual: dict[str, Any] = {
        "row": number,
        "line": f"M-{number:02d}/clean",
        "place": "P-07",
        "item": f"M-{number:02d}",
        "task": "clean",
        "title": "Clean the module",
        "state": State.DUE,
        "occurrence": "2026-03-02",
        "due_day": date(2026, 3, 2),
        "due_at": datetime(2026, 3, 2, tzinfo=UTC),
        "strokes": None,
        "due_strokes": None,
        "estimated": False,
        "overdue_at": datetime(2026, 3, 5, tzinfo=UTC),
        "stop_at": None,
        "minutes": 12.0,
        "kit": False,
        "energy": "unplug",
        "statutory": False,
        "last_done_at": datetime(2026, 2, 23, tzinfo=UTC),
        "last_stated": None,
    }
    return WeekRow(**usual | changed)


def week(rows: Iterable[WeekRow], **changed: Any) -> WeekList:
    """A weekly list of these rows."""
    return WeekList(rows=tuple(rows), **dict(LISTED) | changed)


COUNTED = row(
    2, place="rack 3", item="DS-031", title="Inspect the die set for wear", state=State.STOP, kit=True,
    due_day=None, due_at=None, strokes=192_400, due_strokes=200_000, estimated=True,
    stop_at=datetime(2026, 3, 5, tzinfo=UTC), energy="look", last_done_at=None,
)  # fmt: skip
BY_LAW = row(
    3, title="Thorough examination of press and guards by a competent person", item="P-07", state=State.OVERDUE,
    statutory=True, minutes=0.0, energy="lock", stop_at=datetime(2026, 3, 5, tzinfo=UTC),
)  # fmt: skip
FOREIGN = row(
    4, title="Łożyska prasy nasmarować; Öl prüfen", item="M-44", state=State.HELD, stands=Stands.HELD,
    deferred=Deferred("Lea", "2026-03-06", 2), permit=Permit(18_400, 2_500),
)  # fmt: skip
MARKED_UP = row(5, title="<b>Clean</b> & oil \x07\x0c\x1b[31mthe slides", minutes=7.5)
MIXED = (row(1), COUNTED, BY_LAW, FOREIGN, MARKED_UP)

WEEKS: Mapping[str, WeekList] = {
    "week_mixed": week(MIXED),
    "week_empty": week(()),
    "week_two_pages": week(row(number) for number in range(1, 13)),
    "week_53": week(
        [row(1, due_day=date(2026, 12, 28), overdue_at=datetime(2026, 12, 31, tzinfo=UTC))],
        week="2026-W53",
        first_day=date(2026, 12, 28),
        last_day=date(2027, 1, 3),
        area=None,
        printed_by="",
    ),
}
"""The lists whose text pages are kept in ``tests/golden/``, by file name."""


if __name__ == "__main__":
    for name, listed in WEEKS.items():
        (GOLDEN / f"{name}.txt").write_bytes(week_text(listed, ENGLISH).encode())
