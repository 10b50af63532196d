"""The same study stated otherwise: turned, mirrored, moved, in other units, chords from the other end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from solver.cases import LineLoad, LoadCase
from solver.chords import make_chord
from solver.crossings import Crossing
from solver.study import Study
from solver.trains import Axle, Train
from solver.truss import Member, Support, Truss

Matrix = tuple[tuple[Fraction, ...], ...]
Exact = tuple[Fraction, ...]


@dataclass(frozen=True)
class Change:
    """A rotation or mirror of whole-number ratios, then a shift [m]; `left` is what it makes of left."""

    matrix: Matrix
    shift: Exact
    left: float = 1.0

    def vector(self, exact: Exact) -> Exact:
        return tuple(sum(m * c for m, c in zip(row, exact, strict=True)) for row in self.matrix)

    def point(self, exact: Exact) -> Exact:
        return tuple(c + s for c, s in zip(self.vector(exact), self.shift, strict=True))

    def floats(self, vector: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(np.array(self.matrix, dtype=float) @ vector)


def mirrored(dimension: int) -> Change:
    """The first axis turned round."""
    rows = [
        [Fraction(int(i == j) * (-1 if i == 0 else 1)) for j in range(dimension)] for i in range(dimension)
    ]
    return Change(tuple(map(tuple, rows)), (Fraction(0),) * dimension, left=-1.0)


def turned() -> Change:
    """In space, about the upright axis by the angle of a 3-4-5 triangle."""
    c, s, o, e = Fraction(3, 5), Fraction(4, 5), Fraction(0), Fraction(1)
    return Change(((c, -s, o), (s, c, o), (o, o, e)), (o, o, o))


def far_away(dimension: int) -> Change:
    """A thousand kilometres from the origin along every axis."""
    rows = [[Fraction(int(i == j)) for j in range(dimension)] for i in range(dimension)]
    return Change(tuple(map(tuple, rows)), (Fraction(10**6),) * dimension)


def apply(change: Change, study: Study) -> Study:
    """Everything that is a place or a vector, changed; names, order and numbers of force stay."""
    truss = study.truss
    supports = tuple(
        Support(s.joint, tuple(change.vector(v) for v in s.directions), s.labels) for s in truss.supports
    )
    points = tuple(change.point(p) for p in truss.coordinates)
    changed = replace(truss, coordinates=points, supports=supports)
    cases = {name: _changed_case(case, change) for name, case in study.cases.items()}
    return with_truss(replace(study, cases=cases), changed)


def _changed_case(case: LoadCase, change: Change) -> LoadCase:
    lines = [
        replace(
            line,
            vector=None if line.vector is None else change.floats(line.vector),
            normal=None if line.normal is None else line.normal * change.left,
        )
        for line in case.lines
    ]
    return replace(
        case,
        joints={joint: change.floats(v) for joint, v in case.joints.items()},
        settlement={joint: change.floats(v) for joint, v in case.settlement.items()},
        lines=tuple(lines),
    )


def with_truss(study: Study, truss: Truss) -> Study:
    """The study on another truss with the same joints; its chords are laid anew."""
    chords = {name: make_chord(name, chord.joints, truss) for name, chord in study.chords.items()}
    return replace(study, truss=truss, chords=chords)


def in_units(study: Study, *, length: Fraction, force: float) -> Study:
    """All lengths `length` times and all forces `force` times as many, sections alone as they were."""
    truss = study.truss
    points = tuple(tuple(c * length for c in point) for point in truss.coordinates)
    per_length = force / float(length)

    def member(old: Member) -> Member:
        material = replace(
            old.group.material,
            elastic_modulus=old.group.material.elastic_modulus * force,
            unit_weight=old.group.material.unit_weight * per_length,  # type: ignore[operator]
        )
        return replace(old, group=replace(old.group, material=material))

    members = tuple(member(old) for old in truss.members)
    restated = with_truss(study, replace(truss, coordinates=points, members=members))
    ratio = float(length)
    return replace(
        restated,
        cases={name: _case_in_units(case, ratio, force) for name, case in study.cases.items()},
        crossings=each_train(study, lambda axle: Axle(axle.distance * ratio, axle.load * force)),
        zero_limit=study.zero_limit * force,
    )


def _case_in_units(case: LoadCase, length: float, force: float) -> LoadCase:
    return replace(
        loaded(case, force),
        self_weight=case.self_weight,
        temperature=case.temperature,
        lines=tuple(_line_in_units(line, length, force) for line in case.lines),
        settlement={j: tuple(c * length for c in v) for j, v in case.settlement.items()},
        misfit={m: v * length for m, v in case.misfit.items()},
    )


def _line_in_units(line: LineLoad, length: float, force: float) -> LineLoad:
    return replace(_loaded_line(line, force / length), start=line.start * length, end=line.end * length)


def _loaded_line(line: LineLoad, factor: float) -> LineLoad:
    return replace(
        line,
        vector=None if line.vector is None else tuple(c * factor for c in line.vector),
        normal=None if line.normal is None else line.normal * factor,
    )


def loaded(case: LoadCase, factor: float) -> LoadCase:
    """Everything that a case does, `factor` times as much of it."""
    return replace(
        case,
        self_weight=case.self_weight * factor,
        joints={j: tuple(c * factor for c in v) for j, v in case.joints.items()},
        lines=tuple(_loaded_line(line, factor) for line in case.lines),
        temperature=None if case.temperature is None else tuple(t * factor for t in case.temperature),
        settlement={j: tuple(c * factor for c in v) for j, v in case.settlement.items()},
        misfit={m: v * factor for m, v in case.misfit.items()},
    )


def each_train(study: Study, change: Callable[[Axle], Axle]) -> dict[str, Crossing]:
    """The study's crossings with every axle changed."""
    return {
        name: replace(crossing, trains=(Train("train", tuple(change(a) for a in crossing.trains[0].axles)),))
        for name, crossing in study.crossings.items()
    }


def chords_reversed(study: Study) -> Study:
    """Chords from their other end, trains the other way: the same motions, the same loads."""
    ways = {("forward",): ("backward",), ("backward",): ("forward",)}
    chords = {name: make_chord(name, c.joints[::-1], study.truss) for name, c in study.chords.items()}
    crossings = {
        name: replace(crossing, directions=ways.get(crossing.directions, crossing.directions))
        for name, crossing in study.crossings.items()
    }
    cases = {}
    for name, case in study.cases.items():
        lines = [
            replace(
                line,
                start=study.chords[line.chord].length - line.end,
                end=study.chords[line.chord].length - line.start,
                normal=None if line.normal is None else -line.normal,
            )
            for line in case.lines
        ]
        cases[name] = replace(case, lines=tuple(lines))
    return replace(study, chords=chords, crossings=crossings, cases=cases)


def members_reordered(study: Study, order: np.ndarray) -> Study:
    """Members in another order, every second one from its other end; cases follow their members."""
    truss = study.truss
    members = []
    for place, index in enumerate(order):
        old = truss.members[index]
        ends = (old.second, old.first) if place % 2 else (old.first, old.second)
        members.append(replace(old, first=ends[0], second=ends[1]))
    place_of = {int(index): place for place, index in enumerate(order)}
    cases = {
        name: replace(
            case,
            temperature=None if case.temperature is None else tuple(case.temperature[i] for i in order),
            misfit={place_of[m]: v for m, v in case.misfit.items()},
        )
        for name, case in study.cases.items()
    }
    return with_truss(replace(study, cases=cases), replace(truss, members=tuple(members)))


def merged(cases: Sequence[LoadCase], truss: Truss) -> LoadCase:
    """One case that does what all of them do together."""
    joints: dict[int, np.ndarray] = {}
    settlement: dict[int, np.ndarray] = {}
    misfit: dict[int, float] = {}
    heat = np.zeros(len(truss.members))
    for case in cases:
        for total, part in ((joints, case.joints), (settlement, case.settlement)):
            for joint, vector in part.items():
                total[joint] = total.get(joint, np.zeros(truss.dimension)) + vector
        for member, value in case.misfit.items():
            misfit[member] = misfit.get(member, 0.0) + value
        heat += case.temperature or 0.0
    return LoadCase(
        "every",
        self_weight=sum(case.self_weight for case in cases),
        joints={joint: tuple(vector) for joint, vector in joints.items()},
        lines=tuple(line for case in cases for line in case.lines),
        temperature=tuple(heat) if heat.any() else None,
        settlement={joint: tuple(vector) for joint, vector in settlement.items()},
        misfit=misfit,
    )
