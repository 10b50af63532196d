"""Moments of plane areas, put together from rectangles and what lies between a corner and its rounding."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, pi


@dataclass(frozen=True)
class Moments:
    """Moments of an area about the axes through the origin; x lies across the truss, y in its plane.

    area [m²]; first_x: of x, first_y: of y [m³]; square_x: of x², square_y: of y², product: of xy [m⁴].

    >>> square = rectangle(2.0, 2.0).moved(3.0, 0.0)
    >>> square.centre, square.about_centre().product
    ((4.0, 1.0), 0.0)
    """

    area: float
    first_x: float
    first_y: float
    square_x: float
    square_y: float
    product: float

    def __add__(self, other: Moments) -> Moments:
        """Both areas together."""
        return Moments(*(a + b for a, b in zip(self._all, other._all, strict=True)))

    def __sub__(self, other: Moments) -> Moments:
        """This area without one that lies inside it."""
        return Moments(*(a - b for a, b in zip(self._all, other._all, strict=True)))

    @property
    def _all(self) -> tuple[float, ...]:
        return (self.area, self.first_x, self.first_y, self.square_x, self.square_y, self.product)

    @property
    def centre(self) -> tuple[float, float]:
        """Where the centroid lies: x, y [m]."""
        return self.first_x / self.area, self.first_y / self.area

    def moved(self, x: float, y: float) -> Moments:
        """The same area, farther along by x and y [m] (parallel axes)."""
        return Moments(
            self.area,
            self.first_x + x * self.area,
            self.first_y + y * self.area,
            self.square_x + 2 * x * self.first_x + x**2 * self.area,
            self.square_y + 2 * y * self.first_y + y**2 * self.area,
            self.product + x * self.first_y + y * self.first_x + x * y * self.area,
        )

    def turned_half(self) -> Moments:
        """The same area, turned by half a turn about the origin."""
        return Moments(self.area, -self.first_x, -self.first_y, self.square_x, self.square_y, self.product)

    def about_centre(self) -> Moments:
        """The moments about axes through the centroid."""
        x, y = self.centre
        return self.moved(-x, -y)

    @property
    def least(self) -> float:
        """The smaller principal second moment about the origin [m⁴] (Mohr's circle)."""
        mean, half = (self.square_x + self.square_y) / 2, (self.square_x - self.square_y) / 2
        return mean - hypot(half, self.product)


def rectangle(width: float, height: float) -> Moments:
    """A rectangle of width along x and height along y [m], one corner at the origin."""
    area = width * height
    return Moments(
        area,
        area * width / 2,
        area * height / 2,
        area * width**2 / 3,
        area * height**2 / 3,
        area**2 / 4,
    )


def spandrel(radius: float) -> Moments:
    """What lies between a square corner at the origin and the quarter circle [m] that rounds it.

    A square of side r less a quarter disc about (r, r): area (1 - π/4) r², of x (5/6 - π/4) r³,
    of x² (1 - 5π/16) r⁴, of xy (19/24 - π/4) r⁴.
    """
    first = (5 / 6 - pi / 4) * radius**3
    square = (1 - 5 * pi / 16) * radius**4
    return Moments((1 - pi / 4) * radius**2, first, first, square, square, (19 / 24 - pi / 4) * radius**4)
