"""Texts that share a row, give way to one another, or stop after some rows."""

from __future__ import annotations

from upkeep.wording import text as wording
from upkeep.wording.text import fit, visible, width_of


def first_that_fits(forms: tuple[str, ...], cells: int) -> str:
    """The first of several forms of the same text, longest first, that fits; the last one where none does."""
    return next((form for form in forms if width_of(form) <= cells), forms[-1])


def between(left: str, right: str, cells: int) -> str:
    """Two texts at the two ends of a row; the left one gives way."""
    right = visible(right)
    room = cells - width_of(right) - 1
    return fit(f"{fit(left, max(room, 0))} {right}", cells)


def wrapped(text: str, cells: int, most: int | None = None) -> tuple[str, ...]:
    """The text made visible, in rows of at most so many cells; ``most`` rows, the last one cut (None: all)."""
    rows = wording.wrapped(visible(text), cells)
    if most is not None and len(rows) > most:
        rows = [*rows[: most - 1], " ".join(rows[most - 1 :])]
    return tuple(fit(row, cells).rstrip() for row in rows)


def listed(words: tuple[str, ...]) -> str:
    """Words as a list in a sentence: "a, b and c"; "" for none."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
