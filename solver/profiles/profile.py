"""A profile: a bar of a table of sections, with what resistance rules ask of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Shape = Literal["round hollow", "rectangular hollow", "angle", "paired angles", "rod", "flat"]
Making = Literal["hot finished", "cold formed", "rolled"]


@dataclass(frozen=True)
class Profile:
    """A profile as it stands in the truss: `depth` lies in the plane of the truss, `width` across it.

    Lengths [m], area [m²], second moments [m⁴]. second_moment: of bending in the plane of the truss;
    across: of bending out of it; least: about the weakest axis, whichever way that lies. Of paired angles
    thickness and depth are those of one angle, `gap` is the distance between their backs, and radius_of_one
    the least radius of gyration of one angle, 0 where not told. stored: names of properties taken from print,
    not computed from dimensions.
    """

    size: str
    table: str
    shape: Shape
    making: Making
    depth: float
    width: float
    thickness: float
    area: float
    second_moment: float
    across: float
    least: float
    gap: float = 0.0
    stored: tuple[str, ...] = ()
    radius_of_one: float = 0.0

    @property
    def radius(self) -> float:
        """Radius of gyration of bending in the plane of the truss [m]."""
        return float((self.second_moment / self.area) ** 0.5)

    @property
    def radius_across(self) -> float:
        """Radius of gyration of bending out of the plane of the truss [m]."""
        return float((self.across / self.area) ** 0.5)

    @property
    def least_radius(self) -> float:
        """Radius of gyration about the weakest axis [m]."""
        return float((self.least / self.area) ** 0.5)
