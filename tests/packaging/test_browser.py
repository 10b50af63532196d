"""The browser for journeys is found, or brought where that is allowed; apt-get is a script of our own."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests import chromium

pytestmark = pytest.mark.skipif(os.name == "nt", reason="programs are told by their names there")


class Machine:
    """A PATH of one folder, and an account that may install or not."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder = folder
        self.monkeypatch = monkeypatch
        monkeypatch.setenv("PATH", str(folder))
        monkeypatch.delenv(chromium.VARIABLE, raising=False)
        monkeypatch.setattr(chromium, "CONDENSED", folder / "condensed.ttf")
        monkeypatch.setattr(chromium, "ATOMIC", str(folder / "libatomic.so.1"))
        self.log_in(0)

    def log_in(self, user: int) -> None:
        self.monkeypatch.setattr(os, "geteuid", lambda: user)

    def add(self, program: str, script: str = "") -> str:
        path = self.folder / program
        path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        path.chmod(0o755)
        return str(path)

    def add_apt_get(self) -> None:
        """One that installs nothing before its lists are there, and then any `chromium` asked for."""
        self.add(
            "apt-get",
            f"""
cd {self.folder}; shift 2
echo "$*" >> calls
case "$1" in
    update) : > lists ;;
    install) [ -e lists ] || {{ echo "no lists" >&2; exit 100; }}
             case "$*" in *chromium*) echo "#!/bin/sh" > chromium; /bin/chmod 755 chromium ;; esac ;;
esac""",
        )

    def calls(self) -> list[str]:
        path = self.folder / "calls"
        return path.read_text(encoding="utf-8").splitlines() if path.exists() else []


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Machine:
    return Machine(tmp_path, monkeypatch)


INSTALL = "install -qq -y --no-install-recommends chromium fonts-dejavu-extra libatomic1"


def test_the_one_named_goes_before_those_on_the_path(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert chromium.find() is None
    chrome = machine.add("google-chrome")
    assert chromium.find() == chrome
    own = machine.add("my-own-browser")
    monkeypatch.setenv(chromium.VARIABLE, own)
    assert chromium.find() == own


def test_one_named_that_is_not_there_is_told_and_no_other_taken_or_brought(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    machine.add("chromium")
    machine.add_apt_get()
    monkeypatch.setenv(chromium.VARIABLE, "/nowhere/browser")
    assert chromium.bring() is None
    assert not any("chromium" in call for call in machine.calls())
    assert "names /nowhere/browser, which is no program here" in chromium.tell_ways_out()


def test_on_a_bare_machine_root_brings_all_of_it_with_new_lists(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    machine.add_apt_get()
    assert chromium.bring() == str(machine.folder / "chromium")
    assert machine.calls() == [INSTALL, "update -qq", INSTALL]
    told = capsys.readouterr().out
    assert told == "installing chromium, fonts-dejavu-extra, libatomic1 for the browser tests\n"


def test_lists_that_are_there_are_not_fetched_again(machine: Machine) -> None:
    machine.add_apt_get()
    (machine.folder / "lists").touch()
    chromium.bring()
    assert machine.calls() == [INSTALL]


def test_a_browser_without_what_it_needs_gets_that_alone(machine: Machine) -> None:
    machine.add("chromium")
    machine.add_apt_get()
    (machine.folder / "lists").touch()
    (machine.folder / "condensed.ttf").touch()
    chromium.bring()
    assert machine.calls() == ["install -qq -y --no-install-recommends libatomic1"]


def test_why_nothing_could_be_installed_is_told(machine: Machine, capsys: pytest.CaptureFixture[str]) -> None:
    machine.add("apt-get", 'echo "one: unreachable" >&2; echo "the mirror is away" >&2; exit 100')
    assert chromium.bring() is None
    assert capsys.readouterr().out.splitlines()[1:] == [
        "apt-get update: the mirror is away",
        "apt-get install: the mirror is away",
    ]


def test_nobody_but_root_installs_and_three_ways_out_are_told(machine: Machine) -> None:
    machine.add_apt_get()
    machine.log_in(1000)
    assert chromium.bring() is None
    assert machine.calls() == []
    ways = chromium.tell_ways_out().splitlines()[1:]
    assert ways[1].strip() == "apt-get install chromium fonts-dejavu-extra libatomic1;"
    assert chromium.VARIABLE in ways[2]
    assert ways[3].endswith('-m "not browser and not campaign"')


@pytest.mark.parametrize(
    ("arguments", "needed"),
    [
        ([], True),
        (["-x"], True),
        (["tests"], True),
        (["tests/journeys/test_quiet.py"], True),
        (["tests/journeys/test_quiet.py::test_x", "tests/solver"], True),
        (["-k", "data"], True),
        (["tests/solver"], False),
        (["tests/packaging/test_browser.py::test_x", "-x"], False),
        (["-m", "not browser and not campaign"], False),
    ],
)
def test_a_browser_is_brought_only_where_a_journey_may_come(arguments: list[str], needed: bool) -> None:
    assert chromium.may_need_one(arguments) is needed
