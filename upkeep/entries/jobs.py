"""Entries about work under way: a job on a line, a lock on a press, a shift handed over."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, under_item, under_line, under_nothing, under_that_of
from upkeep.entries.reader import Reader, quoted
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.said import said

HANDED = ("given", "accepted")
"""The two sides of a handover: those who leave, and whoever comes."""


@frozen(kw_only=True)
class Start(Entry):
    """Somebody began a job on a line; the sign-off or cancellation of the line ends it, or :class:`GiveUp`."""

    item: str
    task: str


@frozen(kw_only=True)
class Interrupt(Entry):
    """Whoever does a job left it for a while, the reason in ``because``: ``step`` is the last step done (None: nobody
    said, 0: none yet), ``left`` where the parts lie and how they were left."""

    job: int
    step: int | None = None
    left: str = ""


@frozen(kw_only=True)
class GoOn(Entry):
    """Somebody goes on with an interrupted job, or takes over another person's."""

    job: int


@frozen(kw_only=True)
class GiveUp(Entry):
    """A job ends without being done; the reason is in ``because``."""

    job: int


@frozen(kw_only=True)
class Lock(Entry):
    """Somebody hung their own lock on a press, at ``point``: a valve, a switch, a plug."""

    item: str
    point: str


@frozen(kw_only=True)
class Unlock(Entry):
    """A lock came off a press.  Where its owner did not take it off, ``witness`` saw it, and ``because`` says why."""

    lock: int
    witness: str | None = None


@frozen(kw_only=True)
class Handover(Entry):
    """A shift (``2026-03-02/early``) was handed over: ``given`` by somebody of it, ``accepted`` by somebody of the
    next."""

    shift: str
    side: str
    text: str = ""


def _interrupt(e: Interrupt) -> str:
    words = [f"#{e.job}"]
    words += [f"step {e.step}"] if e.step is not None else []
    words += [f"left {quoted(e.left)}"] if e.left else []
    return " ".join(words)


def _read_interrupt(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"job": r.number()}
    if r.keyword("step"):
        read["step"] = r.figure(said("the number of the last step done"))
    if r.keyword("left"):
        read["left"] = r.json(str, said("a quoted text"))
    return read


def _read_job(r: Reader) -> dict[str, Any]:
    return {"job": r.number()}


def _read_lock(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("a press")), "point": r.json(str, said("a quoted place of the lock"))}


def _read_unlock(r: Reader) -> dict[str, Any]:
    return {"lock": r.number(), **r.ids_after(witness="witness")}


def _handover(e: Handover) -> str:
    return f"{e.shift} {e.side}{f' {quoted(e.text)}' if e.text else ''}"


def _read_handover(r: Reader) -> dict[str, Any]:
    read = {"shift": r.word(said("a shift like 2026-03-02/early")), "side": r.one_of(HANDED)}
    if '"' in r.line[r.next_place() : r.next_place() + 1]:
        read["text"] = r.json(str, said("a quoted text"))
    return read


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Start,
        "start",
        'item "/" task',
        lambda e: str(LineName(e.item, e.task)),
        Reader.line_name,
        under_line,
    ),
    EntryKind(
        Interrupt,
        "interrupt",
        '"#"number ["step" figure] ["left" text]',
        _interrupt,
        _read_interrupt,
        under_that_of("job"),
    ),
    EntryKind(GoOn, "go-on", '"#"number', lambda e: f"#{e.job}", _read_job, under_that_of("job")),
    EntryKind(GiveUp, "give-up", '"#"number', lambda e: f"#{e.job}", _read_job, under_that_of("job")),
    EntryKind(
        Lock,
        "lock",
        "item text",
        lambda e: f"{e.item} {quoted(e.point)}",
        _read_lock,
        under_item,
    ),
    EntryKind(
        Unlock,
        "unlock",
        '"#"number ["witness" person]',
        lambda e: f"#{e.lock}{'' if e.witness is None else f' witness {e.witness}'}",
        _read_unlock,
        under_that_of("lock"),
    ),
    EntryKind(
        Handover,
        "handover",
        'day"/"shift ("given" | "accepted") [text]',
        _handover,
        _read_handover,
        under_nothing,
    ),
)
