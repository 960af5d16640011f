"""Whether a reading by a gauge is taken: one found to read wrong or held never, an overdue one by the plant's rule."""

from __future__ import annotations

from datetime import datetime

from upkeep.book.gauge_states import GaugeStates
from upkeep.book.known import Known
from upkeep.due.reason_json import hold_from
from upkeep.errors import Refused
from upkeep.plant.model import Item, Kind
from upkeep.store.file import BookFile
from upkeep.store.projections import Projections
from upkeep.units.instants import from_utc_text, utc_text
from upkeep.wording.holds import hold_text

_REFUSE = "refuse"


def gauge_of(known: Known, key: str, at: datetime) -> Item:
    """The gauge with an id; refuses what is none, and one that was scrapped by then."""
    gauge = known.item(key)
    if gauge.kind is not Kind.GAUGE:
        raise Refused(f"{gauge.id} is a {gauge.kind}, not a gauge.")
    if gauge.scrapped and known.zone.day(at) >= gauge.scrapped:
        raise Refused(f"{gauge.id} was scrapped on {gauge.scrapped}; measure with another one.")
    return gauge


def check_gauge_counts(file: BookFile, known: Known, key: str, at: datetime) -> list[str]:
    """What the writer has to know of a gauge at the moment it measured; refuses one that must not be used.

    What is told late of a time before the gauge was found to read wrong is taken, and does not count.
    """
    for row in Projections(file).standings_of(key):
        if row.since <= utc_text(at):
            held = row.what == "hold"
            stands, because = ("held", hold_text(hold_from(row.reason))) if held else ("out of use", row.reason)
            shown = known.zone.show(from_utc_text(row.since))
            raise Refused(f"{key} is {stands} since {shown}: {because}. Measure with another gauge.")
    states = GaugeStates(file, known)
    for doubt in states.doubts(key):
        if doubt.takes_in(at) and doubt.found <= at:
            raise Refused(
                f"{key} was found to read {doubt.off:+g} wrong on {known.zone.show(doubt.found)} and was not "
                "calibrated since. Measure with another gauge."
            )
    state = states.at(key, at)
    if state.valid:
        return []
    if known.facts.overdue_gauge == _REFUSE and not state.wrong:
        raise Refused(f"{key} is not valid ({state.why}); this plant takes no reading by it. Measure with another one.")
    return [f"{key} was not valid then ({state.why}); the reading is kept and never makes a last good check."]
