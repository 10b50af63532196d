"""Sections and materials of a study: its own, and those of tables, bundled or beside the study file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from typing import Any

from explorer.document.names import named_tables
from explorer.document.values import SUGGESTED, Values, join, one_of, optional, printable, show
from explorer.sections.catalogue import PAIR, bundled_tables, find_profile
from explorer.sections.numbers import spell
from explorer.sections.steels import bundled_steels, find_steel
from explorer.sections.table import Table
from solver.errors import InputError
from solver.profiles.profile import Profile
from solver.truss import Group, Material, Section

OTHERS = ("area", "I", "r", "depth")
"""Keys of a section in whose place a size stands."""


@dataclass(frozen=True)
class Sizes:
    """Tables beside the study file; `doubtful` where one of them, or their list, has a fault told already.

    space: whether the truss is one, where the weakest axis of a size is the one that counts.
    """

    own: tuple[Table, ...] = ()
    doubtful: bool = False
    space: bool = False

    @cached_property
    def names(self) -> frozenset[str]:
        """Names of the sizes of the study's own tables, as they are compared."""
        return _names_of(self.own)


@dataclass(frozen=True)
class Properties:
    """The study's own sections, materials and families by name; one with a fault is known but None."""

    sections: Mapping[str, Section | None]
    materials: Mapping[str, Material | None]
    sizes: Sizes = Sizes()
    families: Mapping[str, tuple[Section, ...] | None] = field(default_factory=dict)


def read_materials(values: Values, raw: object) -> dict[str, Material | None]:
    """Read materials by name; one with a fault is known but None."""
    materials: dict[str, Material | None] = {}
    for name, path, table in named_tables(values, raw, "materials"):
        read = values.table(table, path, "materials")
        if read is None or read["E"] is None:
            materials[name] = None
            continue
        materials[name] = Material(
            name,
            elastic_modulus=float(read["E"]),
            yield_strength=optional(read["fy"]),
            ultimate_strength=optional(read["fu"]),
            unit_weight=_written(read, table, "unit_weight"),
            expansion=_written(read, table, "expansion"),
        )
    return materials


def read_sections(values: Values, raw: object, sizes: Sizes) -> dict[str, Section | None]:
    """Read sections by name; one with a fault is known but None."""
    return {
        name: _section(values, name, path, table, sizes)
        for name, path, table in named_tables(values, raw, "sections")
    }


def _section(values: Values, name: str, path: str, table: Any, sizes: Sizes) -> Section | None:
    read = values.table(table, path, "sections")
    if read is None:
        return None
    if "size" in table:
        return _of_size(values, name, path, table, sizes)
    if "turned" in table:
        values.faults.add(join(path, "turned"), "there is no size", "turn the numbers, or write a size")
    if "area" not in table:
        values.faults.add(join(path, "area"), "is missing", "add it, or the name of a size as `size`")
    if read["area"] is None:
        return None
    depth = optional(read["depth"])
    return Section(name, float(read["area"]), optional(read["I"]), optional(read["r"]), depth=depth)


def _of_size(values: Values, name: str, path: str, table: dict[str, Any], sizes: Sizes) -> Section | None:
    here = join(path, "size")
    beside = [key for key in OTHERS if key in table]
    if beside:
        wrong = f"a size beside {', '.join(beside)}"
        values.faults.add(here, wrong, "leave out the one or the other: a size has its own numbers")
    if not isinstance(table["size"], str):
        return None
    profile = find_size(values, table["size"], here, sizes)
    if profile is None or table.get("turned") is not True:
        return None if profile is None else section_of(name, profile, sizes.space)
    if profile.shape == "paired angles":
        right = "write LLBB or SLBB behind the size: long or short legs back to back, standing"
        values.faults.add(join(path, "turned"), f"{profile.size} cannot be turned", right)
        return None
    return section_of(name, turned(profile), sizes.space)


def section_of(name: str, profile: Profile, space: bool) -> Section:
    """Return a profile as a section: stiffness in the plane of the truss, in space about the weakest axis."""
    if space:
        return Section(name, profile.area, profile.least, profile.least_radius, profile)
    return Section(name, profile.area, profile.second_moment, profile.radius, profile)


def turned(profile: Profile) -> Profile:
    """Return a profile turned by a right angle: its width lies in the plane of the truss."""
    swap = {"second_moment": "across", "across": "second_moment"}
    return replace(
        profile,
        size=f"{profile.size} turned",
        depth=profile.width,
        width=profile.depth,
        second_moment=profile.across,
        across=profile.second_moment,
        stored=tuple(swap.get(key, key) for key in profile.stored),
    )


def find_size(
    values: Values, name: str, path: str, sizes: Sizes, others: Mapping[str, object] | None = None
) -> Profile | None:
    """Return the profile of a size, of a table beside the study file or a bundled one; None after a fault.

    others: sections by name that may have been meant, where the name may be one of them too.
    """
    what = "size" if others is None else "section"
    if len(values.faults.found) >= SUGGESTED and not is_size(name, sizes):
        values.faults.add(path, f"there is no {what} {show(name)}", "write a name that is there")
        return None
    try:
        return find_profile(name, sizes.own)
    except InputError as error:
        if sizes.doubtful:
            return None
        before, told = f"there is no profile {name}", str(error)
        if told.startswith(before):
            near = one_of(name, others) if others else ""
            right = near if near.startswith("did you") else told.removeprefix(before).lstrip(":; ")
            values.faults.add(path, f"there is no {what} {show(name)}", printable(right))
        else:
            wrong, _, right = told.partition("; ")
            values.faults.add(path, printable(wrong), printable(right))
        return None


def section_named(values: Values, name: str | None, path: str, properties: Properties) -> Section | None:
    """Return a section by its name, the study's own or a size; None after a fault, its own or told here."""
    if name is None:
        return None
    own = _own(name, properties.sections, is_size(name, properties.sizes))
    if own is not None:
        return properties.sections[own]
    profile = find_size(values, name, path, properties.sizes, properties.sections)
    return None if profile is None else section_of(profile.size, profile, properties.sizes.space)


def material_named(
    values: Values, name: str | None, path: str, properties: Properties, section: Section | None
) -> Material | None:
    """Return a material by its name, the study's own or a bundled steel as thick as the section's profile."""
    if name is None:
        return None
    own = _own(name, properties.materials, is_steel(name))
    if own is not None:
        return properties.materials[own]
    if not is_steel(name):
        values.named(name, path, "material", (*properties.materials, *bundled_steels()))
        return None
    profile = section.profile if section else None
    try:
        return find_steel(name, profile.thickness if profile else None)
    except InputError as error:
        values.faults.add(path, str(error), "choose another steel, or write a material of the study's own")
        return None


def _own(name: str, own: Mapping[str, object], in_tables: bool) -> str | None:
    """Return the study's own name that is meant: as written, or, of one in tables too, as it is compared."""
    if name in own:
        return name
    return next((each for each in own if spell(each) == spell(name)), None) if in_tables else None


def is_size(name: str, sizes: Sizes) -> bool:
    """Whether a table has a size of that name, alone or as a pair."""
    match = PAIR.fullmatch(name.strip()) if len(name) < SUGGESTED else None
    keys = {spell(name), spell(match["size"])} if match else {spell(name)}
    return bool(keys & _bundled_names() or keys & sizes.names)


def is_steel(name: str) -> bool:
    """Whether a bundled steel has that name."""
    return spell(name) in {spell(steel) for steel in bundled_steels()}


def _names_of(tables: Sequence[Table]) -> frozenset[str]:
    """Names of all sizes as they are compared: alone, and behind their standard or their table's name."""
    return frozenset(
        spell(f"{head} {profile.size}")
        for table in tables
        for profile in table.profiles
        for head in ("", table.short_standard, table.name)
    )


@cache
def _bundled_names() -> frozenset[str]:
    return _names_of(bundled_tables())


def note_taken(properties: Properties) -> tuple[str, ...]:
    """Return a notice for each section, material and table of a study that bears a name of another's."""
    sections = [
        f"the study's own section {name} is taken, not the size of a table"
        for name in properties.sections
        if is_size(name, properties.sizes)
    ]
    materials = [
        f"the study's own material {name} is taken, not the bundled one"
        for name in properties.materials
        if is_steel(name)
    ]
    return (*sections, *materials, *(text for table in properties.sizes.own for text in _note_table(table)))


def _note_table(table: Table) -> Iterator[str]:
    """Tell that a table beside the study file bears a bundled one's name, or has sizes of the same name."""
    if spell(table.name) in {spell(each.name) for each in bundled_tables()}:
        yield f"the study's own table {table.name} is taken, not the bundled one"
    twice = [profile.size for profile in table.profiles if spell(profile.size) in _bundled_names()]
    if twice:
        more = f" and {len(twice) - 1} more" if len(twice) > 1 else ""
        yield f"of the study's own table {table.name} is taken, not the bundled one: {twice[0]}{more}"


def note_thickness(groups: Mapping[str, Group | None], properties: Properties) -> tuple[str, ...]:
    """Return a notice for each group whose steel has strengths by thickness and whose section has none."""
    notices = []
    for name, group in groups.items():
        if group is None or group.section.profile or group.material.name in properties.materials:
            continue
        if len(bundled_steels()[group.material.name].strengths) > 1:
            steel = f"no size, so that steel {group.material.name} has the strengths of its thinnest range"
            notices.append(f"group {name}: section {group.section.name} has {steel}, the highest ones")
    return tuple(notices)


def _written(read: dict[str, Any], table: dict[str, Any], key: str) -> float | None:
    """An optional number; not a number where it is written with a fault, which is told already."""
    return float("nan") if key in table and read[key] is None else optional(read[key])
