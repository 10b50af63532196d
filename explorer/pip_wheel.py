"""pip's own wheel from a package index, for Pythons that bring no pip; standard library alone.

The simple index: PEP 503 (HTML) and PEP 691 (JSON).
"""

from __future__ import annotations

import configparser
import hashlib
import json
import os
import re
import ssl
import urllib.request
from collections.abc import Mapping
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urldefrag, urljoin

DEFAULT_INDEX = "https://pypi.org/simple"
ACCEPT = "application/vnd.pypi.simple.v1+json, text/html;q=0.5"
WHEEL = re.compile(r"pip-(\d+(?:\.\d+)*)-py3-none-any\.whl")


def fetch(folder: Path) -> Path:
    """Fetch the newest pip into `folder` and return its path.

    Raises OSError without network, ValueError where the index has no pip or its bytes are not those
    that the index promises.
    """
    page_url = index_url(os.environ).rstrip("/") + "/pip/"
    url, digest = newest(links(_get(page_url), page_url))
    content = _get(url)
    if digest and hashlib.sha256(content).hexdigest() != digest:
        raise ValueError(f"{url} is not what the index promises")
    path = folder / url.rsplit("/", 1)[-1]
    path.write_bytes(content)
    return path


def index_url(environ: Mapping[str, str]) -> str:
    """Return the package index that pip itself would ask: from its variable, its files, or the default."""
    if environ.get("PIP_INDEX_URL"):
        return environ["PIP_INDEX_URL"]
    for path in config_files(environ):
        parser = configparser.RawConfigParser()
        parser.read(path, encoding="utf-8")
        for section in ("install", "global"):
            if parser.has_option(section, "index-url"):
                return parser.get(section, "index-url")
    return DEFAULT_INDEX


def config_files(environ: Mapping[str, str]) -> list[Path]:
    """Return where pip looks for its settings, the nearest first."""
    home = Path(environ.get("HOME") or environ.get("USERPROFILE") or "/nonexistent")
    named = [Path(environ["PIP_CONFIG_FILE"])] if environ.get("PIP_CONFIG_FILE") else []
    windows = [Path(environ["APPDATA"]) / "pip" / "pip.ini"] if environ.get("APPDATA") else []
    own = [home / ".config/pip/pip.conf", home / ".pip/pip.conf", *windows]
    return [*named, *own, Path("/etc/xdg/pip/pip.conf"), Path("/etc/pip.conf")]


def links(page: bytes, base: str) -> list[tuple[str, str]]:
    """Return address and promised sha256 (or nothing) of each file on a page of a simple index."""
    text = page.decode("utf-8")
    if text.lstrip().startswith("{"):
        files = json.loads(text)["files"]
        return [(urljoin(base, file["url"]), file.get("hashes", {}).get("sha256", "")) for file in files]
    reader = _Anchors()
    reader.feed(text)
    found = [urldefrag(urljoin(base, target)) for target in reader.targets]
    return [(url, part.removeprefix("sha256=") if "sha256=" in part else "") for url, part in found]


def newest(found: list[tuple[str, str]]) -> tuple[str, str]:
    """Return the wheel of the newest released pip. Raises ValueError where there is none."""
    versions = []
    for url, digest in found:
        match = WHEEL.fullmatch(url.rsplit("/", 1)[-1])
        if match:
            versions.append((tuple(int(part) for part in match[1].split(".")), url, digest))
    if not versions:
        raise ValueError("the package index has no pip")
    return max(versions)[1:]


def _get(url: str) -> bytes:
    context = ssl.create_default_context(cafile=os.environ.get("PIP_CERT") or None)
    request = urllib.request.Request(url, headers={"Accept": ACCEPT})
    with urllib.request.urlopen(request, timeout=60, context=context) as answer:
        content: bytes = answer.read()
    return content


class _Anchors(HTMLParser):
    """Collects the targets of links."""

    def __init__(self) -> None:
        super().__init__()
        self.targets: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a link."""
        if tag == "a":
            self.targets += [value for name, value in attrs if name == "href" and value]
