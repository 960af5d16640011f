"""What went wrong while nobody was looking, as a sentence for the log."""

from __future__ import annotations

from upkeep.errors import StrokebookError


def sentence(error: Exception) -> str:
    """What went wrong, and with which file."""
    if isinstance(error, StrokebookError):
        return str(error)
    if isinstance(error, OSError) and error.filename:
        return f"{error.filename} cannot be read or written: {error.strerror}."
    return f"{type(error).__name__}: {error}."


def is_unexpected(error: Exception) -> bool:
    """Whether the error is a fault of the program, whose traceback somebody will need."""
    return not isinstance(error, StrokebookError | OSError)
