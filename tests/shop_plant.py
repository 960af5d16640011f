"""The plant of the invented shop floor: presses with every kind of counter, tasks with every kind of rule."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from tests.plants import book_of, define, item, person, plant, task
from upkeep.book import Book
from upkeep.plant.definition import Definition
from upkeep.plant.model import Kind

COUNTED = ("P-03", "P-07", "P-08")
"""Presses with a counter."""
PRESSES = (*COUNTED, "P-05")
"""P-05 has none: quantities are all that is known of it."""
OWN_COUNTER = "M-44"
"""A module that carries a counter of its own beside that of its press."""
COUNTERS = (*COUNTED, OWN_COUNTER)
RATES = {"P-03": 900, "P-07": 1500, "P-08": 400, "P-05": 600, "M-44": 1200}
"""Strokes an hour while it runs."""
FIGURES = {"P-03": 4, "P-07": 5, "P-08": 6, "P-05": 0, "M-44": 5}
"""Short counters, so that they roll over within days."""
SHOWN_FIRST = {"P-03": 9_700, "P-07": 95_000, "P-08": 10, "M-44": 0}

MOVED = ("M-12", "M-44", "DS-031", "DS-102", "CP-a", "CP-b", "IP-1", "CB-1")
PARTS = ("CP-a", "CP-b", "IP-1", "CB-1")

_GAP = [{"id": "gap", "title": "Gap", "unit": "mm", "warn_upper": 1.5, "upper": 4.0}]
TASKS = (
    task("clean", "module", each_shift=True),
    task("wipe", "press", each_shift=True),
    task("inspect", "die set", strokes=2000, stop_at=110, graded=True, second_signature="quality technician"),
    task(
        "look",
        "conductor punch",
        strokes=900,
        strokes_for={"CP-b": 500},
        late_strokes=50,
        graded=True,
        stop_at=105,
        at_next_stop=True,
    ),
    task("grease", "press", every="3 days", early_days=1, late_days=1, stop_days=3, at_next_stop=True),
    task("guard", "press", rule="FREQ=WEEKLY;BYDAY=MO,TH", early_days=1, second_signature="maintenance lead"),
    task("rework", "die set", after_grade=2, late_days=1),
    task(
        "service",
        "module",
        every="5 days",
        strokes=3000,
        combine="last",
        stop_at=120,
        stop_days=9,
        parts={"SP-OIL": 2},
    ),
    task("feed", "module", rule="FREQ=DAILY;INTERVAL=2", strokes=1500, combine="first", late_percent=50),
    task("check", "press", after=["crash", "tool setting"], used_from=20),
    task("again", "die set", after=["fitting", "tool setting", "storage"], used_from=30, stop_days=0),
    task("measure", "conductor punch", after=["rework", "crash", "fault", "fitting"], strokes=1200),
    task("gap", "insulation punch", strokes=400, points=_GAP, after=["crash"], hold_when_out=True),
    task("set-gap", "insulation punch", after_warning=["gap"], late_days=1),
    task("worn", "conductor punch", life=True, plan_from=90, stop_at=110),
    task("worn-set", "die set", life=True, late_percent=5),
    task(
        "oil",
        "module",
        every="4 days",
        spread=True,
        early_percent=25,
        late_percent=60,
        window_cap_days=1,
        at_next_stop=True,
    ),
    task("turn", "die set", every="2 days", while_resting=True, stop_days=2),
    task("dust", "module", rule="FREQ=DAILY", while_resting=True),
    task("hundred", "die set", strokes=1000, deduct_overrun=True, early_percent=30, late_percent=10, max_deferrals=1),
    task("regrind", "cut-off blade", strokes=1500, own_usage_clock=True, every="6 days", graded=True),
    task("overhaul", "module", every="3 days", covers=["clean", "feed", "oil", "service"], cover_days=2),
    task("strip", "die set", every="4 days", covers=["hundred", "turn", "again"], second_signature="maintenance lead"),
    task("start", "press", each_shift=True, by_hour=4, used_from=40),
    task("law", "press", rule="FREQ=DAILY;INTERVAL=3", also_on=["2026-03-03"], not_on=["2026-03-04"], statutory=True),
    task("month", "cut-off blade", every="1 month", early_percent=90, late_days=2, at_next_stop=True),
    task("calibrate", "gauge", every="6 days", stop_days=0),
    task("block", "gauge", rule="FREQ=DAILY", late_days=1, second_signature="maintenance lead"),
)
_SPECIAL: dict[str, dict[str, Any]] = {
    "CP-a": {"life": 2500, "max_reworks": 2},
    "IP-1": {"life": 4000},
    "M-44": {"digits": FIGURES["M-44"], "max_rate": 4000},
    "P-05": {"kind": "press", "digits": 0, "place": "hall"},
    "P-09": {"kind": "press", "place": "hall"},
    "DS-031": {"family": "tab"},
    "DS-102": {"family": "tab"},
}
_HEIGHT = {"id": "crimp-height", "title": "Height", "unit": "mm", "lower": 1.1, "upper": 1.25, "readings": 2}
SPARES = (
    define("spare", "SP-CP", kind="conductor punch", title="Punch", place="rack"),
    define("spare", "SP-OIL", kind="consumable", title="Oil", pack=10, names=["oil"], lead_days=7),
)
CRIMP = define("crimp", "CR-1", title="Tab on 0.5", family="tab", points=[_HEIGHT], looks=["burr"])


def _plant(**facts: Any) -> Definition:
    """The plant's own facts; most of its work is looked at again by somebody else."""
    return plant(hints_agreed="agreed", recheck_percent=90, **facts)


def shop(folder: Path) -> Path:
    """The file of a book with the plant of this floor and nothing done yet."""
    presses = [item(key, digits=FIGURES[key]) for key in COUNTED]
    special = [item(key, **content) for key, content in _SPECIAL.items()]
    with book_of(folder, tasks=TASKS, more=[*presses, *special, CRIMP, *SPARES, _plant()]) as book:
        book.backup(folder / "shop.book")
    return folder / "shop.book"


def opened_copy(shop_file: Path) -> Book:
    """A fresh copy of the shop's book, opened."""
    copy = shop_file.with_name("day.book")
    for rest in copy.parent.glob("day.book*"):
        rest.unlink()
    shutil.copyfile(shop_file, copy)
    book = Book.open(copy)
    # Thousands of writes; that each one survives a power cut is for the torture tests.
    book._file.connection.execute("PRAGMA synchronous = OFF")
    return book


def changed(one: int, other: int) -> Definition:
    """Another definition of something of this plant."""
    early = {"name": "early", "start": "06:00", "end": "14:00", "days": ["MO", "WE", "FR"]}
    long_day = {"name": "day", "start": "05:30", "end": "18:00", "days": ["MO", "TU", "WE", "TH", "FR", "SA"]}
    counter = COUNTED[other % 3]
    changes = (
        lambda: _plant(shifts=[early, long_day] if other % 2 else [early]),
        lambda: _plant(closed=[f"2026-03-{1 + other % 28:02d}"]),
        lambda: _plant(zone=("Europe/Berlin", "America/New_York", "Asia/Kolkata")[other % 3]),
        lambda: _plant(weights={"hand": 1 + other % 3, "set-up": 0.5, "dry": 0.1}),
        lambda: _replaced_task(TASKS[other % len(TASKS)], one),
        lambda: _replaced_task(TASKS[one // 11 % len(TASKS)], other),
        lambda: item("DS-031", family=f"tab-{other % 3}"),
        lambda: item("CB-1", scrapped="2026-03-05"),
        lambda: item(counter, digits=FIGURES[counter] + other % 2, max_rate=4000 - other % 2000),
        lambda: item(("M-12", "M-44")[other % 2], place=("rack", "hall")[one % 2]),
        lambda: item("CP-b", life=(None, 900, 2000)[other % 3]),
        lambda: item("P-05", **{**_SPECIAL["P-05"], "digits": (0, 5, None)[other % 3], "max_rate": 3000}),
        lambda: item("P-09", **_SPECIAL["P-09"], digits=(None, 0, 6)[other % 3]),
        lambda: person("tom", "Tom", "maintenance technician", until="2026-03-04"),
        lambda: define("place", "rack", title="Rack", area="toolroom", route=other % 9),
    )
    return changes[one % len(changes)]()


def _replaced_task(old: Definition, one: int) -> Definition:
    """The task with another interval or rule, or asking less of a signature than before."""
    content = dict(old.content)
    changes = (
        {"strokes": 400 + one % 2000} if "strokes" in content else {"used_from": 1 + one % 60},
        {"second_signature": None},
        {"every": f"{1 + one % 9} days"} if "every" in content else {"early_days": one % 3},
        {"graded": content["applies_to"] == Kind.DIE_SET and not content.get("graded", False)},
        {"own_usage_clock": not content.get("own_usage_clock", False)},
        {"deduct_overrun": not content.get("deduct_overrun", False), "late_strokes": one % 200},
        {"covers": [], "cover_days": one % 5},
        {"while_resting": not content.get("while_resting", False)},
        {"after": ["fitting", "crash", "rework"][: one % 4]},
        {"combine": ("first", "last")[one % 2], "spread": bool(one % 3)},
    )
    return Definition("task", old.key, content | changes[one // 7 % len(changes)])
