"""Joints and supports of a study: names, coordinates as written, held directions."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from explorer.document.values import Values, join, show
from solver.tolerances import DIRECTION
from solver.truss import AXES, ExactVector, Support

JOINT_NAME = re.compile(r"[\w.']{1,24}")
MOST = 20_000


def read_joints(values: Values, raw: object) -> dict[str, ExactVector | None]:
    """Read coordinates by joint name, exact, in m; a joint with a fault has None."""
    if not isinstance(raw, dict) or not raw:
        if raw is not None:
            wrong = f"{show(raw)} where joints belong"
            values.faults.add("joints", wrong, "write [joints] and a line a joint")
        return {}
    if len(raw) > MOST:
        values.faults.add("joints", f"{len(raw)} joints", f"at most {MOST} joints are taken on")
        values.faults.stop_if_any()
    dimension = _dimension(raw)
    joints: dict[str, ExactVector | None] = {}
    for name, point in raw.items():
        path = join("joints", name)
        if not JOINT_NAME.fullmatch(name):
            values.faults.add(path, f"{show(name)} is no joint's name", "1 to 24 letters, digits, _ . or '")
        joints[name] = _coordinates(values, point, path, dimension)
    _note_shared_places(values, joints)
    return joints


def _dimension(raw: dict[str, Any]) -> int:
    """The dimension that most joints are written in, so that the odd ones out are told."""
    lengths = [len(point) for point in raw.values() if isinstance(point, list)]
    return 3 if lengths.count(3) > lengths.count(2) else 2


def _coordinates(values: Values, raw: object, path: str, dimension: int) -> ExactVector | None:
    if isinstance(raw, list) and len(raw) in (2, 3) and len(raw) != dimension:
        values.faults.add(
            path, f"{len(raw)} coordinates where other joints have {dimension}", f"write {dimension}"
        )
        return None
    return values.vector(raw, path, dimension, "length")


def _note_shared_places(values: Values, joints: dict[str, ExactVector | None]) -> None:
    first: dict[ExactVector, str] = {}
    for name, point in joints.items():
        if point is None:
            continue
        other = first.setdefault(point, name)
        if other != name:
            values.faults.add(join("joints", name), f"in one place with joint {other}", "move or drop one")


def read_supports(values: Values, raw: object, place: Mapping[str, int], dimension: int) -> list[Support]:
    """Read held directions by joint; supports with a fault are left out."""
    if not isinstance(raw, dict):
        if raw is not None:
            values.faults.add("supports", f"{show(raw)} where supports belong", 'write JOINT = "xy"')
        return []
    supports = []
    for name, held in raw.items():
        path = join("supports", name)
        known = values.named(name, path, "joint", place)
        support = _read_support(values, held, path, dimension)
        if known and support is not None:
            supports.append(Support(place[name], *support))
    return supports


def _read_support(
    values: Values, raw: object, path: str, dimension: int
) -> tuple[tuple[ExactVector, ...], tuple[str, ...]] | None:
    if isinstance(raw, str):
        return _letters(values, raw, path, dimension)
    if not isinstance(raw, list) or not raw or not all(isinstance(vector, list) for vector in raw):
        right = f'write letters of "{AXES[:dimension]}" or a list of vectors, as [[0.6, 0.8]]'
        values.faults.add(path, f"{show(raw)} where held directions belong", right)
        return None
    vectors = [values.vector(vector, f"{path}[{i}]", dimension, "none") for i, vector in enumerate(raw)]
    read = tuple(vector for vector in vectors if vector is not None)
    if not _independent(values, vectors, path) or len(read) < len(raw):
        return None
    labels = tuple("[" + ", ".join(str(part) for part in vector) + "]" for vector in raw)
    return read, labels


def _letters(
    values: Values, raw: str, path: str, dimension: int
) -> tuple[tuple[ExactVector, ...], tuple[str, ...]] | None:
    axes = AXES[:dimension]
    strange = sorted(set(raw) - set(axes))
    if not raw or strange:
        what = f"{show(raw)} holds no direction" if not raw else f"there is no axis {show(''.join(strange))}"
        values.faults.add(path, what, f'write letters of "{axes}"')
        return None
    repeated = sorted({letter for letter in raw if raw.count(letter) > 1})
    if repeated:
        values.faults.add(path, f"direction {', '.join(repeated)} is repeated", "write each once")
        return None
    units = tuple(tuple(Fraction(int(axis == letter)) for axis in axes) for letter in raw)
    return units, tuple(raw)


def _independent(values: Values, vectors: Sequence[ExactVector | None], path: str) -> bool:
    """Note held directions without length, and those that depend on the ones before them."""
    basis: list[NDArray[np.float64]] = []
    fine = True
    for number, vector in enumerate(vectors):
        here = f"{path}[{number}]"
        if vector is None:
            continue
        if not any(vector):
            values.faults.add(here, "a direction without length", "write a vector along the reaction")
            fine = False
            continue
        unit = np.array([float(part) for part in vector])
        unit = unit / np.linalg.norm(unit)
        rest = unit - sum((axis * (axis @ unit) for axis in basis), np.zeros_like(unit))
        if np.linalg.norm(rest) < DIRECTION:
            values.faults.add(here, "depends on the directions before it", "leave it out")
            fine = False
            continue
        basis.append(rest / np.linalg.norm(rest))
    return fine
