"""Text that fits its cells.  Text from people is shown as it is; what a terminal would act on is made visible."""

from __future__ import annotations

import unicodedata

CUT = "…"
"""Stands where a text was cut to fit."""

_UNSHOWABLE = "\N{REPLACEMENT CHARACTER}"


def plain(text: str) -> str:
    """A text on one line, every control, format and direction character replaced so that no terminal acts on it."""
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else " " if char.isspace() else _UNSHOWABLE for char in text)


def cell_width(text: str) -> int:
    """How many cells a text takes: wide letters two, combining marks none."""
    if text.isascii():
        return len(text)
    return sum(_width(char) for char in text)


def _width(char: str) -> int:
    if unicodedata.combining(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def fit(text: str, width: int) -> str:
    """The text in exactly ``width`` cells: cut with an ellipsis, or filled up with blanks."""
    text = plain(text)
    missing = width - cell_width(text)
    return text + " " * missing if missing >= 0 else _cut(text, width)


def _cut(text: str, width: int) -> str:
    kept, used = [], 0
    for char in text:
        if used + _width(char) > width - 1:
            break
        kept.append(char)
        used += _width(char)
    return "".join(kept) + (CUT if width > 0 else "") + " " * (width - used - 1)


def first_that_fits(forms: tuple[str, ...], width: int) -> str:
    """The first of several forms of the same text, longest first, that fits; the last one where none does."""
    return next((form for form in forms if cell_width(form) <= width), forms[-1])


def between(left: str, right: str, width: int) -> str:
    """Two texts at the two ends of a row; the left one gives way."""
    right = plain(right)
    room = width - cell_width(right) - 1
    return fit(f"{fit(left, max(room, 0))} {right}", width)


def wrapped(text: str, width: int, most: int | None = None) -> tuple[str, ...]:
    """The text broken at blanks into rows of at most ``width`` cells; ``most`` rows, the last one cut (None: all).

    Blanks within a row stay as they are, so that columns made with them stay columns.
    """
    rows = [""]
    for word in plain(text).split(" "):
        longer = f"{rows[-1]} {word}" if rows[-1] else word
        if cell_width(longer) <= width or not rows[-1]:
            rows[-1] = longer
        else:
            rows.append(word)
    if most is not None and len(rows) > most:
        rows = [*rows[: most - 1], " ".join(rows[most - 1 :])]
    return tuple(fit(row, width).rstrip() for row in rows)


def listed(words: tuple[str, ...]) -> str:
    """Words as a list in a sentence: "a, b and c"; "" for none."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))
