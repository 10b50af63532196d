"""pip's own wheel from a package index, for Pythons that bring no pip; standard library alone.

The simple index: PEP 503 (HTML) and PEP 691 (JSON).
"""

from __future__ import annotations

import base64
import configparser
import hashlib
import json
import os
import re
import ssl
import sys
import urllib.request
from collections.abc import Mapping
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin, urlsplit

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
    path = folder / url.rsplit("/", 1)[-1]
    if digest and hashlib.sha256(content).hexdigest() != digest:
        raise ValueError(f"{path.name} is not what the index promises")
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
    settings = Path(environ.get("XDG_CONFIG_HOME") or home / ".config")
    mac = home / "Library/Application Support/pip/pip.conf"
    windows = [Path(environ["APPDATA"]) / "pip" / "pip.ini"] if environ.get("APPDATA") else []
    own = [mac, settings / "pip/pip.conf", home / ".pip/pip.conf", *windows]
    return [*named, *own, Path("/etc/xdg/pip/pip.conf"), Path("/etc/pip.conf")]


def links(page: bytes, base: str) -> list[tuple[str, str]]:
    """Return address and promised sha256 (or nothing) of each file on a page of a simple index."""
    text = page.decode("utf-8")
    if text.lstrip().startswith("{"):
        files = json.loads(text)["files"]
        return [
            (urljoin(base, file["url"]), file.get("hashes", {}).get("sha256", ""))
            for file in files
            if _is_for_us(file.get("requires-python"), file.get("yanked", False))
        ]
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


def _is_for_us(requires_python: str | None, yanked: object) -> bool:
    """Whether a file is not withdrawn and its lowest Python (pip states no other bound) is not above ours."""
    lowest = re.search(r">=\s*(\d+)\.(\d+)", requires_python or "")
    fits = lowest is None or sys.version_info[:2] >= (int(lowest[1]), int(lowest[2]))
    return fits and yanked is False


def _get(url: str) -> bytes:
    context = ssl.create_default_context(cafile=os.environ.get("PIP_CERT") or None)
    request = _request(url)
    with urllib.request.urlopen(request, timeout=60, context=context) as answer:
        content: bytes = answer.read()
    return content


def _request(url: str) -> urllib.request.Request:
    """Ask for `url`; a name and password in it, as private indexes have them, go into a header."""
    parts = urlsplit(url)
    credentials, _, host = parts.netloc.rpartition("@")
    headers = {"Accept": ACCEPT}
    if credentials:
        headers["Authorization"] = "Basic " + base64.b64encode(unquote(credentials).encode()).decode()
    return urllib.request.Request(parts._replace(netloc=host).geturl(), headers=headers)


class _Anchors(HTMLParser):
    """Collects the targets of links."""

    def __init__(self) -> None:
        super().__init__()
        self.targets: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a link."""
        facts = dict(attrs)
        target = facts.get("href")
        yanked = "data-yanked" in facts
        if tag == "a" and target and _is_for_us(facts.get("data-requires-python"), yanked):
            self.targets.append(target)
