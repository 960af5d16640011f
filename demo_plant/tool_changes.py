"""Tools changed in the demo plant: die sets and modules, on a press with its count, or on the bench."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from demo_plant.floor import Floor
from demo_plant.notebook import minutes
from upkeep.entries.fitting import Fit, Unfit
from upkeep.entries.occurrences import EXTRA
from upkeep.plant.model import Kind, Role
from upkeep.units.shifts import ShiftSpan


def change_die_set(floor: Floor, shift: ShiftSpan, press: str, at: datetime) -> timedelta:
    """Another die set into the module on the press, with the count, tried by hand cycle."""
    by = floor.crew.one(shift, Role.SETUP)
    module, old = floor.shop.module_on(press), floor.shop.die_set_on(press)
    fresh = floor.shop.free(Kind.DIE_SET)
    if module is None or old is None or not fresh:
        return timedelta()
    new, count = floor.rng.choice(fresh), floor.count_at_change(press, at, by)
    floor.checks.as_found(press, at - minutes(3), by)
    floor.notebook.note(Unfit(at=at, by=by, item=old, count=count))
    fit = Fit(at=at + minutes(12), by=by, item=new, inside=module, count=count)
    floor.notebook.note(fit)
    floor.notebook.cross_out(old, "hand-cycle", at)  # off the press it cannot be turned any more
    _try(floor, shift, press, fit, {new: "fitting"})
    floor.shop.take_out(old)
    floor.shop.inside[new] = module
    floor.checks.set_up(press, at + minutes(15), by)
    return minutes(20)


def _try(floor: Floor, shift: ShiftSpan, press: str, fit: Fit, turned: Mapping[str, str]) -> None:
    """What a change of tools asks for before the press runs again: die sets turned by hand, and the guard tried."""
    for die_set, event in turned.items():
        signed = floor.sign(floor.tasks["hand-cycle"], die_set, EXTRA, fit.at + minutes(2), fit.by)
        floor.notebook.note_of_event(event, fit, signed)
    by = floor.crew.one(shift, Role.APPOINTED)
    guard = floor.sign(floor.tasks["guard-check"], press, EXTRA, fit.at + minutes(2.5), by)
    floor.notebook.note_of_event("tool-setting", fit, guard)


def change_module(floor: Floor, shift: ShiftSpan, press: str, at: datetime) -> timedelta:
    """Another module onto the press, with the count."""
    return _change_module(floor, shift, press, at, counted=True)


def change_module_uncounted(floor: Floor, shift: ShiftSpan, press: str, at: datetime) -> timedelta:
    """Another module onto the press, and nobody read the counter: what each of the two did stays an estimate."""
    return _change_module(floor, shift, press, at, counted=False)


def _change_module(floor: Floor, shift: ShiftSpan, press: str, at: datetime, *, counted: bool) -> timedelta:
    by = floor.crew.one(shift, Role.SETUP)
    old, fresh = floor.shop.module_on(press), floor.shop.ready_modules()
    if old is None or not fresh:
        return timedelta()
    new = floor.rng.choice(fresh)
    count = floor.count_at_change(press, at, by) if counted else None
    floor.notebook.note(Unfit(at=at, by=by, item=old, count=count))
    fit = Fit(at=at + minutes(9), by=by, item=new, inside=press, count=count)
    floor.notebook.note(fit)
    gone, die_set = (floor.shop.held_by(module, Kind.DIE_SET) for module in (old, new))
    if gone is not None:
        floor.notebook.cross_out(gone, "hand-cycle", at)
    _try(floor, shift, press, fit, {die_set: "tool-setting"} if die_set else {})
    floor.shop.take_out(old)
    floor.shop.inside[new] = press
    return minutes(15)


def change_on_the_bench(floor: Floor, shift: ShiftSpan) -> None:
    """Another die set into a module that hangs on no press: no count is involved."""
    modules, fresh = floor.shop.ready_modules(), floor.shop.free(Kind.DIE_SET)
    if not modules or not fresh:
        return
    module, new = floor.rng.choice(modules), floor.rng.choice(fresh)
    old = floor.shop.held_by(module, Kind.DIE_SET)
    by, at = floor.crew.one(shift, Role.SETUP), shift.start + minutes(floor.rng.randint(60, 300))
    if old is not None:
        floor.notebook.note(Unfit(at=at, by=by, item=old))
        floor.shop.take_out(old)
    floor.notebook.note(Fit(at=at + minutes(5), by=by, item=new, inside=module))
    floor.shop.inside[new] = module
    floor.shop.just_out.add(module)
