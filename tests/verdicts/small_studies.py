"""Small studies in which single grounds come first, and plain matrices to hold their numbers against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import sqrt

import numpy as np

from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.losses.losing import resisting


def dense_forces(truss: Truss, load: np.ndarray) -> np.ndarray:
    """Forces under joint loads (joints, dimension) by K = A k A^T, supports along axes; written out here."""
    points = truss.joint_coordinates
    columns = np.zeros((points.size, len(truss.members)))
    stiffness = np.zeros(len(truss.members))
    for i, bar in enumerate(truss.members):
        along = points[bar.second] - points[bar.first]
        length = np.linalg.norm(along)
        stiffness[i] = bar.group.material.elastic_modulus * bar.group.section.area / length
        size = truss.dimension
        columns[size * bar.first : size * (bar.first + 1), i] = -along / length
        columns[size * bar.second : size * (bar.second + 1), i] = along / length
    held = [
        truss.dimension * support.joint + [bool(c) for c in direction].index(True)
        for support in truss.supports
        for direction in support.directions
    ]
    free = np.delete(columns, held, axis=0)
    moved = np.linalg.solve(free * stiffness @ free.T, np.delete(load.ravel(), held))
    return stiffness * (free.T @ moved)


def fan(places: Sequence[float], areas: Sequence[float], **more: float) -> Truss:
    """Bars from a ceiling at `places` to one joint p, 1 m below."""
    ceiling = {f"t{i}": (x, 0) for i, x in enumerate(places)}
    members = [f"t{i}-p" for i in range(len(places))]
    return build_truss({**ceiling, "p": (0, -1)}, members, dict.fromkeys(ceiling, "xy"), areas=areas, **more)


THIN = 0.01
SIDES = 1 / sqrt(2)
"""Stiffness of two bars at 45 degrees against a downward movement: 2 c^3, of EA = 1."""


def thin_middle(**more: float) -> Truss:
    """Three bars, the one in the middle so thin that losing it changes the deflection by 1.4 %."""
    return fan([-1, 0, 1], [1, THIN, 1], **more)


def propped(force: float, load: float = 0.0) -> Study:
    """A strut A-M-B pushed with some force, M held by M-P above it and loaded by some load."""
    points = {"A": (0, 0), "M": (3, 0), "B": (7, 0), "P": (3, 2)}
    truss = build_truss(points, ["A-M", "M-B", "A-P", "P-B", "M-P"], {"A": "xy", "B": "y"})
    return build_study(truss, [load_case(truss, B=(-force, 0), M=(0, load))])


def square(**resistance: float) -> Study:
    """The square of the note on least work: without B-D the 1 N at C puts sqrt 2 into A-C and -1 into C-D."""
    points = {"A": (0, 0), "B": (0, 1), "C": (1, 1), "D": (1, 0)}
    truss = build_truss(points, ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"], {"A": "xy", "D": "y"})
    if resistance:
        truss = resisting(truss, {"": (resistance["tension"], resistance["compression"])})
    return build_study(truss, [load_case(truss, C=(1, 0))])


def cantilever(*loaded: str) -> Study:
    """The cantilever of two crossed panels of tests/published, 1 N down at some joints."""
    points = {"a": (0, 0), "b": (0, 1), "c": (1, 0), "d": (1, 1), "e": (2, 0), "f": (2, 1)}
    bars = ["a-c", "b-d", "c-d", "a-d", "b-c", "c-e", "d-f", "e-f", "c-f", "d-e"]
    truss = build_truss(points, bars, {"a": "xy", "b": "xy"})
    return build_study(truss, [load_case(truss, **dict.fromkeys(loaded, (0, -1)))])


def bays() -> Study:
    """Two crossed panels a-b-c-d and e-f-g-h with a plain one between them; only the first is loaded."""
    points = {"a": (0, 0), "b": (0, 1), "c": (1, 0), "d": (1, 1), "e": (2, 0), "f": (2, 1)}
    points |= {"g": (3, 0), "h": (3, 1)}
    bars = ["a-c", "b-d", "c-d", "a-d", "b-c", "c-e", "d-f", "e-f", "c-f"]
    truss = build_truss(points, [*bars, "e-g", "f-h", "g-h", "e-h", "f-g"], {"a": "xy", "b": "xy"})
    return build_study(truss, [load_case(truss, c=(0, -1), d=(0.5, 0))])


def mast(lean: float = 0.05, duties: tuple[str, ...] = ()) -> Study:
    """p hangs from v; three bars along x, of k = 1, 1 and 1/2, hold it sideways; 1 N down."""
    points = {"p": (0, 0), "v": (0, 1), "l": (-1, 0), "r": (1, 0), "far": (2, 0)}
    truss = build_truss(points, ["v-p", "l-p", "r-p", "far-p"], dict.fromkeys(["v", "l", "r", "far"], "xy"))
    members = tuple(replace(m, group=replace(m.group, duties=duties)) for m in truss.members)
    truss = replace(truss, members=members)
    return replace(build_study(truss, [load_case(truss, p=(0, -1))]), lean=lean)


def girder() -> Truss:
    """Three panels; in the middle one a strong diagonal L1-U2 and a thin one U1-L2."""
    points = {"L0": (0, 0), "L1": (1, 0), "L2": (2, 0), "L3": (3, 0), "U1": (1, 1), "U2": (2, 1)}
    bars = ["L0-L1", "L1-L2", "L2-L3", "L0-U1", "U2-L3", "U1-U2", "L1-U1", "L2-U2", "L1-U2", "U1-L2"]
    return build_truss(points, bars, {"L0": "xy", "L3": "y"}, areas=[1.0] * 9 + [THIN])


def line_of_bars() -> Study:
    """Bars along x. 2 N at A, held by k = 1 and 1; C held by k = 1 and 0.1; A-C: k = 0.04."""
    points = {"A": (0, 0), "C": (1, 0), "g1": (-1, 0), "g2": (-2, 0), "g3": (2, 0), "g4": (3, 0)}
    held = {"A": "y", "C": "y", **dict.fromkeys(["g1", "g2", "g3", "g4"], "xy")}
    bars = ["g1-A", "g2-A", "A-C", "C-g3", "C-g4"]
    truss = build_truss(points, bars, held, areas=[1.0, 2.0, 0.04, 1.0, 0.2])
    return build_study(truss, [load_case(truss, A=(2, 0))])


def five_bars() -> Study:
    """A thin bar between two steep and two flat pairs; 1 N to the right leaves it at zero by symmetry."""
    truss = fan([-2, -1, 0, 1, 2], [1, 1, THIN, 1, 1])
    return build_study(truss, [load_case(truss, p=(1, 0))])
