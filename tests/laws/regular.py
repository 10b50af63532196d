"""Girders of equal panels under loads that cancel in parts of them: where zeros lie that no joint shows."""

from __future__ import annotations

import numpy as np

from solver.truss import Truss
from tests.building import build_truss

WEBS = ("/", "\\", "X")
HEIGHTS = ("1.5", "2", "2.5")


def draw_girder(seed: int) -> tuple[Truss, np.ndarray]:
    """A plane girder, or two side by side as a box in space, with whole loads (joints, dimension) [N]."""
    random = np.random.default_rng(seed)
    panels = int(random.integers(3, 8))
    webs = _draw_webs(random, panels)
    if random.random() < 0.3:
        return _box(random, panels, webs)
    joints = {
        f"{row}{i}": (2 * i, HEIGHTS[seed % 3] if row == "U" else 0)
        for row in "LU"
        for i in range(panels + 1)
    }
    bars = _side(panels, webs, "L", "U")
    wall = random.random() < 0.25
    supports = {"L0": "xy", "U0": "xy"} if wall else {"L0": "xy", f"L{panels}": "y"}
    truss = build_truss(joints, [b for b in bars if not (wall and b == "L0-U0")], supports)
    loads = np.zeros((len(joints), 2))
    _place(random, truss, loads, panels)
    return truss, loads


def _draw_webs(random: np.random.Generator, panels: int) -> list[str]:
    """Mirrored about the middle, mostly single diagonals."""
    half = [WEBS[int(random.choice(3, p=[0.42, 0.42, 0.16]))] for _ in range((panels + 1) // 2)]
    mirror = {"/": "\\", "\\": "/", "X": "X"}
    return (half + [mirror[web] for web in half[: panels // 2]][::-1])[:panels]


def _side(panels: int, webs: list[str], low: str, high: str) -> list[str]:
    bars = [f"{row}{i}-{row}{i + 1}" for row in (low, high) for i in range(panels)]
    bars += [f"{low}{i}-{high}{i}" for i in range(panels + 1)]
    for i, web in enumerate(webs):
        bars += [f"{low}{i}-{high}{i + 1}"] * (web in "/X") + [f"{high}{i}-{low}{i + 1}"] * (web in "\\X")
    return bars


def _place(random: np.random.Generator, truss: Truss, loads: np.ndarray, panels: int) -> None:
    """Two equal loads in mirror joints, a couple, or a pull along a chord."""
    row, k, size = (
        "LU"[int(random.integers(2))],
        int(random.integers(1, (panels + 1) // 2 + 1)),
        int(random.integers(1, 9)),
    )
    first, second = truss.joint_index(f"{row}{k}"), truss.joint_index(f"{row}{panels - k}")
    kind = random.random()
    if kind < 0.6:
        loads[first, -1] -= size
        loads[second, -1] -= size
    elif kind < 0.8:
        loads[first, 0] -= size
        loads[second, 0] += size
    else:
        loads[truss.joint_index(f"L{panels}"), 0] = size


def _box(random: np.random.Generator, panels: int, webs: list[str]) -> tuple[Truss, np.ndarray]:
    """Two sides tied across and braced in top, bottom and both ends; loaded on one side or on both."""
    joints = {
        f"{row}{i}": (2 * i, 2 * (row in "RV"), 2 * (row in "UV"))
        for row in ("L", "U", "R", "V")
        for i in range(panels + 1)
    }
    bars = _side(panels, webs, "L", "U") + _side(panels, webs, "R", "V")
    bars += [f"{a}{i}-{b}{i}" for a, b in (("L", "R"), ("U", "V")) for i in range(panels + 1)]
    bars += [f"L{i}-R{i + 1}" for i in range(panels)] + [f"U{i}-V{i + 1}" for i in range(panels)]
    bars += ["L0-V0", f"L{panels}-V{panels}"]
    supports = {"L0": "xyz", "R0": "xz", f"L{panels}": "z", f"R{panels}": "z"}
    if random.random() < 0.5:
        supports = {"L0": "xyz", f"L{panels}": "yz", "R0": "z"}
    truss = build_truss(joints, bars, supports)
    loads = np.zeros((len(joints), 3))
    _place(random, truss, loads, panels)
    return truss, loads
