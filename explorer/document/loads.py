"""Chords and load cases of a study."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Any, Literal, cast

import numpy as np

from explorer.document.attributes import NO_CASE_NAMES
from explorer.document.members import Bars
from explorer.document.names import named_tables
from explorer.document.values import Values, join, show
from solver.cases import LineLoad, LoadCase
from solver.tolerances import DIRECTION
from solver.truss import ExactVector, Member, Support

RIGHT_ANGLE = 0
ROUNDING = 1e-12
"""A chord's length in space is rounded, and so is the end of a stretch that is to reach it."""


@dataclass(frozen=True)
class Frame:
    """What load cases refer to: joints, supports, members; `chords` are plan lengths [m] by name.

    A chord with a fault is known with None; `doubtful` joints have a support with a fault of its own.
    """

    joints: Mapping[str, ExactVector | None]
    supports: tuple[Support, ...]
    bars: Bars
    chords: Mapping[str, Fraction | float | None]
    dimension: int
    doubtful: frozenset[str] = frozenset()

    @cached_property
    def place(self) -> Mapping[str, int]:
        """Index of each joint by name."""
        return {name: index for index, name in enumerate(self.joints)}


def read_chords(
    values: Values, raw: object, joints: dict[str, ExactVector | None]
) -> dict[str, tuple[str, ...] | None]:
    """Read the joints of each chord; a chord with a fault is known but None."""
    chords: dict[str, tuple[str, ...] | None] = {}
    for name, path, table in named_tables(values, raw, "chords"):
        read = values.table(table, path, "chords")
        names = read["joints"] if read else None
        chords[name] = None
        if names is None:
            continue
        here = join(path, "joints")
        if len(names) < 2:
            values.faults.add(here, "fewer than two joints", "write two joints or more")
            continue
        known = _all_known(values, here, names, joints)
        if known and _keeps_its_way(values, here, names, joints):
            chords[name] = tuple(names)
    return chords


def _all_known(values: Values, here: str, names: list[str], joints: Mapping[str, object]) -> bool:
    """Whether every joint is known; each unknown one is told."""
    known = [values.named(name, f"{here}[{i}]", "joint", joints) for i, name in enumerate(names)]
    return all(known)


def _keeps_its_way(
    values: Values, here: str, names: list[str], joints: dict[str, ExactVector | None]
) -> bool:
    """Whether the plan direction never stands still nor turns by a right angle or more, exactly."""
    points = [joints[name] for name in names]
    if any(point is None for point in points):
        return False
    plans = [point[:-1] for point in points if point is not None]
    steps = [tuple(q - p for p, q in zip(a, b, strict=True)) for a, b in pairwise(plans)]
    fine = True
    for i, step in enumerate(steps):
        if not any(step):
            values.faults.add(f"{here}[{i + 1}]", "the chord stands still in plan", "leave that joint out")
            fine = False
    for i, (a, b) in enumerate(pairwise(steps)):
        if any(a) and any(b) and sum(p * q for p, q in zip(a, b, strict=True)) <= RIGHT_ANGLE:
            what = f"the chord turns by a right angle or more in plan at joint {names[i + 1]}"
            values.faults.add(f"{here}[{i + 1}]", what, "end the chord there")
            fine = False
    return fine


def read_cases(values: Values, raw: object, frame: Frame) -> dict[str, LoadCase]:
    """Read load cases by name; faults of single loads leave them out."""
    cases: dict[str, LoadCase] = {}
    for name, path, table in named_tables(values, raw, "cases"):
        note_reserved(values, name, path)
        read = values.table(table, path, "cases")
        if read is None:
            continue
        weighty = bool(read["self_weight"])
        if weighty:
            _need_of_all(values, frame, join(path, "self_weight"), "unit_weight")
        cases[name] = LoadCase(
            name,
            self_weight=float(read["self_weight"] or 0),
            joints=_vectors(values, read["joints"], join(path, "joints"), frame, "force"),
            lines=_lines(values, read["lines"], join(path, "lines"), frame),
            temperature=_temperature(values, read["temperature"], join(path, "temperature"), frame),
            settlement=_settlement(values, read["settlement"], join(path, "settlement"), frame),
            misfit=_misfit(values, read["misfit"], join(path, "misfit"), frame),
            # A count with a fault is told already; 1 keeps it from being told as one of all that are 0.
            counts=1.0 if read["counts"] is None else float(read["counts"]),
        )
    return cases


def note_reserved(values: Values, name: str, path: str) -> None:
    """Note a case or crossing with a name that means something else in a combination."""
    if name in NO_CASE_NAMES:
        values.faults.add(path, f"{show(name)} is no name of a case or crossing", "choose another")


def _need_of_all(values: Values, frame: Frame, path: str, key: str, groups: set[str] | None = None) -> None:
    """Note materials in use that lack what a load asks for."""
    asked = [frame.bars.groups[name] for name in (frame.bars.groups if groups is None else groups)]
    materials = [group.material for group in asked if group is not None]
    lacking = {material.name for material in materials if getattr(material, key) is None}
    for material in sorted(lacking):
        values.faults.add(
            path, f"material {material} has no {key}", f"add it to {join('materials', material)}"
        )


def _by_name(values: Values, raw: object, path: str, what: str) -> dict[str, Any]:
    if raw is None:
        return {}
    if isinstance(raw, dict):
        return raw
    wrong = f"{show(raw)} where a table by {what} belongs"
    values.faults.add(path, wrong, f"write {{ {what.upper()} = ... }}")
    return {}


def _vectors(
    values: Values, raw: object, path: str, frame: Frame, quantity: str
) -> dict[int, tuple[float, ...]]:
    vectors = {}
    for name, vector in _by_name(values, raw, path, "joint").items():
        here = join(path, name)
        known = values.named(name, here, "joint", frame.joints)
        read = values.vector(vector, here, frame.dimension, quantity)
        if known and read is not None:
            vectors[frame.place[name]] = tuple(float(part) for part in read)
    return vectors


def _settlement(values: Values, raw: object, path: str, frame: Frame) -> dict[int, tuple[float, ...]]:
    moved = _vectors(values, raw, path, frame, "small_length")
    names = list(frame.joints)
    held = {support.joint: support.directions for support in frame.supports}
    for joint, vector in moved.items():
        size = float(np.linalg.norm(vector))
        if not size or names[joint] in frame.doubtful:
            continue
        directions = np.array([[float(c) for c in direction] for direction in held.get(joint, ())])
        unit = np.array(vector) / size
        if len(directions):
            # Written vectors may differ in length by orders of magnitude; their lengths mean nothing.
            axes = (directions / np.linalg.norm(directions, axis=1, keepdims=True)).T
            unit = unit - axes @ np.linalg.lstsq(axes, unit, rcond=None)[0]
        if np.linalg.norm(unit) >= DIRECTION:
            here = join(path, names[joint])
            values.faults.add(here, "leaves the held directions", "settle only along what the support holds")
    return moved


def _misfit(values: Values, raw: object, path: str, frame: Frame) -> dict[int, float]:
    misfits: dict[int, float] = {}
    names = [member.name for member in frame.bars.members]
    places = {frozenset(name.split("-")): i for i, name in enumerate(names)}
    for name, amount in _by_name(values, raw, path, "member").items():
        here = join(path, name)
        written = name.split("-")
        ends = frozenset(written if len(written) == 2 else ())
        if frame.bars.surely_lacks(ends) or any(end not in frame.joints for end in written):
            values.named(name, here, "member", names)
        value = values.number(amount, here, "number", "small_length")
        if value is None or ends not in places:
            continue
        if places[ends] in misfits:
            values.faults.add(here, f"member {frame.bars.by_ends[ends]} stands twice", "write it once")
        misfits[places[ends]] = float(value)
    return misfits


def _temperature(values: Values, raw: object, path: str, frame: Frame) -> tuple[float, ...] | None:
    """The change of each member, from one number or by group."""
    if raw is None:
        return None
    members = frame.bars.members
    if not isinstance(raw, dict):
        change = values.number(raw, path, "number", "temperature")
        if change:
            _need_of_all(values, frame, path, "expansion")
        return None if change is None else (float(change),) * len(members)
    changes: dict[str, float] = {}
    for name, amount in raw.items():
        here = join(path, name)
        known = values.named(name, here, "group", frame.bars.groups)
        change = values.number(amount, here, "number", "temperature")
        if known and change is not None:
            changes[name] = float(change)
            if change:
                _need_of_all(values, frame, here, "expansion", {name})
    return tuple(changes.get(_group(member), 0.0) for member in members)


def _group(member: Member) -> str:
    return member.group.name


def _lines(values: Values, raw: object, path: str, frame: Frame) -> tuple[LineLoad, ...]:
    if raw is None:
        return ()
    if not isinstance(raw, list):
        wrong = f"{show(raw)} where a list belongs"
        values.faults.add(path, wrong, 'write [{ chord = "...", load = [...] }]')
        return ()
    lines = [_line(values, line, f"{path}[{i}]", frame) for i, line in enumerate(raw)]
    return tuple(line for line in lines if line is not None)


def _line(values: Values, raw: object, path: str, frame: Frame) -> LineLoad | None:
    read = values.table(raw, path, "lines")
    if read is None or not isinstance(raw, dict):
        return None
    known = values.named(read["chord"], join(path, "chord"), "chord", frame.chords)
    per = values.choice(read["per"], join(path, "per"), ("plan", "length"))
    _note_kind(values, raw, path, frame)
    load = raw.get("load")
    vector = None if load is None else values.vector(load, join(path, "load"), frame.dimension, "line_load")
    length = frame.chords[read["chord"]] if known else None
    stretch = _stretch(values, read, path, length)
    if length is None or stretch is None or (vector is None and read["normal"] is None):
        return None
    return LineLoad(
        read["chord"],
        start=float(stretch[0]),
        end=float(stretch[1]),
        vector=None if vector is None else tuple(float(part) for part in vector),
        normal=None if read["normal"] is None else float(read["normal"]),
        per=cast(Literal["plan", "length"], per or "plan"),
    )


def _note_kind(values: Values, raw: dict[str, Any], path: str, frame: Frame) -> None:
    """A line has `load` or `normal`, never both; `normal` is for the plane and counts per length."""
    if "load" in raw and "normal" in raw:
        values.faults.add(path, "both load and normal", "write one of them")
    elif "load" not in raw and "normal" not in raw:
        values.faults.add(path, "neither load nor normal", "write one of them")
    if "normal" in raw and frame.dimension == 3:
        values.faults.add(join(path, "normal"), "normal in space", "write load, a vector")
    elif "normal" in raw and raw.get("per") == "plan":
        values.faults.add(join(path, "per"), "a normal load counts per length", "leave per out")


def _stretch(
    values: Values, read: dict[str, Any], path: str, length: Fraction | float | None
) -> tuple[Fraction | float, Fraction | float] | None:
    """The stretch of a line load; None where the chord is not known or an end has a fault."""
    start, end = read["from"], read["to"]
    fine = True
    if start is not None and end is not None and start > end:
        values.faults.add(path, "the ends are swapped", "from comes before to")
        fine = False
    if length is None:
        return None
    for key, place in (("from", start), ("to", end)):
        if place is not None and not 0 <= place <= length * (1 + ROUNDING):
            chord = f"the chord runs from 0 to {float(values.units.from_si('length', float(length))):.10g}"
            values.faults.add(join(path, key), "outside its chord", chord)
            fine = False
    stretch = (0 if start is None else start, length if end is None else end)
    return stretch if fine else None
