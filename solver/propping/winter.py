"""Winter's rigid links: the stiffness and the force with which bars in line must be held at their joints.

G. Winter, Lateral bracing of columns and beams, Trans. ASCE 125, 807-845, 1960 (from memory, derived again
here): links that cannot bend, with hinges where they are held. A joint i that has moved across by d_i is
pushed on by P_k / L_k times its movement against either neighbour, G d with G symmetric and of three
diagonals; props of one stiffness beta hold until beta is the largest eigenvalue of G. The bending stiffness
of the piece is left out: that never asks too little, where each bar alone bears its compression between
firm joints.

J. A. Yura, Fundamentals of beam bracing, Eng. J. AISC 38(1), 11-26, 2001: twice the ideal stiffness, L/500.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi

import numpy as np
import scipy.linalg

from solver.errors import InputError
from solver.propping.demand import Demand, HeldPoint, per_length, stretched
from solver.resistance.steps import Quantity, Step

BOW = 1 / 500
"""How far a joint lies beside the line, as a share of the distance between joints (Yura 2001)."""

TIMES = 2.0
"""By how much a prop must be stiffer than the ideal: at the ideal stiffness its force grows without end."""

CUSTOM = 0.02
CLAUSE = "Winter 1960"
COLUMNS = "columns held from firm ground"
SAME = 1e-12
"""Bars whose compressions over length differ by less, as a share, are written with the closed form."""


def ideal_stiffness(compression: float, length: float, braces: int = 1) -> float:
    """Return the ideal stiffness [N/m] of each of n equally spaced props, (2 + 2 cos(pi / (n + 1))) P / L.

    >>> [round(ideal_stiffness(1.0, 1.0, n), 4) for n in (1, 2, 3, 4, 5)]
    [2.0, 3.0, 3.4142, 3.618, 3.7321]
    """
    return (2 + 2 * cos(pi / (braces + 1))) * compression / length


def ideal_panel_stiffness(compression: float, length: float) -> float:
    """Return the ideal stiffness [N/m] of a prop between the two ends of a bar, P / L."""
    return compression / length


def ideal_in_line(compressions: tuple[float, ...], lengths: tuple[float, ...]) -> float:
    """Return the ideal stiffness [N/m] of props, all alike, between bars of any lengths [m] and forces [N].

    Compression positive; the ends of the line do not move. Zero where the pulled bars hold the pushed ones.
    """
    push = np.array(compressions) / np.array(lengths)
    if len(push) < 2:
        raise InputError("a single bar has no joint between its ends")
    return max(float(scipy.linalg.eigvalsh_tridiagonal(push[:-1] + push[1:], -push[1:-1])[-1]), 0.0)


def prop_force(ideal: float, offered: float, bow: float) -> float:
    """Return the force [N] on a prop of stiffness `offered` [N/m] at a joint `bow` [m] beside the line.

    F = beta_i d0 / (1 - beta_i / beta), the bow in the shape of the first buckling mode. Raises InputError
    where the prop is no stiffer than the ideal one: it does not hold.
    """
    if offered <= ideal:
        raise InputError("a prop that is no stiffer than the ideal one does not hold")
    return ideal * bow / (1 - ideal / offered)


@dataclass(frozen=True)
class Winter:
    """Props at single joints; `times` the ideal stiffness, a bow of a share of the longer bar beside the
    joint."""

    times: float = TIMES
    bow: float = BOW

    @property
    def name(self) -> str:
        """Its name."""
        return "Winter 1960, point"

    def demand(self, point: HeldPoint) -> Demand:
        """Return times the ideal stiffness of the whole line, all props alike, and the force of a bow."""
        ideal = _ideal_step(point)
        longest = max(side.length for side in point.sides)
        return _from_ideal(ideal, (self.times, self.bow), longest, point)


@dataclass(frozen=True)
class WinterPanel:
    """Props between the two ends of a bar, such as a diagonal beside it."""

    times: float = TIMES
    bow: float = BOW

    @property
    def name(self) -> str:
        """Its name."""
        return "Winter 1960, panel"

    def demand(self, point: HeldPoint) -> Demand:
        """Return times the ideal stiffness of the harder pushed bar beside the joint, and the force of a
        bow."""
        side = point.hardest
        return _from_ideal(_panel_step(point), (self.times, self.bow), side.length, point)


@dataclass(frozen=True)
class TwoPercent:
    """A force of two per cent of the larger compression beside the joint, no stiffness."""

    share: float = CUSTOM

    @property
    def name(self) -> str:
        """Its name."""
        return f"{100 * self.share:g} % rule"

    def demand(self, point: HeldPoint) -> Demand:
        """Return the share of the larger compression."""
        pushed = Quantity("P", point.together, "force")
        force = Quantity("F", self.share * point.together, "force")
        step = Step("common practice", f"F = {self.share:g} P", (pushed,), force)
        custom = "common practice: a custom, no clause"
        return Demand(force.value, None, (step,), (), custom, unchecked=("stiffness of the prop",))


def _ideal_step(point: HeldPoint) -> Step:
    if point.at_end:
        return _panel_step(point)
    together = tuple(point.alike * compression for compression in point.compressions)
    push = np.array(together) / np.array(point.lengths)
    if np.ptp(push) <= SAME * np.abs(push).max():
        side = point.hardest
        given = (Quantity("P", side.compression, "force"), Quantity("L_b", side.length, "length"))
        value = ideal_stiffness(side.compression, side.length, point.braces)
        formula = "β_i = (2 + 2 cos(π / (n + 1))) P / L_b"
        return Step(CLAUSE, formula, (*given, Quantity("n", point.braces)), per_length("β_i", value))
    pushes = tuple(per_length(f"P_{bar} / L_{bar}", float(each)) for bar, each in enumerate(push, 1))
    value = ideal_in_line(together, point.lengths)
    formula = "β_i = largest root of det(G - β 1) = 0, G_kk = P_k/L_k + P_k+1/L_k+1, G_k,k+1 = -P_k+1/L_k+1"
    return Step(CLAUSE, formula, pushes, per_length("β_i", value))


def _panel_step(point: HeldPoint) -> Step:
    side = point.hardest
    value = ideal_panel_stiffness(side.compression, side.length)
    given = (Quantity("P", side.compression, "force"), Quantity("L_b", side.length, "length"))
    return Step(CLAUSE, "β_i = P / L_b", given, per_length("β_i", value))


def _from_ideal(ideal: Step, chosen: tuple[float, float], length: float, point: HeldPoint) -> Demand:
    """The demand of `chosen`: how many times the ideal stiffness, and the bow as a share of a length [m]."""
    times, share = chosen
    stiffness = per_length("β", times * ideal.result.value)
    bow = Quantity("d_0", share * length, "length")
    force = Quantity("F", _force(ideal.result.value, times, bow.value), "force")
    to_stiffness = (ideal, Step(CLAUSE, f"β = {times:g} β_i", (ideal.result,), stiffness))
    to_force = (
        *to_stiffness,
        Step("Yura 2001", f"d_0 = L_b / {1 / share:g}", (Quantity("L_b", length, "length"),), bow),
        Step(CLAUSE, "F = β_i d_0 / (1 - β_i / β)", (ideal.result, bow, stiffness), force),
    )
    return Demand(force.value, stiffness.value, to_force, to_stiffness, stretched(COLUMNS, point))


def _force(ideal: float, times: float, bow: float) -> float:
    """The force [N]; none where pulled bars hold the line and the ideal stiffness is zero."""
    return prop_force(ideal, times * ideal, bow) if ideal else 0.0
