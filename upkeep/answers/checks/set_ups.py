"""One set-up of a die set or module as a page, put together from its checks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import chain
from typing import NamedTuple

from upkeep.answers.checks.check_rows import CheckRows
from upkeep.entries.checking import Check
from upkeep.entries.entry import Recorded
from upkeep.errors import NotFound
from upkeep.keeping.context import Context
from upkeep.quality.set_ups import ASKED, FIRST, FITTED, SETTINGS, Event, begun, common, moved, span_of
from upkeep.said import Moment, said
from upkeep.units.figures import decimals_of
from upkeep.units.instants import from_utc_text
from upkeep.views.checks import Compared, SetUp


class Span(NamedTuple):
    """A set-up of an item over [since, until) (None: to this day), with the checks in it."""

    item: str
    since: datetime
    until: datetime | None
    checks: tuple[Recorded, ...]


class SetUps:
    """Makes the page of the set-up that ran at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self._rows, self._entries = context.rows, context.entries
        self._checks = CheckRows(context)

    def page(self, item: str) -> SetUp:
        """The set-up that ran at the moment, or the last before it; raises :class:`NotFound` where there is none."""
        self._known.item(item)
        checks = self._checks_of(item)
        begun = list(self._begun(item, checks))
        since, until = span_of(begun, self._known.since[item], self._context.moment)
        of_set_up = [
            recorded
            for recorded in checks
            if since <= recorded.entry.at and (until is None or recorded.entry.at < until)
        ]
        if not of_set_up:
            hint = (
                said("That set-up began {since}.", since=Moment(since, self._known.zone))
                if since in begun
                else said("No set-up of {item} had begun by then.", item=item)
            )
            raise NotFound(said("check in the set-up of"), item, [], hint)
        return self.of(Span(item, since, until, tuple(of_set_up)))

    def spans(self, item: str) -> Iterator[Span]:
        """Every set-up of an item by the moment, in order, those of which no check is known among them."""
        self._known.item(item)
        checks = self._checks_of(item)
        moments = [moment for moment in dict.fromkeys(self._begun(item, checks)) if moment <= self._context.moment]
        if checks and (not moments or checks[0].entry.at < moments[0]):
            moments.insert(0, min(self._known.since[item], checks[0].entry.at))
        place = 0
        for since, until in zip(moments, [*moments[1:], None], strict=False):
            first = place
            while place < len(checks) and (until is None or checks[place].entry.at < until):
                place += 1
            yield Span(item, since, until, tuple(checks[first:place]))

    def of(self, span: Span) -> SetUp:
        """The page of a set-up."""
        item, since, until, of_set_up = span
        rows = tuple(self._checks.row(recorded) for recorded in of_set_up)
        entries = [recorded.entry for recorded in of_set_up if isinstance(recorded.entry, Check)]
        return SetUp(
            item=item,
            title=self._known.item(item).title,
            press=next((check.press for check in entries if check.press), None) or self._hung_on(item, since),
            since=since,
            until=until,
            crimps=tuple(dict.fromkeys(check.crimp for check in entries if check.crimp)),
            orders=tuple(dict.fromkeys(check.order for check in entries if check.order)),
            checks=rows,
            first_to_last=tuple(self._compared(entries, "first-off", "last-off")),
            found_to_left=tuple(self._compared(entries, "as-found", "as-left")),
            missing=tuple(question for occasion, question in ASKED if occasion not in {row.occasion for row in rows}),
        )

    def _checks_of(self, item: str) -> list[Recorded]:
        """Every check of an item, in order of time."""
        return [recorded for recorded in self._entries.of_item(item, ("check",)) if isinstance(recorded.entry, Check)]

    def _hung_on(self, item: str, at: datetime) -> str | None:
        """The press an item hung on at a moment; None: it hung on none."""
        stay = self._context.whereabouts.counts.stay_from(item, at)
        return stay.press if stay is not None and (stay.end is None or at < stay.end) else None

    def _begun(self, item: str, checks: Sequence[Recorded]) -> Iterator[datetime]:
        """The moments at which a set-up of an item began."""
        stays = (row for row in self._rows.stays_of(item) if row.press != item)  # a press has always been on itself
        events: list[Event] = [(from_utc_text(row.start), FITTED, None) for row in stays]
        for recorded in checks:
            check = recorded.entry
            if isinstance(check, Check) and check.occasion in (SETTINGS, FIRST):
                events.append((check.at, check.occasion, check.order))
        order = (FITTED, SETTINGS, FIRST)
        return begun(sorted(events, key=lambda event: (event[0], order.index(event[1]))))

    def _compared(self, checks: Sequence[Check], first: str, last: str) -> Iterator[Compared]:
        """The last good check of the first occasion beside the last one of the other, as far as they share points."""
        begun = [check for check in checks if check.occasion == first]
        ended = [check for check in checks if check.occasion == last]
        good = [check for check in begun if not check.failed] if first == "first-off" else begun
        if not (begun and ended):
            return
        before, after = (good or begun)[-1], ended[-1]
        for key in common(before, after):
            read = (dict(check.points)[key] for check in (before, after))
            yield Compared(key, self._checks.unit(after, key), *moved(before, after, key), decimals_of(chain(*read)))
