"""Collects what is to be translated: ``python -m tests.catalogues --write`` or ``--check``.

For each language there is a folder under ``upkeep/wording/catalogues``: a ``.po`` file a room of the house, which
people edit, and the ``.mo`` files made of them, which the program reads.  ``--write`` brings both up to what the code
says: new templates come in empty, those that are gone go, a translation stays with its template wherever that moves.
``--check`` tells what is missing or wrong, and changes nothing.  A new language is an empty folder and ``--write``.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from io import BytesIO, StringIO
from pathlib import Path

import click
from babel.core import Locale
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from demo_plant import definitions
from demo_plant.environment import ROOT
from tests.templates import KEYWORDS, terms
from upkeep.cli.commands import COMMANDS, SECTIONS
from upkeep.cli.reader.helping import CLICK_DOMAIN, paragraphs
from upkeep.cli.run import strokebook
from upkeep.plant.catalogue import shipped_tasks
from upkeep.plant.crimps import crimp_from
from upkeep.plant.definition import Defined
from upkeep.plant.model import task_from
from upkeep.plant.values.texts import said_in
from upkeep.wording.sentences import CATALOGUES, DOMAIN, ENGLISH

ROOMS: Mapping[str, tuple[str, ...]] = {
    "stations": ("upkeep/station",),
    "screens": ("tui",),
    "papers": ("upkeep/papers",),
    "commands": ("upkeep/cli", "upkeep/service", "upkeep/sources", "demo_plant"),
    "refusals": ("upkeep/admission", "upkeep/book"),
    "answers": ("upkeep/answers", "upkeep/keeping", "upkeep/views"),
    "plant": ("upkeep/plant",),
    "entries": ("upkeep/entries", "upkeep/counting", "upkeep/due"),
    "measured": ("upkeep/quality", "upkeep/wear", "upkeep/stats", "upkeep/planning"),
    "keeping": ("upkeep/store", "upkeep/keys"),
    "wording": ("upkeep",),
}
"""The ``.po`` files and the folders whose sentences they hold; a template in several stands in the first of them."""

TERMS, TASKS, HELP, OF_CLICK = "terms", "tasks", "help", "click"
"""Beside those: the words of enumerations and tables, what the shipped tasks and the demo's crimps say, the help of the
commands, and the words of click's own."""

Form = str | tuple[str, ...]
Key = tuple[str | None, Form]
"""A context, and a template or the pair of them for one and for many."""


@dataclass
class Language:
    """The catalogues of one language: translations by key, and which keys somebody marked as doubtful."""

    code: str
    translated: dict[Key, Form] = field(default_factory=dict)
    fuzzy: set[Key] = field(default_factory=set)

    @property
    def folder(self) -> Path:
        """Where its files are."""
        return CATALOGUES / self.code / "LC_MESSAGES"


class _Plain(Catalog):
    """A catalogue whose head says only what a program needs: it changes with no day and no release of a tool."""

    def _head(self) -> list[tuple[str, str]]:
        return [
            ("Language", str(self.locale)),
            ("MIME-Version", "1.0"),
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Content-Transfer-Encoding", "8bit"),
            ("Plural-Forms", self.plural_forms),
        ]

    mime_headers = property(_head)


# What is to be translated


def wanted() -> dict[str, list[Key]]:
    """The templates of each file, in order."""
    found: dict[Key, str] = {}
    for room, folders in ROOMS.items():
        for folder in folders:
            for key in _collected(ROOT / folder, KEYWORDS):
                found.setdefault(key, room)
    for message in terms():
        found.setdefault((message.context, message.id), TERMS)
    for text in plant_texts():
        found.setdefault((None, text), TASKS)
    for text in help_texts():
        found.setdefault((None, text), HELP)
    rooms: dict[str, list[Key]] = {}
    for key, room in found.items():
        rooms.setdefault(room, []).append(key)
    rooms[OF_CLICK] = list(_collected(Path(click.__file__).parent, {"_": None, "ngettext": (1, 2)}))
    return {room: sorted(set(keys), key=_order) for room, keys in rooms.items()}


def plant_texts() -> Iterator[str]:
    """What the tasks of the shipped catalogue say to whoever does them, and the demo plant's crimps."""
    for task in (task_from(definition.content) for definition in shipped_tasks()):
        yield from (text for text, _ in said_in(task, ENGLISH.language) if text)
    crimps = (crimp_from(definition.content) for definition in definitions() if definition.what == Defined.CRIMP)
    yield from (word for crimp in crimps for word in crimp.words)


def help_texts() -> Iterator[str]:
    """What the pages of help say, beside click's own words."""
    for title, section in SECTIONS.items():
        yield title
        yield from (summary for _, summary in section.values())
    context = click.Context(strokebook)
    for command in (strokebook, *(strokebook.get_command(context, name) for name in COMMANDS)):
        assert command is not None
        yield from paragraphs(command.help or "")
        yield from filter(None, [command.epilog, *(getattr(param, "help", None) for param in command.params)])


def _collected(folder: Path, keywords: Mapping[str, object]) -> Iterator[Key]:
    for _, _, message, _, context in extract_from_dir(folder, [("**.py", "python")], keywords=dict(keywords)):  # type: ignore[arg-type]
        yield context, tuple(message) if isinstance(message, list | tuple) else message


def _order(key: Key) -> tuple[str, str]:
    context, form = key
    return form if isinstance(form, str) else form[0], context or ""


# The files of a language


def languages() -> list[Language]:
    """Every language there is a folder for, read."""
    return [_read(folder.name) for folder in sorted(CATALOGUES.iterdir()) if folder.is_dir()]


def _read(code: str) -> Language:
    language = Language(code)
    for file in sorted(language.folder.glob("*.po")):
        for text in _sides(file.read_text(encoding="utf-8")):
            _add(language, read_po(StringIO(text), locale=code))
    return language


def _add(language: Language, catalogue: Catalog) -> None:
    for message in catalogue:
        if message.id and message.string and all(message.string):
            key = message.context, tuple(message.id) if isinstance(message.id, list | tuple) else message.id
            string = tuple(message.string) if isinstance(message.string, list | tuple) else message.string
            if language.translated.setdefault(key, string) == string and message.fuzzy:
                language.fuzzy.add(key)


_CONFLICT = re.compile(r"^<<<<<<< .*\n((?:.*\n)*?)=======\n((?:.*\n)*?)>>>>>>> .*\n", re.MULTILINE)


def _sides(text: str) -> Iterator[str]:
    """The text of a file; both texts where git could not join two."""
    yield _CONFLICT.sub(r"\1", text)
    if _CONFLICT.search(text):
        yield _CONFLICT.sub(r"\2", text)


def made(language: Language, rooms: Mapping[str, list[Key]]) -> dict[str, bytes]:
    """The files of a language by name, as they are to be."""
    files = {f"{room}.po": _po(language, keys) for room, keys in rooms.items()}
    own = [key for room, keys in rooms.items() if room != OF_CLICK for key in keys]
    files[f"{DOMAIN}.mo"] = _mo(language, own)
    files[f"{CLICK_DOMAIN}.mo"] = _mo(language, rooms[OF_CLICK])
    return files


def _catalogue(language: Language, keys: Iterable[Key]) -> Catalog:
    catalogue = _Plain(locale=Locale.parse(language.code), fuzzy=False, header_comment="")
    for context, form in keys:
        string = language.translated.get((context, form), "")
        if not string and not isinstance(form, str):
            string = ("",) * catalogue.num_plurals
        flags = ("fuzzy",) if (context, form) in language.fuzzy else ()
        catalogue.add(form, string, context=context, flags=flags)
    return catalogue


def _po(language: Language, keys: Iterable[Key]) -> bytes:
    out = BytesIO()
    write_po(out, _catalogue(language, keys), width=0, no_location=True)
    return out.getvalue().lstrip(b"#\n")


def _mo(language: Language, keys: Iterable[Key]) -> bytes:
    out = BytesIO()
    write_mo(out, _catalogue(language, (key for key in keys if key in language.translated)))
    return out.getvalue()


# What is wrong


def faults(language: Language, rooms: Mapping[str, list[Key]]) -> Iterator[str]:
    """What is missing or wrong in a language, one sentence each."""
    for room, keys in rooms.items():
        for key in keys:
            where = f"{language.code}/{room}: {_order(key)[0]!r}"
            if key not in language.translated:
                yield f"{where} is not translated"
            elif key in language.fuzzy:
                yield f"{where} is marked fuzzy"
            else:
                yield from (f"{where} {wrong}" for wrong in _wrong(key[1], language.translated[key]))
    for name, content in made(language, rooms).items():
        file = language.folder / name
        if not file.is_file() or file.read_bytes() != content:
            yield f"{language.code}/{name} is not what --write makes"
    for file in sorted(language.folder.iterdir()):
        if file.name not in {f"{room}.po" for room in rooms} | {f"{DOMAIN}.mo", f"{CLICK_DOMAIN}.mo"}:
            yield f"{language.code}/{file.name} belongs to nothing"


_PLACES = re.compile(r"%\(\w+\)s|\{[^{}]*\}")


def _wrong(form: Form, translated: Form) -> Iterator[str]:
    """What a translation does not share with its template: the names of values, blanks around it, its full stop."""
    forms = (form,) if isinstance(form, str) else form
    texts = (translated,) if isinstance(translated, str) else translated
    if isinstance(form, str) != isinstance(translated, str):
        yield "has one form where the template has several, or the other way round"
    places = [set(_PLACES.findall(each.replace("{{", "").replace("}}", ""))) for each in forms]
    for place, text in enumerate(texts):
        named = set(_PLACES.findall(text.replace("{{", "").replace("}}", "")))
        said_in_words = {"{n}"} if place == 0 and len(texts) > 1 else set()  # "one line"
        if not set.intersection(*places) - said_in_words <= named <= set.union(*places):
            yield f"names {sorted(named)} in {text!r}"
        if any(_edges(text) != _edges(each) for each in forms):
            yield f"begins or ends otherwise in {text!r}"


def _edges(text: str) -> tuple[str, str, bool]:
    return text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :], text.rstrip().endswith(".")


def main() -> int:
    """Writes or checks the catalogues of every language; gives the exit code."""
    if sys.argv[1:] not in (["--write"], ["--check"]):
        print(__doc__)
        return 2
    rooms = wanted()
    if sys.argv[1] == "--check":
        found = [fault for language in languages() for fault in faults(language, rooms)]
        print(*found, sep="\n")
        return 1 if found else 0
    for language in languages():
        keys = [key for held in rooms.values() for key in held]
        for key in language.translated.keys() - set(keys):
            print(f"{language.code}: gone: {_order(key)[0]!r}")
        language.folder.mkdir(exist_ok=True)
        for file in language.folder.iterdir():
            file.unlink()
        for name, content in made(language, rooms).items():
            (language.folder / name).write_bytes(content)
        print(f"{language.code}: {sum(key not in language.translated for key in keys)} of {len(keys)} not translated")
    return 0


if __name__ == "__main__":
    sys.exit(main())
