"""What screens have in common: a place at the desk, work with the book beside the keys, sentences to the person."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine, Iterable
from functools import partial
from typing import Any, ClassVar, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen, Screen
from textual.widget import Widget
from textual.worker import Worker

from tui.keys import Where, foot_at
from tui.messages import BookChanged, NotTaken
from tui.present.words import wrapped
from tui.screens.frame.desk import Desk
from tui.widgets.key_line import KeyLine
from tui.widgets.text_rows import TextRows
from upkeep.errors import Refused, StrokebookError
from upkeep.said import Said, said, said_as, term
from upkeep.scan_codes import ScanCode, Scannable, read_code
from upkeep.views.scanned import Scanned
from upkeep.wording.scanned import not_wanted_said

SMALLEST = (80, 24)
"""Columns and rows the screens are made for."""

_SENTENCE_ROWS = 4

_WAITS_AFTER = 1.0
"""Seconds after which a person is told that what they asked for is on its way."""

_ON_ITS_WAY = said("On its way; the keys you press are kept for it. Esc gives it up.")

Foot = tuple[tuple[Said, Said], ...]
"""The keys at the foot of a screen, each with its word."""

Result = TypeVar("Result")
Answer = TypeVar("Answer")
Work = Callable[[], Coroutine[None, None, None]]
"""Something to do beside the keys."""


class _Gone(Exception):
    """Work came back and the screen it was for is no longer in front: there is nobody left to ask."""


class DeskScreen(Screen[Result]):
    """A screen at a desk.  Work with the book runs beside the keys, and a refusal is shown as its sentence.

    Keys may come faster than a screen goes: one that was left does nothing any more.
    """

    DEFAULT_CSS = "DeskScreen.-small LabelledField .label { width: 26; }"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._saving = self._left = False
        self._opening: Worker[None] | None = None
        self._kept: list[events.Key] = []
        self._key_line: KeyLine | None = None
        self._rows: dict[str, TextRows] = {}

    def rows(self, id_: str, look: str = "") -> TextRows:
        """The rows of text with this id, made when first asked for.

        They are held here and not searched for on the screen: an answer of the book may come when it is closing.
        """
        if id_ not in self._rows:
            self._rows[id_] = TextRows(id=id_, classes=look or None)
        return self._rows[id_]

    def do(self, work: Work, group: str = "work") -> None:
        """Does work with the book; a look under way is given up for a new one (group "view")."""
        if self._left:
            return
        _: Worker[None] = self.run_worker(partial(self._refusals_said, work), exclusive=group == "view", group=group)

    def bring(self, work: Work) -> None:
        """Does work that brings another screen in front.  Keys that come meanwhile are kept for that screen; Esc gives
        it up."""
        if self._left or self._opening is not None:
            return
        self._kept = []
        self._opening = self.run_worker(partial(self._refusals_said, partial(self._brought, work)), group="work")
        self.set_timer(_WAITS_AFTER, partial(self._say_it_waits, self._opening))

    async def _brought(self, work: Work) -> None:
        mine = self._opening
        try:
            await work()
        finally:
            if self._opening is mine:
                self._opening, self._kept = None, []

    def _say_it_waits(self, opening: Worker[None]) -> None:
        if self._opening is opening:
            self.say(_ON_ITS_WAY)

    def keeps(self, key: events.Key) -> bool:
        """Whether a key is kept for the screen that is on its way."""
        if self._opening is None:
            return False
        if key.key != "escape":
            self._kept.append(key)
            return True
        self._opening.cancel()
        self._opening, self._kept = None, []
        self.say(None)
        return True

    def _pass_on_keys(self, to: Screen[Any]) -> None:
        """Gives what was kept to the screen that came, once it is there."""
        kept, self._opening, self._kept = self._kept, None, []
        for key in kept:
            to.call_after_refresh(self.app.post_message, events.Key(key.key, key.character))

    async def _refusals_said(self, work: Work) -> None:
        try:
            await work()
        except StrokebookError as refusal:
            self.say(refusal.said)
        except _Gone:
            return

    def save(self, work: Work) -> None:
        """Does work that writes to the book, one at a time: until it is done a second key writes nothing twice, and
        nobody goes back as if nothing were written."""
        if not self._saving:
            self._saving = True
            self.do(partial(self._saved, work))

    async def _saved(self, work: Work) -> None:
        try:
            await work()
        finally:
            self._saving = False

    # In front of this screen, and back

    async def asked(self, asker: Screen[Answer]) -> Answer:
        """What is answered to a question in front of this screen; the work ends here where another came in front."""
        if not self.is_active:
            raise _Gone
        return await self.shown(asker)

    async def shown(self, screen: Screen[Answer]) -> Answer:
        """What a screen answers, whatever it comes in front of; the work ends here where the program has ended."""
        if not self.app.is_running:
            raise _Gone
        answer: asyncio.Future[Answer] = self.app.push_screen(screen, wait_for_dismiss=True)
        opening = self._opening
        if opening is not None:
            self._pass_on_keys(screen)
        given = await asyncio.shield(answer)
        if opening is not None and given is not None:
            self._opening = opening  # the next screen is on its way: what is typed is not for the one behind
        return given

    # What was scanned, whatever field has the keys

    def hear_scan(self, text: str) -> None:
        """Hears what a scanner typed, or says that it was not read whole."""
        try:
            code = read_code(text)
        except Refused as refusal:
            self.say(refusal.said)
            return
        if code is not None and code.kind is Scannable.BADGE:
            self.hear_badge(code.text)
        elif code is not None:
            self.do(partial(self._hear_thing, code))

    async def _hear_thing(self, code: ScanCode) -> None:
        at = self.desk.now()
        self.take_scanned(await self.desk.clerk.ask(lambda book: book.scanned(code, at)))

    def hear_badge(self, number: str) -> None:
        """Hears that a badge was scanned; a form says that it asks for the name itself."""
        self.say(said("Finish this first, or go back with Esc; then scan your badge."))

    def take_scanned(self, scanned: Scanned) -> None:
        """Takes an item, a gauge, a row or a seal; what nothing here asks for is told."""
        self.say(not_wanted_said(scanned))

    def leave(self, answer: Result | None = None) -> None:
        """Goes back with an answer, once."""
        if self.is_active and not self._left:
            self._left = True
            self.dismiss(answer)

    def action_leave(self) -> None:
        """Goes back without an answer, unless something is being written."""
        if not self._saving:
            self.leave()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        """A key does nothing on a screen that was left."""
        return not self._left

    # The foot

    WHERE: ClassVar[Where]

    def on_resize(self) -> None:
        """Leaves out in a small window what is not the thing itself: all but the first keys of the foot."""
        small = self.app.size.width < SMALLEST[0] or self.app.size.height < SMALLEST[1]
        self.set_class(small, "-small")
        if self._key_line is not None:
            self._key_line.shorten(short=small)

    def keys_now(self) -> Foot:
        """The keys that do something here now, with their words."""
        return foot_at(self.WHERE)

    def key_line(self) -> KeyLine:
        """The foot, which follows what has the keys."""
        self._key_line = KeyLine(self.keys_now(), self.desk.reader)
        return self._key_line

    def show_keys(self) -> None:
        """Names the keys that do something now."""
        if self._key_line is not None:
            self._key_line.show(self.keys_now())

    def on_descendant_focus(self) -> None:
        """Names the keys of what has the keys now."""
        self.show_keys()

    # Sentences

    def on_not_taken(self, message: NotTaken) -> None:
        """Says why a field did not take something."""
        message.stop()
        self.say(message.said)

    def say(self, sentence: Said | None) -> None:
        """Shows a sentence to the person; None clears it."""
        rows = wrapped(self.desk.words(sentence), self._room_for_sentences(), _SENTENCE_ROWS) if sentence else ()
        self.rows("said").show([f" {row}" for row in rows])

    def _room_for_sentences(self) -> int:
        return max(self.size.width - 2, 10)


class BookScreen(DeskScreen[None]):
    """A full screen over the book, shown anew when the book or the minute changes."""

    DEFAULT_CSS = """
    BookScreen { layout: vertical; overflow: hidden; }
    BookScreen #too-small { dock: top; }
    BookScreen #unproven { dock: top; }
    """

    def foot(self) -> ComposeResult:
        """The row of sentences, the keys, and the notice of a small window."""
        yield self.rows("said", "-strong")
        yield self.key_line()
        yield self.rows("too-small", "-loud")
        yield self.rows("unproven", "-loud")

    def is_home(self) -> bool:
        """Whether a station comes back to this screen when it is left alone."""
        return False

    async def view(self) -> None:
        """Asks the book once and shows the answer."""
        raise NotImplementedError

    def look(self) -> None:
        """Shows the book as it is now, and over it that it did not prove clean."""
        finding = self.desk.unproven
        width = max(self.app.size.width - 2, 10)
        rows = wrapped(self.desk.words(finding), width, _SENTENCE_ROWS) if finding is not None else ()
        self.rows("unproven").show([f" {row}" for row in rows])
        for keys in self.query(KeyLine):
            keys.read_by(self.desk.reader)
        self.do(self.view, group="view")

    def on_screen_resume(self) -> None:
        """Looks again on coming to the front."""
        self.look()

    def on_book_changed(self, message: BookChanged) -> None:
        """Looks again when the book or the minute changed."""
        message.stop()
        self.look()

    def on_resize(self) -> None:
        """Lays the texts out anew; says so while the window is smaller than the screens are made for."""
        width, height = self.app.size
        small = width < SMALLEST[0] or height < SMALLEST[1]
        sentence = said(
            "Window {width} x {height}: parts are left out. Best from {least_width} x {least_height} on.",
            width=width,
            height=height,
            least_width=SMALLEST[0],
            least_height=SMALLEST[1],
        )
        self.rows("too-small").show(wrapped(self.desk.words(sentence), max(width, 10)) if small else ())
        self.look()


class Asker(DeskScreen[Result | None], ModalScreen[Result | None]):
    """A box in front of a screen that asks one thing; None is "went back"."""

    DEFAULT_CSS = """
    Asker { align: center middle; background: transparent; &:ansi { background: transparent; } }
    Asker > Vertical { width: 100%; height: auto; max-height: 100%; border: heavy $foreground;
                       background: $background; padding: 0 1; }
    """
    WHERE = Where.ASKED

    def asks(self) -> Iterable[Widget]:
        """What stands in the box."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """The box: what is asked, the sentences, the keys."""
        with Vertical():
            yield from self.asks()
            yield self.rows("said", "-strong")
            yield self.key_line()

    def keys_now(self) -> Foot:
        """The keys named at the foot of the box."""
        return ((term("enter", "key"), said_as("foot", "take")), *foot_at(self.WHERE))

    def _room_for_sentences(self) -> int:
        return max(min(80, self.app.size.width) - 6, 10)
