"""A folder that proves itself: the chain, its seal, the checksums, and the programs that check them."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

from upkeep.book import Book
from upkeep.cli.saying import say
from upkeep.errors import Refused
from upkeep.said import said
from upkeep.units.instants import utc_text

SUMS, SEAL, CHAIN = "SHA256SUMS", "seal.txt", "chain.jsonl"

_PROGRAMS = ("verify.py", "signature.py")


@contextmanager
def new_folder(folder: Path) -> Iterator[Path]:
    """A folder to write into, which gets its name when all of it is there; of a work that ends early nothing stays.

    Raises :class:`Refused` where something of that name is there, or it cannot be made.
    """
    if folder.exists():
        raise Refused(said("{folder} is already there. Choose another name; nothing is added to evidence.",
                           folder=folder))  # fmt: skip
    partial = folder.with_name(f".{folder.name}.part")
    try:
        shutil.rmtree(partial, ignore_errors=True)
        partial.mkdir()
        yield partial
        os.replace(partial, folder)
    except OSError as error:
        raise Refused(said("{folder} cannot be written: {why}.", folder=folder, why=str(error.strerror))) from error
    finally:
        shutil.rmtree(partial, ignore_errors=True)


def write_chain(folder: Path, lines: Iterable[str]) -> None:
    """Writes the chain, what is hashed of it, and the programs that check it."""
    from upkeep.entries import chain

    with (folder / CHAIN).open("w", encoding="utf-8", newline="\n") as written:
        written.writelines(f"{line}\n" for line in lines)
    (folder / "CHAIN.txt").write_text(chain.__doc__ or "", encoding="utf-8")
    for program in _PROGRAMS:
        text = files("upkeep.cli.evidence.standalone").joinpath(program).read_text(encoding="utf-8")
        (folder / program).write_text(text, encoding="utf-8", newline="\n")


def write_seal(folder: Path, book: Book, at: datetime) -> str:
    """Writes the checksums of all files in the folder and the seal with the checksum of those; gives that one."""
    named = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    sums = "".join(f"{_sum(folder / name)}  {name}\n" for name in named)
    (folder / SUMS).write_text(sums, encoding="utf-8", newline="\n")
    checksum, seal = sha256(sums.encode()).hexdigest(), book.seal(at)
    files_line = f"files {checksum} of book {seal.book} entry {seal.entry} at {utc_text(at)}"
    (folder / SEAL).write_text(f"{seal.text}\n{files_line}\n", encoding="ascii", newline="\n")
    return checksum


def say_how_to_check(folder: Path, checksum: str) -> None:
    """Tells where it is and how anybody checks it."""
    say(said("{folder}: written.", folder=folder))
    say(said("Checksum of its files, to be told on another way than the folder goes: {checksum}", checksum=checksum))
    say(said("To sign it: strokebook seal sign {seal} --key KEY", seal=folder / SEAL))
    say(said("Anybody checks it with Python alone: python3 -I -S {program} {folder}", program=folder / _PROGRAMS[0],
             folder=folder))  # fmt: skip


def _sum(path: Path) -> str:
    found = sha256()
    with path.open("rb") as file:
        while block := file.read(1 << 20):
            found.update(block)
    return found.hexdigest()
