"""One server and one browser for all journeys; a fresh tab for each, which must stay silent."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request, Response, sync_playwright

from tests.chromium import find, tell_ways_out
from tests.journeys.screen import Screen

PROJECT = Path(__file__).resolve().parents[2]
PATIENCE = 60
"""Seconds within which the server must have started, and have ended."""

FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
    "--disable-domain-reliability",
    "--disable-dev-shm-usage",
    "--metrics-recording-only",
    # Whatever would leave the machine finds no address.
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1 , EXCLUDE localhost",
)
Open = Callable[..., Screen]


@dataclass(frozen=True)
class Server:
    """The explorer as it runs: its address, and the file that its complaints go to."""

    address: str
    complaints: Path


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Every test beside this file is one for a browser."""
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """The explorer, served as a user would start it; asked to end, it must end well."""
    complaints = tmp_path_factory.mktemp("server") / "complaints"
    command = [sys.executable, "-m", "explorer", "open", "--no-browser", "--port", "0"]
    with complaints.open("w", encoding="utf-8") as file:
        process = subprocess.Popen(command, cwd=PROJECT, stdout=subprocess.PIPE, stderr=file, text=True)
    try:
        address = read_address(process)
        assert address, f"the explorer did not start: {complaints.read_text(encoding='utf-8')}"
        yield Server(address, complaints)
        process.terminate()
        # Windows ends a program at once, which leaves it no status of its own.
        assert process.wait(PATIENCE) == 0 or os.name == "nt"
    finally:
        process.kill()
        process.communicate()


def read_address(process: subprocess.Popen[str]) -> str | None:
    """Return the address that a starting server tells first, None if it ended or hung instead."""
    assert process.stdout
    too_late = threading.Timer(PATIENCE, process.kill)
    too_late.start()
    found = re.search(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())
    too_late.cancel()
    return found[0] if found else None


@pytest.fixture(scope="session")
def context(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BrowserContext]:
    """One Chromium; without any the tests fail, for a journey left out silently proves nothing.

    It keeps the page's scripts as compiled from one journey to the next, as a reader's own does; contexts of
    their own would load each page with twice the work.
    """
    path = find()
    if not path:
        pytest.fail(tell_ways_out(), pytrace=False)
    flags = [*FLAGS, "--no-sandbox"] if os.name == "posix" and os.geteuid() == 0 else list(FLAGS)
    profile = tmp_path_factory.mktemp("profile")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch_persistent_context(profile, executable_path=path, args=flags)
        yield chromium
        chromium.close()


@pytest.fixture
def open_page(context: BrowserContext, server: Server) -> Iterator[Open]:
    """Open tabs that know nothing of earlier ones; at the end each has been silent and stayed at home."""
    screens: list[Screen] = []
    told: list[str] = []
    heard = server.complaints.stat().st_size

    def open_(
        query: str = "", *, size: tuple[int, int] = (1440, 900), ground: str = "light", calm: bool = False
    ) -> Screen:
        page = context.new_page()
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.emulate_media(
            color_scheme="dark" if ground == "dark" else "light",
            reduced_motion="reduce" if calm else "no-preference",
        )
        listen(page, server.address, told)
        screens.append(Screen(page, server.address))
        screens[-1].open(query)
        return screens[-1]

    yield open_
    for screen in screens:
        screen.page.evaluate("localStorage.clear()")
    # The first tab stays: with the last one Chromium would end.
    for page in context.pages[1:]:
        page.close()
    told += server.complaints.read_bytes()[heard:].decode().splitlines()
    assert not told, "\n".join(told)


def listen(page: Page, address: str, told: list[str]) -> None:
    """Collect whatever a silent page does not do."""

    def console(message: ConsoleMessage) -> None:
        told.append(f"console {message.type}: {message.text}")

    def request(sent: Request) -> None:
        if not sent.url.startswith((address, "data:", "blob:")):
            told.append(f"left the machine: {sent.url}")

    def response(got: Response) -> None:
        if got.status >= 400:
            told.append(f"{got.status}: {got.url}")

    page.on("console", console)
    page.on("pageerror", lambda error: told.append(f"error: {error}"))
    page.on("request", request)
    page.on("response", response)
