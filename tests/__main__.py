"""`python3 -m tests`: lint, types and all tests, in an environment of its own; arguments go to pytest."""

import sys

if sys.version_info < (3, 11):
    sys.exit("Stillbar needs Python 3.11 or newer; this is Python %d.%d" % sys.version_info[:2])

import os
import subprocess
import time

from explorer.bootstrap import PROJECT, TESTS, enter
from tests import chromium

CHECKS = {
    "lint": ["ruff", "check"],
    "format": ["ruff", "format", "--check"],
    "types": ["mypy"],
    # Files are dealt out to as many processes as there are cores; each has a server and a browser of its own.
    "tests": ["pytest", "-q", "-n", "auto", "--maxprocesses", "4", "--dist", "loadfile"],
}

# The processes already fill the cores: threads of linear algebra within each would only be in the way.
ALONE = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def run(checks: dict[str, list[str]]) -> int:
    """Run every check, each under a heading, and return 1 if any failed."""
    failed = []
    for name, command in checks.items():
        print(f"== {name} ==", flush=True)
        start = time.monotonic()
        done = subprocess.run([sys.executable, "-m", *command], cwd=PROJECT, check=False, env=ALONE)
        print(f"-- {name}: {time.monotonic() - start:.0f} s", flush=True)
        if done.returncode:
            failed.append(name)
    if failed:
        print(f"failed: {', '.join(failed)}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    enter(TESTS, "tests", sys.argv[1:])
    chosen = sys.argv[1:]
    if chromium.may_need_one(chosen) and not chromium.bring():
        print(chromium.tell_ways_out(), flush=True)
    sys.exit(run({"tests": ["pytest", "-q", *chosen]} if chosen else CHECKS))
