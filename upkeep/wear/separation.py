"""Where to look first when a height has moved: press, die, wire and terminal, or the gauge.

The slug tells tool and press from wire and terminal, the shut height tells press from tool, a second gauge tells the
gauge.  Common practice of toolrooms, no source; a hint is where to begin, never a finding.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum

from upkeep.frozen import frozen
from upkeep.said import Said, listed, said


class Suspect(StrEnum):
    """What is to be looked at first."""

    PRESS = "press"
    DIE = "die set or module"
    WIRE = "wire, terminal or gauge"
    REEL = "reel of terminals"
    GAUGE = "gauge"


@frozen
class Evidence:
    """What has moved (True) and what has not (False); None or missing: not measured.

    ``slug_on`` is the slug height by press, all with the same set in the same module; ``shut_on`` the shut height by
    press; ``crimp`` the crimp height.  ``by_gauge`` and ``by_reel`` are the crimp height by gauge and by reel of
    terminals.  ``press`` is the one it runs on now.
    """

    press: str | None = None
    slug_on: Mapping[str, bool] = field(default_factory=dict)
    shut_on: Mapping[str, bool] = field(default_factory=dict)
    crimp: bool | None = None
    by_gauge: Mapping[str, bool] = field(default_factory=dict)
    by_reel: Mapping[str, bool] = field(default_factory=dict)


@frozen
class Hint:
    """Where to look first: ``suspect`` (None: not to be told yet), the id it is about, why, and what to measure next
    (None: nothing).  ``shut_height_of`` is the press whose shut height is asked for."""

    suspect: Suspect | None
    about: str | None
    why: Said
    ask: Said | None = None
    shut_height_of: str | None = None


def separated(evidence: Evidence) -> Hint | None:
    """The hint a pattern gives; None: nothing has moved."""
    if evidence.crimp:
        alone = _only_one(evidence.by_gauge)
        if alone is not None:
            return Hint(
                Suspect.GAUGE,
                alone,
                said("only {gauge} shows it; another gauge measured it good", gauge=alone),
                said("the check block"),
            )
    moved = [press for press, is_moved in evidence.slug_on.items() if is_moved]
    if moved:
        return _slug_moved(evidence, evidence.press if evidence.press in moved else moved[-1])
    if not evidence.crimp:
        return None
    if not evidence.slug_on:
        ask = said("a slug: it tells whether tool and press are at fault, or wire and terminal")
        return Hint(None, None, said("the crimp height moved and no slug was crushed"), ask)
    reel = _only_one(evidence.by_reel)
    if reel is not None:
        why = said("the slug is steady and only reel {reel} shows it", reel=reel)
        return Hint(Suspect.REEL, reel, why, said("that lot against the drawing"))
    why = said("the slug is steady and the crimp height moved")
    return Hint(Suspect.WIRE, None, why, said("wire, terminal and gauge"))


def _slug_moved(evidence: Evidence, press: str) -> Hint:
    good = [other for other, is_moved in evidence.slug_on.items() if not is_moved]
    shut = evidence.shut_on.get(press)
    if good and shut is not True:
        why = said(
            "the slug of the same set is good on {presses} but moved on {press}", presses=listed(good), press=press
        )
        if shut is not None:
            why = said("{why}; the shut height of that press measured good, so measure it again", why=why)
        return Hint(Suspect.PRESS, press, why, said("the shut height of {press}", press=press), press)
    if shut is None:
        why = said("the slug moved on {press}, whose shut height has not been measured since", press=press)
        ask = said("the shut height of {press}, before blaming the die", press=press)
        return Hint(None, press, why, ask, press)
    if shut:
        why = said("slug and shut height moved on {press}", press=press)
        return Hint(Suspect.PRESS, press, why, said("the setting of {press}", press=press), press)
    why = said("the slug moved and the shut height of {press} is good", press=press)
    return Hint(Suspect.DIE, None, why, said("punch, anvil and module"))


def _only_one(moved: Mapping[str, bool]) -> str | None:
    """The one that shows it where another one does not; None where there is no such one."""
    shows = [key for key, is_moved in moved.items() if is_moved]
    return shows[0] if len(shows) == 1 and len(moved) > 1 else None
