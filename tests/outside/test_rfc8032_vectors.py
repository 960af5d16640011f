"""Signatures of seals against the published examples, by the library that signs and the plain one that auditors read.

Source: S. Josefsson, I. Liusvaara, "Edwards-Curve Digital Signature Algorithm (EdDSA)", RFC 8032, January 2017, section
7.1, tests 1, 2, 3 and SHA(abc); typed from memory, and confirmed here by the library: each private key makes the public
key and the signature that stand beside it.
"""

from __future__ import annotations

from hashlib import sha512

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from upkeep.cli.evidence.standalone import signature

VECTORS = {
    "test 1": (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        b"",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
        "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    "test 2": (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        bytes.fromhex("72"),
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
        "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    "test 3": (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        bytes.fromhex("af82"),
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
        "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
    "SHA(abc)": (
        "833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
        "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
        sha512(b"abc").digest(),
        "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b589"
        "09351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704",
    ),
}


@pytest.mark.parametrize("name", VECTORS)
def test_the_library_signs_as_published(name: str) -> None:
    private, public, message, signed = VECTORS[name]
    key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(private))
    assert key.public_key().public_bytes_raw().hex() == public
    assert key.sign(message).hex() == signed


@pytest.mark.parametrize("name", VECTORS)
def test_the_readable_one_says_the_same(name: str) -> None:
    """Right for what was signed, wrong for another message, another key, another signature and one of another form."""
    _, key, message, signed = VECTORS[name]
    public = bytes.fromhex(key)
    other = Ed25519PrivateKey.from_private_bytes(bytes(32)).public_key().public_bytes_raw()
    fits = bytes.fromhex(signed)
    assert signature.verify(public, message, fits)
    assert not signature.verify(public, message + b"x", fits)
    assert not signature.verify(other, message, fits)
    assert not signature.verify(public, message, fits[:63] + bytes([fits[63] ^ 1]))
    malleable = int.from_bytes(fits[32:], "little") + signature.L
    assert not signature.verify(public, message, fits[:32] + malleable.to_bytes(32, "little"))
    assert not signature.verify(public, message, fits[:63])


def test_the_base_point_is_on_the_curve() -> None:
    assert signature.x_of(signature.BASE_Y, 0) == signature.BASE_X
    assert signature.same(signature.times(signature.L, signature.BASE), (0, 1, 1, 0))
