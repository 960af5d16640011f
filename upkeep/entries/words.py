"""What each kind of entry says, as words: the writing half of the grammar in :mod:`upkeep.entries.text`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from upkeep.entries import kinds
from upkeep.entries.found_words import FOUND_WRITERS
from upkeep.entries.kinds import Entry
from upkeep.entries.reader import quoted
from upkeep.plant.line_names import LineName


def _count(e: kinds.Count) -> str:
    if not (e.rolled_over or e.after_reset):
        return f"count {e.press} {e.value}"
    return f"count {e.press} {e.value}{' rolled-over' * e.rolled_over}{' after-reset' * e.after_reset}"


def _made(e: kinds.Made) -> str:
    by_order = f" order {e.order}" if e.order else ""
    return f"made {e.press} {e.pieces} over {e.minutes} min{f' with {e.item}' if e.item else ''}{by_order}"


def _besides(e: kinds.Besides) -> str:
    weight = "" if e.weight is None else f" weight {e.weight!r}"
    on = f" on {','.join(e.on)}" if e.on else ""
    return f"besides {e.item} {e.way} {e.strokes}{weight}{on}"


def _fit(e: kinds.Fit) -> str:
    return f"fit {e.item} in {e.inside}{_at(e)}"


def _unfit(e: kinds.Unfit) -> str:
    return f"unfit {e.item}{_at(e)}" + (f" to {e.to}" if e.to else "")


def _at(e: kinds.Fit | kinds.Unfit) -> str:
    if e.count is None:
        return ""
    return f" at {e.count}" if e.press is None else f" at {e.press} {e.count}"


def _sign(e: kinds.Sign) -> str:
    words = [f"sign {LineName(e.item, e.task)} for {e.occurrence}"]
    if e.grade is not None:
        words.append(f"grade {e.grade}")
    if e.gauge is not None:
        words.append(f"with {e.gauge}")
    words += [f"{point}={','.join(map(repr, values))}" for point, values in e.points]
    if e.remark:
        words.append(f"remark {quoted(e.remark)}")
    return " ".join(words)


def _fault(e: kinds.Fault) -> str:
    listed = "" if e.listed is None else f" listed {e.listed}"
    return f"fault {e.item} {quoted(e.symptom)}{listed}{' stopped' * e.stopped}{' crash' * e.crash}"


WRITERS: dict[type[Entry], Callable[[Any], str]] = {
    kinds.Begin: lambda e: f"begin {e.book} zone {e.zone} chain {e.form}",
    kinds.Count: _count,
    kinds.Restart: lambda e: f"restart {e.press} from {e.shown} to {e.now}",
    kinds.Terms: lambda e: f"terms {e.press} {e.way} digits {e.digits} times {e.times!r}",
    kinds.Made: _made,
    kinds.Besides: _besides,
    kinds.Rework: lambda e: f"rework {e.item} granted {e.granted}",
    kinds.UnknownLife: lambda e: f"unknown-life {e.item}",
    kinds.Order: lambda e: f"order {e.order} {e.pieces} with {e.item} on {e.press} from {e.day}",
    kinds.Fit: _fit,
    kinds.Unfit: _unfit,
    kinds.Sign: _sign,
    kinds.Verify: lambda e: f"verify #{e.entry}",
    kinds.Defer: lambda e: f"defer {LineName(e.item, e.task)} for {e.occurrence} to {e.to} risk {quoted(e.risk)}",
    kinds.Cancel: lambda e: f"cancel {LineName(e.item, e.task)} for {e.occurrence}",
    kinds.Stated: lambda e: f"stated {LineName(e.item, e.task)} done {e.done}",
    kinds.Fault: _fault,
    kinds.Hold: lambda e: f"hold {e.item}",
    kinds.Release: lambda e: f"release {e.item}",
    kinds.Pause: lambda e: f"pause {e.item}",
    kinds.Resume: lambda e: f"resume {e.item}",
    kinds.Strike: lambda e: f"strike #{e.entry}",
    kinds.Note: lambda e: f"note {quoted(e.text)}{' restored' * e.restored}",
    kinds.Define: lambda e: f"define {e.what} {e.key} {e.content}",
    **FOUND_WRITERS,
}
"""How each kind is written."""
