"""Members for tests of resistance, built from dimensions by hand."""

from __future__ import annotations

from math import pi
from typing import Any

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.truss import Material, Section

INCH = 0.0254
KIP = 4448.2216152605
KSI = KIP / INCH**2


def steel(yield_strength: float | None, ultimate: float | None = None, modulus: float = 210e9) -> Material:
    return Material("steel", modulus, yield_strength, ultimate)


def us_steel(yield_ksi: float, ultimate_ksi: float | None = None) -> Material:
    return steel(yield_ksi * KSI, None if ultimate_ksi is None else ultimate_ksi * KSI, 29000 * KSI)


def plain_bar(area: float, radius: float, material: Material, length: float, **more: Any) -> Bar:
    """A section of which area [m²] and radius [m] alone are known, with one unbraced length [m]."""
    given = {"length": length, "in_plane": length, "across": length} | more
    return Bar(Section("plain", area, radius=radius), material, **given)


def shaped(profile: Profile, material: Material, length: float, **more: Any) -> Bar:
    given = {"length": length, "in_plane": length, "across": length} | more
    return Bar(Section(profile.size, profile.area), material, profile=profile, **given)


def tube(diameter: float, t: float, making: str = "hot finished") -> Profile:
    """A round hollow section by its dimensions [m]."""
    inner = diameter - 2 * t
    area, second = pi / 4 * (diameter**2 - inner**2), pi / 64 * (diameter**4 - inner**4)
    sizes = {"depth": diameter, "width": diameter, "thickness": t, "area": area}
    return _profile("tube", "round hollow", making, sizes, (second, second, second))


def box(depth: float, width: float, t: float, making: str = "hot finished") -> Profile:
    """A rectangular hollow section with sharp corners, by its dimensions [m]."""
    d, w = depth - 2 * t, width - 2 * t
    inner = (width * depth**3 - w * d**3) / 12
    across = (depth * width**3 - d * w**3) / 12
    sizes = {"depth": depth, "width": width, "thickness": t, "area": depth * width - d * w}
    return _profile("box", "rectangular hollow", making, sizes, (inner, across, min(inner, across)))


def rod(diameter: float) -> Profile:
    second = pi / 64 * diameter**4
    sizes = {"depth": diameter, "width": diameter, "thickness": diameter, "area": pi / 4 * diameter**2}
    return _profile("rod", "rod", "rolled", sizes, (second, second, second))


def angle(depth: float, width: float, t: float) -> Profile:
    """An angle of two plain rectangles, by its dimensions [m]."""
    area, inner, across, mixed = _two_rectangles(depth, width, t)
    middle, apart = (inner + across) / 2, ((inner - across) ** 2 / 4 + mixed**2) ** 0.5
    sizes = {"depth": depth, "width": width, "thickness": t, "area": area}
    return _profile("angle", "angle", "rolled", sizes, (inner, across, middle - apart))


def pair(depth: float, width: float, t: float, gap: float) -> Profile:
    """Two such angles back to back, their legs of `depth` either side of a gap [m]."""
    area, inner, across, _ = _two_rectangles(depth, width, t)
    out = (depth * t * t / 2 + (width - t) * t * (width + t) / 2) / area
    together = 2 * (across + area * (out + gap / 2) ** 2)
    sizes = {"depth": depth, "width": 2 * width + gap, "thickness": t, "area": 2 * area, "gap": gap}
    return _profile("pair", "paired angles", "rolled", sizes, (2 * inner, together, min(2 * inner, together)))


def _two_rectangles(depth: float, width: float, t: float) -> tuple[float, float, float, float]:
    """Area, second moments of bending in the plane of `depth` and across it, and the mixed one."""
    upright, flat = depth * t, (width - t) * t
    area = upright + flat
    out = (upright * t / 2 + flat * (width + t) / 2) / area
    up = (upright * depth / 2 + flat * t / 2) / area
    inner = t * depth**3 / 12 + upright * (depth / 2 - up) ** 2
    inner += (width - t) * t**3 / 12 + flat * (t / 2 - up) ** 2
    across = depth * t**3 / 12 + upright * (t / 2 - out) ** 2
    across += t * (width - t) ** 3 / 12 + flat * ((width + t) / 2 - out) ** 2
    mixed = upright * (t / 2 - out) * (depth / 2 - up) + flat * ((width + t) / 2 - out) * (t / 2 - up)
    return area, inner, across, mixed


def _profile(size: str, shape: Any, making: Any, sizes: dict[str, float], seconds: Any) -> Profile:
    inner, across, least = seconds
    return Profile(size, "by hand", shape, making, second_moment=inner, across=across, least=least, **sizes)
