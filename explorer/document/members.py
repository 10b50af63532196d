"""Groups, members and pieces of a study."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from typing import Any

import numpy as np

from explorer.document.joints import MOST
from explorer.document.making import read_making
from explorer.document.names import named_tables
from explorer.document.sections_and_materials import Properties, material_named, section_named
from explorer.document.values import Values, join, optional, show
from solver.tolerances import DIRECTION
from solver.truss import ExactVector, Group, Member, Piece


@dataclass
class Bars:
    """Members read so far: by name, and by their unordered pair of joints.

    `doubtful` joints are named by members with a fault of their own; `unreadable` is set where even the
    names could not be read. What is missed there is a consequence and not told again.
    """

    members: list[Member] = field(default_factory=list)
    groups: dict[str, Group | None] = field(default_factory=dict)
    by_ends: dict[frozenset[str], str] = field(default_factory=dict)
    group_of: dict[str, str] = field(default_factory=dict)
    doubtful: set[str] = field(default_factory=set)
    unreadable: bool = False

    def surely_lacks(self, ends: frozenset[str]) -> bool:
        """Whether no member joins `ends`, and no fault told already may be the reason."""
        return not (self.unreadable or ends in self.by_ends or ends & self.doubtful)


def read_groups(
    values: Values,
    raw: object,
    joints: dict[str, ExactVector | None],
    properties: Properties,
) -> Bars:
    """Read groups and, in the file's order, their members; faults of single members leave them out."""
    bars = Bars(unreadable=not isinstance(raw, dict))
    _note_too_many(values, raw)
    place = {name: index for index, name in enumerate(joints)}
    for name, path, table in named_tables(values, raw, "groups"):
        read = values.table(table, path, "groups")
        bars.groups[name] = _read_group(values, name, path, read, properties)
        if read is None:
            bars.unreadable = True
            continue
        if "along" not in table and "members" not in table:
            values.faults.add(path, "a group without members", "add `along` or `members`")
        for here, first, second in _ends(values, path, table, read, place):
            _add_member(values, bars, name, (here, first, second), place)
        _note_doubt(bars, table)
    return bars


def _note_too_many(values: Values, raw: object) -> None:
    """Refuse more members than are taken on, before anything is made of them."""
    count = 0
    for table in raw.values() if isinstance(raw, dict) else ():
        if isinstance(table, dict):
            along, single = table.get("along"), table.get("members")
            count += max(len(along) - 1, 0) if isinstance(along, list) else 0
            count += len(single) if isinstance(single, list) else 0
    if count > MOST:
        values.faults.add("groups", f"{count} members", f"at most {MOST} members are taken on")
        values.faults.stop_if_any()


def _read_group(
    values: Values,
    name: str,
    path: str,
    read: dict[str, Any] | None,
    properties: Properties,
) -> Group | None:
    if read is None:
        return None
    section = section_named(values, read["section"], join(path, "section"), properties)
    material = material_named(values, read["material"], join(path, "material"), properties, section)
    making = read_making(values, path, read, (section, properties.families))
    if section is None or material is None:
        return None
    duties = tuple(read["duties"] or ())
    resistances = optional(read["tension"]), optional(read["compression"])
    return Group(name, section, material, *resistances, duties, making)


def _ends(
    values: Values, path: str, table: dict[str, Any], read: dict[str, Any], place: dict[str, int]
) -> Iterator[tuple[str, str, str]]:
    """Yield key path and two joints of each member, in the order in which the group writes them."""
    for key in table:
        names = read.get(key) or []
        if key == "along":
            here = join(path, key)
            if isinstance(table[key], list) and len(table[key]) < 2:
                values.faults.add(here, "fewer than two joints", "write two joints or more")
            known = [values.named(n, f"{here}[{i}]", "joint", place) for i, n in enumerate(names)]
            for i, (first, second) in enumerate(pairwise(names)):
                if known[i] and known[i + 1]:
                    yield f"{here}[{i + 1}]", first, second
        if key == "members":
            for i, name in enumerate(names):
                yield from _split(values, name, f"{join(path, key)}[{i}]", place)


def _note_doubt(bars: Bars, table: dict[str, Any]) -> None:
    """Note the joints of members as written that were not taken on: their faults are told already."""
    for key in ("along", "members"):
        written = table.get(key, [])
        if not isinstance(written, list):
            bars.unreadable = True
            continue
        names = [name if isinstance(name, str) else "" for name in written]
        pairs = [name.split("-") for name in names] if key == "members" else list(pairwise(names))
        for pair in pairs or [names]:
            if frozenset(pair) not in bars.by_ends:
                bars.doubtful.update(pair)


def _split(values: Values, name: str, here: str, place: dict[str, int]) -> Iterator[tuple[str, str, str]]:
    first, hyphen, second = name.partition("-")
    if not hyphen:
        values.faults.add(here, f"{show(name)} is no member", 'write its two joints, as "L0-U1"')
        return
    known = [values.named(end, here, "joint", place) for end in (first, second)]
    if all(known):
        yield here, first, second


def _add_member(
    values: Values, bars: Bars, group: str, ends: tuple[str, str, str], place: dict[str, int]
) -> None:
    here, first, second = ends
    if first == second:
        values.faults.add(here, f"a member from joint {first} to itself", "write two joints")
        return
    key = frozenset((first, second))
    if key in bars.by_ends:
        name = bars.by_ends[key]
        where = bars.group_of[name]
        what = "twice" if where == group else f"in two groups, {where} and {group}"
        values.faults.add(here, f"member {name} stands {what}", "write it once")
        return
    name = f"{first}-{second}"
    bars.by_ends[key] = name
    bars.group_of[name] = group
    read = bars.groups[group]
    if read is not None:
        bars.members.append(Member(name, place[first], place[second], read))


def note_joints_without_members(values: Values, joints: dict[str, ExactVector | None], bars: Bars) -> None:
    """Note joints that no member reaches, unless a member that names them had a fault of its own."""
    reached = {joint for ends in bars.by_ends for joint in ends} | bars.doubtful
    for name in () if bars.unreadable else joints:
        if name not in reached:
            values.faults.add(join("joints", name), "a joint without members", "join it or drop it")


def read_pieces(
    values: Values, raw: object, joints: dict[str, ExactVector | None], bars: Bars
) -> list[Piece]:
    """Read pieces; each must be in line, have its members, and share none with another piece."""
    place = {name: index for index, name in enumerate(joints)}
    owner: dict[frozenset[str], str] = {}
    pieces = []
    for name, path, table in named_tables(values, raw, "pieces"):
        read = values.table(table, path, "pieces")
        names = read["joints"] if read else None
        if not read or names is None:
            continue
        here = join(path, "joints")
        own, props = dict.fromkeys(names), read["lateral_props"]
        for i, prop in enumerate(props or ()):
            values.named(prop, f"{join(path, 'lateral_props')}[{i}]", "joint of the piece", own)
        if not _joints_known(values, names, here, place) or not _in_line(values, names, here, joints):
            continue
        _note_missing_or_shared(values, name, names, here, (bars, owner))
        held = None if props is None else tuple(place[prop] for prop in props if prop in own)
        pieces.append(Piece(name, tuple(place[joint] for joint in names), held))
    return pieces


def _joints_known(values: Values, names: list[str], here: str, place: dict[str, int]) -> bool:
    if len(names) < 2:
        values.faults.add(here, "fewer than two joints", "write two joints or more")
        return False
    known = [values.named(name, f"{here}[{i}]", "joint", place) for i, name in enumerate(names)]
    return all(known)


def _in_line(values: Values, names: list[str], here: str, joints: dict[str, ExactVector | None]) -> bool:
    first: dict[str, int] = {}
    repeated = [i for i, name in enumerate(names) if first.setdefault(name, i) != i]
    if repeated:
        wrong = f"joint {names[repeated[0]]} stands twice"
        values.faults.add(f"{here}[{repeated[0]}]", wrong, "a piece passes each joint once")
        return False
    points = [joints[name] for name in names]
    steps = []
    for a, b in pairwise(points):
        if a is None or b is None or a == b:
            return False
        steps.append(_unit([q - p for p, q in zip(a, b, strict=True)]))
    for i, (one, next_one) in enumerate(pairwise(steps)):
        if np.linalg.norm(next_one - one) >= DIRECTION:
            wrong = f"not in line at joint {names[i + 1]}"
            values.faults.add(f"{here}[{i + 1}]", wrong, "end the piece there")
            return False
    return True


def _unit(vector: list[Fraction]) -> np.ndarray[Any, np.dtype[np.float64]]:
    array = np.array([float(part) for part in vector])
    return np.asarray(array / np.linalg.norm(array))


def _note_missing_or_shared(
    values: Values,
    piece: str,
    names: list[str],
    here: str,
    known: tuple[Bars, dict[frozenset[str], str]],
) -> None:
    bars, owner = known
    for i, (first, second) in enumerate(pairwise(names)):
        ends = frozenset((first, second))
        if bars.surely_lacks(ends):
            values.faults.add(f"{here}[{i + 1}]", f"no member joins {first} and {second}", "add it")
        elif ends in bars.by_ends and owner.setdefault(ends, piece) != piece:
            both = f"{owner[ends]} and {piece}"
            values.faults.add(f"{here}[{i + 1}]", f"member {bars.by_ends[ends]} is in two pieces, {both}")
