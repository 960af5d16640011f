"""The hash functions of the chain against published examples, and a chain followed by its digests alone.

Source: FIPS 180-4, "Secure Hash Standard", NIST, August 2015; its examples for SHA-256 are those of FIPS 180-2
(August 2002), appendix B.1 to B.3: "abc", a message of 448 bits, and one million repetitions of "a".  The digest of the
empty message is from NIST's example file for the byte-oriented SHA tests (SHAVS, SHA256ShortMsg.rsp, Len = 0), that of
the message of 896 bits from NIST's examples of hash algorithms (from memory).
HMAC-SHA256: RFC 4231, "Identifiers and Test Vectors for HMAC-SHA-224, HMAC-SHA-256, HMAC-SHA-384, and HMAC-SHA-512",
December 2005, sections 4.2 to 4.4.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.plants import book_of
from upkeep.entries import chain
from upkeep.entries.row import EntryRow
from upkeep.store.entry_rows import COLUMNS

sha256, hmac_digest = vars(chain)["sha256"], vars(chain)["hmac_digest"]
"""The very functions with which the chain links entries."""

VECTORS = {
    "abc": (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    "empty": (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    "448 bits": (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    "896 bits": (
        b"abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu",
        "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1",
    ),
    "a million times a": (b"a" * 1_000_000, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
}


@pytest.mark.parametrize("name", VECTORS)
def test_the_chains_hash_function_gives_the_published_digests(name: str) -> None:
    """The function that links entries is SHA-256, not something close to it."""
    message, digest = VECTORS[name]
    assert sha256(message).hexdigest() == digest


MACS = {
    "test case 1": (b"\x0b" * 20, b"Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"),
    "test case 2": (
        b"Jefe",
        b"what do ya want for nothing?",
        "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
    ),
    "test case 3": (
        b"\xaa" * 20,
        b"\xdd" * 50,
        "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe",
    ),
}


@pytest.mark.parametrize("name", MACS)
def test_the_function_that_salts_fields_gives_the_published_codes(name: str) -> None:
    """The salt of a field is the HMAC-SHA256 of its name under the salt of its entry."""
    key, message, code = MACS[name]
    assert hmac_digest(key, message, "sha256").hex() == code


def test_a_chain_begins_with_zeros_and_its_links_are_hashes_of_link_and_digest(tmp_path: Path) -> None:
    """With the digests alone somebody outside follows a whole book to its last link."""
    line = "2026-03-02 06:00 count P-07 1204300 by ana"
    with book_of(tmp_path, line) as book:
        last = bytes(32)
        for row in map(EntryRow._make, book._file.rows(f"SELECT {COLUMNS} FROM entries ORDER BY id")):
            last = sha256(last + chain.digest(row)).digest()
            assert row.hash == last
        assert book.prove().hash == last.hex()
