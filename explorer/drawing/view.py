"""How a truss is seen: a plane truss as it is, a space truss from a direction; and how it fits a plate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Direction:
    """Where a space truss is seen from: degrees about the vertical, and degrees above the horizon."""

    azimuth: float = -62.0
    elevation: float = 14.0


@dataclass(frozen=True)
class Frame:
    """A plate of width x height [px]; a point at (right, up) [m] lies at left + scale x right, ..."""

    width: float
    height: float
    scale: float
    left: float
    base: float

    def place(self, points: Array) -> Array:
        """Return the pixels of points seen (n, 2) [m]; pixels count downwards."""
        return np.column_stack([self.left + self.scale * points[:, 0], self.base - self.scale * points[:, 1]])


@dataclass(frozen=True)
class Margins:
    """Room around a truss [px]."""

    left: float
    right: float
    top: float
    bottom: float


def look(points: Array, direction: Direction) -> Array:
    """Return points or vectors (n, 2 or 3) [m] as seen, (n, 2): to the right, upwards.

    A plane one is seen square on. In space it is a parallel projection, so what is parallel stays so.

    >>> look(np.array([[0.0, 0.0, 1.0]]), Direction(0.0, 0.0)).tolist()
    [[0.0, 1.0]]
    """
    if points.shape[1] == 2:
        return points
    return np.asarray(points @ axes_seen(direction).T)


def axes_seen(direction: Direction) -> Array:
    """Return the two unit vectors that lie to the right and upwards in the picture, (2, 3)."""
    around, above = np.radians([direction.azimuth, direction.elevation])
    right = [-np.sin(around), np.cos(around), 0.0]
    up = [-np.cos(around) * np.sin(above), -np.sin(around) * np.sin(above), np.cos(above)]
    return np.array([right, up])


def fit(seen: Array, width: float, height: float, margins: Margins) -> Frame:
    """Return the frame in which points seen (n, 2) [m] fill a plate inside its margins, centred."""
    low, high = seen.min(axis=0), seen.max(axis=0)
    size = np.maximum(high - low, 1e-9 * max(float((high - low).max()), 1e-12))
    room = np.array([width - margins.left - margins.right, height - margins.top - margins.bottom])
    scale = float((room / size).min())
    middle = (low + high) / 2
    left = margins.left + room[0] / 2 - scale * middle[0]
    base = margins.top + room[1] / 2 + scale * middle[1]
    return Frame(width, height, scale, float(left), float(base))
