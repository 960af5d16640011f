"""Every key of the screens, once: from here come the bindings, the key line at the foot and the help screen."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from textual.binding import Binding, BindingType

from upkeep.frozen import frozen
from upkeep.said import Said, term


class Where(StrEnum):
    """Where a key does something."""

    LIST = "in a list of lines"
    WHEREABOUTS = "on the page of where everything is"
    HOME = "on the page the lead begins with"
    BOARD = "on the board"
    ROUND = "on a round"
    DETAIL = "on the page of a line"
    FORM = "in the sign-off form"
    CHECK = "in the form of a check"
    CHANGE = "in a change of tools"
    SIGN = "when a line is signed with a name alone"
    FOUND = "where a symptom is picked"
    FAULT = "when a fault is reported"
    COUNTING = "in the field of the count"
    COUNT = "where a count is asked"
    REFUSED = "at a count that was not taken"
    PICTURE = "when a picture is attached"
    ASKED = "where something is asked"
    PICK = "where one of many is picked"
    SHEET = "where a weekly list is entered"
    WEEK = "on the plan of a week"
    PAPER = "on a page of text"
    QUESTIONS = "on the page of questions"
    SUSPECT = "on the page of suspect product"
    HINTS = "on the page of how work was signed"
    SETTLE = "where it is settled which count is wrong"
    DEED = "in the form of an act"
    NOTES = "where the book answers"
    HELP = "on this page"


@frozen
class Key:
    """A key and what it does.  ``action`` names it in the program; ``name`` is its word at the foot ("" not shown).

    ``first``: it works before the field that has the keys sees it, so that keys in one burst - values of a gauge, each
    with Enter - go into one field each.
    """

    key: str
    action: str
    name: str
    description: str
    where: tuple[Where, ...]
    first: bool = False


NUMBERS = "1-9"
"""Stands for the number keys, which pick the row that carries the number; 0 is the second figure of 10."""

_PRINTED = (Where.PAPER, Where.SUSPECT)
_PLANT = (Where.BOARD, Where.HOME, Where.DETAIL)
_DEEDS = (*_PLANT, Where.WHEREABOUTS)
_BOARDS = (Where.BOARD, Where.HOME)
_ALL = (Where.ROUND, *_PLANT)
_FORMS = (Where.FORM, Where.CHECK, Where.DEED, Where.SHEET)
_BOXES = (Where.FOUND, Where.FAULT, Where.COUNT, Where.SIGN, Where.PICTURE, Where.ASKED, Where.SETTLE)
_ACTING = (*_ALL, Where.CHANGE)
_BACK = (
    Where.DETAIL,
    Where.WHEREABOUTS,
    Where.CHANGE,
    *_FORMS,
    *_BOXES,
    Where.PAPER,
    Where.QUESTIONS,
    Where.SUSPECT,
    Where.HINTS,
    Where.WEEK,
    Where.HELP,
)

# fmt: off
KEYS: tuple[Key, ...] = (
    Key("enter", "open_line", "why", "Opens the page of the line: why, dates, life, history.", _BOARDS),
    Key(NUMBERS, "part", "part", "Goes to the part with this number.", (Where.HOME,)),
    Key(NUMBERS, "number", "sign", "Signs the line with this number.", (Where.ROUND,)),
    Key("enter,s", "sign", "", "Signs the selected line.", (Where.ROUND,)),
    Key("s", "sign", "sign", "Signs the selected line off.", _PLANT),
    Key("c", "count", "count", "Enters the count of the press here.", _ACTING),
    Key("k", "check", "check", "Checks the crimps and the settings of the die set here.", _ALL),
    Key("f", "fault", "found", "Reports a fault: pick from the symptoms.", _ACTING),
    Key("a", "attach", "picture", "Attaches a picture to the last fault, check or sign-off.", _ALL),
    Key("u", "undo", "undo", "Undoes what was written here last, for a short time.", _ACTING),
    Key("v", "verify", "verify", "Gives the second signature: by somebody else.", _PLANT),
    Key("slash", "search", "find", "Finds lines as you type: item, task, title, place.", (Where.BOARD,)),
    Key("slash", "search", "find", "Finds items as you type: id, place, status, owner.", (Where.WHEREABOUTS,)),
    Key("enter", "open_line", "pages", "Chooses a page about the selected item.", (Where.WHEREABOUTS,)),
    Key("f", "fault", "found", "Reports a fault: pick from the symptoms.", (Where.WHEREABOUTS,)),
    Key("u", "undo", "", "Undoes what was written here last, for a short time.", (Where.WHEREABOUTS,)),
    Key("question_mark", "help", "help", "Shows this page.", (Where.WHEREABOUTS,)),
    Key("p", "print", "print", "Makes a PDF of this page beside the book, to be printed.", _PRINTED),
    Key("space", "mark", "mark", "Marks the line: what is written is about all marked ones.", (Where.BOARD,)),
    Key("t", "turn_states", "to do/all", "Shows the lines to do, or all lines.", (Where.BOARD,)),
    Key("w", "which", "which", "Chooses which lines: an area, place, role or state.", (Where.BOARD,)),
    Key("w", "which", "area", "Chooses the area to look at; it stays chosen.", (Where.HOME,)),
    Key("l", "lists", "lists", "Chooses a page: suspect product, faults, figures, gauges.", _BOARDS),
    Key("l", "lists", "pages", "Chooses a page on the item: life, checks, faults, history.", (Where.DETAIL,)),
    Key("e", "plan_week", "week", "Opens the plan of a week: propose, move, agree, freeze.", _BOARDS),
    Key("left", "week(-1)", "", "Goes to the week before.", (Where.WEEK,)),
    Key("right", "week(1)", "", "Goes to the week after.", (Where.WEEK,)),
    Key("p", "propose", "propose", "Levels the week: who does what on which shift.", (Where.WEEK,)),
    Key("m", "move_job", "move", "Puts the selected job on a shift with somebody.", (Where.WEEK,)),
    Key("x", "take_off", "off", "Takes the selected job off the week.", (Where.WEEK,)),
    Key("d", "decide", "decide", "Decides about a job that was carried over too often.", (Where.WEEK,)),
    Key("a", "agree", "agree", "Says that production agrees with the plan as it stands.", (Where.WEEK,)),
    Key("f", "freeze", "freeze", "Freezes the list: it is printed as it is from then on.", (Where.WEEK,)),
    Key("u", "undo", "undo", "Undoes what was written here last, for a short time.", (Where.WEEK,)),
    Key("question_mark", "help", "help", "Shows this page.", (Where.WEEK,)),
    Key("x", "clear", "clear", "Shows the lines to do of the whole plant again.", (Where.BOARD,)),
    Key("r", "round", "round", "Goes to the round of the place where this line is.", _PLANT),
    Key("i", "open_line", "why", "Opens the page of the selected line.", (Where.ROUND,)),
    Key("p", "place", "place", "Chooses another place for the round.", (Where.ROUND,)),
    Key("o", "other_person", "who", "Says who is here now: your short id.", _ACTING),
    Key("b", "board", "board", "Goes to the board of the whole plant.", (Where.ROUND, Where.HOME)),
    Key("b", "home", "home", "Goes to the lead's page: held, late, due, asked.", (Where.BOARD,)),
    Key("up", "move(-1)", "", "Selects the line above.", (Where.LIST,)),
    Key("down", "move(1)", "", "Selects the line below.", (Where.LIST,)),
    Key("pageup", "page(-1)", "", "Goes one screen up.", (Where.LIST,)),
    Key("pagedown", "page(1)", "", "Goes one screen down.", (Where.LIST,)),
    Key("home", "first", "", "Selects the first line.", (Where.LIST,)),
    Key("end", "last", "", "Selects the last line.", (Where.LIST,)),
    Key("enter", "next_field", "next", "Goes to the next field; on the last one it saves.", _FORMS, first=True),
    Key("tab", "app.focus_next", "", "Goes to the next field.", _FORMS),
    Key("shift+tab", "app.focus_previous", "back", "Goes one field back.", _FORMS),
    Key("plus", "deeds", "write", "Lists all that can be written about what is selected.", (*_ALL, Where.WHEREABOUTS)),
    Key("d", "deed('defer')", "put off", "Puts the selected line off to a later point.", _PLANT),
    Key("h", "hold_or_release", "hold", "Holds the item, or releases it where it is held.", _DEEDS),
    Key("n", "deed('remark')", "remark", "Writes a remark on the selected line.", _PLANT),
    Key("m", "change", "tools", "Changes the tools here step by step, until the release.", (Where.ROUND,)),
    Key("enter", "next_step", "next", "Does the next step of the change, and goes on.", (Where.CHANGE,)),
    Key("p", "pause", "pause", "Pauses the change: the count, and why.", (Where.CHANGE,)),
    Key("x", "give_up", "give up", "Gives the change up, and says why.", (Where.CHANGE,)),
    Key("m", "move", "move", "Puts the item in, takes it out, or puts it to a place.", _DEEDS),
    Key("y", "where", "where", "Shows what hangs and stands where in the whole plant.", _PLANT),
    Key("p", "past", "then", "Looks back to a past moment.", (*_PLANT, Where.WHEREABOUTS)),
    Key("g", "deed('done')", "done at", "Signs what was done earlier, or on somebody's paper.", _PLANT),
    Key("ctrl+s", "save", "save", "Saves what was filled in.", _FORMS),
    Key("g", "answer('g')", "", "For a look: good.", (Where.CHECK,), first=True),
    Key("b", "answer('b')", "", "For a look: bad.", (Where.CHECK,), first=True),
    Key("n", "answer('n')", "", "For a look: not looked at.", (Where.CHECK,), first=True),
    Key("w", "answer('w')", "", "For a pulled piece: the wire broke.", (Where.CHECK,), first=True),
    Key("p", "answer('p')", "", "For a pulled piece: the wire pulled out.", (Where.CHECK,), first=True),
    Key("t", "answer('t')", "", "For a pulled piece: the terminal broke.", (Where.CHECK,), first=True),
    Key("ctrl+t", "occasion", "occasion", "Goes to the occasion of the check.", (Where.CHECK,)),
    Key("ctrl+p", "open_part('pull')", "pull", "Goes to the pull test.", (Where.CHECK,)),
    Key("ctrl+g", "open_part('wear')", "wear", "Goes to the points that show wear: width, burr ...", (Where.CHECK,)),
    Key("ctrl+o", "open_part('more')", "order, reel", "Goes to order, reel, wire, remark, settings.", (Where.CHECK,)),
    Key("ctrl+r", "save_extra", "save as extra", "Saves it as an extra: additional work.", (Where.FORM, Where.SIGN)),
    Key("tab", "all_symptoms", "all symptoms", "Shows all symptoms with their numbers.", (Where.FOUND,), first=True),
    Key("y", "stands(True)", "stands", "The item has to stop: it is held until released.", (Where.FAULT,)),
    Key("n", "stands(False)", "runs", "The item goes on running.", (Where.FAULT,)),
    Key("enter", "sign_found", "", "Signs the fault report.", (Where.FAULT,)),
    Key("ctrl+o", "other_item", "other item", "Goes on to another item.", (Where.FOUND, Where.FAULT), first=True),
    Key("enter", "submit", "write", "Writes the count; on the empty field goes to the lines.", (Where.COUNTING,)),
    Key("y", "confirmed", "yes", "Confirms that the counter rolled over, or was set back.", (Where.REFUSED,)),
    Key("e", "earlier_wrong", "earlier wrong", "Keeps a count against an earlier one.", (Where.REFUSED,)),
    Key("c", "count_again", "type again", "Goes back to the field of the count.", (Where.REFUSED,)),
    Key("s", "settle", "settle", "Settles which of two counts is wrong.", (Where.QUESTIONS,)),
    Key("n", "seen", "seen", "Says that somebody has seen what is asked.", (Where.QUESTIONS,)),
    Key("d", "dispose", "disposition", "Enters what becomes of a line, by quantity.", (Where.SUSPECT,)),
    Key("l", "looked_again", "looked again", "Enters what somebody else saw at work that was drawn.", (Where.HINTS,)),
    Key("tab", "app.focus_next", "", "Goes to the next field.", (Where.SETTLE,)),
    Key("shift+tab", "app.focus_previous", "", "Goes one field back.", (Where.SETTLE,)),
    Key("tab", "complete", "complete", "Completes the path as far as it is clear.", (Where.PICTURE,), first=True),
    Key("up", "move(-1)", "", "Moves the mark up.", (Where.PICK,)),
    Key("down", "move(1)", "", "Moves the mark down.", (Where.PICK,)),
    Key("escape", "end_search", "", "Goes from the search back to the lines.", (Where.BOARD,)),
    Key("escape,down", "leave_count", "lines", "Goes from the count to the lines.", (Where.COUNTING, Where.ROUND)),
    Key("escape", "leave", "back", "Goes back; nothing is written.", _BACK),
    Key("enter,escape", "leave", "go on", "Goes on; what was entered stays.", (Where.NOTES,)),
    Key("question_mark", "help", "help", "Shows this page.", _ACTING),
    Key("q", "quit", "quit", "Closes the screens.", _BOARDS),
)
# fmt: on

_CAPS = {
    "slash": "/",
    "plus": "+",
    "enter,s": "enter",
    "question_mark": "?",
    "escape": "esc",
    "escape,down": "esc",
    "enter,escape": "enter",
    "pageup": "page up",
    "pagedown": "page down",
}
_NOT_AT_THE_FOOT = {
    Where.SIGN: {"ctrl+r"},
    Where.ROUND: {"u", "escape,down", "plus"},
    Where.BOARD: {"e", "space", "p", "y", "u", "o", "v", "a", "x", "d", "h", "n", "m", "g"},
    Where.HOME: {"e", "p", "u", "o", "v", "a", "n", "g", "c", "k", "m"},
    Where.DETAIL: {"p", "y", "u", "o", "a", "n", "g"},
}
"""Keys that work there and that the foot leaves out: the screen names them at the moment they can be pressed."""


def cap(key: Key) -> str:
    """What is printed on the key, as people call it."""
    return _CAPS.get(key.key, key.key)


def keys_at(where: Where) -> tuple[Key, ...]:
    """The keys that do something there, in the order of the registry."""
    return tuple(key for key in KEYS if where in key.where)


def foot_at(where: Where) -> tuple[tuple[Said, Said], ...]:
    """The keys the foot names there, each with its word."""
    hidden = _NOT_AT_THE_FOOT.get(where, set())
    return tuple(
        (term(cap(key), "key"), term(key.name, "foot")) for key in keys_at(where) if key.name and key.key not in hidden
    )


def bindings_at(*wheres: Where) -> list[BindingType]:
    """The bindings of a screen: key, action, description.  The number keys become one binding each."""
    return [binding for where in wheres for key in keys_at(where) for binding in _bound(key)]


def _bound(key: Key) -> Iterable[BindingType]:
    if key.first:
        return [Binding(key.key, key.action, key.description, priority=True)]
    if key.key != NUMBERS:
        return [(key.key, key.action, key.description)]
    return [(str(number), f"{key.action}({number})", key.description) for number in range(10)]
