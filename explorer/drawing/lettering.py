"""What is lettered on a truss: names at joints, and a value at each member, each with its possible places."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.labels import Label, Place, text_width
from solver.truss import Truss

Array = NDArray[np.float64]
LEVEL = 0.1
"""A bar that rises less than this per length counts as level."""

ALONG_BAR = (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73)


def letter_joints(truss: Truss, pixels: Array) -> list[Label]:
    """A label for each joint: on the side where no bar lies, above for upper joints and below for lower."""
    middle = (pixels[:, 1].min() + pixels[:, 1].max()) / 2
    supported = {support.joint for support in truss.supports}
    # One width for all, so that they thin out evenly: every second or third name, not the short ones.
    width = text_width(max(truss.joint_names, key=len))
    return [
        _letter_joint(width, index, bool(pixels[index, 1] < middle), index in supported, truss.dimension == 2)
        for index in range(len(truss.joint_names))
    ]


def _letter_joint(width: float, index: int, upper: bool, supported: bool, plane: bool) -> Label:
    aside = width / 2 + 8
    above, below = (0.0, -15.0), (0.0, 15.0)
    corners = [(-aside, -9.0), (aside, -9.0), (-aside, 9.0), (aside, 9.0)]
    sides = [(-aside - 3, 0.0), (aside + 3, 0.0)]
    farther = [(1.5 * right, 1.9 * down) for right, down in corners]
    if supported:
        order = [
            (-aside - 2, -11.0),
            (aside + 2, -11.0),
            above,
            *sides,
            (-aside - 14, 12.0),
            (aside + 14, 12.0),
            *farther,
        ]
    else:
        order = [above if upper else below, below if upper else above, *corners, *sides, *farther]
    places = tuple(Place(index, index, 0.0, right, down) for right, down in order)
    if not plane:
        return Label(width, places)
    return Label(width, places, preferred=2 if supported else 1)


def letter_members(truss: Truss, pixels: Array, width: float) -> list[Label]:
    """A label for each member: level bars along an edge outside of it, all others in a gap of their own."""
    low, high = pixels[:, 1].max(), pixels[:, 1].min()
    labels = []
    for index, (first, second) in enumerate(truss.ends):
        along = pixels[second] - pixels[first]
        level = abs(along[1]) <= LEVEL * max(abs(along[0]), 1e-9)
        height = float(pixels[[first, second], 1].mean())
        edge = 15.0 if abs(height - low) < 2 else -15.0 if abs(height - high) < 2 else 0.0
        if level and edge:
            labels.append(Label(width, (Place(int(first), int(second), 0.5, 0.0, edge),), bar=index))
            continue
        places = tuple(Place(int(first), int(second), share) for share in ALONG_BAR)
        labels.append(Label(width, places, bar=index, gap=True))
    return labels
