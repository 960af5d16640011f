"""Somebody at a browser without JavaScript: fills in what is on the page, presses its buttons, goes where it leads."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import unescape
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from httpx2 import Client
from starlette.testclient import TestClient

from tests.clock import Clock
from tests.plants import CLEAN, at, book_of, person, task
from upkeep.book import Book
from upkeep.plant.definition import Definition
from upkeep.station.server.app import application
from upkeep.station.server.desk import Desk
from upkeep.station.server.gate import Rates
from upkeep.station.server.setting import Setting

MORNING = at("2026-03-02 06:05")
"""A Monday, five minutes into the early shift; last counted at its beginning."""

PRESSURE = {"id": "pressure", "title": "Air pressure", "unit": "bar", "lower": 5.0, "upper": 6.0}
AIR = task("air", "press", by=["operator"], each_shift=True, energy="look", points=[PRESSURE], title="Read the air")
WIPE = task("wipe", "press", by=["operator"], each_shift=True, energy="unplug", title="Wipe the press")
GUARD = task("guard", "press", by=["appointed person"], each_shift=True, title="Test the guard")
HOSTILE = person("mal", "<script>alert(1)</script>", "operator")
BEFORE = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 05:30 count P-07 900 by ana
"""


@dataclass
class Visitor:
    """One browser; ``html`` is the page it shows, ``path`` where that is, ``status`` how it was answered."""

    client: Client
    html: str = ""
    path: str = ""
    status: int = 0
    extra: dict[str, str] = field(default_factory=dict)

    def goes(self, path: str) -> Visitor:
        """Asks for a page."""
        self._show(self.client.get(path, headers=self.extra))
        return self

    def presses(self, button: str, **typed: Any) -> Visitor:
        """Presses the button with these words in its form, the fields filled in."""
        form = next(form for form in forms_of(self.html) if button in form.buttons)
        name, value = form.buttons[button]
        data = {
            **form.fields,
            **({name: value} if name else {}),
            **{_field(key): value for key, value in typed.items()},
        }
        self.sends(form.action or self.path, data)
        return self

    def sends(self, path: str, data: dict[str, Any], **headers: str) -> None:
        """Sends a form as a browser does that comes from our own page."""
        origin = {"origin": str(self.client.base_url).rstrip("/"), **self.extra, **headers}
        photo = data.pop("photo", None)
        files = {"photo": photo} if photo else None
        self._show(self.client.post(path, data=data, files=files, headers=origin))

    def is_here(self, person: str, place: str = "P-07") -> Visitor:
        """Says who is here, and that the count comes later where it is asked."""
        self.goes(f"/at/{place}/who").presses("Go on", person=person)
        return self.goes(f"/at/{place}?count=later")

    def _show(self, answer: Any) -> None:
        self.html, self.status, self.path = answer.text, answer.status_code, answer.url.path

    @property
    def text(self) -> str:
        """All words of the page."""
        body = re.sub(r"<p id=\"waiting\".*?</p>|<head>.*?</head>", "", _without_wholes(self.html), flags=re.S)
        return " ".join(unescape(re.sub(r"<[^>]+>", " ", body)).split())

    @property
    def rows(self) -> list[str]:
        """The rows of the round, each in its words."""
        found = re.findall(r"<li class=\"row[^>]*>(.*?)</li>", _without_wholes(self.html), re.S)
        return [" ".join(unescape(re.sub(r"<[^>]+>", " ", row)).split()) for row in found]

    def hidden(self, name: str) -> str:
        """The value of a field in the first form that has it."""
        return next(form.fields[name] for form in forms_of(self.html) if name in form.fields)


def _without_wholes(html: str) -> str:
    """A page without the marks that keep ids whole: no words begin or end there."""
    return re.sub(r"<span class=\"whole\">([^<]*)</span>", r"\1", html)


def _field(key: str) -> str:
    """The name of a field as it is written in an argument: ``slug__1`` is slug.1, ``gauge__pull_tester`` a class."""
    name, dots, rest = key.partition("__")
    return f"{name}.{rest.replace('_', ' ')}" if dots else key


@dataclass
class Form:
    """A form of a page: where it goes, its fields with what stands in them, which of them are hidden, its buttons by
    their words, each with its name and value."""

    action: str
    fields: dict[str, str]
    hidden: frozenset[str]
    buttons: dict[str, tuple[str, str]]


def forms_of(html: str) -> Iterator[Form]:
    """The forms of a page, from its head down."""
    for head, inside in re.findall(r"<form([^>]*)>(.*?)</form>", html, re.S):
        inputs = [_attributes(tag) for tag in re.findall(r"<input([^>]*)>", inside)]
        given = [one for one in inputs if one.get("type") != "file" and "name" in one]
        fields = {one["name"]: one.get("value", "") for one in given if one.get("type") != "radio" or "checked" in one}
        buttons = {}
        for tag, words in re.findall(r"<button([^>]*)>(.*?)</button>", inside, re.S):
            one = _attributes(tag)
            buttons[" ".join(unescape(re.sub(r"<[^>]+>", "", words)).split()).partition(":")[0]] = (
                one.get("name", ""),
                one.get("value", ""),
            )
        hidden = frozenset(one["name"] for one in given if one.get("type") == "hidden")
        yield Form(_attributes(head).get("action", ""), fields, hidden, buttons)


def _attributes(tag: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in re.findall(r"([a-z-]+)(?:=\"([^\"]*)\")?", tag)}


@dataclass
class Plant:
    """A server on a book in the tests' own process."""

    desk: Desk
    clock: Clock
    path: Path
    rates: Rates
    badge: str = ""

    def visitor(self, base: str = "http://localhost", address: str = "127.0.0.1") -> Visitor:
        """A new browser."""
        app = application(self.desk, self.rates)
        return Visitor(TestClient(app, base, client=(address, 50000), raise_server_exceptions=False))

    def book(self) -> Book:
        """The book, opened beside the server as any other program opens it."""
        return Book.open(self.path)

    def lines(self) -> list[str]:
        """The last entries as lines, with how they came in, the newest last."""
        with self.book() as book:
            return [line.text for line in reversed(book.newest_written(6)) if line.kind != "define"]


_books: dict[str, bytes] = {}


def _book(text: str, more: tuple[Definition, ...], facts: tuple[tuple[str, Any], ...]) -> bytes:
    """The file of a book, made once for all tests that begin with it."""
    made = _books.get(key := repr((text, more, facts)))
    if made is not None:
        return made
    with TemporaryDirectory() as folder:
        tasks = [CLEAN, AIR, WIPE, GUARD]
        with book_of(Path(folder), text, tasks=tasks, more=[HOSTILE, *more], **dict(facts)) as book:
            path = book.path
        _books[key] = path.read_bytes()
    return _books[key]


@contextmanager
def served(
    tmp_path: Path, text: str = BEFORE, *, more: tuple[Definition, ...] = (), files: tuple[bytes, ...] = (),
    called: frozenset[str] = frozenset(), **facts: Any,
) -> Iterator[Plant]:  # fmt: skip
    """A plant whose stations are served; ``files`` are those of its book and its keys, where they are there already."""
    path = tmp_path / "plant.book"
    given = files or (_book(text, more, tuple(facts.items())),)
    for file, content in zip((path, Path(f"{path}-keys")), given, strict=False):
        file.write_bytes(content)
        file.chmod(0o600)
    clock = Clock(MORNING)
    desk = Desk(Setting(path, clock=clock, called=called))
    desk.open()
    try:
        yield Plant(desk, clock, path, Rates(burst=10_000))
    finally:
        desk.close()
