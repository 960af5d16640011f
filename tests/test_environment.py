"""The environment that the two start commands make: from the standard library alone, once, and never half."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from demo_plant.environment import ROOT, SCRIPTS, EnvironmentProblem, environment, refuse_old_python

NO_ANSWER = """\
WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after connection broken by \
'NewConnectionError("HTTPConnection(host='127.0.0.1', port=9): Failed to establish a new connection")': /simple/click/
ERROR: Could not find a version that satisfies the requirement click==8.5.1 (from versions: none)
ERROR: No matching distribution found for click==8.5.1
"""
WRONG_HASH = """\
ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.
        Expected sha256 a072
             Got        f072
"""
BARE_IMPORT = f"""
import sys
sys.path.insert(0, {str(ROOT)!r})
import demo_plant.environment
ours = {{"demo_plant", "demo_plant.environment", "__main__"}}
print(sorted({{name.partition(".")[0] for name in set(sys.modules) - ours}} - sys.stdlib_module_names))
"""


class Machine:
    """Stands in for the commands that make an environment: keeps what was asked, fails where it is told to."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.asked: list[str] = []
        self.said: list[str] = []
        self.failures: dict[str, str] = {}

    def run(self, command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        """Do as the step would: the first one leaves a Python in the folder."""
        line = " ".join(command)
        self.asked.append(line)
        for part, text in self.failures.items():
            if part in line:
                return subprocess.CompletedProcess(command, 1, stdout="", stderr=text)
        if " venv " in line:
            (self.folder / ".venv" / SCRIPTS).mkdir(parents=True, exist_ok=True)
            (self.folder / ".venv" / SCRIPTS / "python").touch()
            (self.folder / ".venv" / SCRIPTS / "python.exe").touch()
        return subprocess.CompletedProcess(command, 0, stdout="", stderr="")

    def make(self) -> Path:
        """Ask for the environment once and keep the lines that were said."""
        self.asked.clear()
        self.said.clear()
        return environment(self.folder, self.run, self.said.append)


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    """A folder with a project and a lock, and nothing made yet."""
    (tmp_path / "pyproject.toml").write_text('[project]\nname = "x"\nversion = "1"\n')
    (tmp_path / "requirements.lock").write_text("click==8.5.1\n")
    return Machine(tmp_path)


def test_a_bare_interpreter_can_import_it() -> None:
    """Nothing outside the standard library is needed before the environment exists."""
    base = getattr(sys, "_base_executable", sys.executable)
    done = subprocess.run([base, "-I", "-S", "-c", BARE_IMPORT], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.returncode) == ("[]", 0), done.stderr


def test_the_first_time_it_makes_installs_and_says_each_step(machine: Machine) -> None:
    """A virtual environment, the locked packages with their hashes, the project without new packages; one line each."""
    assert machine.make() == machine.folder / ".venv"
    venv, packages, project = machine.asked
    assert " -m venv " in venv
    assert "--require-hashes" in packages
    assert "requirements.lock" in packages
    assert "--no-deps --no-build-isolation --editable" in project
    assert len(machine.said) == 3


def test_the_second_time_nothing_is_started(machine: Machine) -> None:
    """The stamp says that the environment was made from the same lock, project and Python."""
    machine.make()
    machine.make()
    assert machine.asked == []
    assert machine.said == []


@pytest.mark.parametrize(
    ("file", "text"),
    [("requirements.lock", "click==8.5.2\n"), ("pyproject.toml", '[project]\nname = "x"\nversion = "2"\n')],
)
def test_another_lock_or_project_makes_it_anew(machine: Machine, file: str, text: str) -> None:
    """What is installed always is what the files say."""
    machine.make()
    (machine.folder / file).write_text(text)
    machine.make()
    assert len(machine.asked) == 3


def test_the_settings_of_the_checks_do_not_make_it_anew(machine: Machine) -> None:
    """A new lint rule in the project file is no reason to install everything again."""
    machine.make()
    with (machine.folder / "pyproject.toml").open("a") as file:
        file.write("[tool.ruff]\nline-length = 120\n")
    machine.make()
    assert machine.asked == []


def test_an_environment_whose_python_is_gone_is_made_anew(machine: Machine) -> None:
    """A removed Python leaves a stamp that is no longer true."""
    machine.make()
    for python in (machine.folder / ".venv" / SCRIPTS).iterdir():
        python.unlink()
    machine.make()
    assert len(machine.asked) == 3


@pytest.mark.parametrize(
    ("step", "text", "sentence"),
    [
        ("--require-hashes", NO_ANSWER, "Check the network"),
        ("--require-hashes", WRONG_HASH, "is not the one that requirements.lock names"),
        ("--require-hashes", "ERROR: no space left on device", "no space left on device"),
        ("--editable", "ERROR: bad metadata", "A package could not be installed"),
        (" -m venv ", "ensurepip is not available", "python3-venv"),
    ],
)
def test_a_failing_step_says_what_to_do_and_is_not_taken_for_done(
    machine: Machine, step: str, text: str, sentence: str
) -> None:
    """The reason is a sentence with the step's own last words, and the next start tries all of it again."""
    machine.failures = {step: text}
    with pytest.raises(EnvironmentProblem) as problem:
        machine.make()
    assert sentence in str(problem.value)
    assert text.strip().splitlines()[-1] in str(problem.value)
    machine.failures = {}
    machine.make()
    assert len(machine.asked) == 3


def test_a_failed_remake_does_not_leave_the_old_stamp_true(machine: Machine) -> None:
    """Going back to the old lock after a failure is no way around making the environment whole."""
    machine.make()
    old = (machine.folder / "requirements.lock").read_text()
    (machine.folder / "requirements.lock").write_text("click==8.5.2\n")
    machine.failures = {"--require-hashes": NO_ANSWER}
    with pytest.raises(EnvironmentProblem):
        machine.make()
    machine.failures = {}
    (machine.folder / "requirements.lock").write_text(old)
    machine.make()
    assert len(machine.asked) == 3


def test_an_old_python_is_refused_by_name() -> None:
    """The sentence names the Python that is needed and the one that was found."""
    with pytest.raises(EnvironmentProblem, match=r"needs Python 3\.11 or newer; this is Python 3\.9"):
        refuse_old_python((3, 9))
    refuse_old_python((3, 11))
    refuse_old_python((3, 14))


def test_the_lock_names_no_index_and_no_place_on_a_disk() -> None:
    """The lock works with whatever package index the machine is set up for."""
    lock = (ROOT / "requirements.lock").read_text()
    lines = [line.strip() for line in lock.splitlines() if not line.lstrip().startswith("#")]
    odd = [line for line in lines if "://" in line or "@ " in line or line.startswith(("--index", "--extra", "--find"))]
    assert odd == []


def test_every_locked_package_is_pinned_with_a_hash() -> None:
    """A package without a hash could be exchanged on its way here."""
    lock = (ROOT / "requirements.lock").read_text().replace("\\\n", "")
    pins = [line for line in lock.splitlines() if line[:1].isalnum()]
    assert pins
    assert [pin for pin in pins if "==" not in pin or "--hash=sha256:" not in pin] == []
