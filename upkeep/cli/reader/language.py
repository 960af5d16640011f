"""In which language a terminal is read, by the rule of GNU gettext.  The first page of help waits for this module."""

from __future__ import annotations

import os
from collections.abc import Mapping

CATALOGUES = os.path.join(os.path.dirname(__file__), "..", "..", "wording", "catalogues")

ENGLISH = "en"

SETTINGS = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
"""The first of these that is set tells (GNU gettext manual, 2.3, "Locale Environment Variables")."""

_NONE_GIVEN = ("C", "POSIX")


def language_of(settings: Mapping[str, str], catalogues: str = CATALOGUES) -> str:
    """The language of the settings of a terminal: the first they name that there is a catalogue of, else English.

    ``LANGUAGE`` may name several, ``pt_BR:es``; what follows the language (``es_MX.UTF-8``) matters only where there is
    a catalogue of its own.
    """
    named = next(filter(None, (settings.get(name) for name in SETTINGS)), ENGLISH)
    for locale in named.split(":"):
        with_country = locale.partition(".")[0].partition("@")[0]
        language = with_country.partition("_")[0]
        if language in (ENGLISH, *_NONE_GIVEN):
            break
        for code in (with_country, language):
            if code.replace("_", "").isalpha() and os.path.isdir(os.path.join(catalogues, code)):
                return code
    return ENGLISH
