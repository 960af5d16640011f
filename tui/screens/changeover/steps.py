"""The next step of a change of tools, and its other ways, as deeds: one form asks for any of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime

from tui.screens.acts.deed import Ask, Asks, Deed, Filled, On, Subject
from tui.screens.frame.book_door import BookDoor
from upkeep.entries.entry import Entry
from upkeep.entries.fitting import ChangeStage
from upkeep.said import Said, said
from upkeep.views.changeover import Change, Kept, StepAsk, StepForm
from upkeep.wording.changeover import step_said

_ASKS = {Kept.COUNT: Asks.NUMBER, Kept.VALUE: Asks.VALUE, Kept.PICK: Asks.PICK}

_GIVEN_UP = Ask("text", said("Why it is given up"))


def asks_of(asks: Sequence[StepAsk]) -> tuple[Ask, ...]:
    """The fields of a step; what may not be picked is not offered."""
    return tuple(
        Ask(
            ask.key,
            ask.label,
            _ASKS[ask.kept],
            tuple((option.key, option.says) for option in ask.options if option.valid),
            ask.preset,
            ask.needed,
            beside=ask.beside,
        )
        for ask in asks
    )


def step_deed(change: Change, form: StepForm, crimp: Mapping[str, str]) -> Deed:
    """The next step; ``crimp`` is the one that is run, where it was picked before."""

    def entries(book: BookDoor, filled: Filled) -> Sequence[Entry]:
        return book.step_forms(filled.at).entries(change, filled.by, {**_texts(filled), **crimp})

    return _deed(step_said(form.step), form.asks, entries)


def pausing_deed(change: Change, asks: Sequence[StepAsk]) -> Deed:
    """Pauses a change."""
    name = said("Pause the change on {press}", press=change.press)
    return _deed(name, asks, lambda book, filled: book.step_forms(filled.at).paused(change, filled.by, _texts(filled)))


def resuming_deed(change: Change, asks: Sequence[StepAsk]) -> Deed:
    """Takes a change up again, or over from somebody; the count is asked where it waited."""
    name = said("Take up the change on {press}, begun by {name}", press=change.press, name=change.begun_by[1])
    asked = asks[-1:] if change.waits else ()
    return _deed(
        name, asked, lambda book, filled: book.step_forms(filled.at).resumed(change, filled.by, _texts(filled))
    )


def giving_up_deed(change: Change) -> Deed:
    """Gives a change up."""
    name = said("Give up the change on {press}", press=change.press)

    def entries(book: BookDoor, filled: Filled) -> Sequence[Entry]:
        return [book.step_forms(filled.at).stage(change, filled.by, ChangeStage.GIVEN_UP, filled.text("text").strip())]

    return Deed(
        "change",
        "changeover",
        name,
        On.PLANT,
        _fields((_GIVEN_UP,)),
        entries,
        lambda filled: name,
        when=False,
        at_once=True,
    )


def _deed(name: Said, asks: Sequence[StepAsk], entries: Callable[[BookDoor, Filled], Sequence[Entry]]) -> Deed:
    fields = _fields(asks_of(asks))
    return Deed("change", "changeover", name, On.PLANT, fields, entries, lambda filled: name, when=False, at_once=True)


def _fields(asks: tuple[Ask, ...]) -> Callable[[BookDoor, Subject, datetime], Sequence[Ask]]:
    return lambda book, subject, at: asks


def _texts(filled: Filled) -> dict[str, str]:
    return {key: str(value) for key, value in filled.values.items()}
