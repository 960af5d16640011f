"""The hash of the chain against the published examples of SHA-256, and one link worked out from its documented fields.

Source: FIPS 180-4, "Secure Hash Standard", NIST, August 2015; its examples for SHA-256 are those of FIPS 180-2
(August 2002), appendix B.1 to B.3: "abc", a message of 448 bits, and one million repetitions of "a".  The digest of the
empty message is from NIST's example file for the byte-oriented SHA tests (SHAVS, SHA256ShortMsg.rsp, Len = 0).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.plants import book_of, write
from upkeep.entries import chain
from upkeep.store.entries import EntryStore

sha256 = vars(chain)["sha256"]
"""The very function with which the chain links entries."""

VECTORS = {
    "abc": (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    "empty": (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    "448 bits": (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    "a million times a": (b"a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
}


@pytest.mark.parametrize("name", VECTORS)
def test_the_chains_hash_function_gives_the_published_digests(name: str) -> None:
    """The function that links entries is SHA-256, not something close to it."""
    message, digest = VECTORS[name]
    assert sha256(message).hexdigest() == digest


def test_a_link_is_the_hash_of_its_documented_fields_joined_by_line_feeds(tmp_path: Path) -> None:
    """Somebody with the printed fields and any SHA-256 program can check an entry without this one."""
    with book_of(tmp_path, "2026-03-02 06:00 count P-07 1204300 by ana") as book:
        reason = 'misread: "3" was 8'
        written = write(
            book,
            "2026-03-02 06:00 count P-07 1204800 by ana recorded 2026-03-02 06:20 corrects #20 "
            f"because {json.dumps(reason)}",
        )
        before, last = list(EntryStore(book._file).all())[-2:]
        fields = (
            before.hash, "21", "2026-03-02T06:00:00Z", "2026-03-02T06:20:00Z", "ana", "count P-07 1204800", "20",
            '"misread: \\"3\\" was 8"', "2026-03-02",
        )  # fmt: skip
        assert written.entries == (21,)
        assert last.hash == sha256("\n".join(fields).encode()).hexdigest()
        assert book.prove().hash == last.hash


def test_the_first_link_follows_sixty_four_zeros(tmp_path: Path) -> None:
    """A chain has to begin somewhere, and says where."""
    with book_of(tmp_path) as book:
        first = next(EntryStore(book._file).all())
        content = '{"name":"Test plant"'
        assert first.entry.at.isoformat() == "2026-03-01T00:00:00+00:00"
        moment = "2026-03-01T00:00:00Z"
        words = next(book.export()).removeprefix("2026-03-01 00:00 ").removesuffix(" by lea")
        assert words.startswith(f"define plant plant {content}")
        fields = ("0" * 64, "1", moment, moment, "lea", words, "", "", "2026-03-01")
        assert first.hash == sha256("\n".join(fields).encode()).hexdigest()
