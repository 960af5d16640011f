"""Admission of checks, and of gauges found to read wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import ClassVar

from upkeep.admission.gauges import check_gauge_counts
from upkeep.admission.subject import Judges, SubjectAdmission
from upkeep.answers.checks.gauge_states import GaugeStates, gauge_of
from upkeep.answers.checks.slug_jumps import with_jump
from upkeep.answers.wear.press_doubts import doubted_press
from upkeep.entries.checking import OCCASIONS, Check, Limits, OutOfTolerance
from upkeep.errors import Refused
from upkeep.keeping.standings import AS_FOUND
from upkeep.plant.crimps import PULL, Crimp
from upkeep.plant.model import Item, Kind, Point
from upkeep.quality import checks, pull
from upkeep.said import Moment, Numeral, Quoted, Said, listed, said, said_as, term
from upkeep.store.then import LAST
from upkeep.units.instants import utc_text


class CheckAdmission(SubjectAdmission):
    """Judges checks by crimp, points and gauge, and puts in the limits in force."""

    # Checks

    def _admitted_check(self, check: Check) -> Check:
        item = self._checkable(check)
        checks.check_says_something(check)
        crimp = self._crimp(check, item)
        known = self._points(item, crimp)
        checks.check_points(check, known)
        checks.check_looks(check, crimp.looks if crimp else ())
        checks.check_broke(check)
        gauge = None if check.gauge is None else gauge_of(self._known, check.gauge, check.at)
        checks.check_gauge_class(check, known, gauge)
        if gauge is not None:
            self.notes += check_gauge_counts(self._context, gauge.id, check.at)
        check, notices = with_jump(check, self._context)
        self.notes += notices
        stamped = self._stamped(replace(check, press=self._press(check, item)), crimp, known)
        doubts, said_of_press = doubted_press(stamped, item, self._context)
        self.notes += [*checks.findings(stamped, known), *said_of_press]
        self.notes += self._found_again(stamped)
        return replace(stamped, doubts=doubts)

    def _found_again(self, check: Check) -> Iterator[Said]:
        for key in check.failed if check.occasion == AS_FOUND else ():
            before = self._rows.found_before(check.item, key, utc_text(check.at), LAST)
            if before is not None and before.good == 0 and before.entry != check.corrects:
                yield said(
                    "{point} was found out of limits twice in a row (before this in #{entry}): the set does "
                    "not hold its setting. Stop it; even when it measures good again it still has to be "
                    "released.",
                    point=key,
                    entry=Numeral(before.entry),
                )

    def _checkable(self, check: Check) -> Item:
        item = self._known.item(check.item)
        if check.occasion not in OCCASIONS:
            raise Refused(
                said(
                    "{occasion} is not an occasion for a check. Use one of: {occasions}.",
                    occasion=Quoted(check.occasion),
                    occasions=listed(OCCASIONS),
                )
            )
        if item.kind not in (Kind.DIE_SET, Kind.MODULE):
            raise Refused(
                said(
                    "{item} is a {kind}; checks are made on what a die set or a module makes.",
                    item=item.id,
                    kind=term(item.kind, "kind"),
                )
            )
        if item.scrapped and self._known.zone.day(check.at) >= item.scrapped:
            raise Refused(
                said(
                    "{item} was scrapped on {scrapped}. Check the id on the metal.",
                    item=item.id,
                    scrapped=item.scrapped,
                )
            )
        return item

    def _crimp(self, check: Check, item: Item) -> Crimp | None:
        if check.crimp is None:
            return None
        crimp = self._context.defined.crimp(check.crimp, check.at)
        made_with = self._set_in(item, check.at) if item.kind is Kind.MODULE else item
        if made_with is None or made_with.family == crimp.family:
            return crimp
        if made_with.family is None:
            raise Refused(
                said(
                    "{die_set} belongs to no family, so it is not known what it makes. Give it a family in items.csv.",
                    die_set=made_with.id,
                )
            )
        makes = sorted(key for key, crimp in self._known.crimps.items() if crimp.family == made_with.family)
        raise Refused(
            said(
                "{crimp} is run with {family}; {die_set} is {other_family}. This set makes {makes}. If it has "
                "been run, stop: the terminal does not belong to this set.",
                crimp=crimp.id,
                family=crimp.family,
                die_set=made_with.id,
                other_family=made_with.family,
                makes=listed(makes) if makes else said("no crimp in crimps.toml"),
            )
        )

    def _set_in(self, module: Item, at: datetime) -> Item | None:
        """The die set that sat in a module at a moment."""
        moment = utc_text(at)
        for row in self._rows.fittings_in(module.id, moment):
            inside = self._known.item(row.item)
            if row.start <= moment and inside.kind is Kind.DIE_SET:
                return inside
        return None

    def _points(self, item: Item, crimp: Crimp | None) -> dict[str, Point]:
        """What can be measured: the points of the tasks on such items, those of the crimp before them."""
        tasks = self._known.tasks_of_kind.get(item.kind, [])
        known = {point.id: point for task in tasks for point in task.points}
        return known if crimp is None else known | {point.id: point for point in crimp.points}

    def _press(self, check: Check, item: Item) -> str | None:
        hung = self._counter.press_at(item.id, check.at)
        if check.press is None:
            return hung
        press = self._known.press(check.press)
        if hung is not None and hung != press.id:
            self.notes.append(
                said(
                    "According to the book, {item} was on {hung} at that time, not on {press}.",
                    item=item.id,
                    hung=hung,
                    press=press.id,
                )
            )
        return press.id

    def _stamped(self, check: Check, crimp: Crimp | None, known: dict[str, Point]) -> Check:
        """The check with the limits that held then, and the table its smallest pull force came from."""
        limits = [
            (key, known[key].lower, known[key].upper)
            for key, _ in check.points
            if key in known and (known[key].lower is not None or known[key].upper is not None)
        ]
        table = ""
        if crimp is not None and PULL in dict(check.points):
            limits, table = self._with_pull(check, crimp, limits)
        stamped = tuple(limits)
        if check.limits and check.limits != stamped:
            raise Refused(said("The book puts in the limits in force at that time; leave them out."))
        if check.table and check.table != table:
            raise Refused(
                said(
                    "The book puts in the pull table ({table}); leave it out.",
                    table=table if table else said_as("pull table", "none"),
                )
            )
        return replace(check, limits=stamped, table=table)

    def _with_pull(self, check: Check, crimp: Crimp, limits: list[Limits]) -> tuple[list[Limits], str]:
        table = pull.table_of(crimp, self._context.defined.pull_tables(check.at))
        if table is None:
            if not any(key == PULL for key, _, _ in limits):
                self.notes.append(
                    said("No pull force is set for {crimp}: the result is kept, but not judged.", crimp=crimp.id)
                )
            return limits, ""
        upper = next((high for key, _, high in limits if key == PULL), None)
        others = [(key, lower, upper) for key, lower, upper in limits if key != PULL]
        return [*others, (PULL, pull.smallest_of(crimp, table), upper)], pull.name_of(table)

    # Gauges

    def _check_out_of_tolerance(self, entry: OutOfTolerance) -> None:
        gauge = gauge_of(self._known, entry.item, entry.at)
        states = GaugeStates(self._context)
        good = states.last_vouched(gauge.id, (entry.at, 0))
        since = (
            said("since it came into this book")
            if good is None
            else said(
                "since its last good check, {moment} (#{entry})",
                moment=Moment(good[0], self._known.zone),
                entry=Numeral(good[1]),
            )
        )
        self.notes.append(
            said(
                "{gauge} is held. Everything it measured {since} is in doubt: 'strokebook gauge {gauge}' "
                "lists the results that change.",
                gauge=gauge.id,
                since=since,
            )
        )

    JUDGES: ClassVar[Judges] = {Check: _admitted_check, OutOfTolerance: _check_out_of_tolerance}
