"""Torsional and flexural-torsional buckling of angles and of pairs of angles.

Legs are taken as two plain rectangles, without fillets: their torsion constant is up to a tenth below that
of the rolled angle and their shear centre lies where the centre lines of the legs meet. Warping is left out,
as for all sections whose walls meet in one line.

Source of the cubic: S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed., 1961, art. 5.6;
the same as AISC 360-22 (E4-4).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin, sqrt

import numpy as np

from solver.profiles.profile import Profile


@dataclass(frozen=True)
class Twist:
    """What twisting asks of a section, about its principal axes x and y.

    radii [m]: of bending about x and about y; offset [m]: of the shear centre from the centroid along x and
    along y; constant [m⁴]: of torsion, J.
    """

    radii: tuple[float, float]
    offset: tuple[float, float]
    constant: float
    area: float

    @property
    def polar(self) -> float:
        """Polar radius of gyration about the shear centre, squared [m²]."""
        return float(sum(r * r for r in self.radii) + sum(o * o for o in self.offset))

    @property
    def symmetric(self) -> bool:
        """Whether the shear centre lies on a principal axis."""
        return min(abs(offset) for offset in self.offset) < 1e-9 * sqrt(self.polar)

    @property
    def coupled(self) -> int:
        """Which bending couples with twist where there is an axis of symmetry: 0 about x, 1 about y."""
        along_x, along_y = (abs(offset) for offset in self.offset)
        return 0 if along_x > along_y else 1

    def torsional_stress(self, shear_modulus: float) -> float:
        """Elastic stress of pure torsional buckling, G J / (A r0²) [Pa]."""
        return shear_modulus * self.constant / (self.area * self.polar)

    def critical_stress(self, bending: tuple[float, float], torsional: float) -> float:
        """Lowest stress F at which bending and twist come together [Pa].

        bending [Pa]: elastic stresses of buckling about x and about y. With an axis of symmetry twist couples
        with one of them alone, and the other is a way to buckle of its own; else F is the lowest root of the
        cubic of all three. All roots are real.
        """
        about_x, about_y = (stress / torsional for stress in bending)
        along_x, along_y = (offset * offset / self.polar for offset in self.offset)
        if self.symmetric:
            coupled, share = ((about_x, along_x), (about_y, along_y))[self.coupled]
            return _lower(coupled, share) * torsional
        cubic = np.poly([about_x, about_y, 1.0])
        cubic -= along_x * np.array([1.0, -about_y, 0.0, 0.0])
        cubic -= along_y * np.array([1.0, -about_x, 0.0, 0.0])
        return float(np.min(np.roots(cubic).real)) * torsional


def legs(profile: Profile) -> tuple[float, float]:
    """Widths of the legs of one angle [m]: the one along the depth, the one across."""
    across = profile.width if profile.shape == "angle" else (profile.width - profile.gap) / 2
    return profile.depth, across


def twist(profile: Profile) -> Twist:
    """What twisting asks of an angle, or of two angles back to back that act as one."""
    return _of_pair(profile) if profile.shape == "paired angles" else _of_angle(profile)


def least_radius_of_legs(profile: Profile) -> float:
    """Least radius of gyration of one angle from its two rectangles [m]: up to 2 % above the rolled one."""
    depth, width, t = *legs(profile), profile.thickness
    spread_x, spread_y, mixed = _spreads(depth, width, t)
    least = (spread_x + spread_y) / 2 - hypot((spread_x - spread_y) / 2, mixed)
    return sqrt(least / ((depth + width - t) * t))


def euler_stress(modulus: float, slenderness: float) -> float:
    """Elastic stress of bending, π² E / (L/r)² [Pa]."""
    return pi**2 * modulus / slenderness**2


def _of_angle(profile: Profile) -> Twist:
    depth, width, t = *legs(profile), profile.thickness
    across, up = _centroid(depth, width, t)
    turn = _principal(depth, width, t)
    x, y = across - t / 2, up - t / 2
    along_minor = x * cos(turn) + y * sin(turn)
    along_major = -x * sin(turn) + y * cos(turn)
    least = profile.least_radius
    largest = hypot(profile.radius, profile.radius_across) ** 2 - least**2
    offset = (_or_zero(along_major, depth), _or_zero(along_minor, depth))
    return Twist((largest**0.5, least), offset, _torsion(depth, width, t), profile.area)


def _or_zero(offset: float, size: float) -> float:
    """An offset, or 0 where it is a rounding beside the size of the section: of equal legs it is 0."""
    return offset if abs(offset) > 1e-9 * size else 0.0


def _of_pair(profile: Profile) -> Twist:
    depth, width, t = *legs(profile), profile.thickness
    _, up = _centroid(depth, width, t)
    radii = (profile.radius, profile.radius_across)
    return Twist(radii, (0.0, up - t / 2), 2 * _torsion(depth, width, t), profile.area)


def _lower(bending: float, share: float) -> float:
    """Lower root of (F − bending) (F − 1) = share F², written so that no digits cancel."""
    total = bending + 1
    return 2 * bending / (total + sqrt(total * total - 4 * bending * (1 - share)))


def _torsion(depth: float, width: float, t: float) -> float:
    """J of one angle from the centre lines of its legs [m⁴]."""
    return (depth + width - t) * t**3 / 3


def _centroid(depth: float, width: float, t: float) -> tuple[float, float]:
    """Centroid of one angle from the corner of its heel, across and along the depth [m]."""
    upright, flat = depth * t, (width - t) * t
    area = upright + flat
    return (upright * t / 2 + flat * (width + t) / 2) / area, (upright * depth / 2 + flat * t / 2) / area


def _principal(depth: float, width: float, t: float) -> float:
    """Angle from the outstanding leg to the direction in which the angle spreads most [rad]."""
    spread_x, spread_y, mixed = _spreads(depth, width, t)
    return atan2(2 * mixed, spread_x - spread_y) / 2


def _spreads(depth: float, width: float, t: float) -> tuple[float, float, float]:
    """Second moments of one angle along the outstanding leg, along the depth, and the mixed one [m⁴]."""
    across, up = _centroid(depth, width, t)
    parts = (
        (t, depth, t / 2, depth / 2),  # the upright leg: breadth, height, its middle across and up
        (width - t, t, (width + t) / 2, t / 2),
    )
    spread_x = sum(b * h * (b * b / 12 + (x - across) ** 2) for b, h, x, _ in parts)
    spread_y = sum(b * h * (h * h / 12 + (y - up) ** 2) for b, h, _, y in parts)
    mixed = sum(b * h * (x - across) * (y - up) for b, h, x, y in parts)
    return spread_x, spread_y, mixed
