"""Asks who is here: a short id, typed whole, or the scan of a badge; and the code, where the plant wants it proven."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import Any

from textual.widget import Widget
from textual.widgets import Input

from tui.keys import Where, bindings_at
from tui.present.people import Named, at_work, found_text, meant, unknown_text
from tui.screens.frame.base import Asker, DeskScreen
from tui.screens.frame.desk import Desk, Here
from tui.screens.frame.pick import PickScreen
from tui.widgets.fields import Field
from upkeep.said import Said, listed, said, term
from upkeep.views.rights import Wish

_BADGE_FROM = 12
"""Letters from which on a text can be the number of a badge, which no short id of people is mistaken for."""


class IdentifyScreen(Asker[Here]):
    """Who are you?  ``meaning`` says what the name will stand for."""

    BINDINGS = bindings_at(Where.ASKED)

    def __init__(self, desk: Desk, question: Said | None = None, meaning: Said | None = None) -> None:
        super().__init__(desk)
        self._question, self._meaning = question or said("Who is here?"), meaning
        self._people: tuple[Named, ...] = ()
        self._field = Field(id="person", longest=32)

    def asks(self) -> Iterable[Widget]:
        """The question, the field, who that is."""
        yield self.rows("question", "-strong")
        yield self._field
        yield self.rows("found", "-loud")

    def on_mount(self) -> None:
        """Shows the question and fetches who there is."""
        self.rows("question").show([self.desk.words(row) for row in (self._question, self._meaning) if row])
        self.do(self._learn)

    async def _learn(self) -> None:
        people = await self.desk.clerk.ask(lambda book: book.people())
        self._people = at_work(people, self.desk.zone.day(self.desk.now()))
        self._show_found(self._field.value)

    def _show_found(self, typed: str) -> None:
        self.rows("found").show([f" {found_text(self._people, typed, self.desk.reader)} "])

    def on_input_changed(self, event: Input.Changed) -> None:
        """Shows who is meant so far."""
        self.say(None)
        self._show_found(event.value)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Takes the person, or says why nobody was found."""
        self.do(partial(self._take, event.value))

    def hear_badge(self, number: str) -> None:
        """Takes whose badge it is."""
        self.do(partial(self._take, number))

    async def _take(self, typed: str) -> None:
        if not self._people:
            await self._learn()  # a scanner may type faster than the book answers
        person = meant(self._people, typed) or await badge_meant(self, typed)
        if person is None:
            self.say(unknown_text(self._people, typed))
        else:
            self.leave(Here(*person))


async def badge_meant(screen: DeskScreen[Any], typed: str) -> Named | None:
    """The account meant by the number of a badge; where its owner has two jobs, the one they pick.  None: it is no
    badge, or nobody's any more; that counts as a try where names are proven."""
    if len(typed.strip()) < _BADGE_FROM:
        return None
    desk, at = screen.desk, screen.desk.now()
    naming = await desk.clerk.ask(lambda book: book.naming)
    accounts = naming.meant(typed, at)
    if not accounts and desk.asks_for_codes:
        waits = naming.wait_entries(naming.unknown(at, desk.station), at)
        if waits:
            await desk.written(*waits)
        return None
    if len(accounts) > 1:
        options = [
            (one.id, said("{name}: {roles}", name=one.name, roles=listed(term(role, "role") for role in one.roles)))
            for one in accounts
        ]
        picked = await screen.asked(PickScreen(desk, said("In which of your jobs are you here?"), options))
        return next(((one.id, one.name) for one in accounts if one.id == picked), None)
    return next(((one.id, one.name) for one in accounts), None)


async def identified(screen: DeskScreen[Any], question: Said | None = None, meaning: Said | None = None) -> Here | None:
    """Who somebody is, asked in front of a screen and proven as the plant wants it; None: nobody says so now."""
    named = await screen.asked(IdentifyScreen(screen.desk, question, meaning))
    return None if named is None else await proven(screen, named, meaning)


async def proven(screen: DeskScreen[Any], named: Here, meaning: Said | None = None) -> Here | None:
    """The same person with their name proven: by a code asked for in front of a screen, unless it was given at this
    desk a moment ago or the plant takes names alone.  None: they went back."""
    known = screen.desk.is_known(named.id)
    if known is not None or not screen.desk.asks_for_codes:
        return known or named
    from tui.screens.who.code import CodeScreen

    return await screen.shown(CodeScreen(screen.desk, named, meaning))


async def person_at(screen: DeskScreen[Any]) -> Here | None:
    """Who is at the desk of a screen; asks in front of it where nobody said so yet.  None: nobody says so now."""
    here = screen.desk.here
    if here is None:
        screen.desk.here = await identified(screen)
    elif screen.desk.is_known(here.id) is None:
        screen.desk.here = await proven(screen, here)
    return screen.desk.here


async def person_for(screen: DeskScreen[Any], wish: Wish) -> Here | None:
    """Who is at the desk of a screen, if they may do something; None: nobody says so now, or it was said on the screen
    why they may not and whom to ask."""
    by = await person_at(screen)
    return by if by is not None and await may(screen, wish, by) else None


async def may(screen: DeskScreen[Any], wish: Wish, by: Here | None) -> bool:
    """Whether somebody may do something, as far as it is known who; if not, it is said on the screen why, and whom to
    ask."""
    at = screen.desk.now()
    why_not = await screen.desk.clerk.ask(lambda book: book.why_not(wish, by.id, at)) if by is not None else None
    if why_not is not None:
        screen.say(why_not)
    return why_not is None


async def nobody_meant(screen: DeskScreen[Any], wish: Wish, signers: Iterable[Named], typed: str) -> Said:
    """Why nobody who was typed may do something: they are no ``signers``, or nobody."""
    at = screen.desk.now()
    people = at_work(await screen.desk.clerk.ask(lambda book: book.people()), screen.desk.zone.day(at))
    named = meant(people, typed)
    why_not = await screen.desk.clerk.ask(lambda book: book.why_not(wish, named[0], at)) if named else None
    return why_not or unknown_text(tuple(signers), typed)
