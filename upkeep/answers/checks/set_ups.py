"""One set-up of a die set or module as a page, put together from its checks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import chain

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


class SetUps:
    """Makes the page of the set-up that ran at the moment of its context."""

    def __init__(self, context: Context) -> None:
        self._context, self._known = context, context.known
        self._rows, self._entries = context.rows, context.entries
        self._checks = CheckRows(context)

    def page(self, item: str) -> SetUp:
        """The set-up that ran at the moment, or the last before it; raises :class:`NotFound` where there is none."""
        known = self._known.item(item)
        checks = [recorded for recorded in self._entries.of_item(item, ("check",)) if isinstance(recorded.entry, Check)]
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
        rows = tuple(self._checks.row(recorded) for recorded in of_set_up)
        entries = [recorded.entry for recorded in of_set_up if isinstance(recorded.entry, Check)]
        return SetUp(
            item=item,
            title=known.title,
            press=next((check.press for check in entries if check.press), None),
            since=since,
            until=until,
            crimps=tuple(dict.fromkeys(check.crimp for check in entries if check.crimp)),
            orders=tuple(dict.fromkeys(check.order for check in entries if check.order)),
            checks=rows,
            first_to_last=tuple(self._compared(entries, "first-off", "last-off")),
            found_to_left=tuple(self._compared(entries, "as-found", "as-left")),
            missing=tuple(question for occasion, question in ASKED if occasion not in {row.occasion for row in rows}),
        )

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
