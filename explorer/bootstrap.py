"""First start from a checkout: an environment of our own beside the project, with the standard library alone.

Only `python3 -m explorer` and `python3 -m tests` come through here; an installed package does not.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import signal
import subprocess
import sys
import time
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPException
from pathlib import Path
from typing import TextIO

from explorer import pip_wheel

PROJECT = Path(__file__).resolve().parent.parent
STAMP = "stillbar-stamp"
CANCELLED = 130


class SetUpError(Exception):
    """A step of the set-up failed; the message tells the reader why."""


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
        """What the environment was made for; another stamp asks for another environment.

        Of the Python only the kind and the minor version count: packages fit any patch of it, so two
        Pythons on one machine can share what was made once.
        """
        wanted = "\n".join([str(sys.implementation.cache_tag), *self.requirements()])
        return hashlib.sha256(wanted.encode()).hexdigest()

    def is_ready(self) -> bool:
        """Whether it was made to the end, for these requirements, and the Python under it is still there."""
        stamp = self.folder / STAMP
        made = stamp.is_file() and self.python.is_file()
        return made and stamp.read_text(encoding="utf-8") == self.stamp()

    def is_entered(self) -> bool:
        """Whether this very Python runs inside it."""
        return Path(sys.prefix).resolve() == self.folder.resolve()


RUNTIME = Environment(".venv-stillbar", ())
TESTS = Environment(".venv-stillbar-tests", ("tests",))


def enter(environment: Environment, module: str, arguments: Sequence[str]) -> None:
    """Go on inside the environment: make it if need be, then run `module` there with `arguments`.

    Returns only where it is already running there, or installed and not in a checkout.
    """
    # The tests' environment holds all that a run needs, so tests that start a run stay inside it.
    entered = environment.is_entered() or TESTS.is_entered()
    if entered or not (PROJECT / "pyproject.toml").is_file():
        return
    try:
        ensure(environment)
    except SetUpError as error:
        sys.exit(f"Stillbar: {error}")
    except OSError as error:
        sys.exit(
            f"Stillbar: {environment.folder} cannot be made: {error.strerror or error}. Copy the project "
            "to a folder that you may write in, with a gigabyte to spare, and start it from there."
        )
    except KeyboardInterrupt:
        _say("broken off; the next start begins anew")
        sys.exit(CANCELLED)
    _run_again(environment, [str(environment.python), "-m", module, *arguments])


def ensure(environment: Environment) -> None:
    """Make the environment if it is not ready. A first run that was broken off is made good.

    Raises SetUpError where its packages cannot be had, OSError where its folder cannot be written.
    """
    if environment.is_ready():
        return
    with _locked(environment.folder.with_suffix(".lock")):
        if environment.is_ready():
            return
        _say(f"first start, setting up its own environment in {environment.folder}; about half a minute")
        (environment.folder / STAMP).unlink(missing_ok=True)
        _install(_find_pip(environment), environment)
        (environment.folder / STAMP).write_text(environment.stamp(), encoding="utf-8")
        _say("the environment is ready")


def _find_pip(environment: Environment) -> list[str]:
    """Make the environment, empty, and return the command of a pip for it: the first that can be had."""
    reasons = []
    for way in (_own_pip, _pip_of_this_python, _fetched_pip):
        try:
            return way(environment)
        except SetUpError as reason:
            reasons.append(f"  {reason}")
    tried = "\n".join(reasons)
    raise SetUpError(
        "no pip to install its packages with. Connect to the network and start it again, or give this "
        f"Python a pip. What was tried:\n{tried}"
    )


def _own_pip(environment: Environment) -> list[str]:
    """An environment with pip inside; Debian's Python cannot make one before python3-venv is installed."""
    if importlib.util.find_spec("ensurepip") is None:
        raise SetUpError("this Python's venv brings no pip (ensurepip is missing)")
    _make_venv(environment)
    return [str(environment.python), "-m", "pip"]


def _pip_of_this_python(environment: Environment) -> list[str]:
    """The pip of the Python that is running, filling the environment from outside."""
    if importlib.util.find_spec("pip") is None:
        raise SetUpError("this Python has no pip")
    _make_venv(environment, "--without-pip")
    pip = [sys.executable, "-m", "pip", "--python", str(environment.python)]
    _call([*pip, "--version"])  # pip before 22.3 knows no --python
    return pip


def _fetched_pip(environment: Environment) -> list[str]:
    """A pip fetched from the package index and run from its wheel, which is never installed."""
    _make_venv(environment, "--without-pip")
    try:
        wheel = pip_wheel.fetch(environment.folder)
    except (OSError, ValueError, HTTPException) as error:
        raise SetUpError(f"pip itself, which a first start fetches: {error}") from error
    return [str(environment.python), str(wheel / "pip")]


def _make_venv(environment: Environment, *options: str) -> None:
    _call([sys.executable, "-m", "venv", "--clear", *options, str(environment.folder)])


def _install(pip: Sequence[str], environment: Environment) -> None:
    """Fill the environment. Raises SetUpError with pip's last words and what to do."""
    options = ["--quiet", "--disable-pip-version-check", "--no-input", "--no-user", "--prefer-binary"]
    try:
        _call([*pip, "install", *options, *environment.requirements()])
    except SetUpError as error:
        raise SetUpError(
            f"its packages could not be installed ({error}). The first start needs the network, or a "
            "package index that pip is set up for; later ones do not. Connect and start it again."
        ) from error


def _call(command: Sequence[str]) -> None:
    """Run a command; raises SetUpError with its last words if it fails."""
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=_surroundings())
    if done.returncode:
        words = (done.stderr or done.stdout).strip().splitlines() or [f"exit status {done.returncode}"]
        raise SetUpError(f"{' '.join(command[1:4])}: {words[-1]}")


def _surroundings() -> dict[str, str]:
    """The environment variables less PYTHONHOME, which would lead a Python out of its environment."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONHOME"}


def _run_again(environment: Environment, command: list[str]) -> None:
    """Run the command in place of this process; on Windows, which cannot do that, under it."""
    sys.stdout.flush()
    if os.name == "nt":
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C reaches the command itself, which answers it
        sys.exit(subprocess.run(command, check=False, env=_surroundings()).returncode)
    os.execve(environment.python, command, _surroundings())


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Let one first start at a time make the environment; the lock goes with the process."""
    with path.open("w", encoding="utf-8") as file:
        if os.name == "nt":
            _lock_on_windows(file)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
        yield


def _lock_on_windows(file: TextIO) -> None:
    """Wait for the lock as long as it takes; Windows itself gives up after ten seconds."""
    import msvcrt

    while True:
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
            return
        except PermissionError:
            time.sleep(0.2)


def _say(message: str) -> None:
    print(f"Stillbar: {message}", file=sys.stderr, flush=True)
