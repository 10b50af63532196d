"""Influence lines along a chord: straight between ordinates; their areas, turns of sign and stretches.

A unit load between two joints answers by the lever rule, so the line through the ordinates at the joints
is exact. Nothing here knows what the rows are.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solver.tolerances import NOISE

Array = NDArray[np.float64]


def tidy_ordinates(ordinates: Array) -> Array:
    """Return ordinates (rows, joints) with computed true zeros as 0, so that roundings turn no sign."""
    scale = np.abs(ordinates).max(initial=0.0)
    return np.where(np.abs(ordinates) <= NOISE * scale, 0.0, ordinates)


def signed_areas(positions: Array, ordinates: Array) -> tuple[Array, Array]:
    """Return the areas below and above zero of each row, (rows,) each: at most 0, at least 0.

    Over a panel of length h whose ordinates p > 0 > n differ in sign the parts are triangles,
    h p^2 / 2(p - n) and h n^2 / 2(p - n).
    """
    panels = _panel_areas(positions, ordinates)
    return -_panel_areas(positions, -ordinates).sum(axis=1), panels.sum(axis=1)


def areas_above(positions: Array, ordinates: Array) -> Array:
    """Return the area above zero from the first joint to each, (rows, joints)."""
    panels = _panel_areas(positions, ordinates)
    return np.concatenate([np.zeros((len(ordinates), 1)), np.cumsum(panels, axis=1)], axis=1)


def areas_under(positions: Array, ordinates: Array) -> Array:
    """Return the area, with its sign, from the first joint to each, (rows, joints)."""
    panels = (ordinates[:, :-1] + ordinates[:, 1:]) / 2 * np.diff(positions)
    return np.concatenate([np.zeros((len(ordinates), 1)), np.cumsum(panels, axis=1)], axis=1)


def turns(positions: Array, ordinates: Array) -> Array:
    """Return where each row turns its sign inside a panel, (rows, most turns), NaN where a row has fewer."""
    left, right = ordinates[:, :-1], ordinates[:, 1:]
    turning = left * right < 0
    step = np.where(turning, left - right, 1.0)
    places = positions[:-1] + np.diff(positions) * left / step
    places = np.sort(np.where(turning, places, np.nan), axis=1)
    return places[:, : int(turning.sum(axis=1).max(initial=0))]


def stretches_above(positions: Array, ordinates: Array) -> list[tuple[float, float]]:
    """Return where the line through `ordinates` (joints,) lies above zero, as (from, to) in order."""
    found: list[tuple[float, float]] = []
    for panel in range(len(positions) - 1):
        one, other = float(ordinates[panel]), float(ordinates[panel + 1])
        start, end = float(positions[panel]), float(positions[panel + 1])
        if max(one, other) <= 0:
            continue
        if min(one, other) < 0:
            turn = start + (end - start) * one / (one - other)
            start, end = (start, turn) if one > 0 else (turn, end)
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _panel_areas(positions: Array, ordinates: Array) -> Array:
    """The area above zero over each panel, (rows, panels)."""
    left, right = ordinates[:, :-1], ordinates[:, 1:]
    top, low = np.maximum(left, right).clip(0.0), np.minimum(left, right)
    spread = np.where(low < 0, top - low, 1.0)
    height = np.where(low < 0, top * (top / np.where(spread > 0, spread, 1.0)), top + low)
    return np.asarray(height / 2 * np.diff(positions))
