"""The browser that journeys run in: found on this machine, or brought where that is allowed."""

from __future__ import annotations

import os
import shutil
import subprocess

VARIABLE = "STILLBAR_BROWSER"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PACKAGES = ("chromium", "fonts-dejavu-extra")
WAYS_OUT = (
    "no Chromium for the browser tests. Install one (Debian: apt-get install chromium), or name one in "
    f'{VARIABLE}, or leave these tests out with: python3 -m tests -m "not browser and not campaign"'
)


def find() -> str | None:
    """Path of a Chromium, or None."""
    named = os.environ.get(VARIABLE)
    if named:
        return shutil.which(named)
    return next((path for name in NAMES if (path := shutil.which(name))), None)


def bring() -> str | None:
    """Find a Chromium, or install Debian's where this process may; says what it does."""
    found = find()
    if found or os.environ.get(VARIABLE) or not _may_install():
        return found
    print(f"installing {' and '.join(PACKAGES)} for the browser tests", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (["update", "-q"], ["install", "-q", "-y", "--no-install-recommends", *PACKAGES]):
        done = subprocess.run(
            ["apt-get", *command], env=quiet, capture_output=True, text=True, check=False, timeout=600
        )
        if done.returncode:
            words = (done.stderr or done.stdout).strip().splitlines() or ["no reason given"]
            print(f"apt-get {command[0]}: {words[-1]}", flush=True)
    return find()


def _may_install() -> bool:
    return os.name == "posix" and os.geteuid() == 0 and shutil.which("apt-get") is not None
