"""The catalogues of other languages say what the code says, and what is wrong in one is found."""

from __future__ import annotations

import pytest

from tests.catalogues import Key, Language, faults, languages, made, wanted
from upkeep.cli.reader.language import language_of

ROOMS: dict[str, list[Key]] = {"stations": [(None, "{item} is held."), (None, ("{n} line", "{n} lines"))], "click": []}


@pytest.fixture(scope="module")
def rooms() -> dict[str, list[Key]]:
    """What is to be translated."""
    return wanted()


def test_the_catalogues_are_those_of_the_code(rooms: dict[str, list[Key]]) -> None:
    """``python -m tests.catalogues --write`` brings them up to it."""
    assert [fault for language in languages() for fault in faults(language, rooms)] == []


@pytest.mark.parametrize(
    ("translated", "told"),
    [
        ({}, ["'{item} is held.' is not translated", "'{n} line' is not translated"]),
        ({"one": "{thing} está retenido."}, ["'{item} is held.' names ['{thing}'] in '{thing} está retenido.'"]),
        ({"one": "{item} está retenido"}, ["'{item} is held.' begins or ends otherwise in '{item} está retenido'"]),
        ({"many": ("una línea", "{n} de líneas", "{n} líneas")}, []),
        (
            {"many": ("una línea ", "{n} de", "líneas")},
            ["begins or ends otherwise in 'una línea '", "names [] in 'líneas'"],
        ),
    ],
)
def test_what_is_wrong_in_a_translation_is_told(translated: dict[str, str | tuple[str, ...]], told: list[str]) -> None:
    """Nothing there, other names of values, another end."""
    (one,), (many,) = [ROOMS["stations"][:1], ROOMS["stations"][1:]]
    good: dict[str, str | tuple[str, ...]] = {
        "one": "{item} está retenido.",
        "many": ("{n} línea", "{n} de", "{n} líneas"),
    }
    texts = good | translated if translated else {}
    language = Language("es", {key: texts[name] for name, key in (("one", one), ("many", many)) if name in texts})
    found = [fault for fault in faults(language, ROOMS) if "is not what" not in fault and "belongs" not in fault]
    assert len(found) == len(told)
    assert all(part in fault for part, fault in zip(told, found, strict=True))


def test_a_doubtful_translation_is_told_and_kept() -> None:
    """Fuzzy is what somebody else still has to look at."""
    key = ROOMS["stations"][0]
    language = Language("es", {key: "{item} está retenido."}, {key})
    assert any(fault.endswith("is marked fuzzy") for fault in faults(language, ROOMS))
    assert b"#, fuzzy" in made(language, ROOMS)["stations.po"]


@pytest.mark.parametrize(
    ("settings", "language"),
    [
        ({}, "en"),
        ({"LANG": "es_MX.UTF-8"}, "es"),
        ({"LANG": "es_ES.UTF-8", "LC_ALL": "en_GB.UTF-8"}, "en"),
        ({"LC_ALL": "C.UTF-8", "LANGUAGE": "qaz:es"}, "es"),
        ({"LANGUAGE": "en:es"}, "en"),
        ({"LANGUAGE": "", "LANG": "C"}, "en"),
        ({"LANGUAGE": "../../es"}, "en"),
    ],
)
def test_a_terminal_is_read_in_the_language_of_its_settings(settings: dict[str, str], language: str) -> None:
    """GNU gettext manual, 2.3: LANGUAGE, then LC_ALL, LC_MESSAGES, LANG; the first with a catalogue."""
    assert language_of(settings) == language
