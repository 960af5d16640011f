"""Whose last check turned bad with its gauge, for whoever found the gauge out: what is held, and who has to be told."""

from __future__ import annotations

from collections.abc import Iterator

from upkeep.answers.suspect.named import made_said
from upkeep.due.holds import FailedCheck
from upkeep.due.reason_json import hold_from
from upkeep.entries.standing import Standing
from upkeep.keeping.context import Context
from upkeep.said import Said, in_turn, listed, said
from upkeep.units.instants import utc_text


def turned_said(context: Context, out: int) -> Iterator[Said]:
    """A sentence for each item that a finding about a gauge holds, by the number of that entry."""
    for row in context.rows.standings(Standing.HOLD):
        reason = hold_from(row.reason)
        if row.entry != out or not isinstance(reason, FailedCheck):
            continue
        checks = [check for point in reason.points if (check := context.rows.last_checked(row.item, point)) is not None]
        first = min(check.at for check in checks)
        press = context.judge.press_of(row.item) or row.item
        people = context.findings.writers_between((row.item, press), first, utc_text(context.moment))
        stop = said(
            "STOP: {item} is held: its last check of {points} was good by the gauge and is bad by the true value. Tell "
            "{people}.",
            item=row.item,
            points=listed(reason.points),
            people=listed(dict.fromkeys(context.names.of(by, entry) for by, entry in people)),
        )
        yield in_turn(stop, made_said(context, row.item))
