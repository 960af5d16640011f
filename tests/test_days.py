"""The suite on another day: the clock of everything it starts is moved, and nothing else."""

from __future__ import annotations

import shutil
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.days import AWKWARD, NoSuchDay, moments, run_at

LOOK = """
import sqlite3, subprocess, sys, time
from datetime import UTC, datetime
from pathlib import Path
begun = time.monotonic()
time.sleep(0.05)
assert time.monotonic() - begun >= 0.05
asked = "import datetime; print(datetime.datetime.now(datetime.UTC).isoformat())"
other = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True).stdout.strip()
database = sqlite3.connect(":memory:").execute("SELECT datetime('now')").fetchone()[0]
Path(sys.argv[1]).write_text(f"{datetime.now(UTC).isoformat()},{other},{database}+00:00", encoding="utf-8")
sys.exit(int(sys.argv[2]))
"""

movable = pytest.mark.skipif(
    sys.platform != "linux" or shutil.which("cc") is None, reason="moving the clock takes Linux and a C compiler"
)


@movable
@pytest.mark.parametrize("moment", ["1999-12-31T23:30Z", "2038-01-19T03:14:08Z"])
def test_a_process_its_children_and_the_database_see_the_clock_moved(tmp_path: Path, moment: str) -> None:
    """Into the past or ahead; what sleeps sleeps as long as ever."""
    seen = tmp_path / "seen"
    assert run_at(moments(moment), [sys.executable, "-c", LOOK, str(seen), "0"]) == 0
    for told in seen.read_text(encoding="utf-8").split(","):
        late = datetime.fromisoformat(told) - datetime.fromisoformat(moment)
        assert timedelta(seconds=-2) < late < timedelta(minutes=10)


@movable
def test_the_days_that_fail_are_named_and_the_code_is_that_of_the_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The others run all the same."""
    asked = [datetime(2028, 2, 29, tzinfo=UTC), datetime(2029, 1, 1, tzinfo=UTC)]
    assert run_at(asked, [sys.executable, "-c", LOOK, str(tmp_path / "seen"), "3"]) == 3
    assert capsys.readouterr().err.splitlines()[-2:] == [
        "Failed with the clock at 2028-02-29T00:00:00Z, a Tuesday",
        "Failed with the clock at 2029-01-01T00:00:00Z, a Monday",
    ]


@movable
def test_all_awkward_days_are_asked_for_by_one_word() -> None:
    """Each is a moment."""
    assert moments("awkward") == [datetime.fromisoformat(text) for text in AWKWARD]


@pytest.mark.parametrize("text", ["", "2026-02-30", "tomorrow"])
def test_what_is_no_moment_is_said(text: str) -> None:
    """With how to write one."""
    with pytest.raises(NoSuchDay, match="is no moment; write one like 2028-02-29T02:30 or"):
        moments(text)


def test_where_the_clock_cannot_be_moved_nothing_is_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """One sentence says what is missing."""
    monkeypatch.setattr(shutil, "which", lambda program: None)
    with pytest.raises(NoSuchDay, match="nothing was run: moving it takes Linux and a C compiler"):
        moments("2028-02-29")
