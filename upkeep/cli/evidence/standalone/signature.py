#!/usr/bin/env python3
"""Checks the signature of a seal: Ed25519 after RFC 8032, section 5.1, in plain Python: slow, and meant to be read.

python3 -I -S signature.py SEAL-FILE PUBLIC-KEY.  The public key is the one that quality told you, not the one in here.
"""

from __future__ import annotations

import hashlib
import sys

Point = tuple[int, int, int, int]  # (X, Y, Z, T) with x = X/Z, y = Y/Z, x*y = T/Z
P = 2**255 - 19  # the field
L = 2**252 + 27742317777372353535851937790883648493  # the order of the base point
D = -121665 * pow(121666, P - 2, P) % P  # the curve: -x*x + y*y = 1 + D*x*x*y*y


def add(one: Point, two: Point) -> Point:
    """The sum of two points (section 5.1.4)."""
    a, b = (one[1] - one[0]) * (two[1] - two[0]) % P, (one[1] + one[0]) * (two[1] + two[0]) % P
    c, d = 2 * one[3] * two[3] * D % P, 2 * one[2] * two[2] % P
    e, f, g, h = b - a, d - c, d + c, b + a
    return e * f % P, g * h % P, f * g % P, e * h % P


def times(number: int, point: Point) -> Point:
    """A point added so many times."""
    total = (0, 1, 1, 0)
    while number:
        if number & 1:
            total = add(total, point)
        point, number = add(point, point), number >> 1
    return total


def same(one: Point, two: Point) -> bool:
    """Whether two points are the same."""
    return (one[0] * two[2] - two[0] * one[2]) % P == 0 and (one[1] * two[2] - two[1] * one[2]) % P == 0


def x_of(y: int, odd: int) -> int | None:
    """The x of a point by its y and its last bit (section 5.1.3); None: there is no such point."""
    square = (y * y - 1) * pow(D * y * y + 1, P - 2, P) % P
    x = pow(square, (P + 3) // 8, P)
    if (x * x - square) % P:
        x = x * pow(2, (P - 1) // 4, P) % P
    if y >= P or (x * x - square) % P or (x == 0 and odd):
        return None
    return P - x if x & 1 != odd else x


def point_of(data: bytes) -> Point | None:
    """The point that 32 bytes stand for; None: there is none."""
    number = int.from_bytes(data, "little")
    y, odd = number & (1 << 255) - 1, number >> 255
    x = x_of(y, odd)
    return None if x is None else (x, y, 1, x * y % P)


BASE_Y = 4 * pow(5, P - 2, P) % P
BASE_X = 15112221349535400772501151409588531511454012693041857206046113283949847762202  # the even one
BASE = (BASE_X, BASE_Y, 1, BASE_X * BASE_Y % P)


def verify(public: bytes, message: bytes, signature: bytes) -> bool:
    """Whether a signature fits a message and a key (section 5.1.7)."""
    key, commitment, s = point_of(public), point_of(signature[:32]), int.from_bytes(signature[32:], "little")
    if len(public) != 32 or len(signature) != 64 or key is None or commitment is None or s >= L:
        return False
    h = int.from_bytes(hashlib.sha512(signature[:32] + public + message).digest(), "little") % L
    return same(times(s, BASE), add(commitment, times(h, key)))


def checked(seal: str, public: str | None = None) -> str:
    """What to say of a signed seal; ends the program where something is wrong."""
    text, found, signature = seal.partition(" signature ")
    key = text.rpartition(" key ")[2] if found else ""
    if not found:
        sys.exit("WRONG: not signed: " + seal + "")
    if not verify(bytes.fromhex(key), text.encode("ascii"), bytes.fromhex(signature)):
        sys.exit("WRONG: the signature does not fit: " + seal)
    if public is None:
        return "Signed with the key " + key + ": ask quality whether that is theirs."
    if public.lower() != key:
        sys.exit("WRONG: signed with another key: " + key)
    return "Signed with that key."


if __name__ == "__main__":
    with open(sys.argv[1], encoding="ascii") as seals:
        print(checked([line.strip() for line in seals if line.startswith("seal ")][-1], *sys.argv[2:3]))
