"""Random trusses with overhangs, and random trains of everything that a study can write down."""

from __future__ import annotations

from math import inf

import numpy as np

from solver.chords import make_chord
from solver.combining import Combination
from solver.crossings import Crossing
from solver.statics import examine
from solver.study import Study
from solver.trains import Axle, Lane, Second, Strip, Train
from solver.truss import Truss
from tests.building import build_truss

WAYS = (("forward", "backward"), ("forward",), ("backward",))


def draw_crossing(seed: int) -> Study:
    """A girder of uneven panels on two of its joints, crossed by one train with a factor."""
    random = np.random.default_rng(seed)
    truss, deck = _girder(random)
    chord = make_chord("deck", tuple(truss.joint_index(name) for name in deck), truss)
    crossing = Crossing(
        "train",
        (_train(random),),
        "deck",
        WAYS[int(random.integers(3))],
        float(random.choice([1.0, 0.5])),
        float(random.choice([0.0, 0.3])),
        lane_impact=float(random.choice([0.0, 0.2])),
    )
    factor = float(random.choice([1.0, 1.5, -0.7]))
    combination = Combination("factored", {}, "train", factor)
    return Study("random", truss, {"deck": chord}, {}, {"train": crossing}, (combination,))


def _girder(random: np.random.Generator) -> tuple[Truss, list[str]]:
    """Diagonals one way or both; supports at two joints anywhere, so that chords overhang."""
    while True:
        panels = int(random.integers(3, 7))
        x = [0.0, *(round(float(v), 1) for v in np.cumsum(np.round(random.uniform(1.5, 5, panels), 1)))]
        depth = round(float(random.uniform(2, 5)), 1)
        joints = {f"L{i}": (place, 0) for i, place in enumerate(x)}
        joints |= {f"U{i}": (place, depth) for i, place in enumerate(x)}
        members = [f"{row}{i}-{row}{i + 1}" for row in "LU" for i in range(panels)]
        members += [f"L{i}-U{i}" for i in range(panels + 1)] + [f"L{i}-U{i + 1}" for i in range(panels)]
        if random.random() < 0.4:
            members += [f"U{i}-L{i + 1}" for i in range(panels)]
        one, other = sorted(random.choice(panels + 1, 2, replace=False))
        truss = build_truss(joints, members, {f"L{one}": "xy", f"L{other}": "y"})
        if not examine(truss).mechanisms:
            return truss, [f"L{i}" for i in range(panels + 1)]


def _loads(random: np.random.Generator) -> tuple[tuple[Axle, ...], tuple[Strip, ...]]:
    places = np.cumsum(random.uniform(0, 3, int(random.integers(1, 4))))
    axles = tuple(Axle(round(float(d), 1), float(random.integers(1, 20))) for d in places)
    kind, start = random.random(), round(float(random.uniform(0, 5)), 1)
    load = float(random.integers(1, 5))
    strips: tuple[Strip, ...] = ()
    if kind < 0.3:
        strips = (Strip(start, inf, load),)
    elif kind < 0.6:
        strips = (Strip(start, start + round(float(random.uniform(0.5, 12)), 1), load),)
    return (() if strips and random.random() < 0.2 else axles), strips


def _train(random: np.random.Generator) -> Train:
    axles, strips = _loads(random)
    lane, left_out = _lane(random), bool(random.random() < 0.5)
    second = None if lane and lane.clear else _second(random, strips)
    return Train("train", axles, strips, lane, left_out, second)


def _lane(random: np.random.Generator) -> Lane | None:
    if random.random() < 0.4:
        return None
    start = round(float(random.uniform(-2, 1)), 1)
    clear = (start, start + round(float(random.uniform(1, 8)), 1)) if random.random() < 0.6 else None
    return Lane(float(random.integers(1, 5)), clear)


def _second(random: np.random.Generator, first: tuple[Strip, ...]) -> Second | None:
    if random.random() < 0.6 or any(strip.end == inf for strip in first):
        return None
    axles, strips = _loads(random)
    ended = tuple(strip for strip in strips if strip.end < inf)
    gap = round(float(random.uniform(0, 6)), 1)
    return Second(axles, ended, gap) if axles or ended else None
