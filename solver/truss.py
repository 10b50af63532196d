"""A pin-jointed truss: joints, members, supports and pieces, plane or space."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.errors import InputError
from solver.profiles.profile import Profile

ExactVector = tuple[Fraction, ...]
AXES = "xyz"


@dataclass(frozen=True)
class Material:
    """What members are made of: modulus, strengths [Pa], weight [N/m³], expansion [1/K]."""

    name: str
    elastic_modulus: float
    yield_strength: float | None = None
    ultimate_strength: float | None = None
    unit_weight: float | None = None
    expansion: float | None = None


@dataclass(frozen=True)
class Section:
    """A member's cross section: area [m²], second moment [m⁴], radius of gyration [m].

    profile: what it is in a table of sections; None where only these numbers are given. depth [m]: of one
    without a profile in the plane of the truss, None where not told.
    """

    name: str
    area: float
    second_moment: float | None = None
    radius: float | None = None
    profile: Profile | None = None
    depth: float | None = None


End = Literal["both legs", "long leg", "short leg"]
"""How an angle is connected: by both legs (or along its axis), or by one; of equal legs by either."""

Fixing = Literal["snug", "welded"]
"""How connectors hold two angles together: by bolts that are snug-tight; welded, or by pretensioned bolts."""


@dataclass(frozen=True)
class Making:
    """What resistance rules ask of a group beyond section and material.

    net_area [m²] at the connections, shear_lag (U, or what a standard has for it): None where not given.
    effective: buckling length over unbraced length, in the plane of the truss and out of it. family: name of
    the sections that a lighter one is chosen from. connector_spacing [m]: between whatever joins two angles
    back to back, None where not given; connector_fixing: how they are joined there. secondary: bracing or the
    like, of which codes recommend another slenderness.
    """

    net_area: float | None = None
    shear_lag: float | None = None
    connected: End = "both legs"
    effective: tuple[float, float] = (1.0, 1.0)
    family: str | None = None
    connector_spacing: float | None = None
    connector_fixing: Fixing = "snug"
    secondary: bool = False


@dataclass(frozen=True)
class Group:
    """Members of one section and material; resistances [N] where given outright, duties in words."""

    name: str
    section: Section
    material: Material
    tension: float | None = None
    compression: float | None = None
    duties: tuple[str, ...] = ()
    making: Making = Making()


@dataclass(frozen=True)
class Member:
    """A straight bar between two joints (their indices), pinned at both."""

    name: str
    first: int
    second: int
    group: Group


@dataclass(frozen=True)
class Support:
    """A joint (its index) held along `directions` (exact vectors); `labels` as the study writes them."""

    joint: int
    directions: tuple[ExactVector, ...]
    labels: tuple[str, ...]


@dataclass(frozen=True)
class Piece:
    """Members in line that pass through their joints as one; `lateral_props` hold it out of plane."""

    name: str
    joints: tuple[int, ...]
    lateral_props: tuple[int, ...] | None = None


@dataclass(frozen=True)
class Truss:
    """Joints at exact coordinates [m] (decimals as written; the last axis points up), members, supports."""

    joint_names: tuple[str, ...]
    coordinates: tuple[ExactVector, ...]
    members: tuple[Member, ...]
    supports: tuple[Support, ...]
    pieces: tuple[Piece, ...] = ()

    @property
    def dimension(self) -> int:
        """2 for a plane truss, 3 for a space truss."""
        return len(self.coordinates[0])

    @property
    def freedoms(self) -> int:
        """Number of joint coordinates that can move, supports not yet counted: joints x dimension."""
        return len(self.joint_names) * self.dimension

    @property
    def held(self) -> int:
        """Number of held directions over all supports."""
        return sum(len(support.directions) for support in self.supports)

    @cached_property
    def exact_vectors(self) -> tuple[ExactVector, ...]:
        """From each member's first joint to its second [m], exact."""
        x = self.coordinates
        return tuple(tuple(b - a for a, b in zip(x[m.first], x[m.second], strict=True)) for m in self.members)

    @cached_property
    def joint_coordinates(self) -> NDArray[np.float64]:
        """Joint coordinates x, (joints, 2 or 3) [m]."""
        return _frozen([[float(c) for c in point] for point in self.coordinates], (-1, self.dimension))

    @cached_property
    def ends(self) -> NDArray[np.int64]:
        """Indices of first and second joint, (members, 2)."""
        ends = np.array([[m.first, m.second] for m in self.members], dtype=np.int64).reshape(-1, 2)
        ends.setflags(write=False)
        return ends

    @cached_property
    def lengths(self) -> NDArray[np.float64]:
        """Member lengths L, (members,) [m], from exact differences so that a far origin costs no digits."""
        return _frozen([np.hypot.reduce([float(c) for c in v]) for v in self.exact_vectors], (-1,))

    @cached_property
    def directions(self) -> NDArray[np.float64]:
        """Unit vectors from first to second joint, (members, 2 or 3)."""
        vectors = np.array([[float(c) for c in v] for v in self.exact_vectors])
        return _frozen(vectors.reshape(-1, self.dimension) / self.lengths[:, None], (-1, self.dimension))

    @cached_property
    def axial_stiffness(self) -> NDArray[np.float64]:
        """k = EA/L, (members,) [N/m]."""
        rigidity = [m.group.material.elastic_modulus * m.group.section.area for m in self.members]
        return _frozen(np.array(rigidity) / self.lengths, (-1,))

    @cached_property
    def weights(self) -> NDArray[np.float64]:
        """Own weight of each member, (members,) [N]; not a number where no unit weight is given."""
        per_volume = [m.group.material.unit_weight for m in self.members]
        areas = np.array([m.group.section.area for m in self.members])
        weights = np.array([np.nan if w is None else w for w in per_volume]) * areas * self.lengths
        return _frozen(weights, (-1,))

    @cached_property
    def members_at(self) -> tuple[tuple[int, ...], ...]:
        """Indices of the members at each joint, in the file's order."""
        at: list[list[int]] = [[] for _ in self.joint_names]
        for index, member in enumerate(self.members):
            at[member.first].append(index)
            at[member.second].append(index)
        return tuple(tuple(members) for members in at)

    @cached_property
    def span(self) -> float:
        """The longest side of the box around the joints [m]."""
        return float(np.ptp(self.joint_coordinates, axis=0).max())

    def joint_index(self, name: str) -> int:
        """Return the index of joint `name`; raises InputError where there is none."""
        try:
            return self._joint_indices[name]
        except KeyError:
            raise InputError(f"there is no joint {name}", [name]) from None

    def member_index(self, name: str) -> int:
        """Return the index of member `name`, its joints in either order; raises InputError."""
        first, _, second = name.partition("-")
        for candidate in (name, f"{second}-{first}"):
            if candidate in self._member_indices:
                return self._member_indices[candidate]
        raise InputError(f"there is no member {name}", [name])

    @cached_property
    def _joint_indices(self) -> dict[str, int]:
        return {name: index for index, name in enumerate(self.joint_names)}

    @cached_property
    def _member_indices(self) -> dict[str, int]:
        return {member.name: index for index, member in enumerate(self.members)}


def _frozen(values: object, shape: tuple[int, ...]) -> NDArray[np.float64]:
    array = np.array(values, dtype=float).reshape(shape)
    array.setflags(write=False)
    return array
