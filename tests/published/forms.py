"""Truss forms and units that several published checks share."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from solver.answers import Answers
from solver.truss import Truss
from tests.building import build_truss

Array = NDArray[np.float64]
FOOT = Fraction("0.3048")
INCH = FOOT / 12
POUND = 4.4482216152605
KIP = 1000 * POUND
PSI = POUND / float(INCH) ** 2
KSI = 1000 * PSI


def pratt_members(panels: int, turn: int) -> list[str]:
    """Members of a parallel-chord Pratt truss L0..Ln, U1..U(n-1); diagonals fall towards joint `turn`."""
    inner = range(1, panels)
    bottom = [f"L{i}-L{i + 1}" for i in range(panels)]
    top = [f"U{i}-U{i + 1}" for i in inner[:-1]]
    posts = [f"L{i}-U{i}" for i in inner]
    falling = [f"U{i}-L{i + 1}" for i in range(1, turn)]
    rising = [f"L{i}-U{i + 1}" for i in range(turn, panels - 1)]
    return [*bottom, *top, "L0-U1", f"U{panels - 1}-L{panels}", *posts, *falling, *rising]


def pratt(positions: Sequence[Any], depth: Any, turn: int | None = None, **more: Any) -> Truss:
    """A Pratt truss with panel points at `positions`, pinned at L0, on a roller at the last joint."""
    panels = len(positions) - 1
    joints = {f"L{i}": (x, 0) for i, x in enumerate(positions)}
    joints |= {f"U{i}": (positions[i], depth) for i in range(1, panels)}
    supports = {"L0": "xy", f"L{panels}": "y"}
    members = pratt_members(panels, panels // 2 if turn is None else turn)
    return build_truss(joints, members, supports, **more)


def deck(panels: int) -> list[str]:
    """The bottom chord as a way for loads."""
    return [f"L{i}" for i in range(panels + 1)]


def ordinates(answers: Answers, member: str) -> Array:
    """Influence ordinates of a member's force at the joints of the chord "deck"."""
    row = answers.study.truss.member_index(member)
    return np.asarray(answers.responses.forces.influence["deck"][row])


def case_forces(answers: Answers, members: Sequence[str], case: int = 0) -> Array:
    """Forces [N] of members by name under a load case."""
    rows = [answers.study.truss.member_index(name) for name in members]
    return answers.responses.forces.cases[rows, case]


def peaks(answers: Answers, member: str) -> tuple[float, float]:
    """Largest tension and largest compression (negative) of a member over the combinations asked [N]."""
    row = answers.study.truss.member_index(member)
    forces = answers.forces
    return float(forces.tension.values[row]), -float(forces.compression.values[row])


def half_unit(printed: str) -> float:
    """Half a unit of the last printed digit."""
    return 0.5 * 10.0 ** int(Decimal(printed).as_tuple().exponent)


def rounding_of_weight(areas: str, lengths: Array, density: float, least: float, weight: str) -> float:
    """How far rounded areas may put a weight off, with the rounding of the printed weight itself.

    `areas` as printed, a word for each of `lengths` (added up where a group is meant); an area at the
    `least` allowed is exact.
    """
    halves = [0.0 if float(word) == least else half_unit(word) for word in areas.split()]
    return density * float(np.dot(halves, lengths)) + half_unit(weight)
