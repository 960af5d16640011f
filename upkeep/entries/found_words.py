"""The words of checks, gauges, suspect product, repairs and pictures: written and read (see :mod:`entries.text`)."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from upkeep.entries import found
from upkeep.entries.kinds import Entry
from upkeep.entries.reader import ID, VALUE, Reader, quoted
from upkeep.said import Quoted, Said, listed, said


def _check(e: found.Check) -> str:
    words = [f"check {e.item} {e.occasion}"]
    for keyword, value in (("on", e.press), ("of", e.crimp), ("with", e.gauge)):
        words += [f"{keyword} {value}"] if value is not None else []
    words += [f"{point}={','.join(map(repr, values))}" for point, values in e.points]
    words += [f"{look}:{'good' if good else 'bad'}" for look, good in e.looks]
    if e.limits:
        words.append("within")
        words += [f"{point}={_limit(lower)}:{_limit(upper)}" for point, lower, upper in e.limits]
    words += [f"broke {','.join(e.broke)}"] if e.broke else []
    words += [f"table {quoted(e.table)}"] if e.table else []
    for keyword, value in (("order", e.order), ("reel", e.reel), ("wire", e.wire)):
        words += [f"{keyword} {value}"] if value is not None else []
    words += [f"remark {quoted(e.remark)}"] if e.remark else []
    return " ".join(words)


def _limit(value: float | None) -> str:
    return "" if value is None else repr(value)


def _repair(e: found.Repair) -> str:
    words = [f"repair #{e.fault} {e.stage}"]
    words += [f"what {','.join(e.what)}"] if e.what else []
    words += ["yes" if e.yes else "no"] if e.yes is not None else []
    words += [f"cause {e.cause}"] if e.cause is not None else []
    words += [f"text {quoted(e.text)}"] if e.text else []
    return " ".join(words)


def _dispose(e: found.Dispose) -> str:
    strokes = "" if e.strokes is None else f" strokes {e.strokes}"
    return f"dispose #{e.list} {e.press} since {e.since} {e.how}{strokes}"


FOUND_WRITERS: dict[type[Entry], Callable[[Any], str]] = {
    found.Check: _check,
    found.Misread: lambda e: f"misread {e.item} off {e.off!r}",
    found.Dispose: _dispose,
    found.Narrow: lambda e: f"narrow #{e.list} from {e.strokes}",
    found.Override: lambda e: f"override {e.item} strokes {e.strokes}",
    found.Repair: _repair,
    found.Retire: lambda e: f"retire {e.item} {e.end}",
    found.Picture: lambda e: f"picture {e.item} {quoted(e.file)} sha256 {e.sha256}{' as-new' if e.as_new else ''}",
}
"""How each of these kinds is written."""


def read_point(r: Reader) -> tuple[str, tuple[float, ...]] | None:
    """A point with its readings, ``slug-height=1.203,1.204``; None where the next word is none."""
    if "=" not in r.peek():
        return None
    point, _, values = r.word(said("point=value")).partition("=")
    if not all(map(VALUE.match, values.split(","))):
        raise r.fail(said("numbers with a decimal point, separated by commas,"))
    numbers = tuple(map(float, values.split(",")))
    if not ID.match(point) or not all(map(math.isfinite, numbers)):
        raise r.fail(said("point=value"))
    return point, numbers


def _read_look(r: Reader) -> tuple[str, bool] | None:
    look, colon, verdict = r.peek().partition(":")
    if not colon or "=" in look:
        return None
    if not ID.match(look) or verdict not in ("good", "bad"):
        raise r.fail(said("a look like burr:good or burr:bad"))
    r.word(said("a look"))
    return look, verdict == "good"


def _read_limits(r: Reader) -> found.Limits | None:
    point, equals, limits = r.peek().partition("=")
    if not equals:
        return None
    lower, colon, upper = limits.partition(":")
    sides = [side for side in (lower, upper) if side]
    if not (ID.match(point) and colon) or not all(VALUE.match(side) and math.isfinite(float(side)) for side in sides):
        raise r.fail(said("limits like crimp-height=1.15:1.25"))
    r.word(said("limits"))
    return point, float(lower) if lower else None, float(upper) if upper else None


def _named(r: Reader, **keywords: str) -> dict[str, Any]:
    return {
        field: r.id(said("an id after {keyword}", keyword=Quoted(keyword)))
        for field, keyword in keywords.items()
        if r.keyword(keyword)
    }


def _listed(r: Reader, wanted: Said) -> tuple[str, ...]:
    words = tuple(r.word(wanted).split(","))
    if not all(map(ID.match, words)):
        raise r.fail(wanted)
    return words


def _read_check(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"item": r.id(said("a die set")), "occasion": r.word(said("the occasion, like first-off"))}
    read |= _named(r, press="on", crimp="of", gauge="with")
    read["points"] = tuple(iter(lambda: read_point(r), None))
    read["looks"] = tuple(iter(lambda: _read_look(r), None))
    if r.keyword("within"):
        read["limits"] = tuple(iter(lambda: _read_limits(r), None))
    if r.keyword("broke"):
        read["broke"] = _listed(r, said("how each piece broke, separated by commas,"))
    if r.keyword("table"):
        read["table"] = r.json(str, said("the quoted name of a table"))
    read |= _named(r, order="order", reel="reel", wire="wire")
    if r.keyword("remark"):
        read["remark"] = r.json(str, said("a quoted remark"))
    return read


def _read_misread(r: Reader) -> dict[str, Any]:
    item = r.id(said("a gauge"))
    r.expect("off")
    return {"item": item, "off": r.value(said("how much too high it reads"))}


def _read_dispose(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"list": r.number(), "press": r.id(said("a press"))}
    r.expect("since")
    read |= {
        "since": r.word(said("the moment the line begins")),
        "how": r.word(said("one of {words}", words=listed(found.DISPOSALS))),
    }
    return {**read, "strokes": r.figure(said("strokes")) if r.keyword("strokes") else None}


def _read_narrow(r: Reader) -> dict[str, Any]:
    number = r.number()
    r.expect("from")
    return {"list": number, "strokes": r.figure(said("strokes of the item"))}


def _read_override(r: Reader) -> dict[str, Any]:
    item = r.id(said("an item"))
    r.expect("strokes")
    return {"item": item, "strokes": r.figure(said("strokes"))}


def _read_repair(r: Reader) -> dict[str, Any]:
    read: dict[str, Any] = {"fault": r.number(), "stage": r.word(said("one of {words}", words=listed(found.STAGES)))}
    if r.keyword("what"):
        read["what"] = _listed(r, said("ids separated by commas"))
    if r.peek() in ("yes", "no"):
        read["yes"] = r.word(said("yes or no")) == "yes"
    read |= _named(r, cause="cause")
    if r.keyword("text"):
        read["text"] = r.json(str, said("a quoted text"))
    return read


def _read_retire(r: Reader) -> dict[str, Any]:
    return {"item": r.id(said("a part")), "end": r.word(said("one of {words}", words=listed(found.ENDS)))}


def _read_picture(r: Reader) -> dict[str, Any]:
    item, file = r.id(said("an item")), r.json(str, said("a quoted file name"))
    r.expect("sha256")
    return {"item": item, "file": file, "sha256": r.word(said("a checksum")), "as_new": r.keyword("as-new")}


FOUND_READERS: dict[str, tuple[Callable[..., Entry], Callable[[Reader], dict[str, Any]]]] = {
    "check": (found.Check, _read_check),
    "misread": (found.Misread, _read_misread),
    "dispose": (found.Dispose, _read_dispose),
    "narrow": (found.Narrow, _read_narrow),
    "override": (found.Override, _read_override),
    "repair": (found.Repair, _read_repair),
    "retire": (found.Retire, _read_retire),
    "picture": (found.Picture, _read_picture),
}
"""How each of these kinds is read."""
