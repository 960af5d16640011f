"""What can go wrong, said to the person at the press.  The message is made in the class; the exit code stands on it."""

from __future__ import annotations

from collections.abc import Sequence


class StrokebookError(Exception):
    """A reason why something was not done, in one sentence that says what to do about it."""

    exit_code = 1


class Refused(StrokebookError):
    """An entry that the book does not take: it contradicts what is already written or the plant's own rules."""


class AlreadySigned(Refused):
    """Somebody else has signed this occurrence first."""

    def __init__(self, line: str, occurrence: str, name: str, when: str) -> None:
        self.line, self.occurrence, self.name, self.when = line, occurrence, name, when
        super().__init__(
            f"{line} for {occurrence} is already signed: {name}, {when}. "
            "If you did the work as well, record it as an extra."
        )


class NotFound(StrokebookError):
    """Something was named that the book does not know."""

    def __init__(self, what: str, key: str, known: Sequence[str] = (), hint: str = "") -> None:
        close = f" Did you mean {' or '.join(known)}?" if known else ""
        super().__init__(f"There is no {what} {key!r} in this book.{close}{' ' + hint if hint else ''}")


class Unreadable(StrokebookError):
    """Text that cannot be read as what it should be: an entry line, an instant, a rule."""


class DefinitionProblems(StrokebookError):
    """Every problem found in the definition files, in one go; nothing was loaded."""

    def __init__(self, problems: Sequence[object]) -> None:
        self.problems = tuple(problems)
        listed = "\n".join(f"  {problem}" for problem in self.problems)
        noun = "problem" if len(self.problems) == 1 else "problems"
        super().__init__(f"{len(self.problems)} {noun} in the definition files; nothing was loaded.\n{listed}")


class BookDamaged(StrokebookError):
    """The file does not say what its entries say, or its chain is broken."""


class BookUnavailable(StrokebookError):
    """The file cannot be opened, is busy for too long, or the disk is full."""


class KeptByNewer(StrokebookError):
    """A newer program has made the tables of the book, or brought its entries forward, while this one runs."""
