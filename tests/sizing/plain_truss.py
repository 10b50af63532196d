"""A plane truss whose groups are sized, worked out in plain matrices: stress, Euler, deflection, weight."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import pi

import numpy as np

from solver.cases import LoadCase
from solver.resistance.plain import Plain
from solver.rules import Limits, Rules
from solver.sizing.choice import Choice
from solver.study import Study
from solver.truss import Group, Making, Material, Section
from tests.building import build_study, build_truss

MODULUS, YIELD, UNIT_WEIGHT = 200e9, 250e6, 77e3
STEEL = Material("steel", MODULUS, YIELD, unit_weight=UNIT_WEIGHT)


def tubes(*areas: float, radius: float = 1.5) -> tuple[Section, ...]:
    """Sections of areas [cm2], each of a radius of so many times the root of its area."""
    return tuple(Section(f"{a:g}", a * 1e-4, radius=radius * (a * 1e-4) ** 0.5) for a in areas)


@dataclass(frozen=True)
class Sized:
    """What is sized: joints [m], bars by name with the group of each, loads [N], families by group."""

    joints: Mapping[str, tuple[float, float]]
    bars: Mapping[str, str]
    held: Mapping[str, str]
    loads: Mapping[str, Mapping[str, tuple[float, float]]]
    families: Mapping[str, tuple[Section, ...]]
    deflection: float | None = None
    own_weight: float = 0.0
    now: int = -1

    @property
    def groups(self) -> tuple[str, ...]:
        """Groups in the order in which the bars name them."""
        return tuple(dict.fromkeys(self.bars.values()))

    def study(self) -> Study:
        """The study that asks for all of it by the plain rule; each group now is `now` of its family."""
        truss = build_truss(self.joints, list(self.bars), dict(self.held))
        made = {
            name: Group(name, self.families[name][self.now], STEEL, making=Making(family=name))
            for name in self.groups
        }
        members = tuple(replace(m, group=made[self.bars[m.name]]) for m in truss.members)
        truss = replace(truss, members=members)
        cases = [
            LoadCase(
                name,
                joints={truss.joint_index(joint): load for joint, load in loads.items()},
                self_weight=self.own_weight,
            )
            for name, loads in self.loads.items()
        ]
        rules = Rules(Plain(), (), Limits(deflection=self.deflection), self.families)
        return replace(build_study(truss, cases), rules=rules)


class Workings:
    """Plain matrices of what is sized; every choice from the areas alone."""

    def __init__(self, sized: Sized) -> None:
        self.sized = sized
        names = list(sized.joints)
        points = np.array([sized.joints[name] for name in names], dtype=float)
        ends = np.array([[names.index(end) for end in bar.split("-")] for bar in sized.bars])
        vectors = points[ends[:, 1]] - points[ends[:, 0]]
        self.lengths = np.hypot(*vectors.T)
        self.columns = np.zeros((2 * len(names), len(ends)))
        for i, (first, second) in enumerate(ends):
            self.columns[2 * first : 2 * first + 2, i] = -vectors[i] / self.lengths[i]
            self.columns[2 * second : 2 * second + 2, i] = vectors[i] / self.lengths[i]
        fixed = [2 * names.index(j) + "xy".index(axis) for j, axes in sized.held.items() for axis in axes]
        self.free = np.delete(np.arange(2 * len(names)), fixed)
        self.loads = np.zeros((2 * len(names), len(sized.loads)))
        for column, loads in enumerate(sized.loads.values()):
            for joint, load in loads.items():
                self.loads[2 * names.index(joint) : 2 * names.index(joint) + 2, column] = load
        # half of each bar's length to either end, downwards
        self.halves = np.zeros((2 * len(names), len(ends)))
        for i, pair in enumerate(ends):
            self.halves[2 * pair + 1, i] -= self.lengths[i] / 2
        self.of_group = np.array([sized.groups.index(group) for group in sized.bars.values()])

    def areas(self, choice: Choice) -> tuple[np.ndarray, np.ndarray]:
        """Area and radius of every bar."""
        chosen = [self.sized.families[g][c] for g, c in zip(self.sized.groups, choice, strict=True)]
        pairs = np.array([(section.area, section.radius) for section in chosen])[self.of_group]
        return pairs[:, 0], pairs[:, 1]

    def weight(self, choice: Choice) -> float:
        """Weight of all bars [N]."""
        return float(UNIT_WEIGHT * (self.areas(choice)[0] * self.lengths).sum())

    def forces(self, choice: Choice) -> tuple[np.ndarray, np.ndarray]:
        """Forces (bars, cases) and the largest movement along an axis."""
        area, _ = self.areas(choice)
        stiffness = MODULUS * area / self.lengths
        loads = self.loads + self.sized.own_weight * UNIT_WEIGHT * (self.halves @ area)[:, None]
        within = self.columns[self.free]
        moved = np.linalg.solve(within * stiffness @ within.T, loads[self.free])
        return stiffness[:, None] * (within.T @ moved), np.abs(moved).max()

    def worst(self, choice: Choice) -> float:
        """The largest utilisation: stress, Euler in the plane, deflection."""
        area, radius = self.areas(choice)
        forces, moved = self.forces(choice)
        euler = pi**2 * MODULUS * area * (radius / self.lengths) ** 2
        pulled = forces.max(axis=1) / (YIELD * area)
        pushed = -forces.min(axis=1) / np.minimum(YIELD * area, euler)
        limit = self.sized.deflection
        return float(max(pulled.max(), pushed.max(), 0.0 if limit is None else moved / limit))

    def choices(self) -> Sequence[Choice]:
        """Every choice."""
        return list(product(*(range(len(self.sized.families[group])) for group in self.sized.groups)))

    def least(self) -> Choice | None:
        """The lightest choice of all that hold, by going through every one."""
        for choice in sorted(self.choices(), key=self.weight):
            if self.worst(choice) <= 1 + 1e-9:
                return choice
        return None
