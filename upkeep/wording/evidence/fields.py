"""The fields of definitions by what people call them; the keys are those of the definition files."""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.plant.rights import RIGHTS, Act
from upkeep.said import Said, said, term

FIELDS: Mapping[str, Said] = {
    "title": said("title"), "kind": said("kind"), "place": said("place it belongs to"), "family": said("family"),
    "digits": said("figures of its counter"), "max_rate": said("most strokes an hour"), "life": said("life"),
    "max_reworks": said("most reworks"), "gauge_class": said("kind of gauge"), "owner": said("owner"),
    "since": said("from"), "scrapped": said("scrapped on"), "until": said("until"), "name": said("name"),
    "roles": said("roles"), "same_as": said("same person as"), "formerly": said("former name"),
    "training": said("training"), "language": said("language"), "shifts": said("shifts"), "area": said("area"),
    "away": said("days away"), "route": said("walking order"), "applies_to": said("applies to"),
    "by": said("signed by"), "each_shift": said("every shift"), "every": said("interval"), "rule": said("fixed days"),
    "start": said("beginning"), "end": said("end"), "also_on": said("also on"), "not_on": said("not on"),
    "strokes": said("interval in strokes"), "strokes_for": said("interval in strokes for"),
    "after_grade": said("after grade"), "after_warning": said("after a warning of"), "after": said("after events"),
    "combine": said("whichever comes"), "early_days": said("window opens before, days"),
    "late_days": said("overdue after, days"), "stop_days": said("hard stop after, days"),
    "plan_from": said("window opens at, % of the interval"), "late_strokes": said("overdue after, strokes"),
    "stop_at": said("hard stop at, % of the interval"), "early_percent": said("window opens before, % of the interval"),
    "late_percent": said("overdue after, % of the interval"), "window_cap_days": said("window at most, days"),
    "by_hour": said("overdue at hour of the shift"), "used_from": said("used from, strokes"),
    "deduct_overrun": said("strokes too many count into the next interval"),
    "own_usage_clock": said("only its own work restarts the strokes"), "spread": said("spread over the interval"),
    "while_resting": said("done at rest"), "at_next_stop": said("at the next change of tools"),
    "covers": said("covers"), "cover_days": said("covers ahead, days"), "max_deferrals": said("most deferrals"),
    "minutes": said("minutes"), "energy": said("energy control"), "caution": said("caution"), "steps": said("steps"),
    "kit": said("kit"), "parts": said("spares used"), "points": said("point"), "graded": said("graded"),
    "hold_when_out": said("holds the item when out"), "photo": said("photo"),
    "second_signature": said("second signature"), "statutory": said("required by law"),
    "on_day_off": said("on a day off"), "source": said("source"), "texts": said("text in"), "unit": said("unit"),
    "lower": said("lower limit"), "upper": said("upper limit"), "warn_lower": said("lower warning limit"),
    "warn_upper": said("upper warning limit"), "readings": said("readings"), "part": said("part"),
    "nominal": said("nominal"), "looks": said("looks"), "settings": said("setting"), "pull": said("pull test"),
    "terminal": said("terminal"), "wire": said("wire"), "zone": said("time zone"), "closed": said("closed days"),
    "holidays": said("public holidays"), "shutdowns": said("shutdown"), "undo_seconds": said("undo within, seconds"),
    "late_hours": said("told late after, hours"), "call_lead_after": said("lead is called after, minutes"),
    "call_manager_after": said("manager is called after, minutes"), "weights": said("weight of a stroke"),
    "overdue_gauge": said("an overdue gauge is"), "rest_days": said("rested after, days"),
    "watch_strokes": said("a repair is watched for, strokes"), "repeat_times": said("a fault comes back after, times"),
    "repeat_strokes": said("a fault comes back within, strokes"),
    "repeat_days": said("a fault comes back within, days"),
    "verified_by_fixer": said("whoever fixed may verify"), "rights": said("right to"), "keepers": said("keepers"),
    "training_days": said("end of training is told, days before"), "signed_with": said("names are"),
    "idle_seconds": said("known at a station for, seconds"), "hints_agreed": said("agreement about hints"),
    "recheck_percent": said("drawn for another look, %"), "lock_removal": said("procedure for somebody else's lock"),
    "hands_over": said("shifts are handed over"), "languages": said("languages"),
    "station_language": said("language of the stations"), "units": said("units"), "planning": said("planning"),
    "days": said("days"), "work": said("work"), "edition": said("edition"), "checked_by": said("checked by"),
    "forces": said("forces"), "names": said("other names"), "strip": said("strip"),
}  # fmt: skip
"""What each field is called; what is missing here is called by its key."""


def field_said(path: tuple[str, ...]) -> Said:
    """A field by its path in a definition: "point crimp-height, upper limit"."""
    first, *rest = path
    if first == "rights" and rest and rest[0] in RIGHTS:
        return said("right to {act}", act=RIGHTS[Act(rest[0])].what)
    name = FIELDS.get(first, term(first.replace("_", " ")))
    if not rest:
        return name
    if len(rest) == 1 or first in FIELDS:
        inner = [FIELDS.get(part, part) for part in rest]
        if len(inner) == 1:
            return said("{field} {which}", field=name, which=inner[0])
        return said("{field} {which}, {inner}", field=name, which=inner[0], inner=inner[-1])
    return said("{field} {which}", field=name, which=field_said(tuple(rest)))
