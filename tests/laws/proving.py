"""Proofs checked by arithmetic of their own: fractions for what geometry says, dense stiffness for the rest.

Shares nothing with the solver but the truss as written.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction

import numpy as np

from solver.truss import Truss
from tests.laws.generator import pulls
from tests.laws.inspecting import members_at

Vector = Sequence[Fraction]


def rank(vectors: Sequence[Vector]) -> int:
    """The rank of some vectors, by elimination in fractions."""
    rows = [list(vector) for vector in vectors if any(vector)]
    found = 0
    while rows:
        pivot = rows.pop()
        place = next((i for i, value in enumerate(pivot) if value), None)
        if place is None:
            continue
        found += 1
        rows = [
            [a - row[place] / pivot[place] * b for a, b in zip(row, pivot, strict=True)]
            if row[place]
            else row
            for row in rows
        ]
    return found


def is_alone(others: Sequence[Vector], own: Vector) -> bool:
    """Whether a vector adds a dimension to others."""
    return rank([*others, own]) > rank(others)


def away(truss: Truss, member: int, joint: int) -> tuple[Fraction, ...]:
    """From a joint along a member, as long as that is."""
    vector = truss.exact_vectors[member]
    return vector if truss.members[member].first == joint else tuple(-c for c in vector)


def held_at(truss: Truss, joint: int) -> list[Vector]:
    return [direction for s in truss.supports if s.joint == joint for direction in s.directions]


def exact(loads: np.ndarray) -> list[tuple[Fraction, ...]]:
    """Loads of whole numbers as fractions."""
    return [tuple(Fraction(int(c)) for c in row) for row in loads]


def at_joint(truss: Truss, joint: int, left_out: Collection[int], acting: Sequence[Vector]) -> list[Vector]:
    """All directions at a joint but those of some members."""
    others: list[Vector] = [away(truss, m, joint) for m in members_at(truss, joint) if m not in left_out]
    return [*others, *(vector for vector in acting if any(vector))]


def wrench(point: Vector, force: Vector) -> tuple[Fraction, ...]:
    """A force at a point: itself and its moments about the origin."""
    if len(point) == 2:
        return (*force, point[0] * force[1] - point[1] * force[0])
    (x, y, z), (a, b, c) = point, force
    return (*force, y * c - z * b, z * a - x * c, x * b - y * a)


def separates(truss: Truss, part: Collection[int], cut: Collection[int]) -> bool:
    """Whether exactly the members cut lead from the part to the rest, and neither side is empty."""
    inside = set(part)
    crossing = {i for i, m in enumerate(truss.members) if (m.first in inside) != (m.second in inside)}
    return crossing == set(cut) and 0 < len(inside) < len(truss.joint_names)


def reactions_of(truss: Truss, loads: np.ndarray) -> list[tuple[Fraction, ...]] | None:
    """Support forces by joint from the whole truss, or None where it does not give them all."""
    held = [(s.joint, direction) for s in truss.supports for direction in s.directions]
    columns = [wrench(truss.coordinates[joint], direction) for joint, direction in held]
    size = 3 if truss.dimension == 2 else 6
    if len(columns) != size or rank(columns) != size:
        return None
    total = [Fraction(0)] * size
    for joint, load in enumerate(exact(loads)):
        total = [a + b for a, b in zip(total, wrench(truss.coordinates[joint], load), strict=True)]
    factors = solve(columns, [-value for value in total])
    forces = [[Fraction(0)] * truss.dimension for _ in truss.joint_names]
    for (joint, direction), factor in zip(held, factors, strict=True):
        forces[joint] = [a + factor * b for a, b in zip(forces[joint], direction, strict=True)]
    return [tuple(force) for force in forces]


def solve(columns: Sequence[Vector], right: Vector) -> list[Fraction]:
    """Solve a square system given by columns (Gauss and Jordan)."""
    rows = [[column[i] for column in columns] + [right[i]] for i in range(len(columns))]
    for place in range(len(columns)):
        pivot = next(i for i in range(place, len(rows)) if rows[i][place])
        rows[place], rows[pivot] = rows[pivot], rows[place]
        rows[place] = [value / rows[place][place] for value in rows[place]]
        for i, row in enumerate(rows):
            if i != place and row[place]:
                rows[i] = [a - row[place] * b for a, b in zip(row, rows[place], strict=True)]
    return [row[-1] for row in rows]


def dense_forces(truss: Truss, loads: np.ndarray, stiffness: np.ndarray) -> np.ndarray:
    """Member forces under loads (freedoms, columns), by equilibrium and member law as one dense system.

    Made of them, a stiffness matrix would lose the digits that very unequal stiffnesses take.
    """
    members = len(truss.members)
    columns, held = pulls(truss)[:, :members], pulls(truss)[:, members:]
    left, sizes, _ = np.linalg.svd(held)
    free = left[:, int((sizes > 1e-9).sum()) :]
    # Unit tension pulls joints towards one another: elongation is minus the transpose times movements.
    reduced = free.T @ columns
    flexibility = np.exp(np.log(stiffness).mean()) / stiffness
    empty = np.zeros((len(reduced), len(reduced)))
    system = np.block([[np.diag(flexibility), reduced.T], [reduced, empty]])
    right = np.vstack([np.zeros((members, loads.shape[1])), -free.T @ loads])
    solution = np.linalg.solve(system, right)
    solution += np.linalg.solve(system, right - system @ solution)
    return np.asarray(solution[:members])
