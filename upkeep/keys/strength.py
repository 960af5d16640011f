"""What a code or a password must be like, so that it is not the first that somebody tries."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from upkeep.said import Numeral, Said, said

CODE_DIGITS = 6
"""Digits of a personal code at least: at a station, where badge, place and waits stand beside it."""

PASSWORD_LETTERS = 12
LONGEST = 128
"""Characters of a password at least, and of any secret at most (OWASP ASVS 5.0, 6.2.1 asks for 8, better 15; 6.2.9 for
room for 64 - from memory)."""


def weakness_of(secret: str, *, is_password: bool, known_of_person: Iterable[str]) -> Said | None:
    """Why a new code or password is too weak, with what to do; None: it may be used.

    ``known_of_person`` is what everybody knows of them: id and name, the plant's name.
    """
    if len(secret) > LONGEST:
        return said("At most {most} characters, please.", most=Numeral(LONGEST))
    if is_password and len(secret) < PASSWORD_LETTERS:
        return said(
            "A password has at least {least} characters; three or four words that do not belong together are easy to "
            "remember.",
            least=Numeral(PASSWORD_LETTERS),
        )
    if not is_password and (len(secret) < CODE_DIGITS or not secret.isascii() or not secret.isdigit()):
        return said("A personal code is {least} digits or more, and nothing but digits.", least=Numeral(CODE_DIGITS))
    if _is_pattern(secret):
        return said("That is a pattern which anybody tries first. Choose another one.")
    if is_password and any(_holds(secret, word) for word in known_of_person):
        return said("A password must not contain your id, your name or the plant's. Choose another one.")
    return None


def _is_pattern(secret: str) -> bool:
    """One letter or a short piece again and again, or letters in a row, forwards or backwards."""
    for length in range(1, len(secret) // 2 + 1):
        piece = secret[:length]
        if (piece * (len(secret) // length + 1))[: len(secret)] == secret:
            return True
    steps = {ord(after) - ord(before) for before, after in pairwise(secret)}
    return steps in ({1}, {-1})


def _holds(secret: str, word: str) -> bool:
    return any(len(part) > 2 and part in secret.casefold() for part in word.casefold().split())
