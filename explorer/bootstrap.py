"""First start from a checkout: an environment of our own beside the project, with the standard library alone.

Only `python3 -m explorer` and `python3 -m tests` come through here; an installed package does not.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from explorer import pip_wheel

PROJECT = Path(__file__).resolve().parent.parent
STAMP = "stillbar-stamp"


@dataclass(frozen=True)
class Environment:
    """An environment beside the project: its folder's name and the extras it holds."""

    name: str
    extras: tuple[str, ...]

    @property
    def folder(self) -> Path:
        """Where the environment stands."""
        return PROJECT / self.name

    @property
    def python(self) -> Path:
        """Its interpreter."""
        place = "Scripts/python.exe" if os.name == "nt" else "bin/python"
        return self.folder / place

    def requirements(self) -> list[str]:
        """What it must hold, as pyproject.toml says."""
        project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
        wanted = list(project["dependencies"])
        for extra in self.extras:
            wanted += project["optional-dependencies"][extra]
        return wanted

    def stamp(self) -> str:
        """What the environment was made for; another stamp asks for another environment."""
        wanted = "\n".join([sys.version, sys.executable, *self.requirements()])
        return hashlib.sha256(wanted.encode()).hexdigest()

    def is_ready(self) -> bool:
        """Whether it was made to the end, for these requirements and this Python."""
        stamp = self.folder / STAMP
        return stamp.is_file() and stamp.read_text(encoding="utf-8") == self.stamp()


RUNTIME = Environment(".venv-stillbar", ())
TESTS = Environment(".venv-stillbar-tests", ("tests",))


def enter(environment: Environment, module: str, arguments: Sequence[str]) -> None:
    """Go on inside the environment: make it if need be, then run `module` there with `arguments`.

    Returns only where it is already running there, or installed and not in a checkout.
    """
    inside = Path(sys.prefix).resolve() == environment.folder.resolve()
    if inside or not (PROJECT / "pyproject.toml").is_file():
        return
    try:
        ensure(environment)
    except OSError as error:
        sys.exit(f"Stillbar: {environment.folder} cannot be made: {error.strerror or error}")
    _run_again(environment, [str(environment.python), "-m", module, *arguments])


def ensure(environment: Environment) -> None:
    """Make the environment if it is not ready. A first run that was broken off is made good."""
    if environment.is_ready():
        return
    with _locked(environment.folder.with_suffix(".lock")):
        if environment.is_ready():
            return
        _say(f"first start, making an environment in {environment.folder}; about half a minute")
        shutil.rmtree(environment.folder, ignore_errors=True)
        _make(environment)
        (environment.folder / STAMP).write_text(environment.stamp(), encoding="utf-8")
        _say("the environment is ready")


def _make(environment: Environment) -> None:
    """Make the environment by the first way that works."""
    reasons = []
    for way in (_with_its_own_pip, _with_the_systems_pip, _with_a_fetched_pip):
        reason = way(environment)
        if reason is None:
            return
        reasons.append(f"  {reason}")
    shutil.rmtree(environment.folder, ignore_errors=True)
    sys.exit(
        "Stillbar: its packages could not be installed. The first start needs the network, or a package "
        "index that pip is set up for; later ones do not. What was tried:\n" + "\n".join(reasons)
    )


def _with_its_own_pip(environment: Environment) -> str | None:
    """An environment with pip inside; None for success, else why not."""
    if importlib.util.find_spec("ensurepip") is None:
        return "this Python's venv brings no pip (ensurepip is missing)"
    failure = _call([sys.executable, "-m", "venv", "--clear", str(environment.folder)])
    return failure or _install([str(environment.python), "-m", "pip"], environment)


def _with_the_systems_pip(environment: Environment) -> str | None:
    """An environment without pip, filled from outside by the pip of this Python."""
    if importlib.util.find_spec("pip") is None:
        return "this Python has no pip"
    failure = _bare(environment)
    pip = [sys.executable, "-m", "pip", "--python", str(environment.python)]
    return failure or _install(pip, environment)


def _with_a_fetched_pip(environment: Environment) -> str | None:
    """An environment without pip, filled by a pip fetched from the package index."""
    failure = _bare(environment)
    if failure:
        return failure
    try:
        wheel = pip_wheel.fetch(environment.folder)
    except (OSError, ValueError) as error:
        return f"pip itself could not be fetched: {error}"
    return _install([str(environment.python), str(wheel / "pip")], environment)


def _bare(environment: Environment) -> str | None:
    return _call([sys.executable, "-m", "venv", "--clear", "--without-pip", str(environment.folder)])


def _install(pip: list[str], environment: Environment) -> str | None:
    options = ["--quiet", "--disable-pip-version-check", "--no-input", "--no-warn-script-location"]
    return _call([*pip, "install", *options, *environment.requirements()])


def _call(command: list[str]) -> str | None:
    """Run a command; None for success, else its last words."""
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode == 0:
        return None
    words = (done.stderr or done.stdout).strip().splitlines() or [f"exit status {done.returncode}"]
    return f"{' '.join(command[1:4])}: {words[-1]}"


def _run_again(environment: Environment, command: list[str]) -> None:
    sys.stdout.flush()
    if os.name == "nt":
        sys.exit(subprocess.run(command, check=False).returncode)
    os.execv(environment.python, command)


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Let one first start at a time make the environment; the lock goes with the process."""
    with path.open("w", encoding="utf-8") as file:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)  # type: ignore[attr-defined,unused-ignore]
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
        yield


def _say(message: str) -> None:
    print(f"Stillbar: {message}", file=sys.stderr, flush=True)
