"""`stillbar open` and `stillbar` alone: an address that answers, warnings, and exit statuses before it."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from dash import Dash, html

from explorer import app as pages
from explorer import command, server
from explorer.bundled import DEFAULT_STUDY, find_bundled
from explorer.store import Jobs, Results, Start, content_key
from explorer.wording.summary import CAUTION
from tests.command.test_command import STATUSES, run, study
from tests.document.example import GOOD, edited

PROJECT = Path(__file__).resolve().parents[2]
LINE = "import sys; from explorer.command import main; sys.exit(main())"


@contextmanager
def opened(*arguments: str) -> Iterator[tuple[subprocess.Popen[str], list[str]]]:
    """Start the explorer and yield it with its first three lines; it is ended afterwards."""
    environment = {**os.environ, "PYTHONPATH": str(PROJECT)}
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        environment.pop(name, None)
    process = subprocess.Popen(
        [sys.executable, "-c", LINE, *arguments],
        env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert process.stdout is not None
    try:
        yield process, [process.stdout.readline().strip() for _ in range(3)]
    finally:
        process.kill()
        process.communicate()


def get(address: str, **headers: str) -> tuple[int, str]:
    line = http.client.HTTPConnection(address.removeprefix("http://").rstrip("/"), timeout=30)
    try:
        line.request("GET", "/", headers=headers)
        answer = line.getresponse()
        return answer.status, answer.read().decode()
    finally:
        line.close()


def place(lines: list[str]) -> str:
    found = re.search(r"http://[\d.]+:\d+/$", lines[0])
    assert found, lines
    return found.group()


def test_open_tells_an_address_that_answers_a_caution_and_how_to_end_it(tmp_path: Path) -> None:
    with opened("open", study(tmp_path), "--no-browser", "--port", "0") as (process, lines):
        assert lines[0].startswith("Teal Ford footbridge is open at http://127.0.0.1:")
        assert lines[1:] == [CAUTION, "Ctrl-C here ends it."]
        status, text = get(place(lines))
        assert status == 200
        assert "Stillbar" in text
        assert get(place(lines), Host="elsewhere.example")[0] == 400
        process.send_signal(signal.SIGTERM if os.name == "nt" else signal.SIGINT)
        rest, complaints = process.communicate(timeout=30)
        if os.name != "nt":
            assert (process.returncode, rest, complaints) == (0, "ended\n", "")


def test_without_a_command_the_bundled_study_opens() -> None:
    with opened() as (_, lines):
        assert lines[0].startswith(find_bundled(DEFAULT_STUDY).title)
        assert get(place(lines))[0] == 200


def test_a_port_in_use_is_told_before_anything_opens() -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        done = run("open", "--no-browser", "--port", str(port))
    assert (done.returncode, done.stdout) == (2, "")
    assert f"port {port}" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("port", ["-1", "65536", "many", "8.5"])
def test_what_is_no_port_is_told(port: str) -> None:
    done = run("open", f"--port={port}")
    assert (done.returncode, f"{port} is no port" in done.stderr) == (2, True)


@pytest.mark.parametrize(("status", "change", "words"), STATUSES, ids=["input", "mechanism", "not trusted"])
def test_a_study_that_fails_ends_with_its_status_and_nothing_opens(
    tmp_path: Path, status: int, change: tuple[str, str], words: str
) -> None:
    extra = () if status == 2 else (('U1-L1" = 3', 'L0-L1" = 3'),)
    done = run("open", study(tmp_path, edited(change, *extra)), "--no-browser")
    assert (done.returncode, done.stdout) == (status, "")
    assert words in done.stderr
    assert "Traceback" not in done.stderr


def test_a_run_brings_neither_the_pages_nor_the_server(tmp_path: Path) -> None:
    line = (
        "import sys; from explorer.command import main; main(); "
        "print([name for name in ('dash', 'flask', 'plotly', 'waitress') if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", line, "run", study(tmp_path), "--out", str(tmp_path / "out")],
        cwd=PROJECT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert done.stdout.splitlines()[-1] == "[]"


def test_help_names_the_default_port_and_host() -> None:
    told = run("open", "--help").stdout
    assert str(server.DEFAULT_PORT) in told
    assert command.HOST in told


class Opening:
    """`stillbar open` with a page and a server that only note what they are given."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.start: Start | None = None
        self.found = False
        self.served: tuple[str, int | None] | None = None
        self.browsed: list[str] = []
        self.hosts: list[str] = []
        monkeypatch.setattr(pages, "make_app", self._make_app)
        monkeypatch.setattr(server, "serve", self._serve)
        monkeypatch.setattr(webbrowser, "open", self.browsed.append)
        monkeypatch.setattr(command.threading, "Thread", Now)

    def _make_app(self, results: Results, _jobs: Jobs, start: Start) -> Dash:
        self.start, self.found = start, results.find(start.key) is not None
        made = Dash("bare")
        made.layout = html.P("bare")
        return made

    def _serve(self, app: object, host: str, port: int | None, ready: Callable[[str], None]) -> None:
        self.served = (host, port)
        self.hosts = app.config["TRUSTED_HOSTS"]  # type: ignore[attr-defined]
        ready("http://the-address/")


class Now:
    """A thread that does its work at once."""

    def __init__(self, target: Callable[[str], None], args: tuple[str], daemon: bool) -> None:
        self.start = lambda: target(*args)


@pytest.fixture
def opening(monkeypatch: pytest.MonkeyPatch) -> Opening:
    return Opening(monkeypatch)


def test_the_page_starts_on_the_study_worked_through(opening: Opening, tmp_path: Path) -> None:
    assert command.main(["open", study(tmp_path), "--no-browser", "--port", "1234"]) == 0
    assert opening.start == Start(content_key(GOOD), GOOD, "teal.toml")
    assert opening.found
    assert opening.served == ("127.0.0.1", 1234)


def test_a_browser_opens_where_there_is_a_display_and_it_is_wanted(
    opening: Opening, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(command.sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"):
        monkeypatch.delenv(name, raising=False)
    command.main(["open", study(tmp_path)])
    assert opening.browsed == []
    monkeypatch.setenv("DISPLAY", ":0")
    command.main(["open", study(tmp_path), "--no-browser"])
    assert opening.browsed == []
    command.main(["open", study(tmp_path)])
    assert opening.browsed == ["http://the-address/"]


def test_another_host_than_loopback_is_warned_of_and_answered(
    opening: Opening, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command.main(["open", study(tmp_path), "--no-browser"])
    assert capsys.readouterr().err == ""
    assert set(opening.hosts) == {"127.0.0.1", "localhost"}
    command.main(["open", study(tmp_path), "--no-browser", "--host", "192.168.1.5"])
    told = capsys.readouterr().err
    assert "no login guards it" in told
    assert "192.168.1.5" in told
    assert set(opening.hosts) == {"127.0.0.1", "localhost", "192.168.1.5"}
