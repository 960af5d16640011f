"""Deeds on items: held and released, out of use and back, reworked, gone, its strokes and its intervals."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.acts.lines import BECAUSE
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.checking import OutOfTolerance
from upkeep.entries.counting import UncountedStrokes
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Happened, Hold, Pause, Release, Resume
from upkeep.entries.lives import ENDS, Remark, Retire, Rework, UnknownLife
from upkeep.entries.planning import Define
from upkeep.entries.suspect import Permit
from upkeep.errors import Refused
from upkeep.plant.definition import Defined, Definition
from upkeep.plant.model import PARTS, TOLD, Event, Kind
from upkeep.said import Said, said, term
from upkeep.units.quantities import in_strokes

_TOOLS = frozenset({Kind.MODULE, Kind.DIE_SET, *PARTS})
_STROKES = said("strokes")


def _because(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (BECAUSE,)


def _of_item(made: Callable[..., Entry]) -> Callable[[BookDoor, Filled], Sequence[Entry]]:
    """What is written of an item with nothing but a reason."""
    return lambda book, filled: [
        made(at=filled.at, by=filled.by, item=filled.subject.named, because=filled.text("because"))
    ]


def _item_told(template: Callable[[str], Said]) -> Callable[[Filled], Said]:
    return lambda filled: template(filled.subject.named)


# Strokes and life


def _permit_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (Ask("strokes", said("How many strokes more"), Asks.NUMBER, unit=_STROKES), BECAUSE)


def _permit(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, because = filled.subject.named, filled.text("because")
    return [Permit(at=filled.at, by=filled.by, item=item, strokes=filled.number("strokes"), because=because)]


def _uncounted_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    ways = (
        ("hand", said("by hand: the counter did not count them")),
        ("stood-still", said("the counter stood still: as many as pieces were made")),
        ("set-up", said("at set-up: counted, and wear less")),
        ("dry", said("dry: counted, and wear less")),
        ("bought-used", said("before this book: it was bought used")),
        ("other-plant", said("before this book: another plant had it")),
        ("before-book", said("before this book: it worked here already (stated, not verified)")),
    )
    strokes = Ask("strokes", said("How many strokes"), Asks.NUMBER, unit=_STROKES)
    return (Ask("way", said("How"), Asks.PICK, ways), strokes)


def _uncounted(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, way = filled.subject.named, filled.text("way")
    return [UncountedStrokes(at=filled.at, by=filled.by, item=item, way=way, strokes=filled.number("strokes"))]


def _rework_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    granted = Ask("granted", said("Strokes it is good for from here"), Asks.NUMBER, unit=_STROKES)
    return (granted, Ask("because", said("What was done, with sizes before and after")))


def _rework(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, because = filled.subject.named, filled.text("because")
    return [Rework(at=filled.at, by=filled.by, item=item, granted=filled.number("granted"), because=because)]


def _retire_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (
        Ask("end", said("Why it is gone"), Asks.PICK, tuple((end, term(end, "end of a life")) for end in ENDS)),
        BECAUSE,
    )


def _retire(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    item, because = filled.subject.named, filled.text("because")
    return [Retire(at=filled.at, by=filled.by, item=item, end=filled.text("end"), because=because)]


# What happened to it


def _happened_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    events = [event for event in TOLD if subject.kind == Kind.PRESS or event is Event.BACK]
    return (
        Ask("what", said("What happened"), Asks.PICK, tuple((event.value, term(event, "event")) for event in events)),
    )


def _happened(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [Happened(at=filled.at, by=filled.by, item=filled.subject.named, what=filled.text("what"))]


def _off_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    return (Ask("off", said("Its reading less the true value, in its unit"), Asks.VALUE),)


def _off(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    return [OutOfTolerance(at=filled.at, by=filled.by, item=filled.subject.named, off=filled.value("off"))]


# Its intervals

_THIS, _FAMILY, _ALL = "item", "family", "all"


def _interval_asks(book: BookDoor, subject: Subject, at: datetime) -> Sequence[Ask]:
    line = subject.line
    task, item = book.known.task(line.task), book.known.item(line.item)
    asks: list[Ask] = []
    if task.strokes is not None:
        now = task.strokes_for.get(item.id) or task.strokes_for.get(item.family or "") or task.strokes
        alone = said("{item} alone", item=item.id)
        whose = [(_THIS, alone), (_ALL, said("every {kind} that has none of its own", kind=term(item.kind, "kind")))]
        if item.family:
            whose.insert(1, (_FAMILY, said("the family {family}", family=item.family)))
        asks.append(Ask("whose", said("For"), Asks.PICK, tuple(whose), _THIS))
        asks.append(Ask("strokes", said("Every how many strokes"), Asks.NUMBER, preset=f"{now}", unit=_STROKES))
    if task.every is not None:
        asks.append(Ask("every", said("How often, like 7 days or 1 month"), preset=task.every))
    if not asks:
        raise Refused(
            said(
                "{task} goes by a shift, an event or a fixed rule of the calendar; that is changed in tasks.toml.",
                task=task.title,
            )
        )
    return (*asks, BECAUSE)


def _interval(book: BookDoor, filled: Filled) -> Sequence[Entry]:
    """The task with its new interval, as its definition file would give it."""
    line = filled.subject.line
    item = book.known.item(line.item)
    (text,) = (row.content for row in book.known.rows if (row.what, row.key) == (Defined.TASK, line.task))
    content: dict[str, Any] = json.loads(text)
    strokes, whose = filled.number_or_none("strokes"), filled.text("whose")
    if strokes is not None and whose == _ALL:
        content["strokes"] = strokes
    elif strokes is not None:
        key = item.id if whose == _THIS else item.family or item.id
        content["strokes_for"] = {**content.get("strokes_for", {}), key: strokes}
    if filled.picked("every") is not None:
        content["every"] = filled.text("every")
    definition = Definition(Defined.TASK, line.task, content)
    return [
        Define(
            at=filled.at, by=filled.by, what=Defined.TASK, key=line.task, content=definition.text,
            because=filled.text("because"),
        )
    ]  # fmt: skip


DEEDS = (
    Deed(
        "hold",
        "hold",
        said("Hold: must not run until released"),
        On.ITEM,
        _because,
        _of_item(Hold),
        _item_told(lambda item: said("hold on {item}", item=item)),
    ),
    Deed(
        "release",
        "release",
        said("Release"),
        On.ITEM,
        _because,
        _of_item(Release),
        _item_told(lambda item: said("release of {item}", item=item)),
    ),
    Deed(
        "permit",
        "permit",
        said("Deviation permit: so many strokes more"),
        On.ITEM,
        _permit_asks,
        _permit,
        _item_told(lambda item: said("deviation permit for {item}", item=item)),
    ),
    Deed(
        "pause",
        "pause",
        said("Put out of use, or into storage"),
        On.ITEM,
        _because,
        _of_item(Pause),
        _item_told(lambda item: said("{item} out of use", item=item)),
    ),
    Deed(
        "resume",
        "resume",
        said("Bring back into use"),
        On.ITEM,
        _because,
        _of_item(Resume),
        _item_told(lambda item: said("{item} back in use", item=item)),
    ),
    Deed(
        "uncounted",
        "uncounted",
        said("Strokes that the counter did not count"),
        On.ITEM,
        _uncounted_asks,
        _uncounted,
        lambda filled: said(
            "{strokes} of {item} not counted", strokes=in_strokes(filled.number("strokes")), item=filled.subject.named
        ),
        kinds=frozenset({Kind.PRESS, *_TOOLS}),
    ),
    Deed(
        "rework",
        "rework",
        said("Reworked: reground, polished, coated"),
        On.ITEM,
        _rework_asks,
        _rework,
        _item_told(lambda item: said("rework of {item}", item=item)),
        kinds=frozenset(PARTS),
    ),
    Deed(
        "unknown-life",
        "unknown-life",
        said("Nobody knows its strokes"),
        On.ITEM,
        _because,
        _of_item(UnknownLife),
        _item_told(lambda item: said("life of {item} not known", item=item)),
        kinds=_TOOLS,
    ),
    Deed(
        "retire",
        "retire",
        said("Gone for good: worn, broken, sold"),
        On.ITEM,
        _retire_asks,
        _retire,
        _item_told(lambda item: said("{item} gone for good", item=item)),
        kinds=_TOOLS,
    ),
    Deed(
        "happened",
        "happened",
        said("Moved, guard off, or back from outside"),
        On.ITEM,
        _happened_asks,
        _happened,
        _item_told(lambda item: said("what happened to {item}", item=item)),
    ),
    Deed(
        "out-of-tolerance",
        "out-of-tolerance",
        said("Found out of tolerance"),
        On.ITEM,
        _off_asks,
        _off,
        _item_told(lambda item: said("{item} found out of tolerance", item=item)),
        kinds=frozenset({Kind.GAUGE}),
    ),
    Deed(
        "remark-item",
        "remark",
        said("Remark on the item"),
        On.ITEM,
        lambda book, subject, at: (Ask("text", said("What the lead should know")),),
        lambda book, filled: [Remark(at=filled.at, by=filled.by, item=filled.subject.named, text=filled.text("text"))],
        _item_told(lambda item: said("remark on {item}", item=item)),
    ),
    Deed(
        "interval",
        "define",
        said("Change how often it is done"),
        On.LINE,
        _interval_asks,
        _interval,
        lambda filled: said("new interval of {task}", task=filled.subject.line.task),
        when=False,
    ),
)
