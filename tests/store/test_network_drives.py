"""A book on the disk of another computer is told: its log is not safe there."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.commands import Terminal
from tests.plants import book_of
from upkeep.store.disk import network

MOUNTS = r"""/dev/sda1 / ext4 rw,relatime 0 0
server:/plant /mnt/plant nfs4 rw,vers=4.2 0 0
//server/share /mnt/my\040share cifs rw 0 0
/dev/sdb1 /mnt/plant/local xfs rw 0 0
torn line
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/srv/strokebook.db", None),
        ("/mnt/plant/strokebook.db", "nfs4"),
        ("/mnt/plant/local/strokebook.db", None),
        ("/mnt/my share/books/strokebook.db", "cifs"),
        ("/mnt/plants/strokebook.db", None),
    ],
)
def test_the_innermost_mount_says_what_a_folder_lies_on(path: str, kind: str | None) -> None:
    """Form of the list: proc(5), /proc/pid/mounts, and fstab(5): blanks are written as \\040."""
    assert network.kind_in(MOUNTS, Path(path)) == kind


def test_each_opening_warns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """And the answer comes all the same."""
    path = book_of(tmp_path).path
    mounts = tmp_path / "mounts"
    mounts.write_text(f"server:/plant {tmp_path} nfs4 rw 0 0\n")
    monkeypatch.setattr(network, "_MOUNTS", mounts)
    said = Terminal(path, capsys).types("2026-03-02 08:00:00", "board")
    assert said.code == 0
    assert "is on a network drive (nfs4)" in said.err
    assert "Test plant" in said.out


def test_the_version_has_the_number_of_the_tables(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And the news says how to go on and back."""
    from upkeep.cli.run import run
    from upkeep.store.schema import TABLES

    assert run(["--version"]) == 0
    assert f"tables {TABLES};" in capsys.readouterr().out
    assert run(["news"]) == 0
    told = capsys.readouterr().out
    assert "Back again" in told
    assert f"tables {TABLES}" in told
