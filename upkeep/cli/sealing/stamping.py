"""A token of the time (RFC 3161) over a file, from an authority, asked for and looked at by the openssl program."""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path
from urllib.error import URLError
from urllib.request import Request, urlopen

from upkeep.cli.outputs import put
from upkeep.cli.saying import say
from upkeep.errors import Refused
from upkeep.said import said

_SECONDS = 30


def stamp(file: Path, authority: str) -> None:
    """Asks an authority for a token over a file and puts it beside it, as FILE.tsr.

    Raises :class:`Refused` where openssl or the authority cannot be had, or the token is not of this file.
    """
    if not authority.startswith(("http://", "https://")):
        raise Refused(said("{authority} is no address of a time-stamp authority: https://...", authority=authority))
    with tempfile.TemporaryDirectory() as folder:
        query, reply = Path(folder) / "query.tsq", Path(folder) / "reply.tsr"
        _openssl("-query", "-data", file, "-sha256", "-cert", "-out", query)
        reply.write_bytes(_answer(authority, query.read_bytes()))
        told = _openssl("-reply", "-in", reply, "-text")
        asked = _openssl("-query", "-in", query, "-text")
        if "Granted" not in told or _imprint(asked) != _imprint(told):
            raise Refused(said("The token that {authority} gave is not of this file.", authority=authority))
        token = Path(f"{file}.tsr")
        put(token, reply.read_bytes(), replacing=True)
    say(
        said(
            "{token}: written. It is checked by: openssl ts -verify -data {file} -in {token} -CAfile AUTHORITY.pem",
            token=token, file=file,
        )
    )  # fmt: skip


def _answer(authority: str, query: bytes) -> bytes:
    request = Request(authority, query, {"Content-Type": "application/timestamp-query"})
    try:
        with urlopen(request, timeout=_SECONDS) as reply:
            found: bytes = reply.read(1_000_000)
    except (URLError, OSError, ValueError) as error:
        raise Refused(said("{authority} cannot be asked: {why}.", authority=authority, why=str(error))) from None
    return found


def _imprint(text: str) -> str:
    """The lines of the message's hash in what openssl says of a query or a reply."""
    rows = text.partition("Message data:")[2].splitlines()
    return "".join(row.strip().partition("   ")[0] for row in rows[1:5] if "-" in row)


def _openssl(*words: object) -> str:
    try:
        done = subprocess.run(["openssl", "ts", *map(str, words)], capture_output=True, timeout=_SECONDS, check=False)
    except OSError as error:
        raise Refused(said("The program openssl is wanted for that: {why}.", why=str(error.strerror))) from None
    if done.returncode:
        why = done.stderr.decode(errors="replace").strip().splitlines()
        raise Refused(said("openssl refused: {why}", why=why[-1] if why else str(done.returncode)))
    return done.stdout.decode(errors="replace")
