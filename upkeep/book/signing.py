"""Signing lines of a file of seals with the key that quality keeps."""

from __future__ import annotations

from pathlib import Path

from upkeep.errors import Refused
from upkeep.keys.signing_key import make_key, open_key
from upkeep.said import said

_SIGNED = ("seal ", "files ")
"""How the lines begin that are signed: seals, and the checksum of a folder of evidence."""


def made(file: Path, password: str) -> str:
    """Makes a key in a new file; its public key, hexadecimal.  Raises :class:`Refused` where it cannot be made."""
    return make_key(file, password).public


def signed_lines(text: str, key_file: Path, password: str) -> tuple[str, int]:
    """The text of a file of seals with each line signed that was not, and how many those are.

    Raises :class:`Refused` where there is nothing to sign, or the key cannot be opened.
    """
    lines = text.splitlines()
    if not any(line.startswith(_SIGNED) for line in lines):
        raise Refused(said("This file holds no seal."))
    key = open_key(key_file, password)
    number = 0
    for place, line in enumerate(lines):
        if line.startswith(_SIGNED) and " signature " not in line:
            named = f"{line.strip()} key {key.public}"
            lines[place] = f"{named} signature {key.sign(named.encode('ascii')).hex()}"
            number += 1
    return "".join(f"{line}\n" for line in lines), number
