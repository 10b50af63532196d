"""What a standard is: a name, and resistances in tension and in compression."""

from __future__ import annotations

from typing import Protocol

from solver.resistance.bar import Bar
from solver.resistance.steps import Strength


class Standard(Protocol):
    """A standard's rules for members that bear an axial force alone."""

    @property
    def name(self) -> str:
        """Its name with edition, and of several methods which."""
        ...

    def tension(self, bar: Bar) -> Strength:
        """Design resistance in tension."""
        ...

    def compression(self, bar: Bar) -> Strength:
        """Design resistance in compression, the least over in plane, out of plane and the weakest axis."""
        ...
