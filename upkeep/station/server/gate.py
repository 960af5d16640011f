"""What may come in at all, before any page is asked: names, origins, sizes, rates; and what goes out with every answer.

The checks follow the OWASP Application Security Verification Standard 5.0; DEVELOPERS.md says point by point which.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from upkeep.said import Said, said
from upkeep.wording.sentences import ENGLISH, Reader, text

HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), usb=()",
    "cache-control": "no-store",
}
"""Go with every answer."""

SMALL = 64 * 1024
"""The most bytes that a form without a photo sends."""

LARGE = 12 * 1024 * 1024
"""The most bytes that a form with a photo sends."""

PHOTOS = ("/found/", "/sign/")
"""Stands in the paths that take a photo."""

_HTTPS = "max-age=31536000"

_CHANGES = ("POST",)
_LOOKS = ("GET", "HEAD")


@dataclass(slots=True)
class Rates:
    """How often one address may ask: ``burst`` at once, ``each_second`` from then on.  Plant default, no source."""

    burst: float = 120.0
    each_second: float = 20.0
    clock: Callable[[], float] = time.monotonic
    _left: dict[str, tuple[float, float]] = field(default_factory=dict)

    def takes(self, address: str) -> bool:
        """Whether one more may come from an address now."""
        at = self.clock()
        left, since = self._left.get(address, (self.burst, at))
        left = min(self.burst, left + (at - since) * self.each_second)
        if len(self._left) > 10_000:
            self._left.clear()
        self._left[address] = (max(left - 1, 0), at)
        return left >= 1


class Gate:
    """Lets in what is asked under a name of this server, from its own pages, and not too often."""

    def __init__(
        self, app: ASGIApp, names: frozenset[str], language_of: Callable[[Headers], str | None],
        rates: Rates | None = None,
    ) -> None:  # fmt: skip
        self._app, self._names, self._language_of, self._rates = app, names, language_of, rates or Rates()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers, or refuses with a sentence."""
        if scope["type"] != "http":
            return
        secure = scope["scheme"] == "https"

        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.update(HEADERS)
                if secure:
                    headers["strict-transport-security"] = _HTTPS
            await send(message)

        refused = self._refused(scope)
        if refused is not None:
            status, sentence = refused
            reader = Reader(self._language_of(Headers(scope=scope)) or ENGLISH.language)
            await PlainTextResponse(text(sentence, reader), status)(scope, receive, sent)
            return
        await self._app(scope, receive, sent)

    def _refused(self, scope: Scope) -> tuple[int, Said] | None:
        headers, method = Headers(scope=scope), scope["method"]
        if not self._rates.takes((scope.get("client") or ("", 0))[0]):
            return 429, said("Too many requests from this address. Wait a few seconds.")
        if _name_of(headers.get("host", "")) not in self._names:
            return 400, said("This server is not known by that name. Ask for it by a name it was started with.")
        if method in _LOOKS:
            return None
        if method not in _CHANGES:
            return 405, said("This server knows no such request.")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > (LARGE if any(part in scope["path"] for part in PHOTOS) else SMALL):
            return 413, said(
                "That is too large. Nothing was written; a photo may be up to 12 MB, anything else is far smaller."
            )
        if not _is_ours(headers, scope["scheme"]):
            return 403, said("This did not come from a page of this server.")
        return None


def _name_of(host: str) -> str:
    try:
        return (urlsplit(f"//{host}").hostname or "").casefold()
    except ValueError:
        return ""


def _is_ours(headers: Headers, scheme: str) -> bool:
    """Whether a form comes from a page of this server: by its origin, or by what the browser says of the site."""
    origin = headers.get("origin")
    if origin is not None:
        return origin.casefold() == f"{scheme}://{headers.get('host', '')}".casefold()
    return headers.get("sec-fetch-site") == "same-origin"
