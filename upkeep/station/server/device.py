"""The language of a tablet: chosen on it, and kept by its browser for a year."""

from __future__ import annotations

from http.cookies import SimpleCookie

from starlette.datastructures import Headers
from starlette.responses import Response

from upkeep.wording.sentences import languages

_COOKIE = "language"
_YEAR = 365 * 86400


def language_of(headers: Headers) -> str | None:
    """The language that was chosen at the browser that asks; None where none was."""
    morsel = SimpleCookie(headers.get("cookie", "")).get(_COOKIE)
    return morsel.value if morsel is not None and morsel.value in languages() else None


def keep_language(response: Response, language: str, *, secure: bool) -> None:
    """Lets the browser keep what was chosen; it is no secret and says nothing of a person."""
    response.set_cookie(
        _COOKIE, language, max_age=_YEAR, path="/", secure=secure, httponly=True, samesite="strict"
    )  # fmt: skip
