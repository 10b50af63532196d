"""Random trusses that stand, plane and space, and studies on them; the same seed gives the same."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from solver.cases import LineLoad, LoadCase
from solver.combining import Combination
from solver.redundancy import condition
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss

SLOPES = {2: [(0, 1), (3, 4), (-5, 12)], 3: [(0, 0, 1), (0, 3, 4), (2, 3, 6)]}
WORST_CONDITION = 1e4
"""Forms nearer to a mechanism than this are left out, so that tolerances of 1e-9 stay honest."""


@dataclass(frozen=True)
class Drawn:
    """A truss with what was drawn for it."""

    truss: Truss
    extra: int
    spread: int
    sloped: bool


def draw_truss(seed: int) -> Drawn:
    """Draw until a truss stands and is far from a mechanism."""
    random = np.random.default_rng(seed)
    while True:
        drawn = _draw(random)
        if examine(drawn.truss).mechanisms == 0 and condition(Stiffness(drawn.truss)) < WORST_CONDITION:
            return drawn


def _draw(random: np.random.Generator) -> Drawn:
    dimension = int(random.choice([2, 3]))
    count = int(random.integers(dimension + 2, 24 if dimension == 2 else 16))
    points = np.round(random.uniform(-10, 10, (count, dimension)), 1)
    bars = _grow(random, points)
    absent = [(a, b) for b in range(count) for a in range(b) if (a, b) not in bars]
    extra = int(min(random.integers(0, 7), len(absent)))
    bars += [absent[i] for i in random.choice(len(absent), extra, replace=False)]
    slope = SLOPES[dimension][int(random.integers(3))]
    supports: dict[str, object] = {"0": "xy", "1": [slope]}
    if dimension == 3:
        supports = {"0": "xyz", "1": [slope, (1, 0, 0)], "2": "z"}
    spread = int(random.choice([0, 3, 6]))
    names = {str(i): tuple(Fraction(str(c)) for c in point) for i, point in enumerate(points)}
    truss = build_truss(
        names,
        [f"{a}-{b}" for a, b in bars],
        supports,
        areas=1e-3 * 10 ** random.uniform(0, spread, len(bars)),
        modulus=2e11,
        unit_weight=77e3,
        expansion=1.2e-5,
    )
    return Drawn(truss, extra, spread, 0 not in slope[:1])


def _grow(random: np.random.Generator, points: np.ndarray) -> list[tuple[int, int]]:
    """Tie each new joint to as many old ones as there are dimensions."""
    dimension = points.shape[1]
    bars = [(a, b) for b in range(dimension) for a in range(b)]
    for new in range(dimension, len(points)):
        old = sorted(int(i) for i in random.choice(new, dimension, replace=False))
        bars += [(other, new) for other in old]
    return bars


def draw_study(seed: int) -> Study:
    """A study on a random truss: loads of every kind, a train both ways, three combinations."""
    truss = draw_truss(seed).truss
    random = np.random.default_rng(seed + 10**6)
    chord = _draw_chord(random, truss)
    joints = len(truss.joint_names)
    loads = {int(j): tuple(random.uniform(-1e4, 1e4, truss.dimension)) for j in random.choice(joints, 2)}
    wind = LineLoad("deck", 0.0, 1.0, vector=tuple(random.uniform(-2e3, 2e3, truss.dimension)), per="length")
    change = tuple(float(t) for t in random.uniform(-30, 30, len(truss.members)))
    held = truss.supports[0].joint
    cases = [
        LoadCase("loads", joints=loads, self_weight=1.0),
        LoadCase("wind", lines=(wind,)),
        LoadCase("heat", temperature=change, misfit={0: 0.002}),
        LoadCase("sunk", settlement={held: tuple(random.uniform(-0.01, 0.01, truss.dimension))}),
    ]
    distances = np.round(np.cumsum(random.uniform(0, 6, int(random.integers(1, 5)))), 1)
    axles = [(float(d), float(p)) for d, p in zip(distances, random.uniform(5e3, 5e4, 4), strict=False)]
    combinations = [
        Combination("strength", {"loads": 1.35, "heat": 0.6}, "train", 1.5),
        Combination("turned", {"wind": 1.0}, "train", -0.5),
        Combination("standing", {"loads": 0.9, "wind": 1.5, "sunk": 1.0}),
    ]
    limit = float(random.choice([0.0, 2e3]))
    return build_study(truss, cases, chord=chord, axles=axles, combinations=combinations, zero_limit=limit)


def _draw_chord(random: np.random.Generator, truss: Truss) -> list[str]:
    """Joints in order of x, each further on than the last: ends may overhang, levels may differ."""
    order = np.argsort(truss.joint_coordinates[:, 0], kind="stable")
    chosen: list[int] = []
    for joint in order[:: int(random.integers(1, 3))]:
        point = truss.joint_coordinates[joint]
        # nearly level in plan, so that the chord never turns by a right angle
        far_enough = not chosen or point[0] - truss.joint_coordinates[chosen[-1]][0] > 1.0
        if far_enough:
            chosen.append(int(joint))
    chosen = chosen if truss.dimension == 2 else _without_turns(truss, chosen)
    names = [truss.joint_names[joint] for joint in chosen]
    return names[::-1] if random.random() < 0.3 else names


def _without_turns(truss: Truss, chosen: list[int]) -> list[int]:
    kept = chosen[:2]
    plan = truss.joint_coordinates[:, :2]
    for joint in chosen[2:]:
        before, step = plan[kept[-1]] - plan[kept[-2]], plan[joint] - plan[kept[-1]]
        if before @ step > 0.1 * np.linalg.norm(before) * np.linalg.norm(step):
            kept.append(joint)
    return kept
