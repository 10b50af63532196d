"""EN 1993-1-1:2005, 5.3.3: bow of the members that a bracing system must hold, and the force at their
splices."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, sqrt

from solver.errors import InputError
from solver.propping.demand import Demand, HeldPoint, per_length, stretched
from solver.resistance.steps import Quantity, Step

CLAUSE = "EN 1993-1-1:2005, 5.3.3"
SYSTEMS = "bracing systems beside beams or compression members"
FACTOR = "α_m"
ROUNDS = 2000
"""So many rounds settle a force that its own deflection makes up to eighty times as large."""

SETTLED = 1e-10
"""The stabilising force counts as found when a round changes it by less than this share."""


def reduction(members: int) -> float:
    """Return alpha_m for m members to be restrained, sqrt(0.5 (1 + 1/m)).

    >>> [round(reduction(m), 4) for m in (1, 2, 3, 5)]
    [1.0, 0.866, 0.8165, 0.7746]
    """
    if members < 1:
        raise InputError("a bracing system holds at least one member")
    return sqrt(0.5 * (1 + 1 / members))


def initial_bow(members: int, span: float) -> float:
    """Return e_0 = alpha_m L / 500 [m] of m members over the span [m] of the bracing system (5.12)."""
    return reduction(members) * span / 500


def stabilising_force(total: float, span: float, bow: float, deflection: float = 0.0) -> float:
    """Return q_d = sum N_Ed 8 (e_0 + delta_q) / L2 [N/m] (5.13)."""
    return total * 8 * (bow + deflection) / span**2


def settle(total: float, span: float, bow: float, deflection: Callable[[float], float]) -> list[float]:
    """Return q_d [N/m] round after round, until it settles; deflection gives delta_q [m] under q_d.

    What deflects under no q_d is the part of the external loads. Raises InputError where q_d does not
    settle: the bracing gives way under what it must hold, or nearly.
    """
    rounds = [stabilising_force(total, span, bow, deflection(0.0))]
    for _ in range(ROUNDS):
        rounds.append(stabilising_force(total, span, bow, deflection(rounds[-1])))
        if not isfinite(rounds[-1]):
            break
        if abs(rounds[-1] - rounds[-2]) <= SETTLED * abs(rounds[-1]):
            return rounds
    raise InputError("the bracing is too soft: the force of the bow does not settle beside its deflection")


@dataclass(frozen=True)
class InitialBow:
    """The force of an initial bow on one joint: q_d over half of the bars beside it.

    deflection: delta_q [m] of the bracing system under q_d [N/m] and the external loads; None: left at
    zero, as only with a second order analysis of the bracing. No stiffness is asked for: it enters through
    delta_q.
    """

    deflection: Callable[[float], float] | None = None

    @property
    def name(self) -> str:
        """Its name."""
        return "EN 1993-1-1 5.3.3, bow"

    def demand(self, point: HeldPoint) -> Demand:
        """Return the force on the joint, the largest compression of the line taken along all of it."""
        factor, bow = _bow_steps(point)
        forces = self._force_steps(point, bow.result)
        width = sum(side.length for side in point.sides) / 2
        given = (forces[-1].result, Quantity("b", width, "length"))
        force = Quantity("F", forces[-1].result.value * width, "force")
        joint = Step(CLAUSE, "F = q_d b, b: half of the bars beside the joint", given, force)
        left_out = () if self.deflection else ("the deflection δ_q of what holds the piece: taken as 0",)
        steps = (factor, bow, *forces, joint)
        return Demand(force.value, None, steps, (), stretched(SYSTEMS, point), unchecked=left_out)

    def _force_steps(self, point: HeldPoint, bow: Quantity) -> list[Step]:
        """The first round and the last."""
        total = Quantity("ΣN_Ed", point.alike * max(point.compressions), "force")
        deflection = self.deflection or (lambda _: 0.0)
        rounds = settle(total.value, point.span, bow.value, deflection)
        wanted = [(0.0, rounds[0])]
        if self.deflection is not None:
            wanted.append((rounds[-2], rounds[-1]))
        length = Quantity("L", point.span, "length")
        return [
            Step(
                f"{CLAUSE} (5.13)",
                "q_d = ΣN_Ed 8 (e_0 + δ_q) / L²",
                (total, bow, Quantity("δ_q", deflection(before), "length"), length),
                per_length("q_d", force),
            )
            for before, force in wanted
        ]


@dataclass(frozen=True)
class Splice:
    """The local force where members are spliced (4), of all members alike; not together with q_d (5)."""

    @property
    def name(self) -> str:
        """Its name."""
        return "EN 1993-1-1 5.3.3(4), splice"

    def demand(self, point: HeldPoint) -> Demand:
        """Return m alpha_m N_Ed / 100 of the larger compression beside the joint."""
        factor = _factor_step(point)
        pushed = Quantity("N_Ed", point.compression, "force")
        value = point.alike * factor.result.value * pushed.value / 100
        given = (Quantity("m", point.alike), factor.result, pushed)
        force = Quantity("F", value, "force")
        steps = (factor, Step(f"{CLAUSE}(4)", f"F = m {FACTOR} N_Ed / 100", given, force))
        unchecked = ("stiffness of the prop",)
        return Demand(value, None, steps, (), stretched(SYSTEMS, point), unchecked=unchecked)


def _factor_step(point: HeldPoint) -> Step:
    result = Quantity(FACTOR, reduction(point.alike))
    return Step(CLAUSE, f"{FACTOR} = √(0.5 (1 + 1/m))", (Quantity("m", point.alike),), result)


def _bow_steps(point: HeldPoint) -> tuple[Step, Step]:
    factor = _factor_step(point)
    given = (factor.result, Quantity("L", point.span, "length"))
    bow = Quantity("e_0", initial_bow(point.alike, point.span), "length")
    return factor, Step(f"{CLAUSE} (5.12)", f"e_0 = {FACTOR} L / 500", given, bow)
