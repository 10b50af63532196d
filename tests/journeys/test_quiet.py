"""The page is silent, stays on the machine, and can be read by everybody."""

from __future__ import annotations

import pytest
from playwright.sync_api import BrowserContext

from tests.journeys.conftest import Open, Server, listen
from tests.journeys.screen import Screen

SIZES = ((1440, 900), (1024, 768), (390, 844))


@pytest.mark.parametrize(
    ("study", "size", "ground"),
    [
        *(("avocet_bridge", size, "light") for size in SIZES),
        *(("curlew_mast", size, "dark") for size in SIZES),
    ],
    ids=str,
)
def test_axe_finds_nothing(open_page: Open, study: str, size: tuple[int, int], ground: str) -> None:
    screen = open_page(f"?study={study}", size=size, ground=ground)
    assert screen.violations() == []


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_nothing_lies_beside_the_page(open_page: Open, size: tuple[int, int]) -> None:
    screen = open_page("", size=size)
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_the_page_tells_its_language_and_has_one_main_and_one_heading(open_page: Open) -> None:
    screen = open_page("")
    assert screen.find("html").get_attribute("lang") == "en"
    assert screen.find("main").count() == screen.find("h1").count() == 1


def test_a_page_that_is_not_silent_is_heard(context: BrowserContext, server: Server) -> None:
    told: list[str] = []
    page = context.new_page()
    listen(page, server.address, told)
    page.goto(server.address + "assets/none.js")
    page.goto("about:blank")
    page.set_content(
        '<img src="http://elsewhere.example/a.png">'
        '<script>console.log("a word"); throw new Error("a fault")</script>'
    )
    page.close()
    assert {
        "console log: a word",
        "error: a fault",
        "left the machine: http://elsewhere.example/a.png",
        f"404: {server.address}assets/none.js",
    } <= set(told)


def test_axe_finds_what_is_wrong(context: BrowserContext, server: Server) -> None:
    page = context.new_page()
    page.set_content('<html lang="en"><title>One</title><main><h1>One</h1><img src="data:,"></main></html>')
    found = Screen(page, server.address).violations()
    page.close()
    assert [line.partition(":")[0] for line in found] == ["image-alt"]
