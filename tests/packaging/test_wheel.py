"""The wheel, built without downloading, works from another folder with its data inside."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from configparser import ConfigParser
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the wheel's contents, as an installation lays them out."""
    folder = tmp_path_factory.mktemp("wheel")
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=PROJECT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    place = folder / "installed"
    with zipfile.ZipFile(next(folder.glob("stillbar-*.whl"))) as wheel:
        wheel.extractall(place)
    return place


def run(installed: Path, cwd: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the console script of the wheel's entry points."""
    entry = ConfigParser()
    entry.read(next(installed.glob("stillbar-*.dist-info")) / "entry_points.txt")
    module, _, function = entry["console_scripts"]["stillbar"].partition(":")
    line = f"import sys; from {module} import {function}; sys.exit({function}())"
    return subprocess.run(
        [sys.executable, "-c", line, *arguments],
        cwd=cwd, env={**os.environ, "PYTHONPATH": str(installed)},
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_the_installed_command_finds_its_data_from_any_folder(installed: Path, tmp_path: Path) -> None:
    listed = run(installed, tmp_path, "bundled")
    assert (listed.returncode, listed.stderr) == (0, "")
    assert "avocet_bridge" in listed.stdout
    done = run(installed, tmp_path, "run", "heron_fan", "--out", "out")
    assert (done.returncode, done.stderr) == (0, "")
    assert (tmp_path / "out" / "members.csv").is_file()


def test_the_wheel_holds_the_format_page_and_no_tests(installed: Path) -> None:
    assert (installed / "explorer" / "document" / "format.md").is_file()
    assert {path.name for path in installed.iterdir() if "dist-info" not in path.name} == {
        "explorer",
        "solver",
    }
