"""The auditor's folder: every question has its answers or its reason, and it proves itself with Python alone."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import pytest
from freezegun import freeze_time
from pypdf import PdfReader

from tests.commands import Terminal
from tests.plants import CLEAN, INSPECT, book_of
from upkeep.cli.evidence.questions import QUESTIONS
from upkeep.cli.run import run

NOW = "2026-03-02 16:00"
TEXT = """
    2026-03-02 05:00 count P-07 0 by ana
    2026-03-02 05:00 fit M-12 in P-07 at 0 by ana
    2026-03-02 05:00 fit DS-031 in M-12 by ana
    2026-03-02 14:00 count P-07 9000 by ben
    2026-03-02 14:30 hold DS-031 by lea because "Ben saw a burr"
"""
PASSWORD = "long enough for a key"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a book, evidence of it as it is written and once signed, and a key of quality."""
    folder = tmp_path_factory.mktemp("made")
    with book_of(folder, TEXT, tasks=[CLEAN, INSPECT]) as book:
        path = book.path
        count = next(one.entry for one in book.newest_written(20) if "count P-07 9000" in one.text)
    (folder / "password").touch(0o600)
    (folder / "password").write_text(PASSWORD + "\n")
    words = ["--book", str(path)]
    with freeze_time(NOW):
        key = ["seal", "key", str(folder / "quality.key"), "--password-file", str(folder / "password"), "--by", "lea"]
        assert run([*key, *words]) == 0
        again = ("count", "P-07", "8990")
        assert run(["correct", str(count), *again, "--because", "figures swapped", "--by", "ben", *words]) == 0
        assert run(["evidence", str(folder / "evidence"), "--item", "DS-031", *words]) == 0
        shutil.copytree(folder / "evidence", folder / "signed")
        sign = ["seal", "sign", str(folder / "signed" / "seal.txt"), "--key", str(folder / "quality.key")]
        assert run([*sign, "--password-file", str(folder / "password"), *words]) == 0
    return folder


@pytest.fixture
def copy(made: Path, tmp_path: Path) -> Path:
    """The signed folder, to be changed."""
    return Path(shutil.copytree(made / "signed", tmp_path / "copy"))


def public_key(made: Path) -> str:
    return (made / "signed" / "seal.txt").read_text().split(" key ")[1].split()[0]


def verified(folder: Path, *words: str) -> tuple[bool, str]:
    """What another Python with nothing installed says."""
    command = [sys.executable, "-I", "-S", str(folder / "verify.py"), str(folder), *words]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert "Traceback" not in done.stderr
    return done.returncode == 0, done.stdout + done.stderr


def test_good_evidence_proves_itself(made: Path) -> None:
    right, told = verified(made / "evidence")
    assert right
    assert "RIGHT: files, chain and seal agree" in told
    right, told = verified(made / "signed", public_key(made))
    assert right
    assert told.count("Signed with that key.") == 2


def _altered_entry(folder: Path) -> None:
    text = (folder / "chain.jsonl").read_text()
    (folder / "chain.jsonl").write_text(text.replace("count P-07 9000", "count P-07 9100"))
    _sums_anew(folder)


def _cut_tail(folder: Path) -> None:
    lines = (folder / "chain.jsonl").read_text().splitlines(keepends=True)
    (folder / "chain.jsonl").write_text("".join(lines[:-2]))
    _sums_anew(folder)


def _swapped_file(folder: Path) -> None:
    one, two = folder / "02-figures.pdf", folder / "10-shelf.pdf"
    two.write_bytes(one.read_bytes())


def _new_file(folder: Path) -> None:
    (folder / "extra.pdf").write_text("not from us")


def _edited_sums(folder: Path) -> None:
    (folder / "02-figures.csv").write_text("nicer,figures\n")
    _sums_anew(folder, seal=False)


def _edited_all(folder: Path) -> None:
    """File, list of checksums and the line that names it: only the signature is left to tell."""
    (folder / "02-figures.csv").write_text("nicer,figures\n")
    _sums_anew(folder)


def _another_key(folder: Path) -> None:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    key = Ed25519PrivateKey.generate()
    _edited_all(folder)
    lines = []
    for line in (folder / "seal.txt").read_text().splitlines():
        named = f"{line.partition(' key ')[0]} key {key.public_key().public_bytes_raw().hex()}"
        lines.append(f"{named} signature {key.sign(named.encode()).hex()}\n")
    (folder / "seal.txt").write_text("".join(lines))


def _sums_anew(folder: Path, *, seal: bool = True) -> None:
    """As somebody who knows how it is made would do it."""
    from hashlib import sha256

    names = [line[66:] for line in (folder / "SHA256SUMS").read_text().splitlines()]
    sums = "".join(f"{sha256((folder / name).read_bytes()).hexdigest()}  {name}\n" for name in names)
    (folder / "SHA256SUMS").write_text(sums)
    if seal:
        text = (folder / "seal.txt").read_text()
        (folder / "seal.txt").write_text(
            re.sub(r"files [0-9a-f]{64}", f"files {sha256(sums.encode()).hexdigest()}", text)
        )


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (_altered_entry, "seal.txt has no line for: seal 1"),
        (_cut_tail, "seal.txt has no line for: seal 1"),
        (_swapped_file, "10-shelf.pdf is not what it was"),
        (_new_file, "extra.pdf is not what it was, or was not there"),
        (_edited_sums, "seal.txt has no line for: files"),
        (_edited_all, "the signature does not fit"),
        (_another_key, "signed with another key"),
        (lambda folder: (folder / "entries.csv").unlink(), "entries.csv is missing"),
    ],
)
def test_every_change_is_found(made: Path, copy: Path, change: Callable[[Path], None], told: str) -> None:
    change(copy)
    right, found = verified(copy, public_key(made))
    assert not right
    assert told in found


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value or "" for name, value in attrs if name in ("href", "src")]
        assert tag not in ("script", "link", "img", "iframe")


def test_the_index_leads_to_every_file_and_to_nothing_outside(made: Path) -> None:
    page = (made / "evidence" / "index.html").read_text()
    links = _Links()
    links.feed(page)
    assert all((made / "evidence" / link).is_file() for link in links.found)
    answers = {file.name for file in (made / "evidence").iterdir() if re.match(r"\d\d-", file.name)}
    assert answers == set(links.found)
    assert page.count("<strong>") == len(QUESTIONS) == 18
    assert "Not answered by this book." in page


def test_each_answer_is_there_for_people_and_for_programs(made: Path) -> None:
    folder = made / "evidence"
    figures = json.loads((folder / "02-figures.json").read_text())
    assert figures
    first = PdfReader(folder / "02-figures.pdf").pages[0].extract_text()
    assert "2. Who changed an interval" in first
    assert (folder / "13-corrections.csv").read_text().count("figures swapped") == 1
    assert "#" in (folder / "14-kept.csv").read_text() or "first_entry" in (folder / "14-kept.csv").read_text()


def test_an_entry_is_shown_with_its_path_and_no_more(
    made: Path, tmp_path: Path, terminal_of: Callable[[Path], Terminal]
) -> None:
    """The name withheld; every other entry by its digest alone."""
    terminal = terminal_of(made / "plant.book")
    held = re.search(r"#?(\d+) .*hold DS-031", terminal.types(NOW, "history", "--limit", "9").out)
    number = held[1] if held else "3"
    told = terminal.types(NOW, "seal", "path", number, tmp_path / "path", "--withhold", "by", "--withhold", "because")
    assert told.code == 0, told.err
    lines = (tmp_path / "path" / "chain.jsonl").read_text().splitlines()
    shown = json.loads(lines[1])
    assert "hold DS-031" in shown["facts"][7] or held is None
    assert isinstance(shown["hidden"]["by"], str)
    assert "burr" not in "".join(lines)
    assert all(isinstance(json.loads(line), str) for line in lines[2:])
    assert verified(tmp_path / "path")[0]


def test_nothing_is_added_to_a_folder_that_is_there(made: Path, terminal_of: Callable[[Path], Terminal]) -> None:
    told = terminal_of(made / "plant.book").types(NOW, "evidence", made / "evidence")
    assert (told.code, "is already there" in told.err) == (1, True)


def test_a_signed_seal_names_whose_key_it_is(
    made: Path, tmp_path: Path, terminal_of: Callable[[Path], Terminal]
) -> None:
    terminal = terminal_of(made / "plant.book")
    told = terminal.types(NOW, "seal", "check", made / "signed" / "seal.txt")
    assert "of Lea, made" in told.out
    changed = tmp_path / "changed.txt"
    changed.write_text(re.sub(r"at 2026-03-02T16", "at 2026-03-01T16", (made / "signed" / "seal.txt").read_text()))
    told = terminal.types(NOW, "seal", "check", changed)
    assert (told.code, "does not fit" in told.err) == (1, True)


def test_a_key_is_made_by_quality_and_opens_for_its_password_alone(
    made: Path, tmp_path: Path, terminal_of: Callable[[Path], Terminal]
) -> None:
    terminal, password = terminal_of(made / "plant.book"), made / "password"
    told = terminal.types(NOW, "seal", "key", tmp_path / "k", "--password-file", password, "--by", "ana")
    assert (told.code, "made by quality" in told.err, (tmp_path / "k").exists()) == (1, True, False)
    assert (made / "quality.key").stat().st_mode & 0o777 == 0o600
    (tmp_path / "wrong").touch(0o600)
    (tmp_path / "wrong").write_text("another password\n")
    told = terminal.types(
        NOW, "seal", "sign", tmp_path / "s.txt", "--key", made / "quality.key", "--password-file", tmp_path / "wrong"
    )
    assert (told.code, "not its password" in told.err) == (1, True)
    shutil.copy(made / "quality.key", tmp_path / "open.key")
    (tmp_path / "open.key").chmod(0o644)
    told = terminal.types(
        NOW, "seal", "sign", tmp_path / "s.txt", "--key", tmp_path / "open.key", "--password-file", password
    )
    assert (told.code, "read by others" in told.err) == (1, True)


@pytest.fixture
def terminal_of(capsys: pytest.CaptureFixture[str]) -> Callable[[Path], Terminal]:
    return lambda path: Terminal(path, capsys)
