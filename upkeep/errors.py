"""What can go wrong, said to the person at the press.  The message is made in the class; the exit code stands on it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from upkeep.said import Moment, Numeral, Quoted, Said, either, in_lines, in_turn, said, said_many


class StrokebookError(Exception):
    """A reason why something was not done, in one sentence that says what to do about it.

    ``said`` is that sentence, not yet in a language; ``str()`` of the error is its plain English, for logs and tests.
    """

    exit_code = 1

    def __init__(self, sentence: Said) -> None:
        self.said = sentence
        super().__init__(sentence)

    def __str__(self) -> str:
        return str(self.said)


class Refused(StrokebookError):
    """An entry that the book does not take: it contradicts what is already written or the plant's own rules."""


class NameNotProven(Refused):
    """An entry under a name that nothing proved, in a plant that goes by codes."""


class AlreadySigned(Refused):
    """Somebody else has signed this occurrence first."""

    def __init__(self, line: str, occurrence: str, name: str, when: Moment, entry: int) -> None:
        self.line, self.occurrence, self.name, self.when = line, occurrence, name, when
        super().__init__(
            said(
                "{line} for {occurrence} is already signed: {name}, {when} (#{entry}). If you did the work too, "
                "record it as an extra.",
                line=line,
                occurrence=occurrence,
                name=name,
                when=when,
                entry=Numeral(entry),
            )
        )


class Contradicted(Refused):
    """A count that cannot be true beside one written before, whose number is ``entry``: one of the two is wrong."""

    def __init__(self, sentence: Said, entry: int) -> None:
        self.entry = entry
        super().__init__(sentence)


class PerhapsRolledOver(Contradicted):
    """A count that goes back, as it does where the counter rolled over."""


class PerhapsReset(Contradicted):
    """A count that goes back, as it does where somebody set the counter back to zero."""


class NotFound(StrokebookError):
    """Something was named that the book does not know."""

    def __init__(self, what: Said, key: str, known: Sequence[str] = (), hint: Said | None = None) -> None:
        super().__init__(
            in_turn(
                said("There is no {what} {key} in this book.", what=what, key=Quoted(key)),
                said("Did you mean {known}?", known=either(known)) if known else None,
                hint,
            )
        )


class Unreadable(StrokebookError):
    """Text that cannot be read as what it should be: an entry line, an instant, a rule."""


class Sayable(Protocol):
    """What can be said, like a problem in a definition file."""

    @property
    def said(self) -> Said:
        """The sentence."""


class DefinitionProblems(StrokebookError):
    """Every problem found in the definition files, in one go; nothing was loaded."""

    def __init__(self, problems: Sequence[Sayable]) -> None:
        self.problems = tuple(problems)
        head = said_many(
            "{n} problem in the definition files; nothing was loaded.",
            "{n} problems in the definition files; nothing was loaded.",
            n=len(self.problems),
        )
        super().__init__(in_lines([head, *(said("  {problem}", problem=problem.said) for problem in self.problems)]))


class BookDamaged(StrokebookError):
    """The file does not say what its entries say, or its chain is broken."""


class BookUnavailable(StrokebookError):
    """The file cannot be opened, is busy for too long, or the disk is full."""


class BookNotWritable(BookUnavailable):
    """Nothing can be written to the file or into its folder: no right, no room, or the disk refuses."""


class BookReplaced(StrokebookError):
    """The file of the book was replaced or moved away while a program had it open."""


class NotProven(StrokebookError):
    """The book did not prove clean, and whoever writes has not been told so yet."""


class ClockAhead(StrokebookError):
    """The clock is far ahead of the last entry, and nobody has said yet that it is right."""


class KeptByNewer(StrokebookError):
    """A newer program has made the tables of the book, or brought its entries forward, while this one runs."""
