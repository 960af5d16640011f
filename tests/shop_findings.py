"""Acts of the invented shop floor about what was found: checks, bad gauges, suspect product, ends of parts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from tests.shop_plant import PARTS
from upkeep.entries.bookkeeping import Seen
from upkeep.entries.checking import Check, OutOfTolerance
from upkeep.entries.entry import Entry
from upkeep.entries.faults import STAGES, Fault, Happened, Release, Repair
from upkeep.entries.keys import Given, Key, Withdrawn, WrongCodes
from upkeep.entries.lives import ENDS, Picture, Remark, Retire
from upkeep.entries.suspect import DISPOSITIONS, Disposition, Permit, Restriction
from upkeep.quality.symptoms import symptoms
from upkeep.units.instants import utc_text

if TYPE_CHECKING:
    from tests.shop_floor import Floor

SETS = ("DS-031", "DS-102")


def check(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A set is measured and looked at: often good, now and then not; or its settings are written down."""
    if other % 7 == 3:
        settings = (("dial", (float(one % 9),)),)
        yield Check(at=moment, by="ana", item=SETS[one // 2 % 2], occasion="set-up", points=settings)
        return
    height = 1.2 if other % 4 else 1.3
    yield Check(
        at=moment, by=("ana", "lea")[one % 2], item=SETS[one // 2 % 2], crimp="CR-1", gauge="G-1" if one % 3 else None,
        occasion=("first-off", "sample", "as-left", "last-off", "as-found")[one // 4 % 5],
        points=(("crimp-height", (1.2, height)),), looks=(("burr", other // 4 % 5 > 0),) if other % 2 else (),
    )  # fmt: skip


def out_of_tolerance(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The gauge is found to read wrong; mostly it may be used again soon."""
    if other % 3:
        yield Release(at=moment, by="lea", item="G-1", because="calibrated")
    else:
        yield OutOfTolerance(at=moment, by="lea", item="G-1", off=(one % 40 - 20) / 1000)


def permit(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A held item gets a permit for some strokes."""
    held = floor.book.holds()
    if held:
        item = held[one % len(held)][0]
        yield Permit(at=moment, by="lea", item=item, strokes=1 + other, because="order ends")


def retire(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A part leaves for ever."""
    yield Retire(at=moment, by="lea", item=PARTS[one % 4], end=ENDS[other % 3], because="worn")


def picture(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A photo of a part."""
    yield Picture(at=moment, by="lea", item=PARTS[one % 4], file="p.jpg", sha256="0" * 64, as_new=other % 2 == 0)


def happened(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A press is moved, or its guard was off; a set comes back from outside."""
    item, what = (("P-03", "press moved"), ("P-07", "guard removed"), ("DS-031", "back from outside"))[one % 3]
    yield Happened(at=moment, by="tom", item=item, what=what)


def seen(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """The lead has seen something that was asked."""
    asked = floor.book.questions(moment)
    if asked:
        question = asked[one % len(asked)]
        yield Seen(at=moment, by="lea", item=question.about, since=utc_text(question.since))


def remark(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Something the lead should know of a part."""
    yield Remark(at=moment, by="ana", item=PARTS[one % 4], text="" if other % 9 == 0 else "rings when it hits")


def disposition(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A line of a hold list is judged."""
    lines = [(hold, line) for hold in floor.book.suspects(floor.now).lists() for line in hold.lines if line.open]
    if lines:
        hold, line = lines[one % len(lines)]
        yield Disposition(
            at=moment, by="lea", list=hold.number, press=line.press, since=utc_text(line.since),
            how=DISPOSITIONS[other % 3], because="looked at",
        )  # fmt: skip


def restrict(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Quality lets a window begin later."""
    lists = floor.book.suspects(floor.now).lists()
    if lists:
        number = lists[one % len(lists)].number
        yield Restriction(at=moment, by="lea", list=number, strokes=other * 3, because="trend")


def listed_fault(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A symptom of the list is seen; few different ones, so that they come back."""
    seen = symptoms()[(1, 9, 13, 20)[one % 4] - 1]
    item = ("P-03", "M-12", *SETS, "G-1")[other % 5]
    yield Fault(at=moment, by="ben", item=item, symptom=seen.title, listed=seen.id, stopped=other % 2 == 0)


def repair(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A step on a fault: mostly the next one, now and then any, with a cause or without."""
    faults = floor.book.faults(floor.now).listing(only_open=True).faults
    if not faults:
        return
    case = faults[one % len(faults)]
    following = {"reported": "taken", "taken": "fixed", "fixed": "verified", "verified": "closed"}[case.state]
    stage = "analysed" if case.repeat and other % 3 == 0 else STAGES[other % 6] if other % 4 == 0 else following
    told: dict[str, dict[str, Any]] = {
        "checked": {"what": ("clean",), "yes": other % 2 == 0},
        "fixed": {"cause": ("adjusted", "debris", "worn", "other")[other // 4 % 4], "text": "mended"},
        "verified": {"what": case.wanted},
        "analysed": {"cause": "worn"},
    }
    yield Repair(at=moment, by=("lea", "tom")[other % 2], fault=case.number, stage=stage, **told.get(stage, {}))


def given(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody gets a first code for some days, or chooses one of their own."""
    person = ("ana", "ben")[one % 2]
    by, until = ("lea", floor.book.zone.day(moment) + timedelta(days=3)) if other % 2 else (person, None)
    yield Given(at=moment, by=by, key=Key.CODE, person=person, until=until)


def withdrawn(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """A lost badge is made void; only the lead or a keeper does that."""
    yield Withdrawn(at=moment, by=("lea", "ana")[other % 2], key=Key.BADGE, person=("ana", "ben")[one % 2])


def wrong_codes(floor: Floor, moment: datetime, one: int, other: int) -> Iterator[Entry]:
    """Somebody guesses."""
    yield WrongCodes(at=moment, by="ana", wrong=5 + one % 3, seconds=30 << one % 3, whole_station=other % 2 == 0)


ACTS: dict[str, Callable[[Floor, datetime, int, int], Iterator[Entry]]] = {
    "check": check, "out-of-tolerance": out_of_tolerance, "permit": permit, "retire": retire, "picture": picture,
    "remark": remark, "happened": happened, "seen": seen, "given": given, "withdrawn": withdrawn,
    "wrong-codes": wrong_codes,
    "disposition": disposition, "restrict": restrict, "listed-fault": listed_fault,
    "repair": repair,
}  # fmt: skip
