"""What a standard is told of a member."""

from __future__ import annotations

from dataclasses import dataclass

from solver.profiles.profile import Profile
from solver.resistance.twisting import legs
from solver.truss import End, Fixing, Material, Section


@dataclass(frozen=True)
class Bar:
    """A member for a standard: section, material, unbraced lengths [m].

    length: between its joints; in_plane, across: unbraced in the plane of the truss and out of it; across is
    None where nothing is known of it. profile: None for a section of which only area, I or r are given.
    net_area [m²] at its connection, shear_lag (U, or its cousin): None where not given. space: a member of a
    space truss. web: not a chord. connector_spacing [m], connector_fixing: of what joins two angles back to
    back; None where not given.
    """

    section: Section
    material: Material
    length: float
    in_plane: float
    across: float | None
    profile: Profile | None = None
    net_area: float | None = None
    shear_lag: float | None = None
    connected: End = "both legs"
    web: bool = False
    space: bool = False
    connector_spacing: float | None = None
    connector_fixing: Fixing = "snug"

    @property
    def one_legged(self) -> bool:
        """Whether it is a single angle joined by one leg."""
        return self.single_angle and self.connected != "both legs"

    @property
    def single_angle(self) -> bool:
        """Whether it is one angle alone."""
        return self.profile is not None and self.profile.shape == "angle"

    @property
    def joined_by(self) -> str:
        """How an angle is connected, in words: where its legs are equal neither is the long one."""
        if self.connected == "both legs" or self.profile is None:
            return self.connected
        long, short = max(legs(self.profile)), min(legs(self.profile))
        return self.connected if long > short * (1 + 1e-9) else "one leg"
