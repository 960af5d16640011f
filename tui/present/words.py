"""Texts that share a row, give way to one another, or stop after some rows."""

from __future__ import annotations

from collections.abc import Sequence

from upkeep.said import Said
from upkeep.wording import text as wording
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import fit, visible, width_of


def first_that_fits(forms: tuple[str, ...], cells: int) -> str:
    """The first of several forms of the same text, longest first, that fits; the last one where none does."""
    return next((form for form in forms if width_of(form) <= cells), forms[-1])


def first_said_that_fits(forms: Sequence[Said], cells: int, reader: Reader) -> str:
    """The same of sentences, in the words of a reader."""
    return first_that_fits(tuple(text(form, reader) for form in forms), cells)


def between(left: str, right: str, cells: int) -> str:
    """Two texts at the two ends of a row; the left one gives way."""
    right = visible(right)
    room = cells - width_of(right) - 1
    return fit(f"{fit(left, max(room, 0))} {right}", cells)


def wrapped(shown: str, cells: int, most: int | None = None) -> tuple[str, ...]:
    """The text made visible, in rows of at most so many cells; ``most`` rows, the last one cut (None: all)."""
    rows = wording.wrapped(visible(shown), cells)
    if most is not None and len(rows) > most:
        rows = [*rows[: most - 1], " ".join(rows[most - 1 :])]
    return tuple(fit(row, cells).rstrip() for row in rows)
