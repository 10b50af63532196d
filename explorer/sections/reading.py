"""Reading a table of sections from CSV: all faults together, each with its row and column."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from pathlib import Path
from typing import cast, get_args

from explorer.sections import rows
from explorer.sections.numbers import LENGTHS, read_number, spell
from explorer.sections.table import Entry, Table
from solver.errors import InputError
from solver.profiles.hollow import CORNERS
from solver.profiles.label import Label
from solver.profiles.profile import Making as Method
from solver.profiles.profile import Shape

HEADS = (
    "table",
    "title",
    "standard",
    "source",
    "certainty",
    "not_covered",
    "shape",
    "making",
    "corners",
)
COLUMN = re.compile(r"(\w+)\s*(?:\[\s*([^\]]*?)\s*\])?")
MOST_BYTES = 2_000_000
MOST_FAULTS = 20
LONGEST_NAME = 60
LONGEST_LINE = 2000
SMALLEST, LARGEST = Fraction(1, 10000), Fraction(10)
"""Bounds of a length in a section [m]: outside of them a unit is wrong."""


@dataclass
class Faults:
    """Faults of one file: row (as a spreadsheet counts), column, what is wrong, what would be right."""

    file: str
    found: list[str] = field(default_factory=list)

    def add(self, row: int, column: str, wrong: str, right: str = "") -> None:
        """Note a fault; row 0: of the file as a whole."""
        place = f"row {row}, " if row else ""
        named = f"column {column}: " if column else ""
        self.found.append(f"{self.file}: {place}{named}{wrong}" + (f"; {right}" if right else ""))

    def stop_if_any(self) -> None:
        """Raise InputError with all faults, the first so many of them."""
        if not self.found:
            return
        shown = self.found[:MOST_FAULTS]
        more = len(self.found) - len(shown)
        rest = [f"and {more} more"] if more else []
        raise InputError("\n".join([*shown, *rest]), [self.file])


@dataclass(frozen=True)
class Lines:
    """A file cut up: heads from its lines that begin with #, column names, and rows with their numbers."""

    heads: Mapping[str, str]
    titles: Sequence[str]
    body: Sequence[tuple[int, list[str]]]


def load_table(path: Path) -> Table:
    """Read a table of sections; raises InputError with every fault, its row, its column and what is right.

    The file is CSV (comma or semicolon). Lines `# shape: angle` and so on at its top tell what it is: `shape`
    and `making` must be there, and `corners` of a rectangular hollow section. Then a line of column names
    with units, `size,depth [mm],width [mm],wall [mm]`, and a line for each size.
    """
    faults = Faults(path.name)
    lines = _cut(_text(path, faults), faults)
    _check_heads(lines.heads, faults)
    faults.stop_if_any()
    columns = _columns(lines, faults)
    faults.stop_if_any()
    entries = _entries(lines, columns, path.stem, faults)
    if not lines.body:
        faults.add(0, "", "has no sizes", "write one in each line below the names of columns")
    faults.stop_if_any()
    heads = lines.heads
    return Table(
        name=heads.get("table", path.stem),
        title=heads.get("title", path.stem),
        shape=cast(Shape, heads["shape"]),
        unit="in" if any(unit == "in" for _, unit in columns.values()) else "mm",
        entries=tuple(entries),
        **{key: heads.get(key, "") for key in ("standard", "source", "certainty", "not_covered")},
    )


def _text(path: Path, faults: Faults) -> str:
    try:
        raw = path.read_bytes()
        if len(raw) > MOST_BYTES:
            faults.add(0, "", "is larger than 2 MB", "a table of sections is far smaller")
        text = raw.decode("utf-8-sig")
    except OSError as error:
        faults.add(0, "", f"cannot be read: {error.strerror}")
    except UnicodeDecodeError:
        faults.add(0, "", "is not text in UTF-8", "save it from the spreadsheet as CSV UTF-8")
    faults.stop_if_any()
    return text


def _cut(text: str, faults: Faults) -> Lines:
    """Cut a text into heads, column names and rows; decimal commas are read where semicolons separate."""
    plain = [line for line in text.splitlines() if line.strip(' ",;') and line.strip(' "')[0] != "#"]
    separator = ";" if plain and ";" in plain[0] and "," not in plain[0] else ","
    heads: dict[str, str] = {}
    body: list[tuple[int, list[str]]] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LONGEST_LINE:
            faults.add(number, "", f"has {len(line)} characters", "write one size in a line")
            continue
        raw = next(csv.reader([line], delimiter=separator), [])
        cells = [cell.strip() for cell in raw]
        if not any(cells):
            continue
        if cells[0].startswith("#"):
            # A spreadsheet quotes such a line, or sets empty cells behind it.
            key, _, value = separator.join(raw).strip(f"# {separator}").partition(":")
            if key.strip() in HEADS:
                heads[key.strip()] = value.strip()
        else:
            body.append((number, [cell.replace(",", ".") for cell in cells] if separator == ";" else cells))
    if not body:
        faults.add(0, "", "has no line of column names", "write one such as size,diameter [mm],wall [mm]")
    faults.stop_if_any()
    return Lines(heads, body[0][1], body[1:])


def _check_heads(heads: Mapping[str, str], faults: Faults) -> None:
    choices = {"shape": list(rows.NEEDS), "making": list(get_args(Method))}
    if heads.get("shape") == "rectangular hollow":
        choices["corners"] = list(CORNERS)
    for key, known in choices.items():
        if key not in heads:
            faults.add(0, "", f"does not say its {key}", f"begin with a line # {key}: {known[0]}")
        elif heads[key] not in known:
            faults.add(0, "", f"{key} is {heads[key]!r}", f"write one of {', '.join(known)}")


def _columns(lines: Lines, faults: Faults) -> dict[str, tuple[int, str]]:
    """Return place and unit of each column by its name, checked against what the shape needs."""
    shape = cast(Shape, lines.heads["shape"])
    known, found = rows.allowed(shape), dict[str, tuple[int, str]]()
    for place, title in enumerate(lines.titles):
        if not title:
            continue
        match = COLUMN.fullmatch(title)
        name = match.group(1) if match else title
        unit = _unit(match.group(2) or "") if match else ""
        if name not in (*known, "size"):
            faults.add(0, title, f"is unknown for the shape {shape}", _nearest(name, ("size", *known)))
        elif name in found:
            faults.add(0, title, "is there twice")
        elif name != "size" and unit not in rows.KINDS[name]:
            faults.add(0, title, "has no known unit", f"write {name} [{next(iter(rows.KINDS[name]))}]")
        found[name] = place, unit
    missing = [name for name in ("size", *rows.needed(shape, tuple(found))) if name not in found]
    for name in missing:
        right = name if name == "size" else f"{name} [{next(iter(rows.KINDS[name]))}]"
        faults.add(0, name, "is missing", f"add {right}")
    if {"wall", "nominal_wall"} <= set(found):
        faults.add(0, "nominal_wall", "stands beside wall", "keep one of the two")
    return found


def _unit(text: str) -> str:
    return text.replace("²", "2").replace("⁴", "4").replace("^", "")


def _nearest(name: str, known: Sequence[str]) -> str:
    near = get_close_matches(name, known, n=1)
    return f"did you mean {near[0]}?" if near else f"write some of {', '.join(known)}"


def _entries(lines: Lines, columns: Mapping[str, tuple[int, str]], stem: str, faults: Faults) -> list[Entry]:
    heads, seen, entries = lines.heads, dict[str, int](), list[Entry]()
    for number, cells in lines.body:
        if len(cells) > len(lines.titles) and any(cells[len(lines.titles) :]):
            faults.add(number, "", f"has {len(cells)} cells for {len(lines.titles)} columns")
            continue
        cells = [*cells, *[""] * (len(lines.titles) - len(cells))]
        size = _size(cells[columns["size"][0]], number, seen, faults)
        values = _values(cells, columns, number, faults)
        if not size or values is None:
            continue
        label = Label(size, heads.get("table", stem), cast(Method, heads["making"]))
        making = rows.Making(label, cast(Shape, heads["shape"]), heads.get("corners", ""))
        try:
            entries.append(rows.make(making, values))
        except InputError as error:
            faults.add(number, f"{error.culprits[0]} (size {size})", str(error))
    return entries


def _size(size: str, number: int, seen: dict[str, int], faults: Faults) -> str:
    """Return the name of a size where it can be one, else an empty one."""
    if not size:
        faults.add(number, "size", "is empty", "write the name of the size")
        return ""
    if len(size) > LONGEST_NAME or size[0] in "=+-@" or not size.isprintable():
        # Spreadsheets take what begins so for a formula.
        faults.add(number, "size", f"{size[:30]!r} cannot be a name", "begin it with a letter or a number")
        return ""
    key = spell(size)
    if key in seen:
        faults.add(number, "size", f"{size} is there already, in row {seen[key]}")
        return ""
    seen[key] = number
    return size


def _values(
    cells: Sequence[str], columns: Mapping[str, tuple[int, str]], number: int, faults: Faults
) -> dict[str, Fraction] | None:
    values, before = dict[str, Fraction](), len(faults.found)
    for name, (place, unit) in columns.items():
        if name == "size":
            continue
        value = read_number(cells[place])
        if value is None:
            wrong = f"{cells[place][:30]!r} is not a number" if cells[place] else "is empty"
            faults.add(number, name, wrong, f"write a number such as {'1/4' if unit == 'in' else '6.3'}")
            continue
        values[name] = value * rows.KINDS[name][unit]
        if rows.KINDS[name] is LENGTHS and name != "root_radius" and not SMALLEST <= values[name] <= LARGEST:
            faults.add(number, name, f"{cells[place]} {unit} is outside of 0.1 mm to 10 m", "check its unit")
    return values if len(faults.found) == before else None
