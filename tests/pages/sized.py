"""Studies whose groups name families, as the page on lighter sections has them, and its words."""

from __future__ import annotations

import re
from functools import cache

from explorer.bundled import list_bundled
from explorer.store import Results, Worked
from explorer.wording.lighter_checks import BOTH, utilisation
from solver.sizing.candidates import Candidates

SIZED = ["avocet_bridge", "bittern_roof"]
RESULTS = Results()


def text_of(name: str) -> str:
    return next(item for item in list_bundled("study") if item.name == name).text()


@cache
def worked(name: str) -> Worked:
    return RESULTS.work(text_of(name), f"{name}.toml")


def found(name: str) -> Candidates:
    return RESULTS.size(worked(name))


def words_of(markup: object) -> str:
    told = re.sub(r"</?(span|b)( [^>]*)?>", "", str(markup))
    told = re.sub(r"<[^>]*>", " ", told).replace("\u00a0", " ").replace("&#x27;", "'")
    return re.sub(r"\s+", " ", told).strip()


def told_ratio(key: object, value: object) -> str:
    """A utilisation as told; of a prop's force with what it is."""
    ratio = utilisation(float(str(value)))
    return f"{ratio} = {BOTH}" if key == "prop force" else ratio
