"""Families of a study: the sections among which a lighter one is sought, in order of area."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from explorer.document.names import named_tables
from explorer.document.sections_and_materials import Properties, section_named, section_of
from explorer.document.values import Values, join
from explorer.sections.catalogue import WIDEST_GAP, bundled_tables, list_pairs, list_profiles
from explorer.sections.numbers import spell
from explorer.sections.table import Table
from solver.profiles.profile import Profile
from solver.truss import Section

MOST = 400
"""Sections of one family: with more of them the choice over all groups takes too long."""

OF_A_TABLE = ("from", "to", "pairs_gap")
Family = tuple[Section, ...]


def read_families(values: Values, raw: object, properties: Properties) -> dict[str, Family | None]:
    """Read families by name, each in order of area; one with a fault is known but None."""
    families: dict[str, Family | None] = {}
    for name, path, table in named_tables(values, raw, "families"):
        before = len(values.faults.found)
        read = values.table(table, path, "families")
        found = None if read is None else _family(values, path, read, properties)
        families[name] = found if len(values.faults.found) == before else None
    return families


def _family(values: Values, path: str, read: dict[str, Any], properties: Properties) -> Family | None:
    sizes, table = read["sizes"], read["table"]
    before = len(values.faults.found)
    if sizes is not None:
        beside = [key for key in ("table", *OF_A_TABLE) if read[key] is not None]
        if beside:
            values.faults.add(join(path, beside[0]), "stands beside sizes", "write sizes, or a table")
        return _listed(values, join(path, "sizes"), sizes, properties)
    if table is not None:
        return _of_table(values, path, read, properties)
    told = any(fault.key.startswith(f"{path}.") for fault in values.faults.found[:before])
    if not told:
        values.faults.add(path, "a family with nothing in it", "add sizes, or a table")
    return None


def _listed(values: Values, path: str, names: Sequence[str], properties: Properties) -> Family | None:
    """Sections and sizes by name."""
    if not names:
        values.faults.add(path, "an empty family", "write at least one size")
    if _too_many(values, path, len(names)):
        return None
    found: list[Section] = []
    for i, name in enumerate(names):
        here = f"{path}[{i}]"
        section = section_named(values, name, here, properties)
        if section and any(section in (one, replace(one, name=section.name)) for one in found):
            values.faults.add(here, f"{name} is there already, by this name or another", "write it once")
        elif section is not None:
            found.append(section)
    return tuple(sorted(found, key=lambda section: (section.area, section.name)))


def _of_table(values: Values, path: str, read: dict[str, Any], properties: Properties) -> Family | None:
    """The sizes of a table, or its part between two of them by area, both counted; or their pairs."""
    sizes = properties.sizes
    tables = (*sizes.own, *bundled_tables())
    table = next((each for each in tables if spell(each.name) == spell(read["table"])), None)
    if table is None:
        if not sizes.doubtful:
            names = [each.name for each in tables]
            values.named(read["table"], join(path, "table"), "table of sections", names)
        return None
    singles = list_profiles(table.name, sizes.own)
    first = _place(values, read["from"], join(path, "from"), (table, singles), 0)
    last = _place(values, read["to"], join(path, "to"), (table, singles), len(singles) - 1)
    if first is None or last is None:
        return None
    if first > last:
        values.faults.add(path, "from and to are swapped", "from names the one with the smaller area")
        return None
    gap = read["pairs_gap"]
    if gap is not None and not _can_pair(values, join(path, "pairs_gap"), table, gap):
        return None
    profiles = singles if gap is None else list_pairs(table.name, gap, own=sizes.own)
    if _too_many(values, path, last - first + 1):
        return None
    chosen = profiles[first : last + 1]
    return tuple(section_of(profile.size, profile, sizes.space) for profile in chosen)


def _place(
    values: Values, name: str | None, path: str, known: tuple[Table, Sequence[Profile]], default: int
) -> int | None:
    """Place of a size among those of a table; None after a fault."""
    if name is None:
        return default
    table, profiles = known
    keys = [spell(profile.size) for profile in profiles]
    for key in (spell(name), spell(f"{table.short_standard} {name}")):
        if key in keys:
            return keys.index(key)
    values.named(name, path, f"size in table {table.name}:", [profile.size for profile in profiles])
    return None


def _can_pair(values: Values, path: str, table: Table, gap: Fraction) -> bool:
    if table.shape != "angle":
        wrong = f"the table {table.name} holds no angles"
        values.faults.add(path, wrong, "leave it out: only angles stand back to back")
        return False
    if gap > WIDEST_GAP:
        most = float(values.units.from_si("small_length", float(WIDEST_GAP)))
        unit = values.units.label("small_length")
        values.faults.add(path, "is no gap between two backs", f"write 0 to {most:.3g} {unit}")
        return False
    return True


def _too_many(values: Values, path: str, count: int) -> bool:
    if count <= MOST:
        return False
    values.faults.add(path, f"{count} sizes", f"at most {MOST} are taken on in a family")
    return True
