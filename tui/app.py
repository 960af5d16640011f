"""The screens of Strokebook as a program: one terminal, one book, the clock."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from textual import events
from textual.app import App
from textual.worker import Worker, WorkerFailed

from tui.looks import Look, use
from tui.messages import BookChanged, BookWaits, RoundWanted
from tui.present.people import at_work
from tui.present.scanner import Scanner
from tui.screens.board.board import BoardScreen
from tui.screens.frame.acting import ActingScreen
from tui.screens.frame.base import BookScreen, DeskScreen
from tui.screens.frame.book_door import BookDoor
from tui.screens.frame.desk import Desk, Here
from upkeep.book import Book, Progress
from upkeep.book.clerk import Clerk
from upkeep.errors import BookReplaced, NotFound, Refused, StrokebookError
from upkeep.plant.model import Kind, Role
from upkeep.said import Said, in_turn, listed, said
from upkeep.wording.sentences import ENGLISH

if TYPE_CHECKING:
    from tui.screens.press.round import RoundScreen

_LOOK_EVERY_SECONDS = 1.0

WAITING = said(
    "Another program is rebuilding the tables of the book. Please wait; your last sign-off is "
    "written when it has finished."
)


class StrokebookApp(App[None]):
    """The screens over one book.

    ``clock`` tells the moment the screens stand at, ``recording`` the moment of writing (the same where it is None).
    ``place`` opens the round there instead of the board; ``by`` is the short id of who is here; ``look`` how it looks;
    ``language`` is that of the terminal, for whoever has none of their own.
    """

    TITLE = "Strokebook"
    ENABLE_COMMAND_PALETTE = False

    def __init__(
        self,
        open_book: Callable[[], BookDoor],
        clock: Callable[[], datetime],
        *,
        recording: Callable[[], datetime] | None = None,
        place: str | None = None,
        by: str | None = None,
        look: Look = Look.LIGHT,
        language: str = ENGLISH.language,
    ) -> None:
        plain = look is Look.PLAIN or "NO_COLOR" in os.environ
        super().__init__(ansi_color=True if plain else None)  # the terminal's own two colours
        self.animation_level = "none"
        use(self, Look.LIGHT if look is Look.PLAIN else look)
        self.desk = Desk(Clerk(open_book), clock, recording or clock, language=language)
        self._place, self._by = place, by
        self._scanner: Scanner[events.Key] = Scanner()
        self._seen: tuple[object, datetime] | None = None
        self._no_look = False
        self.failure: BaseException | None = None

    async def on_mount(self) -> None:
        """Opens the book, finds who is here, and shows the first screen."""
        try:
            await self.desk.learn()
            await self._find_place()
            await self._find_person()
        except StrokebookError as refusal:
            self.exit(return_code=refusal.exit_code, message=self.desk.words(refusal.said))
            return
        self.install_screen(BoardScreen(self.desk), "board")
        self.push_screen(await self._first_screen())
        self.set_interval(_LOOK_EVERY_SECONDS, self.look_for_changes)

    async def _find_place(self) -> None:
        """Finds where this terminal stands; a place that is none is refused with those there are."""
        place, at = self._place, self.desk.now()
        if place is None:
            return
        try:
            await self.desk.clerk.ask(lambda book: book.round(place, at))
        except NotFound as unknown:
            places, items = await self.desk.clerk.ask(lambda book: (book.places(), book.items()))
            presses = (item.id for item in items if item.kind is Kind.PRESS)
            known = sorted({*(one.id for one in places), *presses})
            there_are = said("Presses and places here: {places}.", places=listed(known))
            raise Refused(in_turn(unknown.said, there_are)) from None
        self.desk.station = place

    async def _first_screen(self) -> DeskScreen[None] | str:
        """The round of a place, the page of a lead who said so from the start, else the board."""
        if self._place:
            return self._round_at(self._place)
        here = self.desk.here
        if here is None or not await self.desk.clerk.ask(lambda book: Role.LEAD in _roles(book, here.id)):
            return "board"
        return self._home()

    def _home(self) -> DeskScreen[None]:
        from tui.screens.home.home import HomeScreen

        return HomeScreen(self.desk)

    async def _find_person(self) -> None:
        self.desk.touched = self.desk.now()
        if self._by is None:
            return
        people = at_work(await self.desk.clerk.ask(lambda book: book.people()), self.desk.zone.day(self.desk.now()))
        matches = [person for person in people if person[0] == self._by]
        if not matches:
            raise NotFound(said("person"), self._by)
        self.desk.here = Here(*matches[0])

    def on_unmount(self) -> None:
        """Closes the book."""
        self.desk.clerk.close()

    # Changes from outside

    def look_for_changes(self) -> None:
        """Looks whether the book was written to or the minute changed, beside the keys."""
        _: Worker[None] = self.run_worker(self._look_for_changes, exclusive=True, group="changes")

    async def _look_for_changes(self) -> None:
        try:
            await self._tell_changes()
        except StrokebookError as refusal:
            self._no_look = not isinstance(refusal, BookReplaced)  # the next look opens the other one; it stays said
            self._say(refusal.said)
            return
        if self._no_look:
            self._no_look = False
            for screen in self.screen_stack:
                if isinstance(screen, DeskScreen):
                    screen.say(None)  # the book can be read again: what was in its way is said no longer

    async def _tell_changes(self) -> None:
        minute = self.desk.now().replace(second=0, microsecond=0)
        version, self.desk.unproven = await self.desk.clerk.ask(lambda book: (book.version(), book.unproven))
        self._go_home_after_idling()
        seen = ((version, self.desk.unproven), minute)
        if seen != self._seen:
            if self._seen is not None and seen[0] != self._seen[0]:
                await self.desk.learn()
            self._seen = seen
            for screen in self.screen_stack[-1:]:
                screen.post_message(BookChanged())

    def _go_home_after_idling(self) -> None:
        """A station shows its own round again when nobody is there any more; a form that is open stays."""
        screen, station = next(iter(self.screen_stack[-1:]), None), self.desk.station  # none while the screens close
        if station is None or not isinstance(screen, BookScreen) or len(self.screen_stack) > 2:
            return
        if not self.desk.is_left_alone() or screen.is_home():
            return
        self.on_home_wanted()

    def hear(self, progress: Progress) -> None:
        """Hears in the book's thread how far another program has come that the book waits for."""
        if progress.stage == "waiting":
            self.post_message(BookWaits(progress.done == progress.of))

    def on_book_waits(self, message: BookWaits) -> None:
        """Says that the keys are heard and what holds them up."""
        self._say(None if message.over else WAITING)

    def _say(self, sentence: Said | None) -> None:
        """Says it on the screen in front; to nobody where the screens are closing."""
        for screen in self.screen_stack[-1:]:
            if isinstance(screen, DeskScreen):
                screen.say(sentence)

    async def on_event(self, event: events.Event) -> None:
        """Notes that somebody is at the keys; a key that comes when all screens are closed does nothing."""
        if isinstance(event, events.Key):
            if not self.screen_stack:
                return
            if self.desk.asks_for_codes:
                self.desk.forget_after_idling()  # whoever presses the first key after a pause may be somebody else
            self.desk.touched = self.desk.now()
            for pressed in self._scanner.passes_on(event, event.key, event.character):
                if not (isinstance(self.screen, DeskScreen) and self.screen.keeps(pressed)):
                    await super().on_event(pressed)
            if self._scanner.scanned is not None and isinstance(self.screen, DeskScreen):
                self.screen.hear_scan(self._scanner.scanned)
            return
        await super().on_event(event)

    def action_help_quit(self) -> None:
        """Says how to end the screens, for whoever pressed the key that ends other programs."""
        closes = said("Press Ctrl+Q to close the screens.")
        self._say(closes if self.desk.station is None else said("This is a station: a keeper closes it, with Ctrl+Q."))

    async def action_quit(self) -> None:
        """Ends the screens from wherever one is; at a station that begins on its round or the board."""
        if isinstance(self.screen, ActingScreen):
            self.screen.action_quit()
        elif self.desk.station is None:
            self.exit()
        else:
            self._say(said("Go back with Esc first; then a keeper closes the station, with Ctrl+Q."))

    def _handle_exception(self, error: Exception) -> None:
        """Closes the screens over an error that nobody expected, and keeps it for :func:`run` to raise."""
        super()._handle_exception(error)
        self._exit_renderables.clear()
        if self.failure is None:
            self.failure = error.error if isinstance(error, WorkerFailed) else error

    # From screen to screen

    def on_round_wanted(self, message: RoundWanted) -> None:
        """Walks the round of a place, in front of nothing else."""
        self._show_alone(self._round_at(message.place))

    def _round_at(self, place: str) -> RoundScreen:
        from tui.screens.press.round import RoundScreen  # a board comes without it

        return RoundScreen(self.desk, place)

    def on_home_wanted(self) -> None:
        """Goes back to where this terminal stands; one without a place has no other home than where it is."""
        if self.desk.station is not None:
            self._show_alone(self._round_at(self.desk.station))

    def on_board_wanted(self) -> None:
        """Shows the board."""
        self._show_alone("board")

    def on_overview_wanted(self) -> None:
        """Shows the page the lead begins with."""
        self._show_alone(self._home())

    def _show_alone(self, screen: DeskScreen[None] | str) -> None:
        while len(self.screen_stack) > 2:
            self.pop_screen()
        self.switch_screen(screen)


def _roles(book: BookDoor, person: str) -> tuple[str, ...]:
    return next((one.roles for one in book.people() if one.id == person), ())


def run(
    book_path: Path,
    at: datetime | None = None,
    place: str | None = None,
    by: str | None = None,
    look: str = "light",
    language: str = ENGLISH.language,
) -> int:
    """Runs the screens over a book until somebody ends them; the exit code.

    ``at`` is a moment to start from instead of now: the clock of the screens runs on from there, while what is
    written still carries the true moment of writing.  Raises BookUnavailable or BookDamaged before any screen shows,
    and whatever unexpected error closed them.
    """
    Book.open(book_path).close()
    started = datetime.now(UTC)

    def now() -> datetime:
        return datetime.now(UTC).replace(microsecond=0)

    def shown() -> datetime:
        return now() if at is None else (at + (datetime.now(UTC) - started)).replace(microsecond=0)

    def open_book() -> Book:
        return Book.open(book_path, app.hear)

    app = StrokebookApp(
        open_book, shown, recording=now, place=place, by=by, look=Look(look), language=language
    )  # fmt: skip
    app.run()
    if app.failure is not None:
        raise app.failure
    return app.return_code or 0
