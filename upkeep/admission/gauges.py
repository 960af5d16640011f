"""Whether a reading by a gauge is taken: one found to read wrong or held never, an overdue one by the plant's rule."""

from __future__ import annotations

from datetime import datetime

from upkeep.admission.rules import day_of
from upkeep.answers.checks.gauge_states import GaugeStates
from upkeep.entries.signing import Sign
from upkeep.entries.standing import Standing
from upkeep.errors import Refused
from upkeep.keeping.context import Context
from upkeep.said import Figure, Moment, Said, Value, said
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.wording.holds import hold_said

_REFUSE = "refuse"


def check_gauge_counts(context: Context, key: str, at: datetime) -> list[Said]:
    """What the writer has to know of a gauge at the moment it measured; refuses one that must not be used.

    What is told late of a time before the gauge was found to read wrong is taken, and does not count.
    """
    for row in context.rows.standings_of(key):
        if row.since <= utc_text(at):
            held = row.what == Standing.HOLD
            reason: Value = hold_said(context.known.reason_of(row)) if held else row.reason
            raise Refused(
                said(
                    "{gauge} has been {stands} since {moment}: {reason}. Measure with another gauge.",
                    gauge=key,
                    stands=said("held") if held else said("out of use"),
                    moment=Moment(from_utc_text(row.since), context.known.zone),
                    reason=reason,
                )
            )
    states = GaugeStates(context)
    for doubt in states.doubts(key):
        if doubt.takes_in(at) and doubt.found_at <= at:
            raise Refused(
                said(
                    "{gauge} was found on {found} to read {off} off and has not been calibrated since. "
                    "Measure with another gauge.",
                    gauge=key,
                    off=doubt.by,
                    found=Moment(doubt.found_at, context.known.zone),
                )
            )
    state = states.at(key, at)
    if state.valid:
        return []
    if context.known.facts.overdue_gauge == _REFUSE and not state.wrong:
        raise Refused(
            said(
                "{gauge} is not valid ({why}); this plant accepts no readings from it. Measure with another gauge.",
                gauge=key,
                why=state.why,
            )
        )
    return [
        said(
            "{gauge} was not valid at that time ({why}); the reading is kept, but the check never counts as a "
            "last good check.",
            gauge=key,
            why=state.why,
        )
    ]


def check_calibration(context: Context, sign: Sign) -> list[Said]:
    """Refuses a certificate on what is no calibration of a gauge, or that is not whole.  Gives notes on what it says,
    and where a calibration comes without one."""
    known, found = context.known, sign.calibration
    calibrates = known.calibration is not None and sign.task == known.calibration.id
    if found is None:
        if not calibrates:
            return []
        return [said("No certificate was entered: its number, laboratory, errors and uncertainty stay unknown.")]
    if not calibrates:
        raise Refused(said("{task} calibrates no gauge; leave the certificate out.", task=sign.task))
    if not found.certificate.strip() or not found.laboratory.strip():
        raise Refused(said("Give the number of the certificate and the laboratory that issued it."))
    if not found.uncertainty > 0:
        raise Refused(said("The uncertainty of a calibration is a number above 0, in the gauge's own unit."))
    due = day_of(found.due)
    if due <= known.zone.day(sign.at):
        raise Refused(said("The certificate ends on {due}, which is not after the calibration.", due=due))
    if abs(found.received) > found.uncertainty:
        return [
            said(
                "As received {gauge} read {off} off, more than the uncertainty. If that is out of its tolerance, what "
                "it measured is in doubt: strokebook out-of-tolerance {gauge} {off}, at the time it was found.",
                gauge=sign.item,
                off=Figure(found.received, "+g"),
            )
        ]
    return []
