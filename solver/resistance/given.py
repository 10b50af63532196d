"""Resistances given outright by the study; they win over computed ones."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.resistance.bar import Bar
from solver.resistance.directions import slenderness
from solver.resistance.standard import Standard
from solver.resistance.steps import Quantity, Step, Strength
from solver.truss import Group

AS_GIVEN = "as given: what it contains is not known here"
GIVES_LESS = "gives less for its section"
"""What is told of the standard where a resistance given outright is more."""


@dataclass(frozen=True)
class Given:
    """Design resistances [N] as a group states them; what it leaves open comes from `otherwise`, if any."""

    tension_given: float | None
    compression_given: float | None
    otherwise: Standard | None = None

    @property
    def name(self) -> str:
        """Where the resistances come from."""
        return "given with the group" + (f", else {self.otherwise.name}" if self.otherwise else "")

    def tension(self, bar: Bar) -> Strength:
        """Resistance in tension as given."""
        if self.tension_given is None and self.otherwise is not None:
            return self.otherwise.tension(bar)
        given = _strength(bar, self.tension_given, "tension")
        return (
            given if self.otherwise is None else _beside(given, self.otherwise, self.otherwise.tension(bar))
        )

    def compression(self, bar: Bar) -> Strength:
        """Resistance in compression as given."""
        if self.compression_given is None and self.otherwise is not None:
            return self.otherwise.compression(bar)
        given = _strength(bar, self.compression_given, "compression")
        if self.otherwise is None:
            return given
        return _beside(given, self.otherwise, self.otherwise.compression(bar))


def given_with(group: Group, otherwise: Standard | None = None) -> Given:
    """The resistances that `group` states."""
    return Given(group.tension, group.compression, otherwise)


def _beside(given: Strength, standard: Standard, computed: Strength) -> Strength:
    """What is given, and whether the standard gives less for the section as far as it is known."""
    if given.value is None or computed.value is None or computed.value >= given.value * (1 - 1e-9):
        return given
    less = f"{standard.name} {GIVES_LESS}: {computed.value / given.value:.2f} of it"
    return replace(given, unchecked=(*given.unchecked, less))


def _strength(bar: Bar, value: float | None, force: str) -> Strength:
    if value is None:
        return Strength(None, (), (f"no resistance in {force} given",), (), slenderness(bar))
    step = Step("given with the group", f"resistance in {force}", (), Quantity("N_R", value, "force"))
    return Strength(value, (step,), (), (AS_GIVEN,), slenderness(bar))
