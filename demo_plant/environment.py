"""Makes ``.venv`` in the repository from the locked requirements, or keeps the one that is there when nothing changed.

Standard library only, and readable by old Pythons: it runs before anything is installed, and it is here that a Python
which is too old hears why.  Each step is one line on stderr, so stdout stays with the command that is started.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import NoReturn

    Run = Callable[[Sequence[str]], "subprocess.CompletedProcess[str]"]
    Say = Callable[[str], None]

ROOT = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
STAMP = "strokebook-made-from"

PIP_INSTALL = ("-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check", "--no-deps")


class EnvironmentProblem(Exception):
    """Why the environment could not be made, in words for the person who asked for it."""


def refuse_old_python(version: tuple[int, int]) -> None:
    """Raise :class:`EnvironmentProblem` when the Python that runs this (major, minor) is older than ours must be."""
    if version < OLDEST:
        wanted, found = (".".join(map(str, numbers)) for numbers in (OLDEST, version))
        raise EnvironmentProblem(
            f"Strokebook needs Python {wanted} or newer; this is Python {found}. "
            f"Start it with a newer one, for example: python{wanted} -m demo_plant"
        )


def environment(root: Path = ROOT, run: Run | None = None, say: Say | None = None) -> Path:
    """The folder of an environment with everything that `root` has locked and the project itself.

    Nothing is started when the stamp in the folder says that it was made from the same lock, project and Python;
    otherwise the folder is made anew.  Raises :class:`EnvironmentProblem`; the stamp is then missing, so the next call
    starts over.
    """
    refuse_old_python((sys.version_info[0], sys.version_info[1]))
    folder = root / ".venv"
    made_from = _made_from(root)
    if not _is_made_from(folder, made_from):
        (folder / STAMP).unlink(missing_ok=True)
        _make(root, folder, run or _run, say or _say)
        (folder / STAMP).write_text(made_from, encoding="utf-8")
    return folder


def become(command: str, arguments: Sequence[str]) -> NoReturn:
    """Leave this process to `command` out of the environment; exits with 1 and the reason when there can be none."""
    try:
        program = environment() / SCRIPTS / command
    except EnvironmentProblem as problem:
        sys.exit(str(problem))
    except KeyboardInterrupt:
        sys.exit("Stopped. The environment is not finished; the next start makes it anew.")
    if os.name == "nt":  # execv on Windows gives the terminal back before the program has ended
        sys.exit(subprocess.run([str(program), *arguments], check=False).returncode)
    sys.stderr.flush()
    os.execv(str(program), [str(program), *arguments])


def _made_from(root: Path) -> str:
    """A fingerprint of all that the environment depends on: the lock, the project's own tables, Python, the place."""
    import tomllib  # here, because a Python that is too old does not have it

    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    tables = [project.get("project"), project.get("build-system"), project.get("tool", {}).get("hatch")]
    place = [str(root), sys.version.split()[0]]
    digest = hashlib.sha256((root / "requirements.lock").read_bytes())
    digest.update(json.dumps([tables, place], sort_keys=True).encode())
    return digest.hexdigest()


def _is_made_from(folder: Path, made_from: str) -> bool:
    stamp = folder / STAMP
    return _python(folder).exists() and stamp.exists() and stamp.read_text(encoding="utf-8") == made_from


def _python(folder: Path) -> Path:
    return folder / SCRIPTS / ("python.exe" if os.name == "nt" else "python")


def _make(root: Path, folder: Path, run: Run, say: Say) -> None:
    base = getattr(sys, "_base_executable", None) or sys.executable  # not the Python inside the folder to be cleared
    inside = str(_python(folder))
    say(f"Making the environment {folder} with Python {sys.version.split()[0]} ...")
    _step(run([base, "-m", "venv", "--clear", str(folder)]), _NO_VENV)
    say("Installing the locked packages; the first time this takes a minute or two ...")
    lock = str(root / "requirements.lock")
    _step(run([inside, *PIP_INSTALL, "--require-hashes", "--requirement", lock]), _NOT_INSTALLED)
    say("Installing Strokebook itself ...")
    _step(run([inside, *PIP_INSTALL, "--no-build-isolation", "--editable", str(root)]), _NOT_INSTALLED)


_NO_VENV = (
    "This Python could not make an environment; nothing was installed. "
    "On Debian and Ubuntu the missing piece is the package python3-venv."
)
_NOT_INSTALLED = "A package could not be installed, so nothing was started."
_NO_NETWORK = (
    "The locked packages could not be fetched, so nothing was started. "
    "Check the network, or pip's own settings where this machine uses a mirror, and run the same command again."
)
_WRONG_HASH = (
    "A fetched package is not the one that requirements.lock names, so it was not installed and nothing was started. "
    "Do not go on with it: find out where the package came from."
)


def _step(done: subprocess.CompletedProcess[str], otherwise: str) -> None:
    """Raise :class:`EnvironmentProblem` with what the step itself said last, when it did not succeed."""
    if done.returncode == 0:
        return
    said = (done.stdout + done.stderr).strip()
    if "DO NOT MATCH THE HASHES" in said:
        otherwise = _WRONG_HASH
    elif "Retrying (" in said or "(from versions: none)" in said:
        otherwise = _NO_NETWORK
    last = "\n".join(f"  {line}" for line in said.splitlines()[-6:])
    raise EnvironmentProblem(f"{otherwise}\nThe last it said:\n{last}" if last else otherwise)


def _run(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, check=False, capture_output=True, text=True, stdin=subprocess.DEVNULL)


def _say(step: str) -> None:
    print(step, file=sys.stderr, flush=True)


if __name__ == "__main__":
    become("python", ["-c", "import sys; print(sys.prefix)"])
