"""How the words of each kind are read: the reading half of the grammar in :mod:`upkeep.entries.text`."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from upkeep.entries import kinds
from upkeep.entries.found_words import FOUND_READERS, read_point
from upkeep.entries.kinds import Entry
from upkeep.entries.reader import ID, Reader
from upkeep.plant.line_names import LineName
from upkeep.said import said

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")


def _read_begin(r: Reader) -> dict[str, Any]:
    book = r.word(said("the id of a book"))
    if not _UUID.match(book):
        raise r.fail(said("the id of a book like 6f9619ff-8b86-4d01-b42d-00cf4fc964ff"))
    r.expect("zone")
    zone = r.word(said("a time zone like Europe/Berlin"))
    r.expect("chain")
    return {"book": book, "zone": zone, "form": r.figure(said("the number of the chain's form"))}


def _read_count(r: Reader) -> dict[str, Any]:
    read = {"press": r.id(said("a press")), "value": r.figure(said("a count"))}
    return {**read, "rolled_over": r.keyword("rolled-over"), "after_reset": r.keyword("after-reset")}


def _read_restart(r: Reader) -> dict[str, Any]:
    press = r.id(said("a press"))
    r.expect("from")
    shown = r.figure(said("the figure shown before"))
    r.expect("to")
    return {"press": press, "shown": shown, "now": r.figure(said("the figure shown now"))}


def _read_terms(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"press": r.id(said("a press")), "way": r.word(said("how it counts"))}
    r.expect("digits")
    read["digits"] = r.figure(said("how many figures it has"))
    r.expect("times")
    return {**read, "times": r.value(said("strokes to a count"))}


def _read_made(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"press": r.id(said("a press")), "pieces": r.figure(said("pieces"))}
    r.expect("over")
    read["minutes"] = r.figure(said("minutes"))
    r.expect("min")
    read["item"] = r.id(said("a die set")) if r.keyword("with") else None
    return {**read, "order": r.id(said("an order")) if r.keyword("order") else None}


def _read_besides(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"item": r.id(said("an item")), "way": r.word(said("hand, uncounted, set-up or dry"))}
    read["strokes"] = r.figure(said("strokes"))
    if r.keyword("weight"):
        read["weight"] = r.value(said("a weight"))
    if r.keyword("on"):
        read["on"] = tuple(r.word(said("items, separated by commas")).split(","))
        if not all(map(ID.match, read["on"])):
            raise r.fail(said("items, separated by commas,"))
    return read


def _read_rework(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("granted")
    return {"item": item, "granted": r.figure(said("strokes granted"))}


def _read_order(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"order": r.id(said("an order")), "pieces": r.figure(said("pieces"))}
    r.expect("with")
    read["item"] = r.id(said("a die set"))
    r.expect("on")
    read["press"] = r.id(said("a press"))
    r.expect("from")
    return {**read, "day": r.word(said("a day like 2026-03-09"))}


def _read_fit(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("in")
    return {"item": item, "inside": r.id(said("an item")), **_read_at(r)}


def _read_at(r: Reader) -> dict[str, Any]:
    if not r.keyword("at"):
        return {}
    if r.peek().isdigit() and not r.peek_after().isdigit():
        return {"count": r.figure(said("a count"))}
    return {"press": r.id(said("a press")), "count": r.figure(said("a count"))}


def _read_unfit(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item")), **_read_at(r), "to": r.id(said("a place")) if r.keyword("to") else None}


def _read_sign(r: Reader) -> dict[str, Any]:
    fields = _read_line_for(r)
    if r.keyword("grade"):
        fields["grade"] = r.figure(said("a grade 0 to 4"))
    if r.keyword("with"):
        fields["gauge"] = r.id(said("a gauge"))
    fields["points"] = tuple(iter(lambda: read_point(r), None))
    if r.keyword("remark"):
        fields["remark"] = r.json(str, said("a quoted remark"))
    return fields


def _read_line_name(r: Reader) -> dict[str, Any]:
    name = LineName.read(r.word(said("item/task")))
    if not (ID.match(name.item) and ID.match(name.task)):
        raise r.fail(said("item/task"))
    return name._asdict()


def _read_line_for(r: Reader) -> dict[str, Any]:
    fields = _read_line_name(r)
    r.expect("for")
    return {**fields, "occurrence": r.word(said("the occurrence it answers"))}


def _read_stated(r: Reader) -> dict[str, Any]:
    fields = _read_line_name(r)
    r.expect("done")
    return {**fields, "done": r.word(said("a day like 2026-03-09"))}


def _read_defer(r: Reader) -> dict[str, Any]:
    fields = _read_line_for(r)
    r.expect("to")
    fields["to"] = r.word(said("the later planned point"))
    r.expect("risk")
    return {**fields, "risk": r.json(str, said("a quoted risk"))}


def _read_fault(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    read: dict[str, Any] = {"item": item, "symptom": r.json(str, said("a quoted symptom"))}
    if r.keyword("listed"):
        read["listed"] = r.id(said("a symptom of the list"))
    return {**read, "stopped": r.keyword("stopped"), "crash": r.keyword("crash")}


def _read_define(r: Reader) -> dict[str, Any]:
    what, key, start = r.word(said("what is defined")), r.id(said("an id")), r._next()
    r.json(dict, said("a definition in braces"))
    return {"what": what, "key": key, "content": r.line[start : r.position]}


def _read_item(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("an item"))}


def _read_note(r: Reader) -> dict[str, Any]:
    return {"text": r.json(str, said("a quoted text")), "restored": r.keyword("restored")}


def _read_entry_number(r: Reader) -> dict[str, Any]:
    return {"entry": r.number()}


READERS: dict[str, tuple[Callable[..., Entry], Callable[[Reader], dict[str, Any]]]] = {
    "count": (kinds.Count, _read_count),
    "restart": (kinds.Restart, _read_restart),
    "terms": (kinds.Terms, _read_terms),
    "made": (kinds.Made, _read_made),
    "besides": (kinds.Besides, _read_besides),
    "rework": (kinds.Rework, _read_rework),
    "unknown-life": (kinds.UnknownLife, _read_item),
    "order": (kinds.Order, _read_order),
    "fit": (kinds.Fit, _read_fit),
    "unfit": (kinds.Unfit, _read_unfit),
    "sign": (kinds.Sign, _read_sign),
    "defer": (kinds.Defer, _read_defer),
    "cancel": (kinds.Cancel, _read_line_for),
    "verify": (kinds.Verify, _read_entry_number),
    "stated": (kinds.Stated, _read_stated),
    "fault": (kinds.Fault, _read_fault),
    "hold": (kinds.Hold, _read_item),
    "release": (kinds.Release, _read_item),
    "pause": (kinds.Pause, _read_item),
    "resume": (kinds.Resume, _read_item),
    "strike": (kinds.Strike, _read_entry_number),
    "note": (kinds.Note, _read_note),
    "define": (kinds.Define, _read_define),
    **FOUND_READERS,
    "begin": (kinds.Begin, _read_begin),
}

VERBS = tuple(READERS)
"""The first word of every kind of entry."""
