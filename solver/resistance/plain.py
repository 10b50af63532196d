"""A plain rule: a limit of stress, and Euler's load, each with a factor of the user's own."""

from __future__ import annotations

from dataclasses import dataclass

from solver.resistance.bar import Bar
from solver.resistance.directions import NO_RADIUS, NO_YIELD, directions, slenderness, untold
from solver.resistance.modes import Mode, order
from solver.resistance.steps import Quantity, Step, Strength
from solver.resistance.twisting import euler_stress

NOT_A_STANDARD = "no standard: net section, walls, twist and imperfections not checked"


@dataclass(frozen=True)
class Plain:
    """Stress up to `stress_share` f_y, compression up to `euler_share` of Euler's load, as the user chooses.

    Euler's load is an upper bound: a bar that is not perfectly straight bears less. For any material.
    """

    stress_share: float = 1.0
    euler_share: float = 1.0

    @property
    def name(self) -> str:
        """What is done, with the factors."""
        return f"stress limit {self.stress_share:g} f_y, Euler's load times {self.euler_share:g}"

    def tension(self, bar: Bar) -> Strength:
        """Area times the limit of stress."""
        if bar.material.yield_strength is None:
            return Strength(None, (), (NO_YIELD,))
        step = self._yielding(bar, bar.material.yield_strength)
        return Strength(step.result.value, (step,), (), (NOT_A_STANDARD,), slenderness(bar))

    def compression(self, bar: Bar) -> Strength:
        """The smaller of the limit of stress and Euler's load, over all known directions."""
        strength, ways = bar.material.yield_strength, directions(bar)
        reasons = (*((NO_YIELD,) if strength is None else ()), *(() if ways else (NO_RADIUS,)))
        if strength is None or not ways:
            return Strength(None, (), reasons)
        modes = order([self._bending(bar, way.name, way.length, way.radius) for way in ways])
        weakest = modes[-1]
        squash, euler = self._yielding(bar, strength), weakest.steps[-1]
        steps = [squash, *(step for mode in modes for step in mode.steps)]
        value = min(squash.result.value, euler.result.value)
        unchecked = (NOT_A_STANDARD, *untold(bar))
        return Strength(value, tuple(steps), (), unchecked, weakest.slenderness)

    def _yielding(self, bar: Bar, strength: float) -> Step:
        share, area = Quantity("k", self.stress_share), Quantity("A", bar.section.area, "area")
        stress = Quantity("f_y", strength, "stress")
        result = Quantity("N", share.value * area.value * stress.value, "force")
        return Step("stress limit", "N = k A f_y", (share, area, stress), result)

    def _bending(self, bar: Bar, name: str, length: float, radius: float) -> Mode:
        ratio = Quantity("L / r", length / radius)
        modulus, area = bar.material.elastic_modulus, bar.section.area
        stress = euler_stress(modulus, ratio.value)
        share = Quantity("k_E", self.euler_share)
        given = (share, Quantity("E", modulus, "stress"), Quantity("A", area, "area"), ratio)
        load = Quantity("N_E", share.value * stress * area, "force")
        sizes = (Quantity("L", length, "length"), Quantity("r", radius, "radius"))
        steps = (
            Step("Euler", "L / r", sizes, ratio, name),
            Step("Euler", "N_E = k_E π² E A / (L / r)²", given, load, name),
        )
        return Mode(name, stress, ratio.value, steps)
