"""Small trusses and studies for tests, written down in a few lines; SI units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

import numpy as np

from solver.cases import LoadCase
from solver.chords import Chord, make_chord
from solver.combining import Combination
from solver.crossings import Crossing, Direction
from solver.placement import Standing, joint_loads, place_train
from solver.study import Study
from solver.trains import Axle, Train
from solver.truss import ExactVector, Group, Material, Member, Section, Support, Truss

AXIS = {"x": 0, "y": 1, "z": 2}


def exact(values: Iterable[Any]) -> ExactVector:
    """Turn decimals as written (text, whole numbers, floats by their shortest text) into fractions."""
    return tuple(v if isinstance(v, Fraction) else Fraction(str(v)) for v in values)


def build_truss(
    joints: Mapping[str, Sequence[Any]],
    members: Sequence[str],
    supports: Mapping[str, Any],
    *,
    areas: float | Sequence[float] = 1.0,
    modulus: float | Sequence[float] = 1.0,
    unit_weight: float | None = None,
    expansion: float | None = None,
) -> Truss:
    """Build a truss; members as "A-B", supports as letters ("xy") or a list of vectors.

    areas [m²] and modulus [Pa] are one number or one a member.
    """
    names = tuple(joints)
    place = {name: index for index, name in enumerate(names)}
    each_area = np.broadcast_to(np.asarray(areas, dtype=float), len(members))
    moduli = np.broadcast_to(np.asarray(modulus, dtype=float), len(members))
    bars = []
    for name, area, elastic in zip(members, each_area, moduli, strict=True):
        material = Material("test", float(elastic), unit_weight=unit_weight, expansion=expansion)
        group = Group("test", Section("test", float(area)), material)
        first, second = name.split("-")
        bars.append(Member(name, place[first], place[second], group))
    dimension = len(next(iter(joints.values())))
    held = tuple(_support(place[joint], held, dimension) for joint, held in supports.items())
    return Truss(names, tuple(exact(point) for point in joints.values()), tuple(bars), held)


def _support(joint: int, held: Any, dimension: int) -> Support:
    if isinstance(held, str):
        units = [[int(axis == AXIS[letter]) for axis in range(dimension)] for letter in held]
        return Support(joint, tuple(exact(unit) for unit in units), tuple(held))
    return Support(joint, tuple(exact(vector) for vector in held), tuple(str(list(v)) for v in held))


def load_case(truss: Truss, name: str = "load", /, **loads: Sequence[float]) -> LoadCase:
    """A case of joint loads [N] by joint name."""
    return LoadCase(name, joints={truss.joint_index(j): tuple(map(float, v)) for j, v in loads.items()})


def build_study(
    truss: Truss,
    cases: Sequence[LoadCase] = (),
    *,
    chord: Sequence[str] = (),
    axles: Sequence[tuple[float, float]] = (),
    directions: tuple[Direction, ...] = ("forward", "backward"),
    combinations: Sequence[Combination] = (),
    zero_limit: float = 0.0,
) -> Study:
    """A study of cases and, if axles (distance [m], load [N]) are given, a crossing "train" on "deck"."""
    chords = {}
    if chord:
        chords["deck"] = make_chord("deck", tuple(truss.joint_index(name) for name in chord), truss)
    crossings = {}
    if axles:
        train = Train("train", tuple(Axle(float(distance), float(load)) for distance, load in axles))
        crossings["train"] = Crossing("train", (train,), "deck", directions, called="train")
    return Study(
        "test",
        truss,
        chords,
        {case.name: case for case in cases},
        crossings,
        tuple(combinations),
        zero_limit,
    )


def standing_loads(crossing: Crossing, chord: Chord, direction: Direction, position: float) -> np.ndarray:
    """Downward loads [N] at a chord's joints, a crossing's train as it stands with its front there [m]."""
    return joint_loads(chord, place_train(crossing, chord, Standing(direction, position), 1.0))
