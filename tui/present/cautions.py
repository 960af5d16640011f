"""Energy control before hands go in, in words.  The tool never says how to work around a guard."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from upkeep.plant.model import Energy

CONTROL: Mapping[str, str] = {
    Energy.UNPLUG: "Unplug. Keep the plug in your hand.",
    Energy.LOCK: "Lock off the energy and bleed the air.",
    Energy.LOOK: "Look only. Hands stay out.",
}
"""What each kind of energy control asks, before anything else."""

WHO_DECIDES = "Local law and your plant's own procedure decide."
"""Stands under every caution."""

_STRICTEST_FIRST = (Energy.LOCK, Energy.UNPLUG, Energy.LOOK)


def caution_text(energy: str) -> str:
    """The energy control a task asks for, in short, and who decides; the sign-off form says it in full."""
    return f"{CONTROL.get(energy, CONTROL[Energy.LOCK])} {WHO_DECIDES}"


def strictest(energies: Iterable[str]) -> str | None:
    """The strictest energy control among several tasks; None for no task."""
    found = set(energies)
    return next((energy for energy in _STRICTEST_FIRST if energy in found), None)
