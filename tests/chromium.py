"""What journeys stand on: a Chromium, its type faces, what its driver loads; found, or brought by apt-get.

Standard library alone: a first start imports it before there is an environment.
"""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1]
JOURNEYS = PROJECT / "tests" / "journeys"
VARIABLE = "STILLBAR_BROWSER"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PACKAGES = ("chromium", "fonts-dejavu-extra", "libatomic1")
"""Debian's: the browser, the faces that the style sheets name for Linux, a library that its driver loads."""

CONDENSED = Path("/usr/share/fonts/truetype/dejavu/DejaVuSansCondensed.ttf")
ATOMIC = "libatomic.so.1"
PATIENCE = 600
"""Seconds for one call of apt-get; Chromium is 80 MB to fetch."""


def find() -> str | None:
    """Path of a Chromium: the one that the variable names, and no other then, or the first on PATH."""
    named = os.environ.get(VARIABLE)
    if named:
        return shutil.which(named)
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def tell_ways_out() -> str:
    """Say that there is no Chromium, and what can be done."""
    named = os.environ.get(VARIABLE)
    why = f"{VARIABLE} names {named}, which is no program here" if named else "none was found on PATH"
    return (
        f"No Chromium for the browser tests: {why}. There are three ways out:\n"
        "  install Chromium or Chrome, which root on Debian does with\n"
        f"    apt-get install {' '.join(PACKAGES)};\n"
        f"  write the path of one that is installed into the variable {VARIABLE};\n"
        '  leave these tests out: python3 -m tests -m "not browser and not campaign"'
    )


def may_need_one(arguments: Sequence[str]) -> bool:
    """Whether pytest, given these arguments, may come to a journey: not if they lead elsewhere."""
    if any("not browser" in argument for argument in arguments):
        return False
    named = [PROJECT / argument.partition("::")[0] for argument in arguments if argument[:1] != "-"]
    places = [place for place in named if place.exists() and place.is_relative_to(PROJECT / "tests")]
    return not places or any(
        JOURNEYS.is_relative_to(place) or place.is_relative_to(JOURNEYS) for place in places
    )


def bring() -> str | None:
    """Return the path of a Chromium; where this process may, what is lacking is installed first and told."""
    packages = lacking() if _may_install() else []
    if packages:
        print(f"installing {', '.join(packages)} for the browser tests", flush=True)
        _install(packages)
    return find()


def lacking() -> list[str]:
    """Return those of the packages whose things are not here; a bare Debian has none of them."""
    there = (bool(find() or os.environ.get(VARIABLE)), CONDENSED.is_file(), _loads(ATOMIC))
    return [package for package, is_there in zip(PACKAGES, there, strict=True) if not is_there]


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _may_install() -> bool:
    return os.name == "posix" and os.geteuid() == 0 and shutil.which("apt-get") is not None


def _install(packages: Sequence[str]) -> None:
    """Install packages, with new lists of them if it cannot be done with those here; tells why it failed."""
    install = ["install", "-qq", "-y", "--no-install-recommends", *packages]
    if _apt_get(install) is None:
        return
    reasons = [_apt_get(["update", "-qq"]), _apt_get(install)]
    if reasons[1]:
        print("\n".join(reason for reason in reasons if reason), flush=True)


def _apt_get(arguments: Sequence[str]) -> str | None:
    """Run apt-get without questions; returns its last words if it failed."""
    command = ["apt-get", "-o", "DPkg::Lock::Timeout=120", *arguments]
    surroundings = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        done = subprocess.run(
            command, env=surroundings, stdin=subprocess.DEVNULL, capture_output=True, text=True,
            check=False, timeout=PATIENCE,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return f"apt-get {arguments[0]}: given up after {PATIENCE} s"
    if not done.returncode:
        return None
    words = (done.stderr or done.stdout).strip().splitlines() or [f"exit status {done.returncode}"]
    return f"apt-get {arguments[0]}: {words[-1]}"
