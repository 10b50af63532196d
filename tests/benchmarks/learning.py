"""Time the walk in a real Chromium: python -m tests.benchmarks.learning [PANELS ...]

The plain way beside it: a lesson asked of the server anew for every step, as a page would that did not get
all steps at once.
"""

from __future__ import annotations

import subprocess
import sys
import time
from statistics import median

from playwright.sync_api import Page, sync_playwright

from tests.chromium import find, tell_ways_out
from tests.journeys.conftest import FLAGS, PROJECT, read_address
from tests.journeys.girder import pratt

STEPS = """() => {
  const times = [], last = stillbar.stage.lesson.steps.length - 1;
  for (let i = 0; i < 60; i++) {
    const start = performance.now();
    stillbar.goTo(i % 2 ? Math.min(last, 1 + (i % last)) : 0);
    document.body.offsetHeight;
    times.push(performance.now() - start);
  }
  return times;
}"""
LESSON = """async () => {
  const start = performance.now();
  const before = stillbar.stage.lesson;
  stillbar.addLoad();
  while (stillbar.stage.lesson === before) await new Promise((go) => setTimeout(go, 1));
  document.body.offsetHeight;
  return performance.now() - start;
}"""


def measure(page: Page, address: str, panels: int) -> str:
    """A line of figures for one girder."""
    page.goto(address + "learn/")
    page.locator("html[data-ready]").wait_for(state="attached")
    before = page.locator("html").get_attribute("data-ready")
    began = time.perf_counter()
    text = pratt(panels)
    page.locator("#open-file").set_input_files(
        files=[{"name": "pratt.toml", "mimeType": "application/toml", "buffer": text.encode()}]
    )
    page.locator(f'html[data-ready]:not([data-ready="{before}"])').wait_for(state="attached", timeout=120_000)
    first = time.perf_counter() - began
    members = page.evaluate("() => stillbar.stage.study.members.length")
    page.get_by_role("radio", name="pair", exact=True).check(force=True)
    page.wait_for_function(
        "() => stillbar.stage.load().name === 'pair' && stillbar.stage.lesson.own.length === 2"
    )
    steps = sorted(page.evaluate(STEPS))
    page.locator("[data-way=loads]").click()
    lessons = [page.evaluate(LESSON) for _ in range(8)]
    ratio = median(lessons) / median(steps)
    return (
        f"{members} members: first view {first:.2f} s; a step {median(steps):.1f} ms, worst {steps[-1]:.0f}; "
        f"a load changed {median(lessons):.0f} ms; asking for every step would cost {ratio:.0f} times a step"
    )


def main() -> None:
    """Print a line for each number of panels."""
    path = find()
    if not path:
        sys.exit(tell_ways_out())
    command = [sys.executable, "-m", "explorer", "open", "--no-browser", "--port", "0"]
    process = subprocess.Popen(command, cwd=PROJECT, stdout=subprocess.PIPE, text=True)
    try:
        address = read_address(process)
        with sync_playwright() as playwright:
            page = playwright.chromium.launch(executable_path=path, args=[*FLAGS, "--no-sandbox"]).new_page()
            for panels in [int(given) for given in sys.argv[1:]] or [10, 40]:
                print(measure(page, address or "", panels), flush=True)
    finally:
        process.kill()


if __name__ == "__main__":
    main()
