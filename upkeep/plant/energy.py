"""Energy control before hands go in: one sentence for each kind, the same words wherever they are read.

Unplugging alone will do only while the plug stays under the control of whoever has hands in the press (United States:
29 CFR 1910.147 leaves out cord-and-plug equipment under that condition; other countries differ, so local law decides).
Nothing here says how to work around a guard.
"""

from __future__ import annotations

from collections.abc import Mapping

from upkeep.plant.model import Energy
from upkeep.said import Said, in_turn, said

CONTROL: Mapping[str, Said] = {
    Energy.UNPLUG: said("Unplug the press, keep the plug in reach and sight, and bleed any air before hands go in."),
    Energy.LOCK: said("Lock the press off, bleed the air and try to start it before hands go in."),
    Energy.LOOK: said("Look only: hands stay out of the point of operation, guard in place."),
}
"""What each kind of energy control asks, before anything else."""

LOCAL_LAW = said("Local law and your plant's own procedure decide.")
"""Stands under every caution."""


def caution_said(energy: str, further: str = "") -> Said:
    """The energy control a task asks for, what else it cautions of, and who decides.

    A kind that is not known here, from a later definition file, is taken as the strictest.
    """
    own = said("{further}", further=further) if further else None
    return in_turn(control_said(energy), own, None if further.endswith(LOCAL_LAW.template) else LOCAL_LAW)


def control_said(energy: str) -> Said:
    """The energy control of a kind alone; one that is not known here is taken as the strictest."""
    return CONTROL.get(energy, CONTROL[Energy.LOCK])
