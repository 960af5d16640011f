"""A change of tools on one press: which is open, how far it has come, what is void, what to know before one begins.

Its state is the entries about it; what was done in it is told by the entries of the steps themselves, in their order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import pairwise
from typing import NamedTuple

from upkeep.answers.alarms import Alarms
from upkeep.answers.before_running import before_fitting
from upkeep.answers.round import Rounds
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.entries.fitting import Changeover, ChangeStage
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.keeping.holds import hold_reason
from upkeep.keeping.rows.counted import mark_from
from upkeep.plant.line_names import LineName
from upkeep.plant.model import FITS_IN, Event, Item, Kind, Task
from upkeep.quality.jumps import SLUG
from upkeep.quality.settings import SETTINGS
from upkeep.said import Said, either, said
from upkeep.views.changeover import BeforeChange, Candidate, Change, ChangeStep, SettingThen, Step, Waits

_AFTER = {Event.FITTING, Event.TOOL_SETTING}
"""Work that is asked for after one of these belongs to the change."""

_ENERGY = {Step.OUT: "unplug", Step.IN: "unplug", Step.SLUG: "unplug", Step.FIRST_OFF: "look", Step.RELEASE: "look"}
"""The control of energy of the steps that no task of the plant names.  Common practice, no source."""

_LAST = 12
"""Checks that are looked back for the settings of last time."""


class _Told(NamedTuple):
    """An entry about a change, with its number."""

    id: int
    entry: Changeover


class Changing:
    """Answers about changes of tools from one book as it stands at a moment."""

    def __init__(self, context: Context) -> None:
        self._context, self._known, self._at = context, context.known, context.moment
        self._rows, self._entries = context.rows, context.entries

    # What is open

    def open_on(self, press: str) -> Change | None:
        """The change that is open on a press; None: there is none."""
        told = self._told(press)
        if not told:
            return None
        begun = told[0]
        item = self._known.item(begun.entry.item or "")
        inside, out = self._slot(press, item, begun)
        since, voided = self._valid_since(press, told)
        die_set = self._die_set(item)
        hands = [one for one in told if one.entry.stage is not ChangeStage.PAUSED]
        row = self._rows.last_mark(press)
        return Change(
            press=press,
            entry=begun.id,
            item=item.id,
            inside=inside,
            out=out,
            die_set=die_set,
            begun_by=self._named(begun),
            begun_at=begun.entry.at,
            in_hand_of=self._named(hands[-1]),
            waits=self._waits(press, told[-1]),
            voided=voided,
            steps=tuple(self._steps(press, item, inside, out, die_set, begun.id, since)),
            last_settings=() if die_set is None else tuple(self._settings(die_set, begun.id)),
            last_count=mark_from(row).reading.base if row else None,
        )

    def _told(self, press: str) -> list[_Told]:
        """What was told of the open change, from its beginning on; nothing where there is none."""
        told: list[_Told] = []
        for recorded in sorted(self._entries.of_item(press, ("changeover",)), key=lambda one: one.id):
            entry = recorded.entry
            assert isinstance(entry, Changeover)
            if entry.stage is ChangeStage.BEGUN:
                told = [_Told(recorded.id, entry)]
            elif entry.stage in (ChangeStage.RELEASED, ChangeStage.GIVEN_UP):
                told = []
            elif told:
                told.append(_Told(recorded.id, entry))
        return told

    def _named(self, told: _Told) -> tuple[str, str]:
        return told.entry.by, self._context.names.now(told.entry.by)

    def _slot(self, press: str, item: Item, begun: _Told) -> tuple[str, str | None]:
        """What the item goes into, and what was in its place when the change began; raises :class:`Refused`."""
        inside = self.slot_on(press, item)
        for row in self._rows.fittings_in(inside):
            was_there = row.started_by < begun.id and (row.ended_by is None or row.ended_by > begun.id)
            if was_there and row.item != item.id and self._known.item(row.item).kind is item.kind:
                return inside, row.item
        return inside, None

    def slot_on(self, press: str, item: Item) -> str:
        """What an item goes into on a press: a module on the press, a die set into the module there; raises
        :class:`Refused` where nothing there takes it."""
        wanted = FITS_IN.get(item.kind)
        if wanted is Kind.PRESS:
            return press
        for content in self._rows.inside_now(press):
            if self._known.item(content.item).kind is wanted:
                return content.item
        raise Refused(
            said(
                "{item} is a {kind}, and no {wanted} hangs on {press} that takes it. Hang one there first.",
                item=item.id, kind=item.kind, wanted=wanted or said("module"), press=press,
            )
        )  # fmt: skip

    def _die_set(self, item: Item) -> str | None:
        if item.kind is Kind.DIE_SET:
            return item.id
        inside = (content.item for content in self._rows.inside_now(item.id))
        return next((key for key in inside if self._known.item(key).kind is Kind.DIE_SET), None)

    # Paused, and void

    def _waits(self, press: str, last: _Told) -> Waits | None:
        if last.entry.stage is not ChangeStage.PAUSED:
            return None
        strokes = self._strokes(press, last, None)
        return Waits(self._context.names.now(last.entry.by), last.entry.at, last.entry.text, strokes)

    def _valid_since(self, press: str, told: Sequence[_Told]) -> tuple[int, tuple[datetime, int] | None]:
        """The entry from which on what was done counts, and when and by how many strokes the press ran meanwhile."""
        since: int = told[0].id
        voided: tuple[datetime, int] | None = None
        for before, after in pairwise(told):
            if before.entry.stage is ChangeStage.PAUSED:
                strokes = self._strokes(press, before, after)
                if strokes > 0:
                    since, voided = after.id, (after.entry.at, strokes)
        return since, voided

    def _strokes(self, press: str, paused: _Told, resumed: _Told | None) -> int:
        """What a press did between two moments, as well as is known."""
        counts = self._context.judge.counts
        until = self._at if resumed is None else resumed.entry.at
        return counts.total_at(press, until).best - counts.total_at(press, paused.entry.at).best

    # The steps

    def _steps(
        self, press: str, item: Item, inside: str, out: str | None, die_set: str | None, begun: int, since: int
    ) -> Iterator[ChangeStep]:
        if out is not None:
            yield self._moved(Step.OUT, out, inside, begun, ended=True)
        yield self._moved(Step.IN, item.id, inside, begun, ended=False)
        tools = [item.id, *self._within(item.id), *([inside] if inside != press else [])]
        for key in tools:
            yield from self._signed(Step.TOOL, key, since)
        if die_set is not None:
            crimps = [one for one in self._known.crimps.values() if one.family == self._known.item(die_set).family]
            if any(point.id == SLUG for crimp in crimps for point in crimp.points):
                yield self._checked(Step.SLUG, die_set, ("slug",), since)
            if crimps:
                yield self._checked(Step.FIRST_OFF, die_set, ("first-off", "as-left"), since)
        yield from self._signed(Step.GUARD, press, since)
        yield ChangeStep(Step.RELEASE, press, "", None, None, None, False, _ENERGY[Step.RELEASE])

    def _within(self, item: str) -> Iterator[str]:
        for content in self._rows.inside_now(item):
            yield content.item
            yield from self._within(content.item)

    def _moved(self, step: Step, item: str, inside: str, begun: int, *, ended: bool) -> ChangeStep:
        rows = [row for row in self._rows.fittings_in(inside) if row.item == item]
        numbers = [row.ended_by if ended else row.started_by for row in rows]
        done = [number for number in numbers if number is not None and number > begun]
        return self._step(step, item, "", self._entries.by_number(max(done)) if done else None, False, _ENERGY[step])

    def _signed(self, step: Step, key: str, since: int) -> Iterator[ChangeStep]:
        for task in self._known.tasks_on(self._known.item(key)):
            if _AFTER & set(task.after):
                signed = [
                    one for one in self._entries.of_item(key, ("sign",)) if _answers(one, task) and one.id > since
                ]
                line = str(LineName(key, task.id))
                yield self._step(step, line, task.title, signed[-1] if signed else None, False, task.energy)

    def _checked(self, step: Step, die_set: str, occasions: tuple[str, ...], since: int) -> ChangeStep:
        """A check is done with the last one that found nothing bad."""
        made = [
            one
            for one in self._entries.of_item(die_set, ("check",))
            if isinstance(one.entry, Check) and one.id > since and one.entry.occasion in occasions
        ]
        bad = _is_bad(made)
        return self._step(step, die_set, "", made[-1] if made and not bad else None, bad, _ENERGY[step])

    def _step(self, step: Step, about: str, title: str, done: Recorded | None, again: bool, energy: str) -> ChangeStep:
        if done is None:
            return ChangeStep(step, about, title, None, None, None, again, energy)
        name = self._context.names.now(done.entry.by)
        return ChangeStep(step, about, title, name, done.entry.at, done.id, again, energy)

    # What stands beside the fields

    def _settings(self, die_set: str, before: int) -> Iterator[SettingThen]:
        """Each setting of a die set as it was written down last before the change."""
        told = [one for one in self._entries.of_item(die_set, ("check",)) if one.id < before][-_LAST:]
        for key, point in SETTINGS.items():
            for one in reversed(told):
                check = one.entry
                values = dict(check.points).get(key) if isinstance(check, Check) else None
                if values and isinstance(check, Check):
                    yield SettingThen(key, point.title, values[-1], point.unit, check.at, check.press)
                    break

    # Before it begins

    def before(self, press: str) -> BeforeChange:
        """What may be changed on a press; raises :class:`NotFound` for what is none."""
        self._known.press(press)
        hanging = Rounds(self._context).hanging_on(press)
        here = {one.item for one in hanging}
        orders = sorted((row for row in self._rows.orders() if row.press == press), key=lambda row: row.day)
        waiting = [row for row in orders if row.pieces > self._rows.pieces_of(row.ordered)]
        sets = dict.fromkeys(row.item for row in waiting if row.item not in here)
        return BeforeChange(press, tuple(hanging), tuple(self.candidate(press, key) for key in sets))

    def candidate(self, press: str, key: str) -> Candidate:
        """What to know of an item before it goes onto a press; raises :class:`NotFound`, and :class:`Refused` where
        nothing there takes it."""
        item = self._known.item(key)
        self.slot_on(press, item)
        alarms, waiting = Alarms(self._context), self._waiting(press)
        bars = list(alarms.bars_on(press, key, self._at))
        return Candidate(
            item=key,
            kind=item.kind.value,
            title=item.title,
            place=self._context.judge.place_of(item),
            hold=hold_reason(self._context, key),
            bars=tuple(
                said("{item} must not run: {reason}.", item=bar.item, reason=bar.reason)
                for bar in bars
                if not alarms.permitted(bar, self._at)
            ),
            notes=(*before_fitting(self._context, key, self._at), *self._other_family(press, item, waiting)),
            orders=tuple(order for order, made_with in waiting if made_with == key),
        )

    def _waiting(self, press: str) -> list[tuple[str, str]]:
        """The orders that wait for a press, each with what makes it."""
        rows = (row for row in self._rows.orders() if row.press == press)
        return [(row.ordered, row.item) for row in rows if row.pieces > self._rows.pieces_of(row.ordered)]

    def _other_family(self, press: str, item: Item, waiting: Iterable[tuple[str, str]]) -> Iterator[Said]:
        """That the orders which wait for a press are of other families than the set."""
        die_set = self._die_set(item)
        family = self._known.item(die_set).family if die_set else None
        wanted = {order: self._known.item(key).family for order, key in waiting}
        if family is None or not wanted or family in wanted.values():
            return
        others = [said("{order} {family}", order=order, family=of or "-") for order, of in wanted.items()]
        yield said(
            "{set} makes {family}. What waits for {press} is of another family: {wanted}.",
            set=die_set or "", family=family, press=press, wanted=either(others),
        )  # fmt: skip


def _answers(recorded: Recorded, task: Task) -> bool:
    return getattr(recorded.entry, "task", None) == task.id


def _is_bad(made: Sequence[Recorded]) -> bool:
    """Whether the last check made was bad; a check by several gauges is several entries of one moment."""
    checks = [one.entry for one in made if isinstance(one.entry, Check)]
    return any(one.failed for one in checks if (one.at, one.occasion) == (checks[-1].at, checks[-1].occasion))
