"""Clearance: whether something will come in the way of a label, now or at any nearer zoom.

A label keeps its size and its offset from the point it hangs on, while everything else moves away from
that point as one zooms in. So a segment meets the label at this or some nearer zoom exactly where the
region that the segment sweeps, going outwards from that point, meets the label's box. Both are convex:
they are apart exactly where some axis tells them apart (separating axes, common practice).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Surroundings:
    """Joints (n, 2) [px] and bars (m, 2) at one zoom, sorted by x, so that only near ones are looked at."""

    joints: Array
    ends: NDArray[np.int64]
    order: NDArray[np.int64]
    lefts: Array
    widest: float
    lows: Array
    highs: Array
    sorted_x: Array
    by_x: NDArray[np.int64]

    def bars_near(self, point: Array, reach: Array) -> NDArray[np.int64]:
        """Bars (indices) whose box comes within `reach` (2,) of a point."""
        start, end = np.searchsorted(self.lefts, [point[0] - reach[0] - self.widest, point[0] + reach[0]])
        bars = self.order[start:end]
        beside = (self.highs[bars] > point - reach).all(axis=1) & (self.lows[bars] < point + reach).all(
            axis=1
        )
        return bars[beside]

    def joints_near(self, point: Array, reach: Array) -> Array:
        """Joints (n, 2) within `reach` (2,) of a point."""
        start, end = np.searchsorted(self.sorted_x, [point[0] - reach[0], point[0] + reach[0]])
        joints = self.joints[self.by_x[start:end]]
        return np.asarray(joints[np.abs(joints[:, 1] - point[1]) < reach[1]])


def surround(joints: Array, ends: NDArray[np.int64]) -> Surroundings:
    """Sort joints and bars by where they lie."""
    bars = joints[ends]
    lows, highs = bars.min(axis=1), bars.max(axis=1)
    order = np.argsort(lows[:, 0], kind="stable")
    by_x = np.argsort(joints[:, 0], kind="stable")
    widest = float((highs[:, 0] - lows[:, 0]).max(initial=0.0))
    return Surroundings(
        joints=joints,
        ends=ends,
        order=order,
        lefts=lows[order, 0],
        widest=widest,
        lows=lows,
        highs=highs,
        sorted_x=joints[by_x, 0],
        by_x=by_x,
    )


def meets(first: Array, second: Array, middle: Array, half: Array) -> NDArray[np.bool_]:
    """Tell which segments meet a box at this zoom or any nearer one.

    first, second (n, 2): their ends [px], seen from the point that the box hangs on, from which they go
    away as one zooms in; middle, half (2,) or (n, 2): the box's middle and half sizes, which stay.

    >>> meets(np.array([[9.0, -5.0]]), np.array([[9.0, 5.0]]), np.array([15.0, 0.0]), np.array([4.0, 4.0]))
    array([ True])
    >>> meets(np.array([[-9.0, -5.0]]), np.array([[-9.0, 5.0]]), np.array([15.0, 0.0]), np.array([4.0, 4.0]))
    array([False])
    """
    (px, py), (qx, qy) = first.T, second.T
    (mx, my), (hx, hy) = np.asarray(middle).T, np.asarray(half).T
    dx, dy = qx - px, qy - py
    # Twice the area between the two rays: what both ends are seen at along each oblique axis.
    area = px * qy - py * qx
    nothing = np.zeros(len(area))
    apart = _tell_apart((px, qx), mx, hx)
    apart |= _tell_apart((py, qy), my, hy)
    apart |= _tell_apart((-area, -area), dx * my - dy * mx, abs(dy) * hx + abs(dx) * hy)
    apart |= _tell_apart((nothing, area), px * my - py * mx, abs(py) * hx + abs(px) * hy)
    apart |= _tell_apart((-area, nothing), qx * my - qy * mx, abs(qy) * hx + abs(qx) * hy)
    return np.asarray(~apart)


def _tell_apart(ends: tuple[Array, Array], middle: Array, reach: Array) -> NDArray[np.bool_]:
    """Whether an axis tells swept segments and boxes apart; ends: where it sees the segments' ends."""
    low, high = np.minimum(*ends), np.maximum(*ends)
    # Rounding must not make a bar that hangs on the very point turn a hair to either side.
    noise = 1e-9 * (1 + np.maximum(abs(low), abs(high)))
    beyond = (low >= -noise) & (low > middle + reach)
    return np.asarray(beyond | ((high <= noise) & (high < middle - reach)))
