"""Values of definitions as people read them."""

from __future__ import annotations

from upkeep.plant.model import Energy, Kind, Role
from upkeep.said import Figure, Numeral, Said, Value, listed, said, said_as, term
from upkeep.units.quantities import in_strokes
from upkeep.wording.occurrences import every_said, rule_said

_STROKES = ("strokes", "life", "late_strokes", "used_from", "watch_strokes", "repeat_strokes", "max_rate")
_LISTS: dict[str, str] = {"by": "role", "roles": "role", "second_signature": "role", "applies_to": "kind",
                          "kind": "kind", "part": "kind", "energy": "energy"}  # fmt: skip
_NONE = said_as("value", "none")


def value_said(field: str, value: object) -> Said:
    """A value of a field: numbers with their unit where the field has one, words of the program in the reader's
    language, lists one beside the other."""
    if value is None or value in ([], {}, ""):
        return _NONE
    if isinstance(value, bool):
        return said_as("value", "yes") if value else said_as("value", "no")
    if isinstance(value, int) and field in _STROKES:
        return in_strokes(value)
    if isinstance(value, int | float):
        return said("{value}", value=Numeral(value) if isinstance(value, int) and value > 999 else Figure(value))
    if isinstance(value, list):
        return said("{values}", values=listed(value_said(field, one) for one in value))
    if isinstance(value, dict):
        return said("{values}", values=listed(_pair(str(key), one) for key, one in value.items()))
    return _word(field, str(value))


def _pair(key: str, value: object) -> Said:
    return said("{name} {value}", name=key.replace("_", " "), value=value_said(key, value))


def _word(field: str, word: str) -> Said:
    if field == "every":
        return every_said(word)
    if field == "rule":
        return rule_said(word)
    return said("{word}", word=_term(_LISTS.get(field), word))


def _term(context: str | None, word: str) -> Value:
    if context == "role" and word in list(Role):
        return term(word, "role")
    if context == "kind" and word in list(Kind):
        return term(word, "kind")
    return term(word, "energy") if context == "energy" and word in list(Energy) else word
