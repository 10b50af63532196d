"""Direct stiffness in 50-digit decimals, written from the definitions alone: slow, dense and plain.

Of the solver it reads only what a study holds (written coordinates, members, supports, cases, chords'
joints); no matrix, length, load or stiffness is taken from it. With 50 digits no conditioning matters, so
K = A diag(k) A^T is assembled and solved as it stands, held directions with their reactions beside it:

    A k A^T u - H r = f + A k e      H^T u = s      n = k (A^T u - e)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Context, Decimal, setcontext
from fractions import Fraction
from itertools import pairwise

import numpy as np

from solver.cases import LineLoad, LoadCase
from solver.chords import Chord
from solver.study import Study
from solver.truss import Truss

DIGITS = Context(prec=50)


@dataclass(frozen=True)
class Columns:
    """Answers, a column a load: forces, reactions, movements, loads, and forces of fully held members."""

    forces: np.ndarray
    reactions: np.ndarray
    movements: np.ndarray
    loads: np.ndarray
    held: np.ndarray


@dataclass(frozen=True)
class Matrices:
    """A (freedoms, members), H (freedoms, held), k and lengths (members,), all Decimal."""

    equilibrium: np.ndarray
    held: np.ndarray
    stiffness: np.ndarray
    lengths: np.ndarray


def exact(value: Fraction | float) -> Decimal:
    """A number with no digit lost."""
    if isinstance(value, Fraction):
        return Decimal(value.numerator) / Decimal(value.denominator)
    return Decimal(value)


def zeros(*shape: int) -> np.ndarray:
    return np.full(shape, Decimal(0), dtype=object)


def floats(values: np.ndarray) -> np.ndarray:
    return np.array(values, dtype=float)


def length(vector: Sequence[Decimal]) -> Decimal:
    return sum((c * c for c in vector), Decimal(0)).sqrt()


def assemble(truss: Truss) -> Matrices:
    """Member by member and support by support."""
    setcontext(DIGITS)
    d, points = len(truss.coordinates[0]), truss.coordinates
    equilibrium = zeros(d * len(points), len(truss.members))
    stiffness, lengths = zeros(len(truss.members)), zeros(len(truss.members))
    for i, member in enumerate(truss.members):
        ends = zip(points[member.first], points[member.second], strict=True)
        vector = [exact(b - a) for a, b in ends]
        lengths[i] = length(vector)
        rigidity = exact(member.group.material.elastic_modulus) * exact(member.group.section.area)
        stiffness[i] = rigidity / lengths[i]
        for axis in range(d):
            equilibrium[d * member.first + axis, i] = -vector[axis] / lengths[i]
            equilibrium[d * member.second + axis, i] = vector[axis] / lengths[i]
    directions = [(s.joint, v) for s in truss.supports for v in s.directions]
    held = zeros(d * len(points), len(directions))
    for i, (joint, direction) in enumerate(directions):
        vector = [exact(c) for c in direction]
        held[d * joint : d * joint + d, i] = [c / length(vector) for c in vector]
    return Matrices(equilibrium, held, stiffness, lengths)


def solve(matrices: Matrices, loads: np.ndarray, stretch: np.ndarray, moved: np.ndarray) -> Columns:
    """Answer joint loads, free elongations and support movements, a column each, all Decimal."""
    a, h, k = matrices.equilibrium, matrices.held, matrices.stiffness[:, None]
    freedoms, supports = h.shape
    system = zeros(freedoms + supports, freedoms + supports)
    system[:freedoms, :freedoms] = a.dot(k * a.T)
    system[:freedoms, freedoms:] = -h
    system[freedoms:, :freedoms] = h.T
    right = np.concatenate([loads + a.dot(k * stretch), h.T.dot(moved)])
    unknown = eliminate(system, right)
    movements = unknown[:freedoms]
    forces = k * (a.T.dot(movements) - stretch)
    held = k * (a.T.dot(moved) - stretch)
    return Columns(*(floats(part) for part in (forces, unknown[freedoms:], movements, loads, held)))


def eliminate(system: np.ndarray, right: np.ndarray) -> np.ndarray:
    """Gauss with partial pivoting."""
    work = np.concatenate([system, right], axis=1)
    size = len(system)
    for column in range(size):
        pivot = column + int(np.argmax(np.abs(work[column:, column])))
        work[[column, pivot]] = work[[pivot, column]]
        rows = column + 1 + np.flatnonzero(work[column + 1 :, column])
        factors = work[rows, column] / work[column, column]
        work[rows, column:] -= np.multiply.outer(factors, work[column, column:])
    for row in range(size - 1, -1, -1):
        known = work[row, row + 1 : size].dot(work[row + 1 :, size:]) if row < size - 1 else 0
        work[row, size:] = (work[row, size:] - known) / work[row, row]
    return work[:, size:]


def plan_positions(study: Study, chord: str) -> list[Decimal]:
    """Plan distance of each joint of a chord from its first: all axes but the last, joint to joint."""
    setcontext(DIGITS)
    points = [study.truss.coordinates[joint][:-1] for joint in study.chords[chord].joints]
    positions = [Decimal(0)]
    for here, there in pairwise(points):
        step = [exact(b - a) for a, b in zip(here, there, strict=True)]
        positions.append(positions[-1] + length(step))
    return positions


def answer_cases(study: Study, matrices: Matrices) -> Columns:
    """Every load case of a study, in the file's order."""
    cases = list(study.cases.values())
    freedoms, members = matrices.equilibrium.shape
    loads, moved, stretch = (
        zeros(freedoms, len(cases)),
        zeros(freedoms, len(cases)),
        zeros(members, len(cases)),
    )
    d = len(study.truss.coordinates[0])
    for column, case in enumerate(cases):
        for joint, vector in joint_loads(study, case, matrices):
            loads[d * joint : d * joint + d, column] += vector
        for joint, vector in case.settlement.items():
            moved[d * joint : d * joint + d, column] = [exact(c) for c in vector]
        stretch[:, column] = free_elongations(study.truss, case, matrices)
    return solve(matrices, loads, stretch, moved)


def joint_loads(study: Study, case: LoadCase, matrices: Matrices) -> Iterator[tuple[int, np.ndarray]]:
    """What a case puts on joints, piece by piece: a joint and a force."""
    for joint, vector in case.joints.items():
        yield joint, np.array([exact(c) for c in vector])
    up = np.array([Decimal(0)] * (len(study.truss.coordinates[0]) - 1) + [Decimal(1)])
    for member, span in zip(study.truss.members, matrices.lengths, strict=True):
        if case.self_weight:
            per_length = exact(member.group.material.unit_weight) * exact(member.group.section.area)
            for joint in (member.first, member.second):
                yield joint, up * (-exact(case.self_weight) * per_length * span / 2)
    for line in case.lines:
        yield from line_loads(study, line)


def line_loads(study: Study, line: LineLoad) -> Iterator[tuple[int, np.ndarray]]:
    """Panel by panel: the resultant of the loaded stretch, placed at its middle, shared by the lever rule."""
    chord = study.chords[line.chord]
    positions = plan_positions(study, line.chord)
    for panel, (near, far) in enumerate(pairwise(positions)):
        first, second = chord.joints[panel], chord.joints[panel + 1]
        low, high = max(near, exact(line.start)), min(far, exact(line.end))
        if low >= high:
            continue
        ends = zip(study.truss.coordinates[first], study.truss.coordinates[second], strict=True)
        way = [exact(b - a) for a, b in ends]
        total = resultant(line, way, high - low, (high - low) * length(way) / (far - near))
        to_second = ((low + high) / 2 - near) / (far - near)
        yield first, total * (1 - to_second)
        yield second, total * to_second


def resultant(line: LineLoad, way: list[Decimal], plan: Decimal, along: Decimal) -> np.ndarray:
    """The whole load on a stretch of a panel of direction `way`, of these lengths in plan and along it."""
    if line.normal is not None:
        left = np.array([-way[1], way[0]]) / length(way)
        return left * (exact(line.normal) * along)
    return np.array([exact(c) for c in line.vector]) * (along if line.per == "length" else plan)


def free_elongations(truss: Truss, case: LoadCase, matrices: Matrices) -> np.ndarray:
    """Heat and misfit, longer positive."""
    stretch = zeros(len(truss.members))
    for i, member in enumerate(truss.members):
        if case.temperature is not None and case.temperature[i]:
            per_degree = exact(member.group.material.expansion)
            stretch[i] = per_degree * exact(case.temperature[i]) * matrices.lengths[i]
        stretch[i] += exact(case.misfit.get(i, 0.0))
    return stretch


def answer_chord(chord: Chord, matrices: Matrices, dimension: int) -> Columns:
    """A unit downward load at each joint of a chord."""
    loads = zeros(len(matrices.held), len(chord.joints))
    for column, joint in enumerate(chord.joints):
        loads[dimension * joint + dimension - 1, column] = Decimal(-1)
    return answer_loads(matrices, loads)


def answer_loads(matrices: Matrices, loads: np.ndarray) -> Columns:
    """Joint loads alone."""
    stretch = zeros(matrices.equilibrium.shape[1], loads.shape[1])
    return solve(matrices, loads, stretch, zeros(*loads.shape))
