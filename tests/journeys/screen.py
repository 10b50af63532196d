"""A tab with the explorer in it, spoken to as a reader would."""

from __future__ import annotations

import re
from importlib import resources
from typing import Any

from playwright.sync_api import Locator, Page

AXE = (resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


class Screen:
    """One tab; waits are for what the page says of itself, never for a time."""

    def __init__(self, page: Page, address: str) -> None:
        self.page = page
        self.address = address

    def open(self, query: str = "") -> None:
        """Open the explorer and wait until all of it is there."""
        self.page.goto(self.address + query)
        self.page.locator("html[data-ready]").wait_for(state="attached")

    def find(self, selector: str) -> Locator:
        """An element of the page."""
        return self.page.locator(selector)

    def text(self, selector: str) -> str:
        """What is written in an element, blanks made plain."""
        # What is drawn has no inner text, only content.
        said: str = self.find(selector).first.evaluate("node => node.innerText ?? node.textContent")
        return re.sub(r"\s+", " ", said).strip()

    def see(self, selector: str, words: str) -> None:
        """Wait until an element says something."""
        self.page.locator(selector).filter(has_text=words).first.wait_for(state="attached")

    def choose_load(self, label: str) -> None:
        """Choose a load by its name, from words or from a list."""
        chooser = self.find("#load")
        if chooser.count():
            chooser.select_option(label=label)
        else:
            self.page.get_by_role("radio", name=label, exact=True).check(force=True)

    def open_study(self, name: str) -> None:
        """Open a bundled study from the list and wait until it is shown."""
        before = self.key()
        self.find("#open-bundled").select_option(value=name)
        self.wait_for_other(before)

    def upload(self, name: str, text: str) -> None:
        """Hand a file to the page."""
        self.find("#open-file").set_input_files(
            files=[{"name": name, "mimeType": "application/toml", "buffer": text.encode()}]
        )

    def key(self) -> str:
        """Hash of the study shown."""
        return self.find("html").get_attribute("data-ready") or ""

    def wait_for_other(self, key: str) -> None:
        """Wait until another study than this one is shown."""
        self.page.locator(f'html[data-ready]:not([data-ready="{key}"])').wait_for(state="attached")

    def member(self) -> str:
        """Name of the chosen member, as the sheet tells it."""
        return self.text("#sheet-title .tag-head")

    def wait_for_member(self, name: str) -> None:
        """Wait until the sheet is that of a member."""
        self.page.locator("#sheet-title .tag-head").get_by_text(name, exact=True).wait_for()

    def position(self) -> float:
        """Where the train stands, as the handle tells it once the page has painted."""
        self.page.evaluate("() => new Promise(requestAnimationFrame)")
        return float(self.find(".grip").get_attribute("aria-valuenow") or "nan")

    def sentences(self) -> list[str]:
        """Everything the five questions say, proofs left out."""
        found = []
        for number in range(1, 6):
            question = self.find(f'#sheet [data-question="{number}"]')
            words = [
                question.locator(".answer").inner_text(),
                *question.locator(".words > p").all_inner_texts(),
            ]
            found.append(re.sub(r"\s+", " ", " ".join(words)))
        return found

    def violations(self) -> list[str]:
        """What axe-core finds, a line each."""
        # Through the debugger's own door: the page's policy lets no script in but its own.
        session = self.page.context.new_cdp_session(self.page)
        session.send("Runtime.evaluate", {"expression": AXE})
        told: dict[str, Any] = session.send(
            "Runtime.evaluate",
            {"expression": "axe.run().then(r => r.violations)", "awaitPromise": True, "returnByValue": True},
        )
        return [
            f"{rule['id']}: {rule['help']}: {node['html'][:160]}"
            for rule in told["result"]["value"]
            for node in rule["nodes"]
        ]
