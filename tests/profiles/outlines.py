"""Outlines as fine polygons, integrated by Green's theorem: nothing here knows how profiles are made."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
STEPS = 400
"""Segments of a quarter circle: its area is then off by a few parts in a million."""


@dataclass(frozen=True)
class Properties:
    """Area, centroid and second moments about axes through it: in_plane ∫y², across ∫x², product ∫xy."""

    area: float
    centre: tuple[float, float]
    in_plane: float
    across: float
    product: float

    @property
    def principal(self) -> tuple[float, float]:
        """Least and greatest, as eigenvalues."""
        tensor = np.array([[self.in_plane, -self.product], [-self.product, self.across]])
        least, greatest = np.linalg.eigvalsh(tensor)
        return float(least), float(greatest)


def arc(centre: tuple[float, float], radius: float, start: float, turn: float) -> Array:
    """Points of an arc [degrees] about a centre."""
    angles = np.radians(np.linspace(start, start + turn, STEPS + 1))
    return np.asarray(centre) + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)


def rounded(width: float, depth: float, radius: float) -> Array:
    """A rectangle about the origin with rounded corners, anticlockwise."""
    x, y = width / 2 - radius, depth / 2 - radius
    places = (((x, y), 0.0), ((-x, y), 90.0), ((-x, -y), 180.0), ((x, -y), 270.0))
    return np.concatenate([arc(centre, radius, start, 90.0) for centre, start in places])


def angle(depth: float, width: float, thickness: float, root: float) -> Array:
    """An angle with its heel at the origin, toes rounded inside by half the root radius, anticlockwise."""
    toe = root / 2
    return np.concatenate(
        [
            np.array([[0.0, 0.0], [width, 0.0]]),
            arc((width - toe, thickness - toe), toe, 0.0, 90.0),
            arc((thickness + root, thickness + root), root, 270.0, -90.0),
            arc((thickness - toe, depth - toe), toe, 0.0, 90.0),
            np.array([[0.0, depth]]),
        ]
    )


def mirrored(outline: Array, gap: float) -> Array:
    """The outline on the other side of a gap along y, its back at -gap/2, anticlockwise again."""
    return (outline * [-1.0, 1.0] - [gap / 2, 0.0])[::-1]


def integrate(*outlines: Array) -> Properties:
    """Properties of outlines together; a clockwise one is a hole."""
    total = np.sum([_about_origin(outline) for outline in outlines], axis=0)
    area, first_x, first_y, square_x, square_y, product = total
    x, y = first_x / area, first_y / area
    return Properties(area, (x, y), square_y - area * y * y, square_x - area * x * x, product - area * x * y)


def _about_origin(points: Array) -> Array:
    x, y = points.T
    u, v = np.roll(points, -1, axis=0).T
    cross = x * v - u * y
    return np.array(
        [
            cross.sum() / 2,
            (cross * (x + u)).sum() / 6,
            (cross * (y + v)).sum() / 6,
            (cross * (x * x + x * u + u * u)).sum() / 12,
            (cross * (y * y + y * v + v * v)).sum() / 12,
            (cross * (x * v + 2 * x * y + 2 * u * v + u * y)).sum() / 24,
        ]
    )
