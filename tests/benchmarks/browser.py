"""Time the page in a real Chromium: python -m tests.benchmarks.browser [PANELS ...]

The plain way beside it: the server asked for the forces of every position (one request a move), which is
what a page would do that did not evaluate the polynomials by itself.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from statistics import median

from playwright.sync_api import Page, sync_playwright

from tests.chromium import find, tell_ways_out
from tests.journeys.conftest import FLAGS, PROJECT
from tests.journeys.girder import girder

MOVES = 120
PAINT = """() => {
  const stage = stillbar.stage, [low, high] = stage.reach(), times = [];
  for (let i = 0; i < 60; i++) {
    const start = performance.now();
    stage.state.position = low + ((high - low) * i) / 60;
    stage.paint();
    document.body.offsetHeight;
    times.push(performance.now() - start);
  }
  return times;
}"""
CHOOSE = """async () => {
  const stage = stillbar.stage, start = performance.now();
  const done = new Promise((told) => {
    const watch = new MutationObserver(() => { watch.disconnect(); told(performance.now() - start); });
    watch.observe(document.getElementById("sheet"), { childList: true });
  });
  stage.choose((stage.state.member * 7 + 11) % stage.study.members.length);
  return await done;
}"""
ASK = """async () => {
  const start = performance.now(), stage = stillbar.stage;
  const done = new Promise((told) => {
    const watch = new MutationObserver(() => { watch.disconnect(); told(performance.now() - start); });
    watch.observe(document.getElementById("sheet"), { childList: true });
  });
  const [low, high] = stage.reach();
  window.dash_clientside.set_props("place-chosen", {
    data: { key: stage.study.key, way: stage.state.way, position: low + Math.random() * (high - low) },
  });
  return await done;
}"""


def open_study(page: Page, address: str, panels: int) -> float:
    """Open the explorer, hand it a girder and return the seconds until all of it is shown."""
    page.goto(address)
    page.locator("html[data-ready]").wait_for(state="attached")
    before = page.locator("html").get_attribute("data-ready")
    start = time.perf_counter()
    page.evaluate(
        "text => stillbar.setWish({ text, name: 'girder.toml', own: true, fresh: true })", girder(panels)
    )
    page.locator(f'html[data-ready]:not([data-ready="{before}"])').wait_for(state="attached", timeout=120_000)
    return time.perf_counter() - start


def drag(page: Page) -> float:
    """Drag the handle over the track and return how many positions a second were painted."""
    box = page.locator("svg.track").bounding_box()
    assert box
    page.evaluate(
        "() => { window.painted = 0; const paint = stillbar.stage.paint.bind(stillbar.stage);"
        " stillbar.stage.paint = () => { window.painted++; paint(); }; }"
    )
    page.mouse.move(box["x"] + 200, box["y"] + 60)
    page.mouse.down()
    start = time.perf_counter()
    for move in range(MOVES):
        page.mouse.move(box["x"] + 200 + 7 * move, box["y"] + 60)
    seconds = time.perf_counter() - start
    page.mouse.up()
    return float(page.evaluate("window.painted")) / seconds


def several(page: Page, script: str, times: int, rest: float = 0.4) -> list[float]:
    """Milliseconds of a script, run again and again with a rest between."""
    found = []
    for _ in range(times):
        found.append(float(page.evaluate(script)))
        page.wait_for_timeout(1000 * rest)
    return found


def measure(page: Page, address: str, panels: int) -> None:
    """Print what one study takes."""
    first = open_study(page, address, panels)
    page.wait_for_timeout(1500)
    paint = page.evaluate(PAINT)
    chosen = several(page, CHOOSE, 8)
    asked = several(page, ASK, 8)
    rate = drag(page)
    ratio = median(asked) / median(paint)
    print(
        f"{5 * panels + 1:5} members: first view {first:5.2f} s; repaint {median(paint):5.1f} ms, "
        f"worst {max(paint):5.1f}; dragged {rate:3.0f} a second; member chosen {median(chosen):4.0f} ms, "
        f"worst {max(chosen):4.0f}; asking the server instead {median(asked):4.0f} ms (ratio {ratio:.0f})",
        flush=True,
    )


def with_server(use: Callable[[str], None]) -> None:
    """Serve the explorer as a user would and use its address."""
    command = [sys.executable, "-m", "explorer", "open", "--no-browser", "--port", "0"]
    with subprocess.Popen(command, cwd=PROJECT, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout
        words = server.stdout.readline().split()
        use(next(word for word in words if word.startswith("http")))
        server.terminate()


def run(panels: list[int]) -> None:
    """Measure girders of so many panels, one after the other, in one browser."""
    path = find()
    if not path:
        sys.exit(tell_ways_out())
    flags = [*FLAGS, "--no-sandbox"] if os.name == "posix" and os.geteuid() == 0 else list(FLAGS)

    def use(address: str) -> None:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=path, args=flags)
            for count in panels:
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                measure(page, address, count)
                page.close()
            browser.close()

    with_server(use)


if __name__ == "__main__":
    run([int(text) for text in sys.argv[1:]] or [40, 80, 400])
