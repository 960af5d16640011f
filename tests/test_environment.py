"""The environment that the two start commands make: from the standard library alone, once, and never half."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from time import sleep

import pytest

from demo_plant.environment import LOCK, ROOT, SCRIPTS, EnvironmentProblem, alone, environment, refuse_old_python
from tests.environment import CHECKS, TESTS

LOCKS = (LOCK, TESTS, CHECKS)

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


PROJECT = '[project]\nname = "x"\nversion = "1"\n[project.optional-dependencies]\ntest = ["pytest"]\n'

RUN = """
import pathlib, sys
from demo_plant.environment import environment
from tests.test_environment import Machine
root = pathlib.Path(sys.argv[1])
machine = Machine(root)

def run(command):
    with (root / "steps").open("a") as steps:
        steps.write(" ".join(command) + "\\n")
    return machine.run(command)

environment(root=root, run=run)
"""
"""Makes an environment out of steps that do nothing but say what they are, in a process of its own."""

RUN_WITH_A_LONG_STEP = """
import pathlib, sys
from demo_plant import environment
root = pathlib.Path(sys.argv[1])
step = "import pathlib as p, time; p.Path('begun').touch(); time.sleep(1); p.Path('ended').touch()"
with environment.alone(root, print) as held:
    environment._run([sys.executable, "-c", f"import os; os.chdir({str(root)!r}); {step}"], held)
"""
"""Begins a step that takes a second."""


class Killed(Exception):
    """The run is killed within a step."""


class Machine:
    """Stands in for the commands that make an environment: keeps what was asked, fails or dies where it is told to."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.asked: list[str] = []
        self.said: list[str] = []
        self.failures: dict[str, str] = {}
        self.dies_at: str | None = None

    def run(self, command: Sequence[str]) -> subprocess.CompletedProcess[str]:
        """Do as the step would: the first one leaves a Python in the folder and nothing else."""
        line = " ".join(command)
        self.asked.append(line)
        if self.dies_at is not None and self.dies_at in line:
            raise Killed
        for part, text in self.failures.items():
            if part in line:
                return subprocess.CompletedProcess(command, 1, stdout="", stderr=text)
        if " venv " in line:
            shutil.rmtree(self.folder / ".venv", ignore_errors=True)
            (self.folder / ".venv" / SCRIPTS).mkdir(parents=True)
            (self.folder / ".venv" / SCRIPTS / "python").touch()
            (self.folder / ".venv" / SCRIPTS / "python.exe").touch()
        return subprocess.CompletedProcess(command, 0, stdout="", stderr="")

    def make(self, *added: str) -> Path:
        """Ask for the environment once and keep the lines that were said."""
        self.asked.clear()
        self.said.clear()
        return environment(*added, root=self.folder, run=self.run, say=self.said.append)

    def write(self, file: str, text: str) -> None:
        """Write a file of the project."""
        (self.folder / file).parent.mkdir(exist_ok=True)
        (self.folder / file).write_text(text)

    @property
    def made_anew(self) -> bool:
        """Whether the last call began with an empty folder."""
        return any(" venv --clear " in line for line in self.asked)


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    """A folder with a project and a lock, and nothing made yet."""
    machine = Machine(tmp_path)
    machine.write("pyproject.toml", PROJECT)
    machine.write(LOCK, "click==8.5.1\n")
    machine.write(TESTS, "pytest==8.4.2\n")
    machine.write(CHECKS, "ruff==0.17.6\n")
    return machine


def test_a_bare_interpreter_can_import_it() -> None:
    """Nothing outside the standard library is needed before the environment exists."""
    base = getattr(sys, "_base_executable", sys.executable)
    done = subprocess.run([base, "-I", "-S", "-c", BARE_IMPORT], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.returncode) == ("[]", 0), done.stderr


def test_the_first_time_it_makes_installs_and_says_what_takes_long(machine: Machine) -> None:
    """A virtual environment, the locked packages with their hashes, the project; then what runs is loaded once."""
    assert machine.make() == machine.folder / ".venv"
    venv, packages, project, spare, loaded = machine.asked
    assert " -m venv " in venv
    assert "--require-hashes" in packages
    assert LOCK in packages
    assert "--no-deps --no-compile --no-build-isolation --editable" in project
    assert "uninstall --quiet --yes setuptools" in spare
    assert "import_module" in loaded
    assert len(machine.said) == 3


def test_the_second_time_nothing_is_started(machine: Machine) -> None:
    """The stamp says that the environment was made from the same lock, project and Python."""
    machine.make()
    machine.make()
    assert machine.asked == []
    assert machine.said == []


def test_the_tests_add_to_what_is_there_and_neither_makes_the_others_anew(machine: Machine) -> None:
    """One step for what the tests need; whoever shows the demo plant afterwards starts nothing, nor do the tests."""
    machine.make()
    machine.make(TESTS)
    (added,) = machine.asked
    assert "--no-deps" in added
    assert "--require-hashes" in added
    assert added.endswith(str(machine.folder / TESTS))
    assert machine.said == [f"Adding the packages of {TESTS} ..."]
    for again in ((), (TESTS,)):
        machine.make(*again)
        assert machine.asked == []


def test_several_locks_are_added_from_nothing_in_their_order(machine: Machine) -> None:
    """And a change in one of them is nothing to who does not ask for it."""
    machine.make(TESTS, CHECKS)
    assert machine.asked[-2].endswith(TESTS)
    assert machine.asked[-1].endswith(CHECKS)
    machine.write(CHECKS, "ruff==0.17.7\n")
    machine.make(TESTS)
    assert machine.asked == []


@pytest.mark.parametrize(("file", "text"), [(LOCK, "click==8.5.2\n"), ("pyproject.toml", PROJECT.replace("1", "2"))])
def test_another_lock_or_project_makes_it_anew(machine: Machine, file: str, text: str) -> None:
    """What is installed always is what the files say; what was added is gone, and added again when it is asked for."""
    machine.make(TESTS)
    machine.write(file, text)
    machine.make()
    assert machine.made_anew
    machine.make(TESTS)
    assert len(machine.asked) == 1


def test_another_lock_of_what_is_added_makes_it_anew_for_those_who_add_it(machine: Machine) -> None:
    """A package that the lock no longer names does not stay; who only shows the demo plant is not concerned."""
    machine.make(TESTS)
    machine.write(TESTS, "pytest==8.4.3\n")
    machine.make()
    assert machine.asked == []
    machine.make(TESTS)
    assert machine.made_anew


@pytest.mark.parametrize(
    "text", [PROJECT + "[tool.ruff]\nline-length = 120\n", PROJECT.replace('["pytest"]', '["pytest", "freezegun"]')]
)
def test_settings_of_the_checks_and_names_of_test_tools_do_not_make_it_anew(machine: Machine, text: str) -> None:
    """A new lint rule is no reason to install everything again, nor is a test tool that only its own lock installs."""
    machine.make()
    machine.write("pyproject.toml", text)
    machine.make()
    assert machine.asked == []


def test_an_environment_whose_python_is_gone_is_made_anew(machine: Machine) -> None:
    """A removed Python leaves stamps that are no longer true."""
    machine.make(TESTS)
    for python in (machine.folder / ".venv" / SCRIPTS).iterdir():
        python.unlink()
    machine.make(TESTS)
    assert machine.made_anew
    assert machine.asked[-1].endswith(TESTS)


@pytest.mark.parametrize("step", [" venv --clear ", LOCK, "--editable", "setuptools", "import_module"])
def test_an_environment_that_was_broken_off_is_made_anew(machine: Machine, step: str) -> None:
    """Whichever step was the last: a folder without a true stamp is never taken for an environment."""
    machine.dies_at = step
    with pytest.raises(Killed):
        machine.make()
    machine.dies_at = None
    machine.make()
    assert machine.made_anew
    machine.make()
    assert machine.asked == []


def test_an_addition_that_was_broken_off_is_laid_over_and_the_program_runs_all_the_while(machine: Machine) -> None:
    """Half a package is not taken for installed; no network is needed to show the demo plant."""
    machine.make()
    machine.dies_at = TESTS
    with pytest.raises(Killed):
        machine.make(TESTS)
    machine.dies_at = None
    machine.make()
    assert machine.asked == []
    machine.make(TESTS)
    (added,) = machine.asked
    assert "--ignore-installed" in added
    machine.make(TESTS)
    assert machine.asked == []


def test_a_failing_addition_leaves_what_runs(machine: Machine) -> None:
    """Without a network there are no tests, but there is a program."""
    machine.make()
    machine.failures = {TESTS: NO_ANSWER}
    with pytest.raises(EnvironmentProblem, match="Check the network"):
        machine.make(TESTS)
    machine.make()
    assert machine.asked == []
    machine.failures = {}
    machine.make(TESTS)
    assert not machine.made_anew


@pytest.mark.parametrize(
    ("step", "text", "sentence"),
    [
        ("--require-hashes", NO_ANSWER, "Check the network"),
        ("--require-hashes", WRONG_HASH, "is not the one that its lock names"),
        ("--require-hashes", "ERROR: no space left on device", "no space left on device"),
        ("--editable", "ERROR: bad metadata", "A package could not be installed"),
        (" -m venv ", "ensurepip is not available", "python3-venv"),
        ("import_module", "ImportError: GLIBC_2.28 not found", "does not load on this machine"),
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
    assert machine.made_anew


def test_a_failed_remake_does_not_leave_the_old_stamp_true(machine: Machine) -> None:
    """Going back to the old lock after a failure is no way around making the environment whole."""
    machine.make()
    old = (machine.folder / LOCK).read_text()
    machine.write(LOCK, "click==8.5.2\n")
    machine.failures = {"--require-hashes": NO_ANSWER}
    with pytest.raises(EnvironmentProblem):
        machine.make()
    machine.failures = {}
    machine.write(LOCK, old)
    machine.make()
    assert machine.made_anew


def test_an_old_python_is_refused_by_name() -> None:
    """The sentence names the Python that is needed and the one that was found."""
    with pytest.raises(EnvironmentProblem, match=r"needs Python 3\.11 or newer; this is Python 3\.9"):
        refuse_old_python((3, 9))
    refuse_old_python((3, 11))
    refuse_old_python((3, 14))


def started(script: str, folder: Path) -> subprocess.Popen[str]:
    """A run in a process of its own."""
    return subprocess.Popen([sys.executable, "-c", script, str(folder)], cwd=ROOT, stderr=subprocess.PIPE, text=True)


def test_of_several_runs_at_once_one_makes_it(machine: Machine) -> None:
    """The others find it made."""
    runs = [started(RUN, machine.folder) for _ in range(4)]
    said = [run.communicate(timeout=100)[1] for run in runs]
    assert [run.returncode for run in runs] == [0, 0, 0, 0], said
    assert (machine.folder / "steps").read_text().count(" venv --clear ") == 1


def test_a_run_says_that_it_waits_for_another(machine: Machine) -> None:
    """And goes on when that has ended."""
    with alone(machine.folder, machine.said.append):
        run = started(RUN, machine.folder)
        assert run.stderr is not None
        assert "waiting for it" in run.stderr.readline()
        assert not (machine.folder / "steps").exists()
    assert run.wait(timeout=100) == 0
    assert (machine.folder / "steps").exists()


@pytest.mark.skipif(os.name == "nt", reason="there a step ends with its run")
def test_a_step_that_outlives_its_killed_run_is_waited_for(machine: Machine) -> None:
    """Two hands in one folder would leave neither's work whole."""
    run = started(RUN_WITH_A_LONG_STEP, machine.folder)
    while not (machine.folder / "begun").exists():
        assert run.poll() is None
        sleep(0.01)
    run.kill()
    run.wait()
    assert not (machine.folder / "ended").exists()
    machine.make()
    assert (machine.folder / "ended").exists()
    assert "waiting for it" in machine.said[0]


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_index_and_no_place_on_a_disk(lock: str) -> None:
    """It works with whatever package index the machine is set up for."""
    lines = [line.strip() for line in (ROOT / lock).read_text().splitlines() if not line.lstrip().startswith("#")]
    odd = [line for line in lines if "://" in line or "@ " in line or line.startswith(("--index", "--extra", "--find"))]
    assert odd == []


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_package_is_pinned_with_a_hash(lock: str) -> None:
    """A package without a hash could be exchanged on its way here."""
    pins = pins_of(lock)
    assert pins
    assert [pin for pin in pins if "==" not in pin or "--hash=sha256:" not in pin] == []


def test_no_lock_has_a_package_of_another() -> None:
    """What one adds or lays over never touches what another brought."""
    names = [{pin.partition("==")[0] for pin in pins_of(lock)} for lock in LOCKS]
    assert len(set.union(*names)) == sum(map(len, names))


def test_what_runs_needs_no_test_tool_and_no_linter() -> None:
    """They stand in the locks that add them."""
    program = {pin.partition("==")[0] for pin in pins_of(LOCK)}
    assert program & {"pytest", "hypothesis", "freezegun", "import-linter", "mypy", "ruff", "pypdf"} == set()
    assert {"click", "scipy", "textual", "reportlab"} <= program


def pins_of(lock: str) -> list[str]:
    """The pins of a lock, each on one line."""
    lines = (ROOT / lock).read_text().replace("\\\n", "").splitlines()
    return [line for line in lines if line[:1].isalnum()]
