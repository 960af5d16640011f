"""Sentences as a reader reads them: in the reader's language, each moment in the reader's zone.

Who reads is an argument and never stands in the process, for one process speaks to several at once.  A catalogue is a
file of gettext under ``catalogues/``; where a language has none, or a sentence is missing in it, the English template
stands.
"""

from __future__ import annotations

import gettext
from collections.abc import Mapping
from dataclasses import field
from functools import lru_cache
from pathlib import Path

from upkeep.frozen import frozen
from upkeep.said import Said, Value, Voice, number_of
from upkeep.units.instants import Zone
from upkeep.units.measures import Shown
from upkeep.wording.text import padded, paragraph, visible

CATALOGUES = Path(__file__).with_name("catalogues")
"""The folder of the catalogues, ``<language>/LC_MESSAGES/strokebook.mo``."""

DOMAIN = "strokebook"

BLANK = "\u00a0"
"""Stands between the thousands where a comma would be read as a decimal sign."""


@frozen
class Reader:
    """Who reads: a language (ISO 639, ``de`` or ``pt_BR``), and the zone moments are read in; None is the plant's.

    ``texts`` is what the plant itself wrote (titles, steps, cautions) and the same in the reader's language; ``units``
    are those in which the reader reads what was measured.
    """

    language: str = "en"
    zone: Zone | None = None
    texts: Mapping[str, str] = field(default_factory=dict, compare=False)
    units: Shown = field(default_factory=dict, compare=False)


ENGLISH = Reader()
"""Reads English, each moment in the zone of the plant it belongs to."""


def text(sentence: Said, reader: Reader) -> str:
    """A sentence in the words of a reader."""
    return _ReadersVoice(reader).text(sentence)


def lines(sentence: Said, reader: Reader, indent: int = 0, hanging: int | None = None) -> list[str]:
    """The same on lines of a page, laid out as :func:`upkeep.wording.text.paragraph` says."""
    return paragraph(text(sentence, reader), indent, hanging)


def of_plant(words: str, reader: Reader) -> str:
    """A text that the plant wrote, in the reader's language where the plant wrote it in that one too."""
    return reader.texts.get(words, words)


def count_text(count: int, reader: Reader) -> str:
    """A number of things as a cell of a table shows it to a reader."""
    return _ReadersVoice(reader).value(count)


def languages() -> tuple[str, ...]:
    """The languages the program speaks, English first."""
    return ("en", *sorted(folder.name for folder in CATALOGUES.iterdir() if folder.is_dir()))


def word_of(word: str, language: str) -> str:
    """The translation of a text that somebody else wrote as the program has it; the text itself where there is none."""
    return _catalogue(language, CATALOGUES).gettext(word) if word else word


def label(sentence: Said, cells: int, reader: Reader, indent: int = 0) -> str:
    """The name of a row before what stands in it: from column `indent` on, filled up to `cells`, one blank at least."""
    return padded(f"{' ' * indent}{text(sentence, reader)} ", cells)


class _ReadersVoice(Voice):
    """The voice that speaks to one reader."""

    def __init__(self, reader: Reader) -> None:
        self.units = reader.units
        self.zone, self._texts, self._english = reader.zone, reader.texts, reader.language == ENGLISH.language
        self._catalogue = _catalogue(reader.language, CATALOGUES)

    def value(self, value: Value) -> str:
        """What people wrote is shown, and no terminal or printer acts on any of it; what the plant wrote in several
        languages is shown in the reader's."""
        if not isinstance(value, str):
            return super().value(value)
        value = self._texts.get(value, value)
        return value if value.isprintable() else visible(value)

    def grouped(self, figures: str) -> str:
        """With a space that no line ends at, but in English: where a comma stands before decimals, 1,921 would be read
        as a height.  Decimals have a point in every language, as on a gauge (ISO 80000-1:2022, 7.3, allows both)."""
        return figures if self._english else figures.replace(",", BLANK)

    def template(self, sentence: Said) -> str:
        """The template out of the reader's catalogue; a word the plant wrote as the plant has it."""
        if not sentence.values and sentence.template in self._texts:
            return self._texts[sentence.template]
        if sentence.context is not None:
            return self._catalogue.pgettext(sentence.context, sentence.template)
        if sentence.plural is None:
            return self._catalogue.gettext(sentence.template)
        return self._catalogue.ngettext(sentence.template, sentence.plural, number_of(sentence))


@lru_cache(maxsize=16)
def _catalogue(language: str, folder: Path) -> gettext.NullTranslations:
    return gettext.translation(DOMAIN, folder, [language], fallback=True)
