"""Random trusses that stand, plane and space, in two layouts; the same seed gives the same truss.

A lattice is a strip of triangles (in space: of tetrahedra), its joints in rows like chords, held at any of
them, so that ends overhang. A thicket ties each new joint to any old ones. Both are statically determinate
as grown; further bars and held directions add to that one by one. Coordinates are decimals.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from solver.truss import Truss
from tests.building import build_truss

LARGEST_FORCE = 1e4
"""Trusses of larger member forces per unit joint load are left out, so that tolerances stay honest."""

SLOPES = {
    2: [(3, 4), (-5, 12), (Fraction("0.6"), Fraction("0.8")), (1, 2), (-8, 15), (7, 3)],
    3: [(0, 3, 4), (2, 3, 6), (-2, 1, 2), (1, 1, 1), (Fraction("0.48"), Fraction("0.6"), Fraction("0.64"))],
}
DECADES = (0, 1, 3, 6)
MODULI = (2.1e11, 7e10)


@dataclass(frozen=True)
class Drawn:
    """A truss and what was drawn for it: `rows` are lines of joints that may serve as chords."""

    truss: Truss
    layout: str
    indeterminacy: int
    decades: int
    sloped: bool
    rows: tuple[tuple[int, ...], ...]


@dataclass(frozen=True)
class _Form:
    layout: str
    points: np.ndarray
    bars: list[tuple[int, int]]
    rows: tuple[tuple[int, ...], ...]


def draw_truss(seed: int) -> Drawn:
    """Draw until a truss stands, is far from a mechanism, and stays clearly so or not without each member."""
    random = np.random.default_rng(seed)
    while True:
        drawn = _draw(random)
        if drawn is not None and _clear_cut(drawn.truss):
            return drawn


def pulls(truss: Truss) -> np.ndarray:
    """Unit tension in each member, then unit reactions along held directions, as joint forces; dense."""
    x, d = truss.joint_coordinates, truss.dimension
    columns = np.zeros((x.size, len(truss.members) + truss.held))
    for i, member in enumerate(truss.members):
        along = (x[member.second] - x[member.first]) / np.linalg.norm(x[member.second] - x[member.first])
        columns[d * member.first : d * member.first + d, i] = along
        columns[d * member.second : d * member.second + d, i] = -along
    column = len(truss.members)
    for support in truss.supports:
        for direction in support.directions:
            vector = np.array([float(c) for c in direction])
            part = vector / np.linalg.norm(vector)
            columns[d * support.joint : d * support.joint + d, column] = part
            column += 1
    return columns


def _clear_cut(truss: Truss) -> bool:
    """Whether it stands, no force is large, and losing a member makes a mechanism or clearly none."""
    columns = pulls(truss)
    if np.linalg.svd(columns, compute_uv=False)[-1] < 1e-4:
        return False
    stiffness = np.concatenate(
        [truss.axial_stiffness, np.full(truss.held, 1e3 * truss.axial_stiffness.max())]
    )
    root = np.sqrt(stiffness / stiffness.max())
    forces = root[:, None] * np.linalg.pinv(columns * root, rcond=1e-13)
    if np.linalg.norm(forces.reshape(len(root), -1, truss.dimension), axis=2).max() > LARGEST_FORCE:
        return False
    for member in range(len(truss.members)):
        rest = np.delete(columns, member, axis=1)
        if rest.shape[1] >= truss.freedoms and 1e-11 < np.linalg.svd(rest, compute_uv=False)[-1] < 1e-6:
            return False
    return True


def _draw(random: np.random.Generator) -> Drawn | None:
    dimension = int(random.choice([2, 3]))
    most = 29 if dimension == 2 else 18
    joints = int(random.choice([random.integers(dimension + 2, 9), random.integers(9, most)]))
    form = (
        _lattice(random, joints, dimension) if random.random() < 0.6 else _thicket(random, joints, dimension)
    )
    if len({tuple(point) for point in form.points}) < joints:
        return None
    indeterminacy = int(random.integers(0, 7))
    held = _hold(random, form, dimension)
    more = min(int(random.integers(0, indeterminacy + 1)) // 2, joints - len(held))
    absent = [(a, b) for b in range(joints) for a in range(b) if (a, b) not in form.bars]
    if indeterminacy - more > len(absent):
        return None
    chosen = random.choice(len(absent), indeterminacy - more, replace=False) if absent else []
    bars = form.bars + [absent[i] for i in chosen]
    free = [j for j in range(joints) if j not in held]
    held |= {int(j): [_direction(random, dimension)] for j in random.choice(free, more, replace=False)}
    decades = int(random.choice(DECADES))
    truss = _build(random, form.points, bars, held, decades)
    sloped = any(sum(1 for c in v if c) > 1 for vectors in held.values() for v in vectors)
    return Drawn(truss, form.layout, indeterminacy, decades, sloped, form.rows)


def _build(
    random: np.random.Generator,
    points: np.ndarray,
    bars: list[tuple[int, int]],
    held: dict[int, list[tuple[object, ...]]],
    decades: int,
) -> Truss:
    order = random.permutation(len(bars))
    names = [f"{a}-{b}" if random.random() < 0.7 else f"{b}-{a}" for a, b in (bars[i] for i in order)]
    exponents = random.uniform(0, decades, len(bars))
    exponents[random.choice(len(bars), 2, replace=False)] = 0, decades
    return build_truss(
        {str(i): tuple(Fraction(str(c)) for c in point) for i, point in enumerate(points)},
        names,
        {str(joint): held[joint] for joint in sorted(held)},
        areas=1e-4 * 10**exponents,
        modulus=random.choice(MODULI, len(bars)),
        unit_weight=float(random.choice([77e3, 27e3])),
        expansion=1.2e-5,
    )


def _lattice(random: np.random.Generator, joints: int, dimension: int) -> _Form:
    """Joint i is tied to those just before it; every `dimension`-th joint lies on one row."""
    panel = float(random.choice([1.1, 2.5, 3.3, 4.0]))
    depth = panel * float(random.choice([0.5, 0.8, 1.0]))
    section = {2: [[0.0], [depth]], 3: [[0.0, 0.0], [depth, 0.0], [depth / 2, depth]]}[dimension]
    uneven = random.random() < 0.5
    points = np.zeros((joints, dimension))
    for i in range(joints):
        step, row = divmod(i, dimension)
        points[i, 0] = panel * (step + row / dimension)
        points[i, 1:] = section[row]
    if uneven:
        points += random.uniform(-0.15, 0.15, points.shape) * panel
    bars = [(a, b) for b in range(joints) for a in range(max(0, b - dimension), b)]
    rows = tuple(tuple(range(row, joints, dimension)) for row in range(dimension))
    return _Form("lattice", np.round(points, 2 if uneven else 1), bars, rows)


def _thicket(random: np.random.Generator, joints: int, dimension: int) -> _Form:
    """Each new joint is tied to as many old ones as there are dimensions."""
    points = np.round(random.uniform(-10, 10, (joints, dimension)), 1)
    bars = [(a, b) for b in range(dimension) for a in range(b)]
    for new in range(dimension, joints):
        old = sorted(int(i) for i in random.choice(new, dimension, replace=False))
        bars += [(other, new) for other in old]
    order = [int(i) for i in np.argsort(points[:, 0], kind="stable")]
    return _Form("thicket", points, bars, (tuple(order), tuple(order[1::2])))


def _hold(random: np.random.Generator, form: _Form, dimension: int) -> dict[int, list[tuple[object, ...]]]:
    """As many held directions as a body needs: 3 in the plane, 6 in space."""
    places = [int(j) for j in random.choice(len(form.points), dimension, replace=False)]
    unit = [tuple(int(i == axis) for i in range(dimension)) for axis in range(dimension)]
    if dimension == 2:
        return {places[0]: list(unit), places[1]: [_direction(random, 2)]}
    both = [_direction(random, 3), (1, 0, 0)] if random.random() < 0.5 else [(0, 1, 0), (0, 0, 1)]
    return {places[0]: list(unit), places[1]: both, places[2]: [_direction(random, 3)]}


def _direction(random: np.random.Generator, dimension: int) -> tuple[object, ...]:
    """Upright, or a roller on a slope along a rational vector of any length."""
    if random.random() < 0.4:
        return tuple(int(axis == dimension - 1) for axis in range(dimension))
    return SLOPES[dimension][int(random.integers(len(SLOPES[dimension])))]
