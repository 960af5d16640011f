"""The sentences that stand in the code, and a language made of them: each one in brackets."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import chain
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo

from demo_plant.environment import ROOT
from tui.keys import KEYS, Where, cap
from tui.present.checking import BROKE_WORDS
from upkeep.counting.sharing import CLOCK, QUANTITIES, RUNNING_TIME
from upkeep.due.compliance import Verdict
from upkeep.due.facts import LOST_RECORD, OUT_OF_LIMITS, PRESS_IN_DOUBT
from upkeep.due.states import State
from upkeep.entries.checking import OCCASIONS
from upkeep.entries.lives import ENDS
from upkeep.entries.suspect import DISPOSITIONS
from upkeep.plant.definition import Defined
from upkeep.plant.model import Energy, Event, Kind, Role
from upkeep.plant.values.spare import Counted
from upkeep.quality.settings import SETTINGS
from upkeep.quality.symptoms import IN_WORDS, causes, symptoms
from upkeep.service.lists import PRINTED_BY
from upkeep.stats.run_rules import Rule
from upkeep.views.evidence.permits import PermitEnd
from upkeep.views.evidence.quality import Measure
from upkeep.views.evidence.trace import Traceable
from upkeep.views.overview.indicators import Age
from upkeep.views.overview.manager import Blocked
from upkeep.wear.separation import Suspect
from upkeep.wording.evidence.late_reasons import REASONS

PACKAGES = ("upkeep", "tui", "demo_plant")
KEYWORDS: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "said": None,
    "said_many": (1, 2),
    "said_as": ((1, "c"), 2),
}
"""The functions that make sentences, as a tool that collects them is told."""

BRACKETS, LETTERS = "qaa", "qab"
"""The made languages, one in brackets and one in other letters; ISO 639-2 leaves the codes from qaa to qtz to private
use."""

_GREEK = {ord(latin): chr(0x391 + place % 17) for place, latin in enumerate(string.ascii_uppercase)}
_GREEK |= {ord(latin): chr(0x3B1 + place % 17) for place, latin in enumerate(string.ascii_lowercase)}


@dataclass(frozen=True)
class Call:
    """A call of a function that makes sentences, and where it stands."""

    place: str
    node: ast.Call

    @property
    def templates(self) -> list[ast.expr]:
        """What stands where its templates belong."""
        assert isinstance(self.node.func, ast.Name)
        places = KEYWORDS[self.node.func.id] or (1,)
        return [self.node.args[place - 1] for place in places if isinstance(place, int)]


def calls() -> Iterator[Call]:
    """Every call in the packages that makes a sentence."""
    for place, node in spoken():
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in KEYWORDS:
            yield Call(place, node)


@cache
def spoken() -> tuple[tuple[str, ast.Call | ast.Raise | ast.ExceptHandler], ...]:
    """Every call, raise and handler of an error in the packages, with its file and line: the code is parsed once."""
    return tuple(
        (f"{file.relative_to(ROOT)}:{node.lineno}", node)
        for package in PACKAGES
        for file in sorted((ROOT / package).rglob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call | ast.Raise | ast.ExceptHandler)
    )


@dataclass(frozen=True)
class Message:
    """What a catalogue translates: a template, or one for one and one for many, and which meaning a word has."""

    id: str | tuple[str, ...]
    context: str | None = None


@cache
def collected() -> frozenset[Message]:
    """The templates as a translator's tool finds them."""
    found: set[Message] = set()
    for package in PACKAGES:
        method = [("**.py", "python")]
        for _, _, template, _, context in extract_from_dir(ROOT / package, method, keywords=KEYWORDS):
            found.add(Message(template, context))
    return frozenset(found)


WITHOUT_A_LIST: Mapping[str | None, tuple[str, ...]] = {
    "state of a fault": ("reported", "taken", "fixed", "verified", "analysed", "released", "closed"),
    "watch": ("watched", "passed", "came back"),
    "role": ("safety officer", "quality", "lead", "manager"),
    "share": (QUANTITIES, RUNNING_TIME, CLOCK),
    "chart": ("means", "ranges", "values", "moving ranges", "moving average"),
    "part": ("new", "reworked", "none", "terminal not named"),
    None: ("MISSING", "ALTERED", "MISSING: no such file can be read", "ALTERED: it is not the file that was kept"),
}
"""Words that stand one by one where they are found out: the states of a fault and of its watch, who is called, the
charts, what lives are compared by, what became of a picture."""


def terms() -> set[Message]:
    """The words of the program that entries, tables and --json have too, out of the enumerations and tables."""
    words: dict[str | None, Iterable[str]] = {
        "state": State, "verdict": Verdict, "kind": (*Kind, *Counted), "role": Role, "energy": Energy,
        "age": Age, "waits for": Blocked, "event": (*Event, LOST_RECORD, OUT_OF_LIMITS, PRESS_IN_DOUBT),
        "thing": Defined, "occasion": OCCASIONS, "disposition": DISPOSITIONS, "end of a life": ENDS,
        "pull test": BROKE_WORDS.values(), "key": map(cap, KEYS), "foot": (key.name for key in KEYS),
        "end of a permit": PermitEnd, "traced": Traceable, "late": REASONS, "measure": Measure,
    }  # fmt: skip
    own = {PRINTED_BY, *Suspect, *Where, *(key.description for key in KEYS), *(rule.value for rule in Rule)}
    own |= {point.title for point in SETTINGS.values()}
    for seen in (*symptoms(), IN_WORDS):
        own |= {seen.title, *(cause.title for cause in seen.causes), *(cause.source for cause in seen.causes)}
        own |= {check.asks for check in seen.checks} | {caution.template for caution in seen.cautions}
    words[None] = {*own, *causes().values()}
    listed = chain(words.items(), WITHOUT_A_LIST.items())
    return {Message(str(word), context) for context, every in listed for word in every if word}


def in_brackets(template: str) -> str:
    """A sentence of the made language."""
    return f"[{template}]"


def in_letters(template: str) -> str:
    """A sentence of the language in other letters; the names of its values stay."""
    parts = re.split(r"(\{[^}]*\})", template)
    return "".join(part if part.startswith("{") else part.translate(_GREEK) for part in parts)


def write_brackets(catalogues: Path) -> None:
    """Puts the catalogue of the language in brackets into a folder of catalogues."""
    _write(catalogues, BRACKETS, in_brackets)


def write_letters(catalogues: Path) -> None:
    """Puts the catalogue of the language in other letters into a folder of catalogues."""
    _write(catalogues, LETTERS, in_letters)


def _write(catalogues: Path, language: str, translate: Callable[[str], str]) -> None:
    every = {*collected(), *terms()}
    write_catalogue(catalogues, language, {message: _each(message.id, translate) for message in every})


def _each(id: str | tuple[str, ...], translate: Callable[[str], str]) -> str | tuple[str, ...]:
    return translate(id) if isinstance(id, str) else tuple(map(translate, id))


def write_catalogue(catalogues: Path, language: str, translated: Mapping[Message, str | tuple[str, ...]]) -> None:
    """Puts a catalogue of a language into a folder of catalogues."""
    catalogue = Catalog(locale="en")
    for message, translation in translated.items():
        catalogue.add(message.id, translation, context=message.context)
    folder = catalogues / language / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "strokebook.mo").open("wb") as file:
        write_mo(file, catalogue)
