"""Reference libraries that some checks ask, in a folder and a process of their own.

They bring pandas, which the program must not find, and some change settings of numpy for everybody in the process.
``python3 -m tests`` makes the folder once; where it cannot be made, the checks that need it skip and say so.
"""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from demo_plant.environment import PIP_INSTALL, ROOT, SCRIPTS, alone

FOLDER = ROOT / ".venv" / "oracles"
LOCK = ROOT / "tests" / "outside" / "oracles.txt"
STAMP = FOLDER / "made-from"

MISSING = "the reference libraries are not installed: 'python3 -m tests' fetches them once, when there is a network"

_ASK = "import runpy, sys; sys.path.append(sys.argv[1]); runpy.run_path(sys.argv[2], run_name='__main__')"


def make_oracles(environment: Path) -> None:
    """Make the folder from its lock with the Python of that environment, unless it was made from the same.

    Says on stderr what it does and why it could not; it is not there then.
    """
    if are_there():
        return
    with alone(ROOT, _say):
        if not are_there():
            _make(environment)


def _make(environment: Path) -> None:
    _say("Installing the reference libraries that some tests ask ...")
    shutil.rmtree(FOLDER, ignore_errors=True)
    pip = [str(environment / SCRIPTS / "python"), *PIP_INSTALL, "--require-hashes", "--requirement", str(LOCK)]
    done = subprocess.run([*pip, "--target", str(FOLDER)], check=False, capture_output=True, text=True)
    if done.returncode:
        shutil.rmtree(FOLDER, ignore_errors=True)
        _say(f"{done.stderr.strip()[-500:]}\nThe tests that ask them will skip.")
    else:
        STAMP.write_text(_made_from(), encoding="utf-8")


def are_there() -> bool:
    """Whether the folder is there and was made from the lock as it is now."""
    return STAMP.exists() and STAMP.read_text(encoding="utf-8") == _made_from()


def asked(script: Path, question: object) -> Any:
    """What a script answers that may use the libraries: it reads JSON from stdin and prints JSON."""
    done = subprocess.run(
        [sys.executable, "-c", _ASK, str(FOLDER), str(script)],
        input=json.dumps(question),
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def _say(step: str) -> None:
    print(step, file=sys.stderr, flush=True)


def _made_from() -> str:
    return f"{hashlib.sha256(LOCK.read_bytes()).hexdigest()} {sys.version_info[0]}.{sys.version_info[1]}"
