"""Entries about faults and the steps on them, and about whether an item may run."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, read_item, under_item, under_that_of, write_item
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.rights import Act
from upkeep.said import listed, said


class Stage(StrEnum):
    """How far the repair of a fault is."""

    TAKEN = "taken"
    CHECKED = "checked"
    FIXED = "fixed"
    VERIFIED = "verified"
    ANALYSED = "analysed"
    CLOSED = "closed"


STAGES = tuple(map(str, Stage))
"""The way of a fault after its report; ``released`` is the release of the item it stopped."""


@frozen(kw_only=True)
class Fault(Entry):
    """Something was found on an item; ``listed`` names the symptom in the plant's list; ``stopped`` when it was taken
    out of production for it, ``crash`` when the dies met what they must not meet."""

    item: str
    symptom: str
    listed: str | None = None
    stopped: bool = False
    crash: bool = False


@frozen(kw_only=True)
class Repair(Entry):
    """A step on a fault: ``fault`` is the number of its report, ``stage`` one of :data:`STAGES`.

    ``checked`` answers a check (``what``) with yes or no; ``fixed`` names the confirmed ``cause`` and says what was
    done; ``verified`` lists what was tried (``what``); ``analysed`` names the root ``cause``.
    """

    fault: int
    stage: str
    what: tuple[str, ...] = ()
    yes: bool | None = None
    cause: str | None = None
    text: str = ""


@frozen(kw_only=True)
class Hold(Entry):
    """An item must not run until released; the reason is in ``because``."""

    item: str


@frozen(kw_only=True)
class Release(Entry):
    """A held item may run again; the reason is in ``because``."""

    item: str


@frozen(kw_only=True)
class Pause(Entry):
    """An item went into storage or out of use: its calendar lines pause."""

    item: str


@frozen(kw_only=True)
class Resume(Entry):
    """An item came back from storage or out of use."""

    item: str


@frozen(kw_only=True)
class Happened(Entry):
    """A press was moved, a guard taken off, an item came back from outside the plant: ``what`` asks for tasks."""

    item: str
    what: str


def _read_happened(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item")), "what": r.word(said("what happened")).replace("-", " ")}


def _fault(e: Fault) -> str:
    listed = "" if e.listed is None else f" listed {e.listed}"
    return f"{e.item} {quoted(e.symptom)}{listed}{' stopped' * e.stopped}{' crash' * e.crash}"


def _read_fault(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    read: dict[str, Any] = {"item": item, "symptom": r.json(str, said("a quoted symptom"))}
    if r.keyword("listed"):
        read["listed"] = r.id(said("a symptom of the list"))
    return {**read, "stopped": r.keyword("stopped"), "crash": r.keyword("crash")}


def _repair(e: Repair) -> str:
    words = [f"#{e.fault} {e.stage}"]
    words += [f"what {','.join(e.what)}"] if e.what else []
    words += ["yes" if e.yes else "no"] if e.yes is not None else []
    words += [f"cause {e.cause}"] if e.cause is not None else []
    words += [f"text {quoted(e.text)}"] if e.text else []
    return " ".join(words)


def _read_repair(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"fault": r.number(), "stage": r.word(said("one of {words}", words=listed(STAGES)))}
    if r.keyword("what"):
        read["what"] = r.ids(said("ids separated by commas"))
    if r.peek() in ("yes", "no"):
        read["yes"] = r.word(said("yes or no")) == "yes"
    read |= r.ids_after(cause="cause")
    if r.keyword("text"):
        read["text"] = r.json(str, said("a quoted text"))
    return read


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Happened,
        "happened",
        "item event",
        lambda e: f"{e.item} {e.what.replace(' ', '-')}",
        _read_happened,
        under_item,
        standing=True,
    ),
    EntryKind(
        Fault,
        "fault",
        'item text ["listed" symptom] ["stopped"] ["crash"]',
        _fault,
        _read_fault,
        under_item,
        standing=True,
    ),
    EntryKind(
        Repair,
        "repair",
        '"#"number stage ["what" id{","id}] ["yes" | "no"] ["cause" id] ["text" text]',
        _repair,
        _read_repair,
        under_that_of("fault"),
    ),
    EntryKind(
        Hold,
        "hold",
        "item",
        write_item,
        read_item,
        under_item,
        standing=True,
    ),
    EntryKind(
        Release,
        "release",
        "item",
        write_item,
        read_item,
        under_item,
        standing=True,
        act=Act.RELEASE,
    ),
    EntryKind(
        Pause,
        "pause",
        "item",
        write_item,
        read_item,
        under_item,
        standing=True,
        act=Act.PAUSE,
    ),
    EntryKind(
        Resume,
        "resume",
        "item",
        write_item,
        read_item,
        under_item,
        standing=True,
        act=Act.PAUSE,
    ),
)
