"""Entries about the life of one item: reworks, a life nobody knows, the end, pictures, remarks."""

from __future__ import annotations

from typing import Any

from upkeep.entries.entry import Entry
from upkeep.entries.kind import EntryKind, read_item, under_item, under_line, write_item
from upkeep.entries.reader import Reader, quoted
from upkeep.entries.shelf.outside import Measured, written_points
from upkeep.frozen import frozen
from upkeep.plant.line_names import LineName
from upkeep.plant.rights import Act
from upkeep.said import listed, said

ENDS = ("worn", "broken", "other")
"""Why a part left for ever: worn out, broken, or still good and gone for another reason."""


@frozen(kw_only=True)
class Rework(Entry):
    """A part was re-polished, reground or re-coated, and granted so many strokes of life from here.

    ``granted_by`` is who granted them, where that is not whoever writes it; ``before`` and ``after`` are what the part
    measured, each in the unit of its point.
    """

    item: str
    granted: int
    granted_by: str | None = None
    before: Measured = ()
    after: Measured = ()


@frozen(kw_only=True)
class UnknownLife(Entry):
    """Nobody knows how many strokes an item has done: none are left to it until it is inspected."""

    item: str


@frozen(kw_only=True)
class Retire(Entry):
    """A part left for ever, and why: one of :data:`ENDS`."""

    item: str
    end: str


@frozen(kw_only=True)
class Picture(Entry):
    """A photo of an item, kept as a file with its SHA-256 checksum; ``as_new`` is the one to compare with.

    ``of`` is the number of the sign-off, check or fault it belongs to (None: to the item alone), ``scale`` how many
    points of it are one millimetre (None: nobody knows); entries of earlier programs have neither.
    """

    item: str
    file: str
    sha256: str
    as_new: bool = False
    of: int | None = None
    scale: float | None = None


@frozen(kw_only=True)
class Remark(Entry):
    """Something the lead should know of an item, or of a task on it; it moves nothing."""

    item: str
    text: str
    task: str | None = None


def _remark(e: Remark) -> str:
    return f"{e.item if e.task is None else LineName(e.item, e.task)} {quoted(e.text)}"


def _read_remark(r: Reader) -> dict[str, Any]:
    line = r.line_name() if "/" in r.peek() else read_item(r)
    return {**line, "text": r.json(str, said("a quoted remark"))}


def _rework(e: Rework) -> str:
    by = "" if e.granted_by is None else f" granted-by {e.granted_by}"
    before, after = (
        f" {when}{written_points(points)}" if points else ""
        for when, points in (("before", e.before), ("after", e.after))
    )
    return f"{e.item} granted {e.granted}{by}{before}{after}"


def _read_rework(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("granted")
    granted = r.figure(said("strokes granted"))
    by = r.ids_after(granted_by="granted-by")
    before, after = (tuple(iter(r.point, None)) if r.keyword(when) else () for when in ("before", "after"))
    return {"item": item, "granted": granted, **by, "before": before, "after": after}


def _read_retire(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("a part")), "end": r.word(said("one of {words}", words=listed(ENDS)))}


def _read_picture(r: Reader) -> dict[str, Any]:
    item, file = r.id(said("an item")), r.json(str, said("a quoted file name"))
    r.expect("sha256")
    sha256, as_new = r.word(said("a checksum")), r.keyword("as-new")
    of = r.number() if r.keyword("of") else None
    scale = r.value(said("points in a millimetre")) if r.keyword("scale") else None
    return {"item": item, "file": file, "sha256": sha256, "as_new": as_new, "of": of, "scale": scale}


def _picture(e: Picture) -> str:
    words = f"{e.item} {quoted(e.file)} sha256 {e.sha256}{' as-new' * e.as_new}"
    words += "" if e.of is None else f" of #{e.of}"
    return words if e.scale is None else f"{words} scale {e.scale!r}"


KINDS: tuple[EntryKind[Any], ...] = (
    EntryKind(
        Rework,
        "rework",
        'item "granted" figure ["granted-by" person] ["before" {point "=" value{","value}}] '
        '["after" {point "=" value{","value}}]',
        _rework,
        _read_rework,
        under_item,
        standing=True,
        act=Act.REWORK,
    ),
    EntryKind(
        UnknownLife,
        "unknown-life",
        "item",
        write_item,
        read_item,
        under_item,
        standing=True,
    ),
    EntryKind(
        Retire,
        "retire",
        "item end",
        lambda e: f"{e.item} {e.end}",
        _read_retire,
        under_item,
        standing=True,
    ),
    EntryKind(
        Picture,
        "picture",
        'item text "sha256" checksum ["as-new"] ["of" "#"number] ["scale" value]',
        _picture,
        _read_picture,
        under_item,
    ),
    EntryKind(Remark, "remark", 'item ["/" task] text', _remark, _read_remark, under_line),
)
