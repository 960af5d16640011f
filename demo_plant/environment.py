"""Makes ``.venv`` in the repository from the locked requirements, or keeps the one that is there when nothing changed.

``requirements.lock`` has what runs.  Other locks add to it, as ``tests/requirements.lock`` does: each has only what
those before it lack, so the program stays what it is with or without them.

Standard library only, and readable by old Pythons: it runs before anything is installed, and it is here that a Python
which is too old hears why.  Each step is one line on stderr, so stdout stays with the command that is started.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
from contextlib import contextmanager
from functools import partial
from pathlib import Path

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from typing import NoReturn

    Run = Callable[[Sequence[str]], "subprocess.CompletedProcess[str]"]
    Say = Callable[[str], None]

ROOT = Path(__file__).resolve().parent.parent
OLDEST = (3, 11)
SCRIPTS = "Scripts" if os.name == "nt" else "bin"
LOCK = "requirements.lock"

PIP_INSTALL = (
    *("-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"),
    "--no-deps",
    "--no-compile",  # most of what is installed is never loaded, and a module is compiled when it first is
)

_FIRST_LOADED = """
import compileall, importlib
for package in ("demo_plant", "tui", "upkeep"):
    compileall.compile_dir(package, quiet=2)
for library in (
    "apscheduler.schedulers.background", "argon2", "dateutil.rrule", "holidays", "PIL.Image", "plotext", "pydantic",
    "reportlab.pdfbase.ttfonts", "reportlab.pdfgen.canvas", "resvg_py", "scipy.special", "sqlite_utils", "tui.app",
    "upkeep.cli.run", "wcwidth",
):
    importlib.import_module(library)
"""
"""Loads what the program does: compiled by whoever may write there, and known to load on this machine."""

_UNFINISHED = "unfinished "


class EnvironmentProblem(Exception):
    """Why the environment could not be made, in words for the person who asked for it."""


def refuse_old_python(version: tuple[int, int]) -> None:
    """Raise :class:`EnvironmentProblem` when the Python that runs this (major, minor) is older than ours must be."""
    if version < OLDEST:
        wanted, present = (".".join(map(str, numbers)) for numbers in (OLDEST, version))
        raise EnvironmentProblem(
            f"Strokebook needs Python {wanted} or newer; this is Python {present}. "
            f"Start it with a newer one, for example: python{wanted} -m demo_plant"
        )


def environment(*added: str, root: Path = ROOT, run: Run | None = None, say: Say | None = None) -> Path:
    """The folder of an environment with what `root` has locked to run, the project itself, and the locks `added`.

    Locks are named by their path in `root`.  Nothing is started where the stamps in the folder say that all of it was
    made from the same locks, project and Python.  What is lacking is added; all is made anew where a lock, the project
    or the Python changed, or where making it was broken off.  Of several runs at once one makes it and the others wait.
    Raises :class:`EnvironmentProblem`; what was not finished then has no stamp, and the next call starts it over.
    """
    refuse_old_python((sys.version_info[0], sys.version_info[1]))
    folder, say = root / ".venv", say or _say
    wanted = _stamps(root, (LOCK, *added))
    if _lacking(folder, wanted):
        with alone(root, say) as held:
            _complete(root, wanted, run or partial(_run, held=held), say)
    return folder


@contextmanager
def alone(root: Path, say: Say) -> Iterator[int]:
    """Lets one run at a time make the environment; gives the open file that it holds while it does.

    The steps it starts hold the file too, so that one which outlives a killed run is waited for as well.
    """
    with (root / ".venv.lock").open("a+b") as file:
        if not _taken(file.fileno(), wait=False):
            say("Another run is making the environment; waiting for it ...")
            while not _taken(file.fileno(), wait=True):
                pass
        yield file.fileno()


def _taken(file: int, wait: bool) -> bool:
    """Whether the file is held now by this run alone; let go of when it is closed, however the run ends."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(file, 0, os.SEEK_SET)
            msvcrt.locking(file, msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError as error:  # where a file system has no locks, nobody waits
        return error.errno not in (errno.EACCES, errno.EAGAIN, errno.EDEADLK)
    return True


def become(command: str, arguments: Sequence[str], *added: str) -> NoReturn:
    """Leave this process to `command` out of the environment; exits with 1 and the reason when there can be none."""
    try:
        program = environment(*added) / SCRIPTS / command
    except EnvironmentProblem as problem:
        sys.exit(str(problem))
    except KeyboardInterrupt:
        sys.exit("Stopped. The environment is not finished; the next start makes it anew.")
    if os.name == "nt":  # execv on Windows gives the terminal back before the program has ended
        sys.exit(subprocess.run([str(program), *arguments], check=False).returncode)
    sys.stderr.flush()
    os.execv(str(program), [str(program), *arguments])


def _stamps(root: Path, locks: Sequence[str]) -> dict[str, str]:
    """What the stamp of each lock has to say: a fingerprint of the lock and of all else that the environment rests on.

    That is the project's own tables without the names of what is added, the Python, and the place.
    """
    import tomllib  # here, because a Python that is too old does not have it

    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    own = {name: value for name, value in project.get("project", {}).items() if name != "optional-dependencies"}
    rests_on = [own, project.get("build-system"), project.get("tool", {}).get("hatch")]
    rests_on += [str(root), sys.version.split()[0], (root / LOCK).read_text(encoding="utf-8")]
    digest = hashlib.sha256(json.dumps(rests_on, sort_keys=True).encode())
    stamps = {}
    for lock in locks:
        of_lock = digest.copy()
        of_lock.update((root / lock).read_bytes())
        stamps[lock] = of_lock.hexdigest()
    return stamps


def _stamp(folder: Path, lock: str) -> Path:
    return folder / f"made-from-{lock.replace('/', '-')}"


def _said(folder: Path, lock: str) -> str:
    try:
        return _stamp(folder, lock).read_text(encoding="utf-8")
    except FileNotFoundError:
        return ""


def _lacking(folder: Path, wanted: dict[str, str]) -> list[str]:
    """The locks that the folder does not have as they are now; all of them where it has no Python."""
    there = _python(folder).exists()
    return [lock for lock, made_from in wanted.items() if not (there and _said(folder, lock) == made_from)]


def _python(folder: Path) -> Path:
    return folder / SCRIPTS / ("python.exe" if os.name == "nt" else "python")


def _complete(root: Path, wanted: dict[str, str], run: Run, say: Say) -> None:
    """Makes what the folder lacks, or all of it where what it has was made from something else."""
    folder = root / ".venv"
    lacking = _lacking(folder, wanted)
    if any(lock == LOCK or _said(folder, lock) not in ("", _UNFINISHED + wanted[lock]) for lock in lacking):
        _make(root, folder, run, say)
        _stamp(folder, LOCK).write_text(wanted[LOCK], encoding="utf-8")
        lacking = [lock for lock in wanted if lock != LOCK]
    for lock in lacking:
        _add(root, folder, lock, wanted[lock], run, say)


def _make(root: Path, folder: Path, run: Run, say: Say) -> None:
    base = getattr(sys, "_base_executable", None) or sys.executable  # not the Python inside the folder to be cleared
    inside = str(_python(folder))
    _stamp(folder, LOCK).unlink(missing_ok=True)
    say(f"Making the environment {folder} with Python {sys.version.split()[0]} ...")
    _step(run([base, "-m", "venv", "--clear", str(folder)]), _NO_VENV)
    say("Installing the locked packages; the first time this takes a minute or two ...")
    _step(run([inside, *PIP_INSTALL, "--require-hashes", "--requirement", str(root / LOCK)]), _NOT_INSTALLED)
    say("Installing Strokebook itself ...")
    _step(run([inside, *PIP_INSTALL, "--no-build-isolation", "--editable", str(root)]), _NOT_INSTALLED)
    _step(run([inside, "-m", "pip", "uninstall", "--quiet", "--yes", "setuptools"]), _NOT_INSTALLED)  # from Python 3.11
    _step(run([inside, "-c", _FIRST_LOADED]), _NOT_LOADED)


def _add(root: Path, folder: Path, lock: str, made_from: str, run: Run, say: Say) -> None:
    """Adds the packages of a lock.  Where adding them was broken off, what is there of them is not trusted."""
    stamp, anew = _stamp(folder, lock), ["--ignore-installed"] if _said(folder, lock) else []
    say(f"Adding the packages of {lock} ...")
    stamp.write_text(_UNFINISHED + made_from, encoding="utf-8")
    install = [str(_python(folder)), *PIP_INSTALL, *anew, "--require-hashes", "--requirement", str(root / lock)]
    _step(run(install), _NOT_INSTALLED)
    stamp.write_text(made_from, encoding="utf-8")


_NO_VENV = (
    "This Python could not make an environment; nothing was installed. "
    "On Debian and Ubuntu the missing piece is the package python3-venv."
)
_NOT_INSTALLED = "A package could not be installed, so nothing was started."
_NOT_LOADED = "An installed package does not load on this machine, so nothing was started."
_NO_NETWORK = (
    "The locked packages could not be fetched, so nothing was started. "
    "Check the network, or pip's own settings where this machine uses a mirror, and run the same command again."
)
_WRONG_HASH = (
    "A fetched package is not the one that its lock names, so it was not installed and nothing was started. "
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


def _run(command: Sequence[str], held: int) -> subprocess.CompletedProcess[str]:
    keeps = () if os.name == "nt" else (held,)
    return subprocess.run(
        command, check=False, capture_output=True, text=True, stdin=subprocess.DEVNULL, cwd=ROOT, pass_fds=keeps
    )


def _say(step: str) -> None:
    print(step, file=sys.stderr, flush=True)


if __name__ == "__main__":
    become("python", ["-c", "import sys; print(sys.prefix)"], *sys.argv[1:])
