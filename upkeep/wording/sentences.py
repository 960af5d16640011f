"""Sentences as a reader reads them: in the reader's language, each moment in the reader's zone.

Who reads is an argument and never stands in the process, for one process speaks to several at once.  A catalogue is a
file of gettext under ``catalogues/``; where a language has none, or a sentence is missing in it, the English template
stands.
"""

from __future__ import annotations

import gettext
from functools import lru_cache
from pathlib import Path

from upkeep.frozen import frozen
from upkeep.said import Said, Value, Voice, number_of
from upkeep.units.instants import Zone
from upkeep.wording.text import padded, paragraph, visible

CATALOGUES = Path(__file__).with_name("catalogues")
"""The folder of the catalogues, ``<language>/LC_MESSAGES/strokebook.mo``."""

DOMAIN = "strokebook"


@frozen
class Reader:
    """Who reads: a language (ISO 639, ``de`` or ``pt_BR``), and the zone moments are read in; None is the plant's."""

    language: str = "en"
    zone: Zone | None = None


ENGLISH = Reader()
"""Reads English, each moment in the zone of the plant it belongs to."""


def text(sentence: Said, reader: Reader) -> str:
    """A sentence in the words of a reader."""
    return _ReadersVoice(reader).text(sentence)


def lines(sentence: Said, reader: Reader, indent: int = 0, hanging: int | None = None) -> list[str]:
    """The same on lines of a page, laid out as :func:`upkeep.wording.text.paragraph` says."""
    return paragraph(text(sentence, reader), indent, hanging)


def label(sentence: Said, cells: int, reader: Reader, indent: int = 0) -> str:
    """The name of a row before what stands in it: from column `indent` on, filled up to `cells`, one blank at least."""
    return padded(f"{' ' * indent}{text(sentence, reader)} ", cells)


class _ReadersVoice(Voice):
    """The voice that speaks to one reader."""

    def __init__(self, reader: Reader) -> None:
        self.zone = reader.zone
        self._catalogue = _catalogue(reader.language, CATALOGUES)

    def value(self, value: Value) -> str:
        """What people wrote is shown, and no terminal or printer acts on any of it."""
        return visible(value) if isinstance(value, str) and not value.isprintable() else super().value(value)

    def template(self, sentence: Said) -> str:
        """The template out of the reader's catalogue."""
        if sentence.context is not None:
            return self._catalogue.pgettext(sentence.context, sentence.template)
        if sentence.plural is None:
            return self._catalogue.gettext(sentence.template)
        return self._catalogue.ngettext(sentence.template, sentence.plural, number_of(sentence))


@lru_cache(maxsize=16)
def _catalogue(language: str, folder: Path) -> gettext.NullTranslations:
    return gettext.translation(DOMAIN, folder, [language], fallback=True)
