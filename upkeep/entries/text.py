"""The one-line text of an entry: written by :func:`line_of`, read back to the same entry by :func:`read_line`.

Grammar (one space between words; an id is a letter or figure followed by up to 31 letters, figures, ``.``, ``_``,
``-``; a text is a JSON string; square brackets mark what may be left out)::

    entry   = moment words "by" id ["recorded" moment] ["corrects" "#"number] ["because" text]
    words   = "count" press figure ["rolled-over"]
            | "fit" item "in" item ["at" [press] figure]
            | "unfit" item ["at" [press] figure] ["to" place]
            | "sign" item "/" task "for" occurrence ["grade" figure] ["with" gauge] {point "=" value{","value}}
              ["remark" text]
            | "verify" "#"number
            | "fault" item text ["stopped"]
            | "hold" item | "release" item | "pause" item | "resume" item
            | "strike" "#"number
            | "define" what id json-object

A moment is wall time in the plant's zone, as :mod:`upkeep.units.instants` writes it; ``recorded`` is left out when the
entry was written at the moment it tells of.  Example::

    2026-03-02 06:00 count P-07 1204300 by ana
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from typing import Any

from upkeep.entries import kinds
from upkeep.entries.kinds import Entry
from upkeep.errors import Unreadable
from upkeep.units.instants import Zone

ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}\Z")
_MOMENT = re.compile(r"(\S+ \S+) ")
_WORD = re.compile(r" *([^\s\"{]+)")
_VALUE = re.compile(r"-?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?\Z")
_LONGEST_SHOWN = 200
_DECODER = json.JSONDecoder()


def quoted(text: str) -> str:
    """A text from a person as a JSON string on one line, with every character that does not print escaped."""
    written = json.dumps(text, ensure_ascii=False)
    return written if written.isprintable() else "".join(map(_printable, written))


def _printable(char: str) -> str:
    return char if char.isprintable() else json.dumps(char)[1:-1]


# Writing ------------------------------------------------------------------------------------------------------------


def _count(e: kinds.Count) -> str:
    return f"count {e.press} {e.value} rolled-over" if e.rolled_over else f"count {e.press} {e.value}"


def _fit(e: kinds.Fit) -> str:
    return f"fit {e.item} in {e.inside}{_at(e)}"


def _unfit(e: kinds.Unfit) -> str:
    return f"unfit {e.item}{_at(e)}" + (f" to {e.to}" if e.to else "")


def _at(e: kinds.Fit | kinds.Unfit) -> str:
    if e.count is None:
        return ""
    return f" at {e.count}" if e.press is None else f" at {e.press} {e.count}"


def _sign(e: kinds.Sign) -> str:
    words = [f"sign {e.item}/{e.task} for {e.occurrence}"]
    if e.grade is not None:
        words.append(f"grade {e.grade}")
    if e.gauge is not None:
        words.append(f"with {e.gauge}")
    words += [f"{point}={','.join(map(repr, values))}" for point, values in e.points]
    if e.remark:
        words.append(f"remark {quoted(e.remark)}")
    return " ".join(words)


_WRITERS: dict[type[Entry], Callable[[Any], str]] = {
    kinds.Count: _count,
    kinds.Fit: _fit,
    kinds.Unfit: _unfit,
    kinds.Sign: _sign,
    kinds.Verify: lambda e: f"verify #{e.entry}",
    kinds.Fault: lambda e: f"fault {e.item} {quoted(e.symptom)}" + (" stopped" if e.stopped else ""),
    kinds.Hold: lambda e: f"hold {e.item}",
    kinds.Release: lambda e: f"release {e.item}",
    kinds.Pause: lambda e: f"pause {e.item}",
    kinds.Resume: lambda e: f"resume {e.item}",
    kinds.Strike: lambda e: f"strike #{e.entry}",
    kinds.Define: lambda e: f"define {e.what} {e.key} {e.content}",
}


def words_of(entry: Entry) -> str:
    """What an entry says, without its envelope: the part between the moment and ``by``."""
    return _WRITERS[type(entry)](entry)


def line_of(entry: Entry, zone: Zone) -> str:
    """The whole entry on one line, in the plant's wall time."""
    line = f"{zone.show(entry.at)} {words_of(entry)} by {entry.by}"
    if entry.recorded_at is not None and entry.recorded_at != entry.at:
        line += f" recorded {zone.show(entry.recorded_at)}"
    if entry.corrects is not None:
        line += f" corrects #{entry.corrects}"
    return f"{line} because {quoted(entry.because)}" if entry.because else line


# Reading ------------------------------------------------------------------------------------------------------------


class _Reader:
    """Takes the words of a line one after another; every refusal names the line and what belongs there."""

    def __init__(self, line: str, start: int = 0) -> None:
        self.line, self.position = line, start

    def fail(self, wanted: str) -> Unreadable:
        rest = self.line[self.position :].strip()
        return Unreadable(f"{_shortened(self.line)!r}: {wanted} belongs where it says {rest[:40]!r}.")

    def peek(self) -> str:
        found = _WORD.match(self.line, self.position)
        return found[1] if found else ""

    def peek_after(self) -> str:
        found = _WORD.match(self.line, self.position)
        following = _WORD.match(self.line, found.end()) if found else None
        return following[1] if following else ""

    def word(self, wanted: str) -> str:
        found = _WORD.match(self.line, self.position)
        if not found:
            raise self.fail(wanted)
        self.position = found.end()
        return found[1]

    def _next(self) -> int:
        while self.position < len(self.line) and self.line[self.position] == " ":
            self.position += 1
        return self.position

    def id(self, wanted: str) -> str:
        before = self.position
        word = self.word(wanted)
        if not ID.match(word):
            self.position = before
            raise self.fail(wanted)
        return word

    def figure(self, wanted: str) -> int:
        before = self.position
        word = self.word(wanted)
        if not (word.isascii() and word.isdigit() and len(word) <= 18):
            self.position = before
            raise self.fail(wanted)
        return int(word)

    def number(self) -> int:
        before = self.position
        word = self.word("an entry number like #12")
        if not re.fullmatch(r"#[0-9]{1,18}", word):
            self.position = before
            raise self.fail("an entry number like #12")
        return int(word[1:])

    def keyword(self, word: str) -> bool:
        found = _WORD.match(self.line, self.position)
        if not found or found[1] != word:
            return False
        self.position = found.end()
        return True

    def expect(self, word: str) -> None:
        if not self.keyword(word):
            raise self.fail(f"the word {word!r}")

    def json(self, kind: type, wanted: str) -> Any:
        start = self._next()
        try:
            value, end = _DECODER.raw_decode(self.line, start)
        except (ValueError, RecursionError):  # no JSON, a number of thousands of figures, or nested beyond reading
            raise self.fail(wanted) from None
        if not isinstance(value, kind):
            raise self.fail(wanted)
        self.position = end
        return value

    def moment(self, zone: Zone, wanted: str) -> Any:
        found = _MOMENT.match(self.line + " ", self._next())
        if not found:
            raise self.fail(wanted)
        self.position = min(found.end(), len(self.line))
        return zone.read(found[1])


def _shortened(line: str) -> str:
    return line if len(line) <= _LONGEST_SHOWN else f"{line[:_LONGEST_SHOWN]}..."


def _read_count(r: _Reader) -> dict[str, Any]:
    return {"press": r.id("a press"), "value": r.figure("a count"), "rolled_over": r.keyword("rolled-over")}


def _read_fit(r: _Reader) -> dict[str, Any]:
    item = r.id("an item")
    r.expect("in")
    return {"item": item, "inside": r.id("an item"), **_read_at(r)}


def _read_at(r: _Reader) -> dict[str, Any]:
    if not r.keyword("at"):
        return {}
    if r.peek().isdigit() and not r.peek_after().isdigit():
        return {"count": r.figure("a count")}
    return {"press": r.id("a press"), "count": r.figure("a count")}


def _read_unfit(r: _Reader) -> dict[str, Any]:
    return {"item": r.id("an item"), **_read_at(r), "to": r.id("a place") if r.keyword("to") else None}


def _read_sign(r: _Reader) -> dict[str, Any]:
    item, _, task = r.word("item/task").partition("/")
    if not (ID.match(item) and ID.match(task)):
        raise r.fail("item/task")
    r.expect("for")
    fields: dict[str, Any] = {"item": item, "task": task, "occurrence": r.word("the occurrence it answers")}
    if r.keyword("grade"):
        fields["grade"] = r.figure("a grade 0 to 4")
    if r.keyword("with"):
        fields["gauge"] = r.id("a gauge")
    fields["points"] = tuple(iter(lambda: _read_point(r), None))
    if r.keyword("remark"):
        fields["remark"] = r.json(str, "a quoted remark")
    return fields


def _read_point(r: _Reader) -> tuple[str, tuple[float, ...]] | None:
    if "=" not in r.peek():
        return None
    point, _, values = r.word("point=value").partition("=")
    if not all(map(_VALUE.match, values.split(","))):
        raise r.fail("numbers with a decimal point, separated by commas,")
    numbers = tuple(map(float, values.split(",")))
    if not ID.match(point) or not all(map(math.isfinite, numbers)):
        raise r.fail("point=value")
    return point, numbers


def _read_fault(r: _Reader) -> dict[str, Any]:
    item = r.id("an item")
    return {"item": item, "symptom": r.json(str, "a quoted symptom"), "stopped": r.keyword("stopped")}


def _read_define(r: _Reader) -> dict[str, Any]:
    what, key, start = r.word("what is defined"), r.id("an id"), r._next()
    r.json(dict, "a definition in braces")
    return {"what": what, "key": key, "content": r.line[start : r.position]}


def _read_item(r: _Reader) -> dict[str, Any]:
    return {"item": r.id("an item")}


def _read_entry_number(r: _Reader) -> dict[str, Any]:
    return {"entry": r.number()}


_READERS: dict[str, tuple[Callable[..., Entry], Callable[[_Reader], dict[str, Any]]]] = {
    "count": (kinds.Count, _read_count),
    "fit": (kinds.Fit, _read_fit),
    "unfit": (kinds.Unfit, _read_unfit),
    "sign": (kinds.Sign, _read_sign),
    "verify": (kinds.Verify, _read_entry_number),
    "fault": (kinds.Fault, _read_fault),
    "hold": (kinds.Hold, _read_item),
    "release": (kinds.Release, _read_item),
    "pause": (kinds.Pause, _read_item),
    "resume": (kinds.Resume, _read_item),
    "strike": (kinds.Strike, _read_entry_number),
    "define": (kinds.Define, _read_define),
}

VERBS = tuple(_READERS)
"""The first word of every kind of entry."""


def _read_words(reader: _Reader) -> tuple[Callable[..., Entry], dict[str, Any]]:
    verb = reader.word("a verb")
    if verb not in _READERS:
        reader.position -= len(verb)
        raise reader.fail(f"one of {', '.join(VERBS)}")
    kind, read = _READERS[verb]
    return kind, read(reader)


def entry_of(words: str, **envelope: Any) -> Entry:
    """The entry behind stored words and envelope (at, by, recorded_at, corrects, because).

    Raises :class:`Unreadable` where the words do not follow the grammar or say more than one entry.
    """
    reader = _Reader(words)
    kind, fields = _read_words(reader)
    if words[reader.position :].strip():
        raise reader.fail("the end of the entry")
    return kind(**fields, **envelope)


def read_line(line: str, zone: Zone) -> Entry:
    """The entry on one line of text; raises :class:`Unreadable` with the place where it stops making sense."""
    reader = _Reader(line.strip())
    at = reader.moment(zone, "a moment like 2026-03-02 06:00")
    kind, fields = _read_words(reader)
    reader.expect("by")
    envelope: dict[str, Any] = {"at": at, "by": reader.id("a person"), "recorded_at": at}
    if reader.keyword("recorded"):
        envelope["recorded_at"] = reader.moment(zone, "a moment")
    if reader.keyword("corrects"):
        envelope["corrects"] = reader.number()
    if reader.keyword("because"):
        envelope["because"] = reader.json(str, "a quoted reason")
    if reader.line[reader.position :].strip():
        raise reader.fail("the end of the line")
    return kind(**fields, **envelope)
