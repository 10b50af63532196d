"""Trusses to be sized: without and with redundancy, under own weight, with a deflection limit; none has
pushed bars in line, so that strength, Euler and deflection are all that is asked."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tests.sizing.plain_truss import Sized, tubes

JOINTS = {"L0": (0.0, 0.0), "L1": (4.0, 0.0), "L2": (8.0, 0.0), "U0": (2.0, 3.0), "U1": (6.0, 3.0)}
BARS = {
    "L0-L1": "bottom",
    "L1-L2": "bottom",
    "U0-U1": "top",
    "L0-U0": "web",
    "U0-L1": "web",
    "L1-U1": "web",
    "U1-L2": "web",
}
AREAS = (1.0, 1.4, 2.0, 2.8, 4.0, 5.6, 8.0, 11.0, 16.0, 22.0)


def warren(down: float = 60e3, own_weight: float = 30.0, deflection: float | None = None) -> Sized:
    """Three triangles on two supports; own weight counts many times over, that it decides."""
    families = {name: tubes(*AREAS, radius=times) for name, times in WARREN_RADII.items()}
    loads = {"load": {"L1": (0.0, -down), "U0": (8e3, 0.0)}}
    return Sized(JOINTS, BARS, {"L0": "xy", "L2": "y"}, loads, families, deflection, own_weight)


WARREN_RADII = {"bottom": 1.0, "top": 1.6, "web": 1.3}
CROSSED = {"a": (0.0, 0.0), "b": (0.0, 2.0), "c": (3.0, 0.0), "d": (3.0, 2.0)}
CROSSED_BARS = {"a-c": "chords", "b-d": "chords", "c-d": "post", "a-d": "ties", "b-c": "ties"}


def crossed(deflection: float | None = None) -> Sized:
    """One crossed panel on a wall under two cases: forces move between diagonals, chords and post."""
    areas = {"chords": AREAS, "post": (0.5, *AREAS[:7]), "ties": AREAS}
    families = {
        name: tubes(*areas[name], radius=times)
        for name, times in {"chords": 1.4, "post": 1.0, "ties": 1.2}.items()
    }
    loads = {
        "down": {"c": (0.0, -70e3), "d": (0.0, -20e3)},
        "aside": {"d": (50e3, 25e3)},
    }
    return Sized(CROSSED, CROSSED_BARS, {"a": "xy", "b": "xy"}, loads, families, deflection)


def drawn(seed: int) -> Sized:
    """A fan or a crossed panel of joints moved about, with groups, loads and sizes drawn."""
    random = np.random.default_rng([seed, 21])
    base = crossed() if seed % 2 else warren(own_weight=0.0)
    joints = {
        name: (x + float(random.uniform(-0.4, 0.4)), y + float(random.uniform(-0.4, 0.4)))
        for name, (x, y) in base.joints.items()
    }
    groups = [f"group {i}" for i in range(3)]
    bars = {bar: groups[int(random.integers(3))] for bar in base.bars}
    families = {
        name: tubes(*sorted(10 ** random.uniform(0, 1.7, 7)), radius=float(random.uniform(0.9, 1.6)))
        for name in groups
    }
    loads = {
        f"case {i}": {
            str(joint): (float(random.normal(0, 30e3)), float(random.normal(0, 60e3)))
            for joint in list(joints)[-2:]
        }
        for i in range(2)
    }
    limit = None if random.random() < 0.5 else float(random.uniform(4e-3, 15e-3))
    return replace(base, joints=joints, bars=bars, families=families, loads=loads, deflection=limit)


CIRCLE = [(0, 0, 0, 2), (1, 0, 0, 1)]
"""What the lightest sections for the forces before come to, in turns, in `circling`."""


def circling() -> Sized:
    """A crossed panel between whose diagonals and lower chord the forces go to and fro."""
    bars = {"a-c": "lower", "b-d": "upper", "c-d": "post", "a-d": "ties", "b-c": "ties"}
    areas = {
        "lower": (2.2, 2.3, 20.4),
        "upper": (3.0, 17.4, 26.8),
        "post": (4.8, 6.4, 17.6),
        "ties": (1.5, 3.6, 17.8),
    }
    families = {name: tubes(*sizes, radius=1.4) for name, sizes in areas.items()}
    loads = {"load": {"c": (40e3, -90e3), "d": (0.0, 30e3)}}
    return replace(crossed(), bars=bars, families=families, loads=loads)
