"""Which codes and passwords may be chosen."""

from __future__ import annotations

import pytest

from upkeep.keys.strength import weakness_of

KNOWN = ("ana", "Ana Lindqvar", "Demo plant Ostermoor")


@pytest.mark.parametrize("code", ["739184", "100200", "8841902", "112235"])
def test_six_digits_without_a_pattern_make_a_code(code: str) -> None:
    assert weakness_of(code, is_password=False, known_of_person=KNOWN) is None


@pytest.mark.parametrize(
    "code", ["", "73918", "73918a", "111111", "123456", "987654", "121212", "123123", "٣٤٥١٢٩", "7" * 200]
)
def test_what_anybody_tries_first_makes_no_code(code: str) -> None:
    assert weakness_of(code, is_password=False, known_of_person=KNOWN) is not None


@pytest.mark.parametrize("password", ["kettle window seven", "Grünspan am Dach", "x9!kPq2m#Lw4"])
def test_twelve_characters_make_a_password(password: str) -> None:
    assert weakness_of(password, is_password=True, known_of_person=KNOWN) is None


@pytest.mark.parametrize(
    "password", ["kettle", "aaaaaaaaaaaaaa", "lindqvar lindqvar", "xx Ostermoor 2026", "abcdefghijklm", "k" * 200]
)
def test_a_short_or_guessable_password_is_refused(password: str) -> None:
    assert weakness_of(password, is_password=True, known_of_person=KNOWN) is not None
