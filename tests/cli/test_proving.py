"""Whose name a command writes: asked for at a terminal, taken from a file of tokens, refused without either."""

from __future__ import annotations

import shutil
import stat
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.keys.broken import BROKEN
from tests.plants import entries_of
from tests.plants_with_codes import NOON, SECRETS
from upkeep.book import Book, Proven
from upkeep.entries.origin import Proof
from upkeep.entries.text import read_line
from upkeep.errors import Refused
from upkeep.said import said
from upkeep.scan_codes import read_code
from upkeep.service.drops import DropFolder
from upkeep.store.disk.place import remove_with_what_is_beside

NOW = "2026-03-02 12:00"
COUNT = ("count", "P-07", "1204300", "--by", "ana")


@pytest.fixture
def path(folder_with_codes: Path, tmp_path: Path) -> Path:
    shutil.copytree(folder_with_codes, tmp_path / "copy")
    return tmp_path / "copy" / "plant.book"


@pytest.fixture
def terminal(path: Path, capsys: pytest.CaptureFixture[str]) -> Terminal:
    return Terminal(path, capsys)


@pytest.fixture
def typing(monkeypatch: pytest.MonkeyPatch) -> Callable[[Sequence[str]], None]:
    """Has somebody sit at the terminal, who types these texts where a code is asked for."""

    def typing(texts: Sequence[str]) -> None:
        left = iter(texts)
        monkeypatch.setattr("sys.stdin.isatty", lambda: True)
        monkeypatch.setattr("click.prompt", lambda *_, **how: next(left) if how["hide_input"] else None)

    return typing


@pytest.fixture
def token(path: Path) -> Path:
    """A file with Ana's token and Lea's, as a machine has that writes for both."""
    file = path.with_name("night.token")
    file.touch(0o600)
    with Book.open(path) as book:
        held = book.naming.keys.held
        file.write_text("".join(f"{held.give_token(name, name, NOON)}\n" for name in ("lea", "ana")))
    return file


def newest(path: Path) -> tuple[str, str, Proof, str | None]:
    with Book.open(path) as book:
        line = book.newest_written(1)[0]
        return line.kind, line.by, line.proof, line.entered_by


def test_a_command_asks_for_the_code_at_a_terminal_and_shows_none_of_it(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    typing([SECRETS["ana"]])
    assert terminal.types(NOW, *COUNT).code == 0
    assert newest(path) == ("count", "ana", Proof.CODE, None)


def test_who_may_not_hears_it_before_a_code_is_asked_for(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    typing([])
    told = terminal.types(NOW, "pause", "M-12", "--by", "ben", "--because", "rack")
    assert told.code == 1
    assert "Ben (operator) may not put items out of use or bring them back: this needs the role of" in told.err
    assert "Ask Lea or Yara Holm." in told.err
    assert newest(path)[0] == "fit"


HANDED_IN = {
    "orders.csv": "order,pieces,item,press,day\nO-1,100,DS-031,P-07,2026-03-09\n",
    "stated.csv": "item,task,done\nM-12,clean,2026-02-20\n",
    "lines.txt": '2026-03-02 11:00 define person ben {"id":"ben","name":"Ben","roles":["operator","stores"]} by ben\n',
    "files/plant.toml": '[plant]\nname = "Test"\nzone = "UTC"\nkeepers = ["yara", "zoltan"]\nsigned_with = "codes"\n',
    "files/places.csv": "id,title,area\nR-01,Rack,Hall A\n",
    "files/people.csv": "id,name,roles\nyara,Yara Holm,stores\nzoltan,Zoltan Reker,plant manager\nzoe,Zoe,operator\n",
    "files/items.csv": "id,kind,title,place\n",
    "files/tasks.toml": "",
}
"""What somebody brings to the book who may not."""


@pytest.mark.parametrize(
    ("words", "because"),
    [
        (("code", "ana"), "may not do that. Ask a keeper"),
        (("code", "ana", "--withdraw"), "may not do that. Ask a keeper"),
        (("badge", "ana"), "may not do that. Ask a keeper"),
        (("token", "night", "--file", "new.token"), "may not do that. Ask a keeper"),
        (("hints",), "for the maintenance lead"),
        (("order", "--from", "orders.csv"), "may not plan orders"),
        (("stated", "stated.csv"), "may not defer or cancel work"),
        (("enter", "lines.txt"), "may not add or change people"),
        (("new", "files", "--because", "a new colleague"), "may not change the plant's rules"),
    ],
    ids=lambda words: "-".join(words) if isinstance(words, tuple) else "",
)
def test_no_command_asks_for_a_code_that_is_of_no_use(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None], monkeypatch: pytest.MonkeyPatch,
    words: tuple[str, ...], because: str,
) -> None:  # fmt: skip
    """Rights, and whatever else the book refuses, come before the code."""
    (path.parent / "files").mkdir()
    for name, content in HANDED_IN.items():
        (path.parent / name).write_text(content)
    monkeypatch.chdir(path.parent)
    typing([])
    told = terminal.types(NOW, *words, "--by", "ben")
    assert told.code == 1
    assert because in " ".join(told.err.split())


@pytest.mark.parametrize("broken", BROKEN)
def test_a_file_of_keys_that_cannot_be_used_is_told_in_the_shell(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None], broken: str
) -> None:
    spoil, words = BROKEN[broken]
    spoil(Path(f"{path}-keys"))
    typing([SECRETS["ana"], SECRETS["yara"]])
    for command in (COUNT, ("keys",), ("code", "ben", "--by", "yara")):
        told = terminal.types(NOW, *command)
        assert (told.code, words in told.err) == (1, True), command
    assert terminal.types(NOW, "board").code == 0
    assert newest(path)[0] == "fit"


def test_without_a_terminal_or_a_token_nothing_is_written(terminal: Terminal, path: Path) -> None:
    said = terminal.types(NOW, *COUNT)
    assert said.code == 1
    assert "Names are proven in this plant: at a terminal Ana is asked for a code." in said.err
    assert newest(path)[0] == "fit"


@pytest.mark.parametrize(
    "words",
    [
        "hold M-12 --because x", "fault M-12 burr", "remark M-12 dusty", "strike 3 --because x", "retire CP-a worn",
        "uncounted M-12 hand 5", "order A-1 500 DS-031 P-07 2026-03-03", "badge ana", "code ben", "own-code",
    ],
)  # fmt: skip
def test_no_command_goes_round_it(terminal: Terminal, path: Path, words: str) -> None:
    with Book.open(path) as book:
        before = book.newest_written(1)[0].entry
    said = terminal.types(NOW, *words.split(), "--by", "lea")
    assert said.code == 1
    assert "Names are proven in this plant" in said.err
    with Book.open(path) as book:
        assert book.newest_written(1)[0].entry == before


def test_a_wrong_code_writes_nothing_and_the_fifth_makes_the_next_one_wait(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    for _ in range(5):
        typing(["000000"])
        said = terminal.types(NOW, *COUNT)
        assert said.code == 1
        assert "That is not the code of Ana." in said.err
    assert "The next try is possible in 30 s." in said.err
    assert newest(path) == ("wrong-codes", "ana", Proof.NONE, None)
    typing([SECRETS["ana"]])
    assert "The next try is possible at 2026-03-02 12:00:30." in terminal.types(NOW, *COUNT).err
    typing([SECRETS["ana"]])
    assert terminal.types("2026-03-02 12:00:30", *COUNT).code == 0


def test_a_token_signs_for_its_person_and_for_nobody_else(terminal: Terminal, path: Path, token: Path) -> None:
    assert terminal.types(NOW, "--token-file", token, *COUNT).code == 0
    assert newest(path) == ("count", "ana", Proof.TOKEN, None)
    said = terminal.types(NOW, "--token-file", token, "count", "P-07", "1204400", "--by", "ben")
    assert (said.code, newest(path)[1]) == (1, "ana")
    assert "do not speak for ben, but for lea or ana" in said.err


def test_the_setting_names_the_file_too(
    terminal: Terminal, path: Path, token: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STROKEBOOK_TOKEN_FILE", str(token))
    assert terminal.types(NOW, *COUNT).code == 0
    assert newest(path)[2] is Proof.TOKEN


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o644, 0o620])
def test_a_file_that_others_can_read_proves_nothing(terminal: Terminal, token: Path, mode: int) -> None:
    token.chmod(mode)
    said = terminal.types(NOW, "--token-file", token, *COUNT)
    assert said.code == 1
    assert "can be read by others than its owner" in said.err


def test_a_withdrawn_token_signs_nothing_more(terminal: Terminal, path: Path, token: Path) -> None:
    with Book.open(path) as book:
        book.naming.keys.held.withdraw_token("ana")
    said = terminal.types(NOW, "--token-file", token, *COUNT)
    assert said.code == 1
    assert "not known, or was withdrawn" in said.err


@pytest.mark.parametrize("content", ["", "\n\n", "0" * 32, "strokebook", "\x00\x01", "é" * 40])
def test_a_file_without_a_token_is_told(terminal: Terminal, token: Path, content: str) -> None:
    token.write_text(content)
    said = terminal.types(NOW, "--token-file", token, *COUNT)
    assert said.code == 1
    assert "token" in said.err


def test_a_keeper_gives_a_code_and_its_owner_chooses_another_at_the_first_command(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    typing([SECRETS["yara"]])
    given = terminal.types(NOW, "code", "tom", "--by", "yara")
    first = given.out.partition("First code of Tom: ")[2][:8]
    assert first.isdigit()
    typing([first, "884213", "884213"])
    assert terminal.types(NOW, "count", "P-07", "1204300", "--by", "tom").code == 0
    with Book.open(path) as book:
        kinds = [(line.kind, line.by) for line in book.newest_written(3)]
        assert kinds == [("count", "tom"), ("given", "tom"), ("given", "yara")]
        assert first not in "\n".join(book.export())
        assert "884213" not in "\n".join(book.export())


def test_two_different_new_codes_change_nothing(terminal: Terminal, typing: Callable[[Sequence[str]], None]) -> None:
    typing([SECRETS["ana"], "884213", "884214"])
    assert "not the same" in terminal.types(NOW, "own-code", "--by", "ana").err
    typing([SECRETS["ana"]])
    assert terminal.types(NOW, *COUNT).code == 0


def test_ones_own_code_is_changed_with_the_old_one(terminal: Terminal, typing: Callable[[Sequence[str]], None]) -> None:
    typing([SECRETS["ana"], "884213", "884213"])
    assert terminal.types(NOW, "own-code", "--by", "ana").code == 0
    typing([SECRETS["ana"]])
    assert terminal.types(NOW, *COUNT).code == 1
    typing(["884213"])
    assert terminal.types(NOW, *COUNT).code == 0


def test_an_operator_gives_nobody_a_code(terminal: Terminal, typing: Callable[[Sequence[str]], None]) -> None:
    typing([SECRETS["ana"]])
    said = terminal.types(NOW, "code", "ben", "--by", "ana")
    assert said.code == 1
    assert "Ask a keeper of the book: Yara Holm or Zoltan Reker" in said.err
    typing([SECRETS["ben"]])
    assert terminal.types(NOW, "count", "P-07", "1204300", "--by", "ben").code == 0  # Ben's code is what it was


def number_on(printed: str) -> str:
    """The number of a badge, from the code that is printed."""
    code = read_code(printed.partition("Ana: ")[2].split()[0].rstrip("."))
    assert code is not None
    return code.text


def test_the_lead_makes_a_lost_badge_void_and_a_keeper_gives_another(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    typing([SECRETS["yara"]])
    lost = number_on(terminal.types(NOW, "badge", "ana", "--by", "yara").out)
    typing([SECRETS["lea"]])
    assert terminal.types(NOW, "badge", "ana", "--withdraw", "--by", "lea").code == 0
    typing([SECRETS["yara"]])
    found = number_on(terminal.types(NOW, "badge", "ana", "--by", "yara").out)
    with Book.open(path) as book:
        assert book.naming.meant(lost, NOON) == ()
        assert [one.id for one in book.naming.meant(found, NOON)] == ["ana", "ana-tools"]


def test_a_token_goes_into_a_new_file_for_its_owner_alone(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    file = path.with_name("lists.token")
    make = ("token", "night list", "--for", "lea", "--file", file, "--by", "yara")
    typing([SECRETS["yara"]])
    assert terminal.types(NOW, *make).code == 0
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    typing([SECRETS["yara"]])
    again = terminal.types(NOW, *make)
    assert again.code == 1  # neither the file nor the token is replaced
    assert terminal.types(NOW, "--token-file", file, "hold", "M-12", "--because", "x", "--by", "lea").code == 0


def test_a_lost_file_of_keys_is_begun_anew_by_a_keeper_and_the_book_says_so(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    Path(f"{path}-keys").unlink()
    typing([SECRETS["ana"]])
    assert "has no code yet" in terminal.types(NOW, *COUNT).err
    assert terminal.types(NOW, "code", "ana", "--by", "ana").code == 1
    first = terminal.types(NOW, "code", "yara", "--by", "yara").out.partition("Yara Holm: ")[2][:8]
    assert newest(path) == ("given", "yara", Proof.NONE, None)
    typing([first, "gravel on the roof", "gravel on the roof"])
    assert terminal.types(NOW, "code", "ana", "--by", "yara").code == 0
    assert terminal.types(NOW, "code", "zoltan", "--by", "zoltan").code == 1  # it was begun


def test_keys_are_told_and_never_shown(terminal: Terminal, path: Path) -> None:
    said = terminal.types(NOW, "keys")
    assert "ana Ana: a code since 2026-03-02 12:00." in said.out
    assert "tom Tom: no code yet." in said.out
    assert "zoltan Zoltan Reker: no password yet." in said.out
    assert not any(secret in said.out for secret in SECRETS.values())


def test_lines_are_entered_by_whoever_signed_them_or_by_a_keeper(
    terminal: Terminal, path: Path, tmp_path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    lines = tmp_path / "lines.txt"
    lines.write_text("2026-03-02 11:00 count P-07 1204300 by ana\n")
    assert "say with --by" in terminal.types(NOW, "enter", lines).err
    typing([SECRETS["lea"]])
    assert "nobody else may sign with it" in terminal.types(NOW, "enter", lines, "--by", "lea").err
    typing([SECRETS["yara"]])
    assert terminal.types(NOW, "enter", lines, "--by", "yara").code == 0
    assert newest(path) == ("count", "ana", Proof.NONE, "yara")


def test_a_keeper_restores_with_a_password_unless_the_keys_are_lost_too(
    terminal: Terminal, path: Path, typing: Callable[[Sequence[str]], None]
) -> None:
    backup = path.with_name("night.book")
    with Book.open(path) as book:
        book.backup(backup)
    remove_with_what_is_beside(path)
    assert "asked for a code" in terminal.types(NOW, "restore", backup, "--by", "yara").err
    typing([SECRETS["yara"]])
    assert terminal.types(NOW, "restore", backup, "--by", "yara").code == 0
    assert newest(path) == ("note", "yara", Proof.PASSWORD, None)
    remove_with_what_is_beside(path)
    Path(f"{path}-keys").unlink()
    assert terminal.types(NOW, "restore", backup, "--by", "yara").code == 0
    assert newest(path) == ("note", "yara", Proof.NONE, None)


def test_an_export_brings_a_plant_of_codes_back_as_it_was(path: Path, tmp_path: Path) -> None:
    with Book.open(path) as book:
        count = entries_of(book, "2026-03-02 12:00 count P-07 1204300 by ana")
        book.write(count, NOON, proven=Proven("ana", Proof.CODE))
        text = list(book.export())
        with Book.create(tmp_path / "again.book") as again:
            again.write([read_line(line, book.zone) for line in text], NOON)
            assert list(again.export()) == text


def test_dropped_files_are_taken_by_a_token_as_long_as_it_holds(path: Path, tmp_path: Path) -> None:
    folder, speaks = tmp_path / "incoming", [Proven("ana", Proof.TOKEN)]
    folder.mkdir()

    def prove(book: Book) -> Proven:
        if not speaks:
            raise Refused(said("This token was withdrawn."))
        return speaks[0]

    drop = DropFolder(folder, path, "ana", prove)
    for place, count in enumerate((1204300, 1204400)):
        (folder / f"{count}.csv").write_text(f"press,at,count\nP-07,2026-03-02 11:0{place},{count}\n")
        for _ in range(2):
            drop.look(NOON)
        speaks.clear()
    assert [file.name for file in (folder / "taken").iterdir()] == ["1204300.csv"]
    assert (folder / "1204400.csv").exists()  # it waits for a new token
    assert newest(path) == ("count", "ana", Proof.TOKEN, None)


def test_a_service_takes_dropped_files_by_the_token_it_was_started_with(
    terminal: Terminal, path: Path, token: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its jobs run in threads, where no command is known any more."""
    kept: list[DropFolder] = []
    monkeypatch.setattr("upkeep.service.serve.serve", lambda book, *, drop, **how: kept.append(drop))
    started = terminal.types(NOW, *("--token-file", str(token)), "serve", "--drop", str(tmp_path / "in"), "--by", "ana")
    assert (started.code, started.err) == (0, "")
    (tmp_path / "in" / "counts.csv").write_text("press,at,count\nP-07,2026-03-02 11:00,1204300\n")
    for _ in range(2):
        kept[0].look(NOON)
    assert newest(path) == ("count", "ana", Proof.TOKEN, None)
