"""What went wrong while nobody was looking, as a sentence for the log."""

from __future__ import annotations

from upkeep.errors import StrokebookError
from upkeep.said import Said, said
from upkeep.wording.sentences import Reader, text

READER = Reader()
"""Who reads the log: English, each moment in the zone of the plant."""


def words(sentence: Said) -> str:
    """A sentence in the words of the log."""
    return text(sentence, READER)


def sentence(error: Exception) -> str:
    """What went wrong, and with which file."""
    if isinstance(error, StrokebookError):
        return words(error.said)
    if isinstance(error, OSError) and error.filename:
        return words(
            said("{file} cannot be read or written: {why}.", file=str(error.filename), why=str(error.strerror))
        )
    return f"{type(error).__name__}: {str(error).rstrip('.')}."


def is_unexpected(error: Exception) -> bool:
    """Whether the error is a fault of the program, whose traceback somebody will need."""
    return not isinstance(error, StrokebookError | OSError)
