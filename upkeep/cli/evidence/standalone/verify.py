#!/usr/bin/env python3
"""Checks a folder of evidence: python3 -I -S verify.py [FOLDER] [PUBLIC-KEY].  Needs Python 3.9, nothing else.

1. Each file of SHA256SUMS is there and is what it was; no other file is there.
2. chain.jsonl: each entry follows from the one before it (how it is hashed: CHAIN.txt).
3. seal.txt: the seal is that of the last entry, and the checksum that of SHA256SUMS; where they are signed,
   signature.py checks with which key.  A PUBLIC-KEY that you have from quality, not from this folder, proves whose.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Iterator


def net(text: str) -> bytes:
    """A text with its length before it (a netstring)."""
    return b"%d:%s," % (len(text.encode()), text.encode())


def sha(data: bytes) -> bytes:
    """SHA-256."""
    return hashlib.sha256(data).digest()


def digest(entry: dict) -> bytes:  # type: ignore[type-arg]
    """Of one entry; a hidden field is [salt, value], or its hash alone where the value is withheld."""
    hashes = [sha(net("strokebook 1 facts") + b"".join(map(net, entry["facts"])))]
    texts = [f"text {place}" for place in range(1, entry["facts"][7].count("{}") + 1)]
    for field in ["by", "entered by", "station", "because", *texts]:
        kept = entry["hidden"].get(field, "00" * 32)
        if isinstance(kept, str):
            hashes.append(bytes.fromhex(kept))
        else:
            hashes.append(sha(net("strokebook 1 " + field) + bytes.fromhex(kept[0]) + kept[1].encode()))
    return sha(net("strokebook 1 entry") + b"".join(hashes))


def chain_end(path: str) -> str:
    """What the seal of the last entry has to say; an entry that is withheld as a whole is its digest alone."""
    with open(path, encoding="utf-8") as lines:
        head = json.loads(next(lines))
        link, number = bytes.fromhex(head["before"]), head["first"] - 1
        for line in lines:
            entry, number = json.loads(line), number + 1
            if not isinstance(entry, str) and entry["facts"][0] != str(number):
                sys.exit(f"WRONG: entry #{number} says that it is #{entry['facts'][0]}")
            link = sha(link + (bytes.fromhex(entry) if isinstance(entry, str) else digest(entry)))
    return f"seal 1 book {head['book']} entry {number} link {link.hex()} "


def wrong_files(folder: str) -> Iterator[str]:
    """What is wrong with the files, by SHA256SUMS."""
    with open(os.path.join(folder, "SHA256SUMS"), encoding="utf-8") as sums:
        listed = {line.rstrip("\n")[66:]: line[:64] for line in sums}
    for place, _, files in os.walk(folder):
        for path in (os.path.relpath(os.path.join(place, file), folder).replace(os.sep, "/") for file in files):
            if path not in ("SHA256SUMS", "seal.txt", "seal.txt.tsr") and "__pycache__" not in path:
                with open(os.path.join(folder, path), "rb") as file:
                    if listed.pop(path, None) != hashlib.sha256(file.read()).hexdigest():
                        yield path + " is not what it was, or was not there"
    yield from (path + " is missing" for path in listed)


def main(folder: str = ".", public: str | None = None) -> None:
    """Checks a folder; ends with the first thing that is wrong."""
    for problem in wrong_files(folder):
        sys.exit("WRONG: " + problem)
    with open(os.path.join(folder, "SHA256SUMS"), "rb") as sums:
        files = "files " + hashlib.sha256(sums.read()).hexdigest() + " "
    end = chain_end(os.path.join(folder, "chain.jsonl"))
    with open(os.path.join(folder, "seal.txt"), encoding="ascii") as lines:
        seals = [line.strip() for line in lines if line.startswith(("seal ", "files "))]
    for wanted in (end, files):
        if not any(line.startswith(wanted) for line in seals):
            sys.exit("WRONG: seal.txt has no line for: " + wanted)
    for line in seals:
        if not line.startswith((end, files)):
            sys.exit("WRONG: seal.txt says otherwise: " + line)
        if public is not None or " signature " in line:
            sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
            print(__import__("signature").checked(line, public))  # signature.py, beside this file
    print("checksum of SHA256SUMS: " + files[6:])
    print("RIGHT: files, chain and seal agree, up to entry #" + end.split()[5] + ".")


if __name__ == "__main__":
    main(*sys.argv[1:3])
