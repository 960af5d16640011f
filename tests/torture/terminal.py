"""A terminal at a press, as a process of its own: ``python -m tests.torture.terminal ACT BOOK ...``.

It writes into a book and prints one JSON line for each thing that has happened, after it has happened: a line about a
write comes only once the book has confirmed it, so what was printed must still be there whatever happens afterwards.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from upkeep.book import BoardQuery, Book, Progress
from upkeep.due.states import CALLING
from upkeep.entries.counting import Count
from upkeep.entries.entry import Entry
from upkeep.entries.faults import Fault
from upkeep.entries.occurrences import EXTRA
from upkeep.entries.signing import Sign
from upkeep.errors import AlreadySigned, BookUnavailable
from upkeep.said import said
from upkeep.store import schema
from upkeep.store.file import BookFile

MINUTE = timedelta(minutes=1)


def say(**facts: Any) -> None:
    """One line for whoever watches, out of this process before anything else is done."""
    print(json.dumps(facts), flush=True)


def sign_when_told(book: Book, by: str, at: str) -> None:
    """Signs each line it is told on stdin (``moment line occurrence``), no sooner than that reading of the clock."""
    say(ready=True)
    for told in sys.stdin:
        moment, line, occurrence = told.split()
        item, task = line.split("/")
        signed = Sign(at=_moment(at), by=by, task=task, item=item, occurrence=occurrence)
        while time.monotonic() < float(moment):
            pass  # two terminals start within microseconds of one another only when neither of them sleeps
        try:
            say(entry=book.write([signed], signed.at).entries[0])
        except AlreadySigned as already:
            say(name=already.name, when=str(said("{when}", when=already.when)), sentence=str(already))


def keep_signing(book: Book, by: str) -> None:
    """Signs whatever the board calls for, day after day, each sign-off together with a fault; never ends by itself."""
    at = book.last_moment() or _moment("2026-03-02T06:00:00Z")
    calling = BoardQuery(states=frozenset(CALLING))
    while True:
        at += MINUTE
        rows = book.board(at, calling, limit=1).rows
        if not rows:
            at = book.next_change(at) or at
            continue
        line = rows[0]
        signed = Sign(at=at, by=by, task=line.task, item=line.item, occurrence=line.occurrence)
        found = Fault(at=at, by=by, item=line.item, symptom=f"seen at {line.occurrence}")
        numbers = book.write([signed, found], at).entries
        say(entries=numbers, line=line.line, occurrence=line.occurrence)


def write_many(book: Book, by: str, press: str, number: str) -> None:
    """Writes a number of entries, each in a transaction of its own: readings of one press, faults and extra work."""
    at = _moment("2026-03-02T06:00:00Z")
    for n in range(int(number)):
        at += MINUTE
        kinds: tuple[Entry, ...] = (
            Count(at=at, by=by, press=press, value=1000 + 20 * n),
            Fault(at=at, by=by, item=press, symptom=f"{by} {n}"),
            Sign(at=at, by=by, task="look", item="M-12", occurrence=EXTRA, remark=f"{by} {n}"),
        )
        say(entry=book.write([kinds[n % 3]], at).entries[0], n=n)


def write_until_refused(book: Book, by: str, largest: str) -> None:
    """Writes faults until the book cannot take more; ``largest`` is the most bytes a file may have, 0 for no limit."""
    if largest != "0":
        import resource  # Unix only, as is the limit

        resource.setrlimit(resource.RLIMIT_FSIZE, (int(largest), int(largest)))
    at = _moment("2026-03-02T06:00:00Z")
    for n in range(10_000):
        at += MINUTE
        try:
            number = book.write([Fault(at=at, by=by, item="M-12", symptom=f"{n} " + "x" * 400)], at).entries[0]
        except BookUnavailable as refused:
            say(sentence=str(refused))
            return
        say(entry=number, n=n)


def hold_the_pen(path: Path, seconds: str) -> None:
    """Keeps the right to write for a while, as somebody with a very long write does."""
    file = BookFile.open(path)
    with file.writing():
        say(holding=True)
        time.sleep(float(seconds))
        say(letting_go_at=time.monotonic())
    file.close()


def make_again(path: Path, number: str) -> None:
    """Opens a book as a program does whose tables carry a number, and stops in the middle until told to go on."""
    schema.TABLES = int(number)

    def stop_in_the_middle(progress: Progress) -> None:
        say(stage=progress.stage)
        if (progress.stage, progress.done) == ("filling", 0):
            sys.stdin.readline()

    with Book.open(path, stop_in_the_middle) as book:
        if not book.tables_made_again:
            book.refill()
        say(made=number, at=time.monotonic())


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


ACTS: dict[str, Callable[..., None]] = {
    act.__name__: act for act in (sign_when_told, keep_signing, write_many, write_until_refused)
}

if __name__ == "__main__":
    wanted, book_path, *words = sys.argv[1:]
    if wanted in (hold_the_pen.__name__, make_again.__name__):
        globals()[wanted](Path(book_path), *words)
    else:
        with Book.open(Path(book_path)) as opened:
            ACTS[wanted](opened, *words)
