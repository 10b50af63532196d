"""What comes with Stillbar: studies, trains, tables of sections and steels, told by name."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from types import MappingProxyType

from solver.errors import InputError

DEFAULT_STUDY, DEFAULT_KIND = "avocet_bridge", "study"
HEAD = re.compile(r"#\s*(\w+):\s*(.*)")
"""A line at the top of a table of sections: what it says of all its sizes."""


@dataclass(frozen=True)
class Bundled:
    """One bundled thing: its kind, name, path and title; `part` is its table in a file of several."""

    kind: str
    name: str
    path: Path
    title: str
    part: str = ""

    def text(self) -> str:
        """The file as it is; of a file of several its head, which explains units, and the part."""
        whole = self.path.read_text(encoding="utf-8")
        return _cut(whole, self.part) if self.part else whole


def data_folder() -> Path:
    """The folder of bundled data: beside the packages in a checkout, inside the package once installed."""
    package = Path(__file__).resolve().parent
    installed = package / "_data"
    return installed if installed.is_dir() else package.parent / "data"


def list_bundled(wanted: str = "") -> list[Bundled]:
    """Bundled things of one kind, or all kind by kind, by name; the study that opens by default first."""
    kinds = [kind for kind in KINDS if wanted in ("", kind)]
    found = [item for kind in kinds for item in KINDS[kind](kind)]
    order = list(KINDS)
    return sorted(found, key=lambda item: (order.index(item.kind), item.name != DEFAULT_STUDY))


def find_bundled(name: str) -> Bundled:
    """Find a bundled thing by NAME or KIND/NAME, in any case; raises InputError with the names there are."""
    kind, _, rest = name.rpartition("/")
    every = [item for item in list_bundled() if kind in ("", item.kind)]
    folded = [item for item in every if item.name.casefold() == rest.casefold()]
    found = [item for item in folded if item.name == rest] or folded
    if len(found) == 1:
        return found[0]
    if found:
        kinds = ", ".join(f"{item.kind}/{item.name}" for item in found)
        raise InputError(f"{name} names more than one bundled file: write one of {kinds}", [name])
    raise InputError(f"nothing bundled is called {name}: {_hint(kind, rest)}", [name])


def _hint(kind: str, name: str) -> str:
    """The names nearest to one that is not there, of whatever kind; else those of the studies."""
    wanted = kind if kind in KINDS else ""
    known = {item.name.casefold(): item.name for item in list_bundled(wanted)}
    near = [known[key] for key in get_close_matches(name.casefold(), list(known), n=3)]
    if near:
        return f"did you mean {' or '.join(near)}?"
    # Studies are what is looked for by name most; the names of all steels and tables would fill the screen.
    names = ", ".join(item.name for item in list_bundled(wanted or DEFAULT_KIND))
    return f"there are {names}; `stillbar bundled` lists all there is"


def _studies(kind: str) -> Iterator[Bundled]:
    return _titled(kind, "studies")


def _trains(kind: str) -> Iterator[Bundled]:
    return _titled(kind, "trains")


def _titled(kind: str, folder: str) -> Iterator[Bundled]:
    """Files with a title, each named as it is called."""
    for path in sorted((data_folder() / folder).glob("*.toml")):
        title = tomllib.loads(path.read_text(encoding="utf-8"))["title"]
        yield Bundled(kind, path.stem, path, title)


def _sections(kind: str) -> Iterator[Bundled]:
    """Tables of sections, by the names they give themselves."""
    for path in sorted((data_folder() / "sections").glob("*.csv")):
        found = map(HEAD.fullmatch, path.read_text(encoding="utf-8").splitlines())
        heads = {match[1]: match[2] for match in found if match}
        yield Bundled(kind, heads["table"], path, heads["title"])


def _materials(kind: str) -> Iterator[Bundled]:
    """Steels, several in a file."""
    for path in sorted((data_folder() / "materials").glob("*.toml")):
        for name, steel in tomllib.loads(path.read_text(encoding="utf-8")).items():
            yield Bundled(kind, name, path, steel["title"], name)


def _cut(text: str, part: str) -> str:
    """The head of a file of several tables, its comments, and one of the tables."""
    head, *tables = re.split(r"^(?=\[)", text, flags=re.MULTILINE)
    wanted = next(table for table in tables if list(tomllib.loads(table)) == [part])
    return head + wanted.rstrip() + "\n"


KINDS: MappingProxyType[str, Callable[[str], Iterator[Bundled]]] = MappingProxyType(
    {"study": _studies, "train": _trains, "section": _sections, "material": _materials}
)
"""Kinds of bundled things, in the order in which they are listed, and how each is found."""
