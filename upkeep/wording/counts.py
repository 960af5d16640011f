"""Counts as somebody typed them, in words."""

from __future__ import annotations

from upkeep.said import Quoted, Said, said


def no_count_said(typed: str) -> Said:
    """Why a typed text is no count."""
    if not typed.strip():
        return said("Type the figures of the counter, like 1204300.")
    return said("{typed} is not a count. Type the figures of the counter, like 1204300.", typed=Quoted(typed.strip()))
