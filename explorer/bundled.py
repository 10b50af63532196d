"""What comes with Stillbar: studies and trains, told by name."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from solver.errors import InputError

DEFAULT_STUDY = "avocet_bridge"
KINDS = {"study": "studies", "train": "trains"}
"""Kinds of bundled data and their folders; sections and materials come with later parts."""


@dataclass(frozen=True)
class Bundled:
    """One bundled file: its kind, name, path and title."""

    kind: str
    name: str
    path: Path
    title: str

    def text(self) -> str:
        """The file as it is."""
        return self.path.read_text(encoding="utf-8")


def data_folder() -> Path:
    """The folder of bundled data: beside the packages in a checkout, inside the package once installed."""
    package = Path(__file__).resolve().parent
    installed = package / "_data"
    return installed if installed.is_dir() else package.parent / "data"


def list_bundled(wanted: str = "") -> list[Bundled]:
    """Bundled files of one kind, or all kind by kind, by name; the study that opens by default first."""
    found = []
    for kind, folder in KINDS.items():
        if wanted not in ("", kind):
            continue
        for path in sorted((data_folder() / folder).glob("*.toml")):
            title = tomllib.loads(path.read_text(encoding="utf-8"))["title"]
            found.append(Bundled(kind, path.stem, path, title))
    return sorted(found, key=lambda item: (item.kind, item.name != DEFAULT_STUDY))


def find_bundled(name: str) -> Bundled:
    """Find a bundled file by NAME or KIND/NAME; raises InputError with the names there are."""
    kind, _, rest = name.rpartition("/")
    found = [item for item in list_bundled() if item.name == rest and kind in ("", item.kind)]
    if len(found) == 1:
        return found[0]
    if found:
        kinds = ", ".join(f"{item.kind}/{item.name}" for item in found)
        raise InputError(f"{name} names more than one bundled file: write one of {kinds}", [name])
    names = ", ".join(item.name for item in list_bundled())
    raise InputError(f"nothing bundled is called {name}: there are {names}", [name])
