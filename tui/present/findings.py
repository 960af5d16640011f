"""The eight words for what may be found at a press."""

from __future__ import annotations

FINDINGS = (
    "dirt or debris",
    "loose or missing part",
    "worn or broken part",
    "not feeding",
    "bad crimp",
    "leak or low air",
    "noise or heat",
    "guard or stop not right",
)
"""Picked with the keys 1 to 8."""


def symptom_text(number: int, remark: str) -> str:
    """The finding as it is written into the book: the word, and the line of text where there is one."""
    word = FINDINGS[number - 1]
    return f"{word}: {remark.strip()}" if remark.strip() else word


def finding_rows(picked: int | None) -> tuple[str, ...]:
    """The words with their numbers, two in a row; the picked one is marked with an arrow."""
    cells = [
        f"{'->' if number == picked else '  '} {number}  {word:<26}" for number, word in enumerate(FINDINGS, start=1)
    ]
    return tuple(f"{cells[row]}{cells[row + 4]}".rstrip() for row in range(4))
