"""The file of keys: who may read it, whose it is, what is in it."""

from __future__ import annotations

import os
import sqlite3
import stat
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from upkeep.entries.origin import Proof
from upkeep.errors import Refused
from upkeep.keys.keys import Keys

BOOK = "6f9619ff-8b86-4d01-b42d-00cf4fc964ff"
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
IDLE = timedelta(seconds=120)


@pytest.fixture
def keys(tmp_path: Path) -> Iterator[Keys]:
    with closing(Keys(tmp_path / "plant.db", BOOK)) as keys:
        yield keys


def test_its_owner_alone_reads_it_whatever_the_umask(keys: Keys) -> None:
    before = os.umask(0)
    try:
        keys.held.give_badge("ana", NOON)
    finally:
        os.umask(before)
    assert stat.S_IMODE(keys.path.stat().st_mode) == 0o600


def test_a_file_that_others_can_read_is_refused(keys: Keys) -> None:
    keys.held.give_badge("ana", NOON)
    keys.close()
    keys.path.chmod(0o640)
    with pytest.raises(Refused, match="chmod 600"):
        keys.held.badges()


def test_the_file_of_another_book_is_refused(keys: Keys, tmp_path: Path) -> None:
    keys.held.give_badge("ana", NOON)
    other = Keys(tmp_path / "plant.db", "00000000-8b86-4d01-b42d-00cf4fc964ff")
    with pytest.raises(Refused, match="another book"):
        other.held.badges()


def test_a_file_that_is_no_file_of_keys_is_refused_with_a_sentence(keys: Keys) -> None:
    keys.path.touch(0o600)
    keys.path.write_bytes(b"this is no file of keys, and no database either" * 40)
    with pytest.raises(Refused, match="cannot be used"):
        keys.held.badges()


def test_a_folder_or_a_link_to_nowhere_in_its_place_is_refused_with_a_sentence(keys: Keys) -> None:
    keys.path.mkdir(0o700)
    with pytest.raises(Refused, match=r"cannot be used: no regular file.* move it aside"):
        keys.held.badges()
    keys.path.rmdir()
    keys.path.symlink_to(keys.path.with_name("nowhere") / "at all")
    with pytest.raises(Refused, match="cannot be used"):
        keys.held.give_badge("ana", NOON)


def test_a_file_that_somebody_else_put_there_is_refused(keys: Keys, monkeypatch: pytest.MonkeyPatch) -> None:
    """They would know every code in it; the owner of the book is nobody else."""
    keys.held.give_badge("ana", NOON)
    keys.close()
    if os.geteuid() == 0:
        os.chown(keys.path, 12345, -1)
    else:
        monkeypatch.setattr(os, "geteuid", lambda: 12345)
    with pytest.raises(Refused, match="belongs to somebody else than the book"):
        keys.held.badges()
    book = keys.path.with_name("plant.db")
    book.touch()
    os.chown(book, keys.path.stat().st_uid, -1)
    assert keys.held.badges() == {"ana": 1}


def test_nothing_is_made_before_something_is_asked_of_it(keys: Keys) -> None:
    assert not keys.exist


def test_no_code_badge_token_or_session_stands_in_it_as_it_is(keys: Keys) -> None:
    first = keys.codes.give_first("ana", NOON, is_password=False)
    secret = [first, keys.held.give_badge("ana", NOON), keys.held.give_token("night", "lea", NOON)]
    secret.append(keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON))
    with closing(sqlite3.connect(keys.path)) as connection:
        dump = "\n".join(connection.iterdump())
        hashed = connection.execute("SELECT hash FROM secrets").fetchone()[0]
    for one in secret:
        assert one not in dump
        assert one.encode().hex() not in dump.lower()
    assert hashed.startswith("$argon2id$v=19$m=19456,t=2,p=1$")  # OWASP Password Storage Cheat Sheet: 19 MiB, t=2, p=1


def test_a_token_has_128_random_bits_and_is_kept_as_its_sha256(keys: Keys) -> None:
    tokens = {keys.held.give_token(str(name), "lea", NOON) for name in range(50)}
    assert len(tokens) == 50
    assert {len(bytes.fromhex(token)) for token in tokens} == {16}


def test_a_badge_is_read_in_any_case_and_never_says_whose_it_is(keys: Keys) -> None:
    number = keys.held.give_badge("ana", NOON)
    assert keys.held.person_of_badge(f" {number.lower()[:8]}-{number[8:]} ") == "ana"
    assert "ana" not in number.lower()
    assert keys.held.person_of_badge(number[:-1]) is None
    assert keys.held.person_of_badge("ana") is None


def test_a_withdrawn_badge_is_nobodys_and_the_new_one_works(keys: Keys) -> None:
    lost = keys.held.give_badge("ana", NOON)
    session = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON)
    assert keys.held.withdraw_badges("ana") == 1
    assert keys.held.person_of_badge(lost) is None
    assert keys.sessions.find(session, NOON, IDLE) is None
    assert keys.held.person_of_badge(keys.held.give_badge("ana", NOON)) == "ana"


def test_a_token_ends_when_it_is_withdrawn_and_its_name_is_free_again(keys: Keys) -> None:
    number = keys.held.give_token("night", "lea", NOON, date(2026, 12, 31))
    known = keys.held.token(number)
    assert known is not None
    assert (known.name, known.person, known.until) == ("night", "lea", date(2026, 12, 31))
    with pytest.raises(Refused, match="already"):
        keys.held.give_token("night", "tom", NOON)
    keys.held.withdraw_token("night")
    assert keys.held.token(number) is None
    keys.held.give_token("night", "tom", NOON)


def test_a_session_ends_by_itself_when_nobody_touches_anything(keys: Keys) -> None:
    number = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON)
    half = NOON + IDLE / 2
    assert keys.sessions.find(number, half, IDLE) is not None
    assert keys.sessions.find(number, half + IDLE - timedelta(seconds=1), IDLE) is not None
    assert keys.sessions.find(number, half + 2 * IDLE, IDLE) is None
    assert keys.sessions.find(number, half, IDLE) is None  # and it stays dead


def test_a_page_that_asks_by_itself_keeps_nobody_known(keys: Keys) -> None:
    number = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON)
    for seconds in range(2, 120, 2):
        keys.sessions.find(number, NOON + timedelta(seconds=seconds), IDLE, asked_by_person=False)
    assert keys.sessions.find(number, NOON + IDLE, IDLE) is None


def test_no_session_outlives_a_long_shift(keys: Keys) -> None:
    number, moment = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON), NOON
    while moment < NOON + timedelta(hours=12):
        assert keys.sessions.find(number, moment, IDLE) is not None
        moment += timedelta(seconds=100)
    assert keys.sessions.find(number, moment, IDLE) is None


def test_the_session_of_the_person_before_cannot_be_used_again(keys: Keys) -> None:
    before = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON)
    now = keys.sessions.begin("ben", Proof.CODE, "Hall A", NOON, instead_of=before)
    assert keys.sessions.find(before, NOON, IDLE) is None
    keys.sessions.end(now)
    assert keys.sessions.find(now, NOON, IDLE) is None


def test_a_new_code_ends_the_sessions_of_the_old_one(keys: Keys) -> None:
    number = keys.sessions.begin("ana", Proof.CODE, "Hall A", NOON)
    keys.codes.give_first("ana", NOON, is_password=False)
    assert keys.sessions.find(number, NOON, IDLE) is None
