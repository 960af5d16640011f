"""A page with names on it ends with how far they can be relied on."""

from __future__ import annotations

from upkeep.wording.naming import names_said
from upkeep.wording.sentences import Reader, lines


def with_names(page: str, signed_with: str, reader: Reader) -> str:
    """The page, and below it whether the names in this plant are given or proven."""
    return "\n".join([page.rstrip("\n"), "", *lines(names_said(signed_with), reader)]) + "\n"
