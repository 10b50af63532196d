"""Random studies on random trusses: cases of every kind, trains, combinations; one seed, one study."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from solver.cases import LineLoad, LoadCase
from solver.chords import Chord, make_chord
from solver.combining import Combination
from solver.crossings import Crossing, Direction
from solver.study import Study
from solver.trains import Axle, Train
from solver.truss import Truss
from tests.laws.generator import Drawn, draw_truss

WAYS: tuple[tuple[Direction, ...], ...] = (("forward",), ("backward",), ("forward", "backward"))
COUNTS = (1.0, 1.0, 3.0, 0.5, 0.0)


@dataclass(frozen=True)
class Asked:
    """A study and what was drawn for it."""

    study: Study
    drawn: Drawn


def draw_study(seed: int) -> Asked:
    """A study that asks something of every kind now and then."""
    drawn = draw_truss(seed)
    random = np.random.default_rng([seed, 1])
    truss = drawn.truss
    chords = {
        f"row {i}": chord for i, row in enumerate(drawn.rows) if (chord := _chord(random, truss, i, row))
    }
    cases = _cases(random, truss, list(chords.values()))
    crossings = _crossings(random, list(chords.values()))
    limit = 0.0 if random.random() < 0.5 else float(random.choice([1.0, 200.0, 5e3]))
    combinations = _combinations(random, list(cases), list(crossings))
    study = Study("random", truss, chords, cases, crossings, combinations, limit)
    return Asked(study, drawn)


def _chord(random: np.random.Generator, truss: Truss, number: int, row: tuple[int, ...]) -> Chord | None:
    """Joints of a row, each clearly further on in plan, never turning by nearly a right angle."""
    plan = truss.joint_coordinates[:, :-1]
    kept: list[int] = []
    for joint in row:
        if kept and np.linalg.norm(plan[joint] - plan[kept[-1]]) < 0.3:
            continue
        if len(kept) > 1:
            before, step = plan[kept[-1]] - plan[kept[-2]], plan[joint] - plan[kept[-1]]
            if before @ step < 0.2 * np.linalg.norm(before) * np.linalg.norm(step):
                continue
        kept.append(joint)
    kept = kept[:: -1 if random.random() < 0.4 else 1][: int(random.integers(2, 9))]
    return make_chord(f"row {number}", tuple(kept), truss) if len(kept) > 1 else None


def _cases(random: np.random.Generator, truss: Truss, chords: list[Chord]) -> dict[str, LoadCase]:
    cases = {}
    for number in range(int(random.integers(1, 6))):
        parts: dict[str, Any] = {}
        kinds = ["joints", "weight", "temperature", "settlement", "misfit"] + ["lines"] * (2 if chords else 0)
        for kind in random.choice(kinds, int(random.integers(1, 4))):
            parts |= _part(str(kind), random, truss, chords)
        counts = 1.0 if not number else float(random.choice(COUNTS))
        cases[f"case {number}"] = LoadCase(f"case {number}", counts=counts, **parts)
    return cases


def _part(kind: str, random: np.random.Generator, truss: Truss, chords: list[Chord]) -> dict[str, Any]:
    members = len(truss.members)
    if kind == "joints":
        some = random.choice(len(truss.joint_names), int(random.integers(1, 4)), replace=False)
        return {"joints": {int(j): _vector(random, truss.dimension, 1e3, 2) for j in some}}
    if kind == "weight":
        return {"self_weight": float(random.choice([1.0, 1.35, -0.5]))}
    if kind == "temperature":
        everywhere = float(random.choice([20.0, -35.0]))
        by_group = tuple(float(t) for t in random.choice([0.0, 15.0, -20.0], members))
        return {"temperature": (everywhere,) * members if random.random() < 0.3 else by_group}
    if kind == "misfit":
        some = random.choice(members, int(random.integers(1, 3)), replace=False)
        return {"misfit": {int(m): float(np.round(random.uniform(-5e-3, 5e-3), 4)) for m in some}}
    if kind == "settlement":
        support = truss.supports[int(random.integers(len(truss.supports)))]
        held = np.array([[float(c) for c in direction] for direction in support.directions])
        movement = random.uniform(-0.01, 0.01, len(held)) @ held
        return {"settlement": {support.joint: tuple(float(c) for c in movement)}}
    return {"lines": tuple(_line(random, truss, chords) for _ in range(int(random.integers(1, 3))))}


def _line(random: np.random.Generator, truss: Truss, chords: list[Chord]) -> LineLoad:
    chord = chords[int(random.integers(len(chords)))]
    start, end = 0.0, chord.length
    if random.random() < 0.5:
        start, end = sorted(float(s) for s in random.uniform(0, chord.length, 2))
    if truss.dimension == 2 and random.random() < 0.4:
        return LineLoad(chord.name, start, end, normal=float(random.choice([950.0, -1530.0])))
    vector = _vector(random, truss.dimension, 1e2, 1)
    return LineLoad(chord.name, start, end, vector=vector, per="length" if random.random() < 0.5 else "plan")


def _vector(random: np.random.Generator, dimension: int, unit: float, most: int) -> tuple[float, ...]:
    """Whole multiples of a unit, often upright only, so that much of a truss may sleep."""
    vector = random.integers(-9, 10, dimension) * unit * 10.0 ** random.integers(0, most)
    if random.random() < 0.5:
        vector[:-1] = 0.0
    return tuple(float(c) for c in vector) if vector.any() else (0.0,) * (dimension - 1) + (-unit,)


def _crossings(random: np.random.Generator, chords: list[Chord]) -> dict[str, Crossing]:
    crossings = {}
    for number in range(int(random.integers(0, 3)) if chords else 0):
        chord = chords[int(random.integers(len(chords)))]
        crossings[f"crossing {number}"] = Crossing(
            f"crossing {number}",
            (Train("train", _axles(random, chord)),),
            chord.name,
            WAYS[int(random.integers(3))],
            factor=float(random.choice([1.0, 0.5])),
            impact=float(random.choice([0.0, 0.3])),
            counts=float(random.choice(COUNTS)),
        )
    return crossings


def _axles(random: np.random.Generator, chord: Chord) -> tuple[Axle, ...]:
    """One to five axles: in decimals, over joints together, or with a gap longer than the chord."""
    count = int(random.integers(1, 6))
    style = random.random()
    if style < 0.4:
        gaps = np.round(random.uniform(0.4, 4.0, count), 1)
    elif style < 0.7:
        gaps = random.choice(np.concatenate([np.diff(chord.positions), [chord.length]]), count)
    else:
        gaps = np.round(random.uniform(0.2, 1.3, count) * chord.length, 2)
    gaps[0] = 0.0 if random.random() < 0.6 else gaps[0]
    distances = np.cumsum(gaps)
    loads = np.round(10 ** random.uniform(3.5, 5, count), -2)
    axles = [Axle(float(d), float(p)) for d, p in zip(distances, loads, strict=True)]
    return tuple(axles if random.random() < 0.8 else axles[::-1])


def _combinations(
    random: np.random.Generator, cases: list[str], crossings: list[str]
) -> tuple[Combination, ...]:
    combinations = []
    for number in range(int(random.integers(0, 5))):
        chosen = [name for name in cases if random.random() < 0.6]
        factors = {name: float(random.choice([1.35, 1.0, 0.6, -1.0, -0.3])) for name in chosen}
        crossing = str(random.choice(crossings)) if crossings and random.random() < 0.7 else None
        if not factors and crossing is None:
            factors = {cases[0]: 1.0}
        factor = float(random.choice([1.5, 1.0, 0.7, -1.0, -0.5]))
        combinations.append(Combination(f"combination {number}", factors, crossing, factor))
    return tuple(combinations)
