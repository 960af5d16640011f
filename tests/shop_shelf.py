"""Acts of the invented shop floor about its shelf, and what goes out for rework."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from upkeep.entries.entry import Entry
from upkeep.entries.shelf.moves import Buy, CountShelf, GiveBack, Issue, Receive
from upkeep.entries.shelf.outside import ComeBack, SendOut, TakeIn

if TYPE_CHECKING:
    from tests.shop_floor import Floor

_PUNCHES = ("CP-a", "CP-b")
_SENT = ("CP-a", "CP-b", "DS-031", "IP-1")


def shelf(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Oil comes in, is taken, put back, counted or ordered, right and wrong."""
    batch = (None, "B-1", "B-2")[other % 3]
    line = (None, "M-12/service", "M-44/service")[one // 7 % 3]
    number, box = 1 + one % 6, 10 * (1 + one % 3)
    many = box if other % 5 else box + 1
    yield (
        Receive(at=moment, by="lea", spare=("SP-OIL", "oil")[other % 2], number=many, batch=batch),
        Issue(at=moment, by="ana", spare="SP-OIL", number=number, batch=batch, line=line, because="a leak"),
        GiveBack(at=moment, by="ana", spare="SP-OIL", number=number, line=line),
        CountShelf(at=moment, by="lea", spare="SP-OIL", number=other % 40, batch=batch, because="counted twice"),
        Buy(at=moment, by="lea", spare="SP-OIL", number=box, expected="2026-03-20", text='order "7"'),
    )[one % 5]


def pieces(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Punches are received, taken, put back or counted."""
    named = _PUNCHES[one % 2 :] if other % 3 else _PUNCHES
    kind = (Receive, Issue, GiveBack, CountShelf)[one // 3 % 4]
    batch = None if other % 2 else "B-7"
    yield kind(at=moment, by="lea", spare="SP-CP", number=len(named), pieces=named, batch=batch, because="for the lab")


def outside(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Something goes out for rework, comes back, or is inspected on its return."""
    key = _SENT[one % 4]
    bears = "CP-b" if key == "CP-a" and other % 7 == 0 else None
    yield (
        SendOut(at=moment, by="tom", item=key, to="the grinder", expected="2026-03-20", text="re-polish"),
        ComeBack(at=moment, by="tom", item=key, bears=bears, text="" if other % 2 else 'note "9"'),
        TakeIn(at=moment, by="tom", item=key, good=bool(other % 4), points=(("height", (12.0, 12.5)),), text="edge"),
    )[other % 3]


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "shelf": shelf, "pieces": pieces, "outside": outside,
}  # fmt: skip
