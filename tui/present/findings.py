"""What may be found: the symptoms of the list, each with its number, or words of one's own."""

from __future__ import annotations

from upkeep.quality.symptoms import FIRST, Symptom, picked, symptoms
from upkeep.said import term
from upkeep.wording.sentences import Reader, text
from upkeep.wording.text import padded

_WIDTH = 38
"""Two columns of the box where something found is written."""


def first_rows(reader: Reader) -> tuple[str, ...]:
    """The most frequent symptoms with their numbers, one a row."""
    by_id = {symptom.id: symptom for symptom in symptoms()}
    return tuple(f"{by_id[key].number:>2} {text(term(by_id[key].title), reader)}" for key in FIRST if key in by_id)


def finding_rows(reader: Reader) -> tuple[str, ...]:
    """All symptoms with their numbers, in two columns that are read downwards."""
    cells = [f"{symptom.number:>2} {text(term(symptom.title), reader)}" for symptom in symptoms()]
    half = (len(cells) + 1) // 2
    right = [*cells[half:], *[""] * (2 * half - len(cells))]
    return tuple(f"{padded(cell, _WIDTH)}{other}".rstrip() for cell, other in zip(cells, right, strict=False))


def finding_typed(typed: str) -> tuple[Symptom | None, str] | None:
    """The symptom a person meant and the words to keep: ``9``, ``9 left side``, or words alone (then no symptom).

    None: nothing was typed, or a number that the list does not have.
    """
    number, _, words = typed.strip().partition(" ")
    if not number.isdigit():
        return (None, typed.strip()) if number else None
    seen = picked(number)
    return None if seen is None else (seen, ": ".join(filter(None, (seen.title, words.strip()))))
