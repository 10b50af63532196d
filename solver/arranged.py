"""A travel whose loads are arranged at every position as is worst for one row."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from solver.adverse import largest_family
from solver.placement import Arrangement, Standing, joint_loads, place_train, second_front
from solver.travel import Travel, merged

Array = NDArray[np.float64]
INNER = np.array([1.0, 3.0, 5.0]) / 6
"""Where a piece is looked at, as shares of its width: nothing jumps inside, so three places fix a square."""


def arrange_travel(travel: Travel, arrangement: Arrangement, factor: float) -> Travel:
    """Return the travel with its loads arranged, all of them in the weights: axles, lane, second train.

    `factor` is that of the combination: where it is negative what relieves and what is adverse change
    places. Breaks are also where something arranged comes to a turn of the row's sign.
    """
    turned = 1.0 if factor >= 0 else -1.0
    line = turned * arrangement.sign * arrangement.influence[travel.chord.name]
    family = largest_family(travel, line[None, :])
    breaks = merged(np.append(np.asarray(family.breaks).ravel(), travel.breaks))
    widths = np.diff(breaks)

    def placed(position: float) -> Array:
        standing = Standing(travel.direction, position, travel.number, None, arrangement)
        return turned * joint_loads(
            travel.chord, place_train(travel.crossing, travel.chord, standing, turned)
        )

    seen = breaks[:-1, None] + INNER * widths[:, None]
    loads = np.array([[placed(float(s)) for s in row] for row in seen]).reshape(len(widths), 3, -1)
    # The square through three values of a piece, in powers of the distance past its start.
    powers = np.linalg.inv(np.vander(INNER, 3, increasing=True))
    weights = np.einsum("kv,pvj->kjp", powers, loads) / widths ** np.arange(3)[:, None, None]
    at = np.zeros((len(travel.chord.joints), len(travel.jumps)))
    for column, jump in enumerate(travel.jumps):
        at[:, column] = placed(float(jump))
    return replace(travel, breaks=breaks, weights=weights, at=at, loaded=np.ones(len(widths), dtype=bool))


def seconds_along(travel: Travel, arrangement: Arrangement, factor: float) -> tuple[Array, Array]:
    """Return where the second train's front is as each piece starts [m] and how it moves, (b - 1,) each.

    It goes with the first (1) or waits (0); infinite where there is none. `travel` is an arranged one.
    """
    turned = 1.0 if factor >= 0 else -1.0
    fronts = np.full((2, len(travel.breaks) - 1), np.inf)
    if travel.train.second is None:
        return fronts[0], np.zeros_like(fronts[0])
    widths = np.diff(travel.breaks)
    for place, share in enumerate((1 / 3, 2 / 3)):
        for piece, position in enumerate(travel.breaks[:-1] + share * widths):
            standing = Standing(travel.direction, float(position), travel.number, None, arrangement)
            front = second_front(travel.crossing, travel.chord, standing, turned)
            fronts[place, piece] = np.inf if front is None else front
    there = np.isfinite(fronts).all(axis=0)
    moves, starts = np.zeros(len(widths)), np.full(len(widths), np.inf)
    moves[there] = np.round(3 * (fronts[1, there] - fronts[0, there]) / widths[there])
    starts[there] = fronts[0, there] - moves[there] * widths[there] / 3
    return starts, moves
