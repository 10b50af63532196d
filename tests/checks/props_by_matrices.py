"""What holds compressed bars in line, by plain matrices: written apart from the solver, for its checks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from solver.propping.demand import HeldPoint, Rule
from solver.study import Study
from solver.truss import Truss

HARDLY = 1e-9


@dataclass(frozen=True)
class Line:
    """A joint between bars in line: the bars, the joint's place, and the members that are not in line."""

    joint: int
    bars: tuple[int, ...]
    place: int
    holders: tuple[int, ...]
    along: np.ndarray

    @property
    def across(self) -> np.ndarray:
        """Unit vectors across, (dimension - 1, dimension)."""
        return np.linalg.svd(self.along[None, :])[2][1:]


def way(truss: Truss, bar: int, joint: int) -> np.ndarray:
    """Unit vector of a bar as it leaves a joint."""
    points, ends = truss.joint_coordinates, truss.members[bar]
    other = ends.second if ends.first == joint else ends.first
    vector = points[other] - points[joint]
    return np.asarray(vector / np.linalg.norm(vector))


def lines_of(truss: Truss) -> Iterator[Line]:
    """Every joint at which two bars leave in opposite directions; the line is their piece or the two."""
    for joint in range(len(truss.joint_names)):
        at = [i for i, m in enumerate(truss.members) if joint in (m.first, m.second)]
        for one, two in combinations(at, 2):
            along = way(truss, one, joint)
            if way(truss, two, joint) @ along > -1 + 1e-12:
                continue
            holders = tuple(i for i in at if abs(way(truss, i, joint) @ along) < 1 - 1e-12)
            bars = piece_with(truss, one, two) or (one, two)
            place = max(bars.index(one), bars.index(two))
            yield Line(joint, bars, place, holders, along)


def piece_with(truss: Truss, one: int, two: int) -> tuple[int, ...] | None:
    """The bars of the piece that both belong to."""
    between = {frozenset((m.first, m.second)): i for i, m in enumerate(truss.members)}
    for piece in truss.pieces:
        bars = tuple(between[frozenset(pair)] for pair in pairwise(piece.joints))
        if {one, two} <= set(bars):
            return bars
    return None


@dataclass(frozen=True)
class Matrices:
    """Dense flexibility of a truss: movements and forces per load, supports along any direction."""

    truss: Truss
    movements: np.ndarray
    forces: np.ndarray


def matrices_of(truss: Truss) -> Matrices:
    """Assemble and invert; supports by leaving out the held directions."""
    points, dimension = truss.joint_coordinates, truss.dimension
    pulls = np.zeros((len(truss.members), points.size))
    stiffness = np.zeros(len(truss.members))
    for i, member in enumerate(truss.members):
        length = np.linalg.norm(points[member.second] - points[member.first])
        along = (points[member.second] - points[member.first]) / length
        pulls[i, dimension * member.second : dimension * (member.second + 1)] = along
        pulls[i, dimension * member.first : dimension * (member.first + 1)] = -along
        group = member.group
        stiffness[i] = group.material.elastic_modulus * group.section.area / length
    held = np.zeros((truss.held, points.size))
    row = 0
    for support in truss.supports:
        for direction in support.directions:
            first = dimension * support.joint
            held[row, first : first + dimension] = [float(c) for c in direction]
            row += 1
    free = np.linalg.svd(held)[2][np.linalg.matrix_rank(held) :].T
    within = free.T @ (pulls.T * stiffness) @ pulls @ free
    movements = free @ np.linalg.solve(within, free.T)
    return Matrices(truss, movements, stiffness[:, None] * (pulls @ movements))


def peaks_of(study: Study, matrices: Matrices) -> tuple[np.ndarray, np.ndarray]:
    """Peak tension and compression of each member under the joint loads of each case alone."""
    found = []
    for case in study.cases.values():
        load = np.zeros(matrices.movements.shape[0])
        for joint, force in case.joints.items():
            first = joint * study.truss.dimension
            load[first : first + study.truss.dimension] += force
        found.append(matrices.forces @ load)
    all_ = np.array(found)
    noise = 1e-9 * np.abs(all_).max()
    return tuple(np.where(side > noise, side, 0.0) for side in (all_.max(axis=0), -all_.min(axis=0)))  # type: ignore[return-value]


Expected = dict[tuple[int, str, str], tuple[float, int]]
"""Utilisation, and joint, by member, key and rule."""


def props_of(study: Study, rules: Sequence[Rule]) -> Expected:
    """The hardest check of each member, key and rule; in any direction across."""
    truss, matrices = study.truss, matrices_of(study.truss)
    peaks = peaks_of(study, matrices)
    found: Expected = {}
    for line in lines_of(truss):
        if not peaks[1][[line.bars[line.place - 1], line.bars[line.place]]].any():
            continue
        lengths = tuple(float(np.linalg.norm(_vector(truss, bar))) for bar in line.bars)
        point = HeldPoint(lengths, tuple(float(peaks[1][bar]) for bar in line.bars), line.place)
        for rule in rules:
            demand = rule.demand(point)
            for member, key, value in _values(study, matrices, line, demand, peaks):
                at = (member, key, rule.name)
                if value > found.get(at, (-np.inf, 0))[0]:
                    found[at] = value, line.joint
    return found


def _vector(truss: Truss, bar: int) -> np.ndarray:
    points, ends = truss.joint_coordinates, truss.members[bar]
    return np.asarray(points[ends.second] - points[ends.first])


def _values(study, matrices, line, demand, peaks):  # type: ignore[no-untyped-def]
    """Member, key and utilisation of every holder of a line that takes a share of a force across it."""
    first = study.truss.dimension * line.joint
    columns = slice(first, first + study.truss.dimension)
    shares = matrices.forces[:, columns] @ line.across.T
    gives = line.across @ matrices.movements[columns, columns] @ line.across.T
    softest = float(np.linalg.eigvalsh(gives)[-1])
    for member in line.holders:
        share = float(np.linalg.norm(shares[member]))
        if share <= HARDLY:
            continue
        group = study.truss.members[member].group
        if demand.force is not None:
            force = share * demand.force
            sides = zip(peaks, (group.tension, group.compression), strict=True)
            yield member, "prop force", max((own[member] + force) / most for own, most in sides)
        if demand.stiffness is not None:
            yield member, "prop stiffness", demand.stiffness * softest
