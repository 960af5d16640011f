"""How the stations are served: where, under which names, with which certificate, for whom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field
from datetime import UTC, datetime
from ipaddress import ip_address
from pathlib import Path

from upkeep.errors import Refused
from upkeep.frozen import frozen
from upkeep.said import said

LOOPBACK = ("localhost", "127.0.0.1", "::1")


def now() -> datetime:
    """This moment, in whole seconds of UTC."""
    return datetime.now(UTC).replace(microsecond=0)


@frozen
class Setting:
    """``host`` and ``port`` are where the server listens; ``called`` are the names browsers may call it by, beside
    those of this machine itself; ``certificate`` and ``key`` are files of the plant's own (None: plain http);
    ``language`` is that of tablets on which none was chosen (None: that of the plant)."""

    book: Path
    host: str = "127.0.0.1"
    port: int = 8600
    called: frozenset[str] = frozenset()
    certificate: Path | None = None
    key: Path | None = None
    language: str | None = None
    clock: Callable[[], datetime] = field(default=now)

    def __post_init__(self) -> None:
        if (self.certificate is None) != (self.key is None):
            raise Refused(said("Give the certificate and its key together: --certificate FILE --key FILE."))
        for file in filter(None, (self.certificate, self.key)):
            if not file.is_file():
                raise Refused(said("There is no file {file}.", file=file))
        if not is_loopback(self.host) and not self.called and is_any(self.host):
            raise Refused(
                said(
                    "Say by which names or addresses the tablets call this machine: --called NAME. Pages asked for "
                    "under any other name are refused."
                )
            )

    @property
    def names(self) -> frozenset[str]:
        """Every name a browser may call this server by, in lower case."""
        own = () if is_any(self.host) else (self.host,)
        return frozenset(name.casefold() for name in (*LOOPBACK, *own, *self.called))


def is_loopback(host: str) -> bool:
    """Whether an address is this machine alone."""
    try:
        return host.casefold() == "localhost" or ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


def is_any(host: str) -> bool:
    """Whether an address stands for all of this machine's addresses."""
    try:
        return host == "" or ip_address(host.strip("[]")).is_unspecified
    except ValueError:
        return False
