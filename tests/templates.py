"""The sentences that stand in the code, and a language made of them: each one in brackets."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo

from demo_plant.environment import ROOT

PACKAGES = ("upkeep", "tui", "demo_plant")
KEYWORDS: dict[str, tuple[int, ...] | None] = {"said": None, "said_many": (1, 2)}
"""The functions that make sentences, as a tool that collects them is told."""

BRACKETS = "qaa"
"""The made language; ISO 639-2 leaves the codes from qaa to qtz to private use."""


@dataclass(frozen=True)
class Call:
    """A call of a function that makes sentences, and where it stands."""

    place: str
    node: ast.Call

    @property
    def templates(self) -> list[ast.expr]:
        """What stands where its templates belong."""
        assert isinstance(self.node.func, ast.Name)
        return self.node.args[: len(KEYWORDS[self.node.func.id] or (1,))]


def calls() -> Iterator[Call]:
    """Every call in the packages that makes a sentence."""
    for package in PACKAGES:
        for file in sorted((ROOT / package).rglob("*.py")):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in KEYWORDS:
                    yield Call(f"{file.relative_to(ROOT)}:{node.lineno}", node)


def collected() -> set[str | tuple[str, ...]]:
    """The templates as a translator's tool finds them; a tuple where there is one for one and one for many."""
    found: set[str | tuple[str, ...]] = set()
    for package in PACKAGES:
        method = [("**.py", "python")]
        found |= {message[2] for message in extract_from_dir(ROOT / package, method, keywords=KEYWORDS)}
    return found


def in_brackets(template: str) -> str:
    """A sentence of the made language."""
    return f"[{template}]"


def write_brackets(catalogues: Path) -> None:
    """Puts the catalogue of the made language into a folder of catalogues."""
    catalogue = Catalog(locale="en")
    for message in collected():
        translated = in_brackets(message) if isinstance(message, str) else tuple(map(in_brackets, message))
        catalogue.add(message, translated)
    folder = catalogues / BRACKETS / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / "strokebook.mo").open("wb") as file:
        write_mo(file, catalogue)
