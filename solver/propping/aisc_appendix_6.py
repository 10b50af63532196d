"""AISC 360-22, Appendix 6, 6.1 and 6.2: bracing of columns; and the LRFD specification of 1999, section C3.

Equations A-6-1 to A-6-4 and the commentary on 6.1 and 6.2 were read, not remembered. Compressions are the
required strengths under LRFD or ASD combinations, whichever the method is of; of all lines that the same
props hold, their sum (6.1).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.errors import InputError
from solver.propping.demand import Demand, HeldPoint, Side, per_length, stretched
from solver.resistance.steps import Quantity, Step

Array = NDArray[np.float64]
Method = Literal["LRFD", "ASD"]
PHI, OMEGA = 0.75, 2.00
COLUMNS = "bracing of columns and beams that is not part of the analysed structure"


@dataclass(frozen=True)
class Edition:
    """An edition: shares of the compression that a panel and a point must bear, clauses, and its methods."""

    name: str
    panel_share: float
    point_share: float
    clauses: tuple[str, str, str, str]
    methods: tuple[Method, ...] = ("LRFD", "ASD")


AISC_360_22 = Edition(
    "AISC 360-22", 0.005, 0.01, ("App. 6, A-6-1", "App. 6, A-6-2", "App. 6, A-6-3", "App. 6, A-6-4")
)
LRFD_1999 = Edition("AISC LRFD 1999", 0.004, 0.01, ("C3-3", "C3-4", "C3-5", "C3-6"), ("LRFD",))


@dataclass(frozen=True)
class PointBracing:
    """Props at single joints, independent of one another (6.2.2).

    by_number: lower the factor 8, which is that of many props, by (2n - 1) / (2n) for n intermediate ones,
    as the commentary on 6.2 of 360-22 allows.
    Raises InputError for a method that the edition does not have.
    """

    method: Method = "LRFD"
    edition: Edition = AISC_360_22
    by_number: bool = False

    def __post_init__(self) -> None:
        _require(self.edition, self.method, self.by_number)

    @property
    def name(self) -> str:
        """Edition, method and kind."""
        return f"{self.edition.name} {self.method}, point" + (", by their number" if self.by_number else "")

    def demand(self, point: HeldPoint) -> Demand:
        """Return 0.01 Pr of the larger compression and 8 Pr / Lbr of the side where that is larger."""
        factor = 8.0
        if self.by_number and not point.at_end:
            factor *= (2 * point.braces - 1) / (2 * point.braces)
        clauses = self.edition.clauses[2:]
        strength = _strength(f"{self.edition.name} {clauses[0]}", "P_br", self.edition.point_share, point)
        stiffness = _stiffness(f"{self.edition.name} {clauses[1]}", self, factor, _severest(point))
        lowered = (_lowering(point.braces, factor),) if factor < 8 else ()
        values = strength.result.value, stiffness.result.value
        return Demand(*values, (strength,), (*lowered, stiffness), stretched(COLUMNS, point))


@dataclass(frozen=True)
class PanelBracing:
    """Props that hold one joint against the next, such as diagonals (6.2.1): a shear force and its stiffness.

    Raises InputError for a method that the edition does not have.
    """

    method: Method = "LRFD"
    edition: Edition = AISC_360_22

    def __post_init__(self) -> None:
        _require(self.edition, self.method, False)

    @property
    def name(self) -> str:
        """Edition, method and kind."""
        return f"{self.edition.name} {self.method}, panel"

    def demand(self, point: HeldPoint) -> Demand:
        """Return the shear strength and shear stiffness of the harder of the two panels beside the joint."""
        clauses = self.edition.clauses[:2]
        strength = _strength(f"{self.edition.name} {clauses[0]}", "V_br", self.edition.panel_share, point)
        stiffness = _stiffness(f"{self.edition.name} {clauses[1]}", self, 2.0, point.hardest)
        joined = ("the connection of the panel to the piece: the strength of a point (6.2.1)",)
        values, text = (strength.result.value, stiffness.result.value), stretched(COLUMNS, point)
        return Demand(*values, (strength,), (stiffness,), text, unchecked=joined)


def _require(edition: Edition, method: Method, by_number: bool) -> None:
    if method not in edition.methods:
        raise InputError(f"{edition.name} has no {method}")
    if by_number and edition is not AISC_360_22:
        raise InputError(f"the number of props does not enter {edition.name}")


def _severest(point: HeldPoint) -> Side:
    """The side of the larger Pr / Lbr, Lbr between the ends not below the permitted length (6.2.2)."""
    least = 0.0 if point.permitted is None or point.at_end else point.permitted
    sides = [Side(point.alike * side.compression, max(side.length, least)) for side in point.sides]
    return max(sides, key=lambda side: side.push)


def _strength(clause: str, symbol: str, share: float, point: HeldPoint) -> Step:
    given = Quantity("P_r", point.together, "force")
    return Step(clause, f"{symbol} = {share:g} P_r", (given,), Quantity(symbol, share * given.value, "force"))


def _stiffness(clause: str, rule: PointBracing | PanelBracing, factor: float, side: Side) -> Step:
    method = rule.method
    safety = Quantity("φ", PHI) if method == "LRFD" else Quantity("Ω", OMEGA)
    pushed, length = Quantity("P_r", side.compression, "force"), Quantity("L_br", side.length, "length")
    times = 1 / PHI if method == "LRFD" else OMEGA
    before = "1/φ" if method == "LRFD" else "Ω"
    letter = {"LRFD": "a", "ASD": "b"}[method] if len(rule.edition.methods) > 1 else ""
    value = per_length("β_br", times * factor * side.push)
    return Step(
        f"{clause}{letter}", f"β_br = {before} ({factor:g} P_r / L_br)", (safety, pushed, length), value
    )


def _lowering(braces: int, factor: float) -> Step:
    given = (Quantity("n", braces),)
    return Step("AISC 360-22, commentary on App. 6.2", "8 (2n - 1) / (2n)", given, Quantity("factor", factor))
