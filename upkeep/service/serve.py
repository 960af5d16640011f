"""Keeping a book by itself: a scheduler with a job for each thing that has to happen when nobody is looking.

One worker runs the jobs one after another, each with the book opened for itself.  A job that could not do its work, for
whatever reason, says why in one sentence and tries again an hour later; the service itself goes on.
"""

from __future__ import annotations

import logging
import os
import signal
import socket
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from upkeep.book import Book
from upkeep.due.states import State
from upkeep.said import Said, said
from upkeep.service import changes, lists, seals
from upkeep.service.backups import Backups
from upkeep.service.drops import DropFolder, Left
from upkeep.service.ending import Ending, GivenUp
from upkeep.service.failures import is_unexpected, sentence, words
from upkeep.service.moments import MONDAY, NIGHT, last_monday, last_night
from upkeep.service.opening import opened
from upkeep.store.disk.place import BESIDE, UNPROVEN, open_to_all
from upkeep.store.disk.serving import kept_by
from upkeep.units.quantities import grouped
from upkeep.units.weeks import iso_week

Clock = Callable[[], datetime]
Job = Callable[[], None]

LOOK_AGAIN = timedelta(minutes=1)
"""How long to wait for the next change at most: an entry written meanwhile may have brought it forward."""

LOOK_SOON = timedelta(seconds=5)
"""How long to wait for a dropped file to settle, before the look of the next minute."""

_AT_ONCE_SECONDS = 5.0
"""How long dropped files are taken at once, before the jobs that are bound to a time get their turn."""

TRY_AGAIN = timedelta(hours=1)

_HEED_SECONDS = 0.5
"""How often the waiting thread comes up, so that signals reach it on every system."""

_LATE = (State.STOP, State.OVERDUE)

log = logging.getLogger(__name__)


def now() -> datetime:
    """This moment, in whole seconds of UTC."""
    return datetime.now(UTC).replace(microsecond=0)


class Service:
    """The jobs around one book; each may be called at any time and does what is missing then."""

    def __init__(
        self,
        book_path: Path,
        *,
        lists: Path,
        backups: Path,
        keep: int = 14,
        drop: DropFolder | None = None,
        clock: Clock = now,
    ) -> None:
        self._book_path, self._lists, self._drop, self._clock = book_path, lists, drop, clock
        self._backups = Backups(backups, book_path, keep)
        self._ending = Ending(threading.Event())
        self._zone = ""
        self._looked: datetime | None = None
        self._said = ""
        self._finding: Said | None = None
        self._scheduler: Any = None
        self._planning = threading.Lock()

    # Running

    def run(self, stop: threading.Event) -> None:
        """Keeps the book until ``stop`` is set, and returns when the job then running has ended or was given up."""
        from apscheduler.executors.pool import ThreadPoolExecutor
        from apscheduler.schedulers.background import BackgroundScheduler

        self._ending = Ending(stop)
        self._scheduler = BackgroundScheduler(
            timezone=UTC,
            executors={"default": ThreadPoolExecutor(1)},
            job_defaults={"misfire_grace_time": None, "coalesce": True},
        )
        self._plan(self.look, "at the start")
        if self._drop is not None:
            self._schedule(self.take_dropped, "each minute", "interval", minutes=1)
        self._scheduler.start()
        try:
            while not stop.wait(_HEED_SECONDS):
                pass
        finally:
            with self._planning:  # from here on nobody plans any more
                self._scheduler.remove_all_jobs()  # one whose turn comes while the scheduler ends would break it
            self._scheduler.shutdown(wait=True)

    def _plan(self, job: Job, name: str, at: datetime | None = None) -> None:
        """Has a job run once, at a moment or now; a run planned before under this name is replaced."""
        self._schedule(job, name, "date", run_date=at)

    def _schedule(self, job: Job, name: str, trigger: Any, **when: Any) -> None:
        with self._planning:
            if self._scheduler is not None and not self._ending.is_asked():
                self._scheduler.add_job(
                    self._unless_stopped, trigger, [job], id=f"{job.__name__} {name}", replace_existing=True, **when
                )

    def _unless_stopped(self, job: Job) -> None:
        if not self._ending.is_asked():
            job()

    def _plan_by_the_wall(self, zone: str) -> None:
        """Has the list and the backup made at their times in the plant's zone, and now what was missed."""
        if zone == self._zone:
            return
        self._zone = zone
        nightly = ((self.seal, night_trigger), (self.back_up, night_trigger))
        for job, trigger in ((self.write_list, monday_trigger), *nightly):
            self._schedule(job, "by the wall", trigger(zone))
            self._plan(job, "missed")
        if self._drop is not None:  # after what is bound to a time
            self._plan(self.take_dropped, "at the start")

    def tell_open_files(self) -> None:
        """Tells which files of the book, and which backups, everybody on this machine may read or change."""
        beside = (Path(f"{self._book_path}{ending}") for ending in ("", *BESIDE, UNPROVEN))
        for file in open_to_all([*beside, *(path for _, path in self._backups.good())]):
            log.warning(
                "%s",
                words(
                    said(
                        "{file} can be read or changed by everybody on this machine. Make it private: chmod o= {file}",
                        file=file,
                    )
                ),
            )

    # The jobs

    def look(self) -> None:
        """Tells what changed by itself since the last look, and plans the next one."""
        at = self._clock()
        again = at + LOOK_AGAIN
        try:
            with opened(self._book_path, self._ending.heed) as book:
                self._tell(book, at)
                self._plan_by_the_wall(book.zone.name)
                again = changes.next_moment(book, at, again)
            self._said = ""
        except GivenUp:
            log.info("The look at the board was given up.")
        except Exception as error:
            if sentence(error) != self._said:
                log.error("%s", sentence(error), exc_info=is_unexpected(error))
            self._said = sentence(error)
        finally:
            self._plan(self.look, "next", again)

    def _tell_finding(self, book: Book) -> None:
        """Tells once that the book did not prove clean, whoever found it."""
        if book.unproven is not None and book.unproven != self._finding:
            log.error("%s", words(book.unproven))
        self._finding = book.unproven

    def _tell(self, book: Book, at: datetime) -> None:
        if self._looked is None:
            log.info("%s", changes.board_sentence(book, at))
        book.keep_seal(at)
        self._tell_finding(book)
        after = min(self._looked or at, at)
        for change in changes.shift_sentences(book, after, at):
            log.info("%s", change)
        for state, change in changes.line_sentences(book, after, at):
            log.log(logging.WARNING if state in _LATE else logging.INFO, "%s", change)
            self._ending.heed()
        self._looked = at

    def take_dropped(self) -> None:
        """Takes what other programs dropped, for some seconds at once, so that what is bound to a time comes between;
        looks again soon where something is still being written."""
        if self._drop is None:
            return
        at, until = self._clock(), time.monotonic() + _AT_ONCE_SECONDS
        try:
            left = self._drop.look(
                self._clock, lambda: self._ending.is_asked() or time.monotonic() >= until, self._ending.heed
            )
        except GivenUp:
            log.info("A dropped file was given up half way; it is taken in at the next start.")
            return
        if left is not Left.NOTHING:
            self._plan(self.take_dropped, "soon", at if left is Left.MORE else at + LOOK_SOON)

    def write_list(self) -> None:
        """Writes the list of this week once its Monday's moment has come, unless it is there."""
        self._attempt(self.write_list, "The weekly list", self._write_list)

    def _write_list(self, book: Book, at: datetime) -> None:
        week = iso_week(book.zone.day(last_monday(at, book.zone)))
        if week == iso_week(book.zone.day(at)) and not lists.is_written(self._lists, week):
            for missed in lists.weeks_without(self._lists, week):
                log.warning("The list of week %s was never made: nobody kept the book in that week.", missed)
            written = lists.write_list(book, self._lists, week, at, self._ending.heed)
            log.info("The list of week %s is in %s.", week, " and ".join(map(str, written)))

    def seal(self) -> None:
        """Compares the book with the seals known outside it, and adds one there."""
        self._attempt(self.seal, "The comparison of seals", seals.compare_outside)

    def back_up(self) -> None:
        """Makes a backup, unless there is a good one since the time it was last wanted."""
        self._attempt(self.back_up, "The backup", self._back_up)

    def _back_up(self, book: Book, at: datetime) -> None:
        night = last_night(at, book.zone)
        if not any(night <= moment <= at for moment, _ in self._backups.good()):
            path, entries = self._backups.make(book, at, self._ending.heed)
            log.info("Backed up to %s and proven: %s entries.", path, grouped(entries))
            for trouble in book.picture_troubles():
                log.warning("%s", words(trouble))

    def _attempt(self, job: Job, what: str, work: Callable[[Book, datetime], None]) -> None:
        """Does the work of a job; what stands in its way is told, and the job planned again."""
        at = self._clock()
        try:
            with opened(self._book_path, self._ending.heed) as book:
                work(book, at)
        except GivenUp:
            log.info("%s was given up; it is made at the next start.", what)
        except Exception as error:
            message = "%s could not be made. %s Trying again in an hour."
            log.error(message, what, sentence(error), exc_info=is_unexpected(error))
            self._plan(job, "again", at + TRY_AGAIN)


def monday_trigger(zone: str) -> Any:
    """Monday's moment, in a time zone, for the scheduler."""
    from apscheduler.triggers.cron import CronTrigger

    return CronTrigger(day_of_week="mon", hour=MONDAY.hour, minute=MONDAY.minute, timezone=zone)


def night_trigger(zone: str) -> Any:
    """Each night's moment, in a time zone, for the scheduler.  It comes twice in the autumn night."""
    from apscheduler.triggers.cron import CronTrigger

    return CronTrigger(hour=NIGHT.hour, minute=NIGHT.minute, timezone=zone)


def serve(
    book_path: Path,
    *,
    lists: Path,
    backups: Path,
    keep: int = 14,
    drop: DropFolder | None = None,
    stop: threading.Event | None = None,
    clock: Clock = now,
    beside: AbstractContextManager[object] | None = None,
) -> None:
    """Keeps a book until SIGTERM, SIGINT (Ctrl-C) or ``stop``; then ends the running job and returns.

    ``drop`` is the folder from which files are taken into it; None: no files are.  ``beside`` is what else runs as long
    as the book is kept; None: nothing does.  Tells on stderr what it does.
    Raises :class:`Refused` where no backup is to be kept, :class:`BookUnavailable` where another one keeps the book.
    """
    _log_to_stderr()
    service = Service(book_path, lists=lists, backups=backups, keep=keep, drop=drop, clock=clock)
    since = f"{clock():%Y-%m-%d %H:%M} UTC"
    who = f"process {os.getpid()} on {socket.gethostname()} since {since}"
    with kept_by(book_path, who), _asked_to_stop(stop or threading.Event()) as ending:
        log.info("Keeping %s. Lists go to %s, backups to %s.", book_path, lists, backups)
        service.tell_open_files()
        with beside or nullcontext():
            service.run(ending)
    log.info("Stopped.")


@contextmanager
def _asked_to_stop(stop: threading.Event) -> Iterator[threading.Event]:
    """The event, also set by SIGTERM and SIGINT; these are taken only in the main thread, as Python has it."""
    if threading.current_thread() is not threading.main_thread():
        yield stop
        return

    def ask(number: int, frame: object) -> None:
        # The main thread, which runs this, may just be holding the lock of the event it waits for.
        threading.Thread(target=stop.set).start()

    before = {number: signal.signal(number, ask) for number in (signal.SIGTERM, signal.SIGINT)}
    try:
        yield stop
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _log_to_stderr() -> None:
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s", "%Y-%m-%d %H:%M:%S %z"))
    root = logging.getLogger()
    if not root.handlers:
        root.addHandler(handler)
    for ours in ("upkeep.service", "upkeep.station"):
        logging.getLogger(ours).setLevel(logging.INFO)
    logging.getLogger("apscheduler").setLevel(logging.ERROR)
