"""What every page has: its head, the bands over it, and how it becomes text in the language of who reads."""

from __future__ import annotations

import re
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

from upkeep.frozen import frozen
from upkeep.said import Said
from upkeep.station.pages.labels import LABELS
from upkeep.wording.sentences import Reader, of_plant, text

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup

HOME = Path(__file__).parent

_ID = re.compile(r"(?<![\w-])([A-Z]{1,4}-[0-9A-Z]{1,8})(?![\w-])")
"""Ids as plants write them; longer ones may have to break."""


@frozen
class Person:
    """Who is here: id and name."""

    id: str
    name: str


@frozen
class Band:
    """A sentence across the page.  ``kind`` is "proof" (stored), "hold", "over", "caution", "refused" or "note"; its
    ``rows`` say more below."""

    kind: str
    sentence: Said
    rows: tuple[Said, ...] = ()


@frozen
class Undoing:
    """What can be taken back: the first of its entries, what it was, and for how many seconds more."""

    entry: int
    what: Said
    seconds: int


@frozen
class Head:
    """What is the same on all pages of a station.

    ``place`` is its id ("" on a page of no place), ``title`` and ``shift`` say where and when (None: nothing); ``here``
    is who is here (None: nobody said so); ``token`` and ``form`` go with whatever the page sends; ``version`` changes
    whenever anybody writes; ``undo`` is what can be taken back.
    """

    place: str
    title: Said | None
    shift: Said | None
    here: Person | None
    token: str
    form: str
    version: str = ""
    bands: tuple[Band, ...] = ()
    undo: Undoing | None = None


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(HOME / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )


def rendered(template: str, page: object, head: Head, reader: Reader) -> str:
    """A page as HTML.  Whatever people wrote is text in it and never markup."""
    plain = partial(text, reader=reader)

    def say(sentence: Said) -> Markup:
        return _with_whole_ids(plain(sentence))

    def own(words: str) -> Markup:
        return _with_whole_ids(of_plant(words, reader))

    return (
        _environment()
        .get_template(f"{template}.html")
        .render(page=page, head=head, label=LABELS, say=say, own=own, plain=plain, lang=reader.language)
    )


def _with_whole_ids(shown: str) -> Markup:
    """Words as HTML, in which no id breaks at its hyphen on a narrow page."""
    from markupsafe import Markup, escape

    pieces = _ID.split(shown)  # every second one is an id
    if len(pieces) == 1:
        return escape(shown)
    wrapped = (
        Markup('<span class="whole">{}</span>').format(piece) if place % 2 else escape(piece)
        for place, piece in enumerate(pieces)
    )
    return Markup("<span>{}</span>").format(Markup("").join(wrapped))  # one thing in a row of things
