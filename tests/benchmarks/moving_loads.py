"""Time moving loads on a long bridge, exact against sampled, best of several, alternately in one process.

The plain way samples every row at positions 1/100 of a panel apart, blocked numpy with the influence line
interpolated once for each load; strips and lanes are sampled from running sums of the line.
"""

from __future__ import annotations

from math import inf

import numpy as np

from solver.crossings import Crossing
from solver.demand import extremes, set_in_motion
from solver.response import Responses, respond
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import lay_ways
from solver.trains import Axle, Lane, Strip, Train
from tests.benchmarks.__main__ import GAPS, PANEL, PER_PANEL, long_bridge
from tests.benchmarks.timing import best

HEAVY = Train(
    "heavy",
    tuple(Axle(float(d), 1e5 + 1e3 * k) for k, d in enumerate(np.cumsum([0.0, *GAPS]))),
    (Strip(sum(GAPS) + 1.6, inf, 8e4),),
)
RAIL = Train(
    "rail", tuple(Axle(1.6 * k, 2.5e5) for k in range(4)), (), Lane(8e4, (-0.8, 5.6)), relieving_left_out=True
)


def bridge(train: Train) -> Study:
    """The long bridge under one train alone, both ways."""
    study = long_bridge()
    crossing = Crossing("train", (train,), "deck", ("forward", "backward"))
    return Study(study.title, study.truss, study.chords, {}, {"train": crossing})


def exact(study: Study, influence: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Largest and smallest of every row: layout, polynomials, extremes."""
    low, high = np.zeros(len(influence)), np.zeros(len(influence))
    for way in lay_ways(study).travels:
        smallest, largest = extremes(set_in_motion(way, influence), np.ones(1))
        low, high = np.minimum(low, smallest[:, 0]), np.maximum(high, largest[:, 0])
    return low, high


def sampled(study: Study, influence: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The same, sampled at 1/100 panel."""
    chord, train = study.chords["deck"], study.crossings["train"].trains[0]
    low, high = np.zeros(len(influence)), np.zeros(len(influence))
    for backward in (False, True):
        lines = influence[:, ::-1] if backward else influence
        x = chord.length - chord.positions[::-1] if backward else chord.positions
        for block in range(0, len(lines), 40):
            part = slice(block, block + 40)
            one, other = sample_rows(train, x, lines[part])
            low[part], high[part] = np.minimum(low[part], one), np.maximum(high[part], other)
    return low, high


def sample_rows(train: Train, x: np.ndarray, lines: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Extremes of some rows under a train that travels forward, at steps of 1/100 panel."""
    step = float(PANEL) / PER_PANEL
    grid = np.arange(round(float(x[-1]) / step) + 1) * step
    fine = np.array([np.interp(grid, x, line) for line in lines])
    front = np.arange(int((x[-1] + train.last_load) / step) + 1) * step
    bounds = []
    for sign in (-1.0, 1.0):
        values = np.zeros((len(lines), len(front)))
        point = sign * fine
        point = point.clip(0.0) if train.relieving_left_out else point
        area = (
            np.concatenate([np.zeros((len(lines), 1)), np.cumsum(sign * fine[:, :-1], axis=1)], axis=1) * step
        )
        above = np.cumsum((sign * fine).clip(0.0), axis=1) * step
        for axle in train.axles:
            values += axle.load * at(point, (front - axle.distance) / step, outside=True)
        for strip in train.strips:
            behind = at(area, (front - strip.end) / step) if strip.end < inf else 0.0
            values += strip.load * (at(area, (front - strip.start) / step) - behind)
        free = 0.0
        if train.lane and train.lane.clear:
            near, far = train.lane.clear
            cleared = at(above, (front - near) / step) - at(above, (front - far) / step)
            free = train.lane.load * above[:, -1]
            values += free[:, None] - train.lane.load * cleared
        bounds.append(np.maximum(values.max(axis=1), free))
    return -bounds[0], bounds[1]


def at(values: np.ndarray, places: np.ndarray, outside: bool = False) -> np.ndarray:
    """Values at the nearest grid places; beyond the ends 0 (`outside`) or as at the ends."""
    index = np.round(places).astype(int)
    inside = np.clip(index, 0, values.shape[1] - 1)
    return np.where(inside == index, values[:, inside], 0.0) if outside else values[:, inside]


def main() -> None:
    """Print seconds, ratios and what sampling misses."""
    for train in (HEAVY, RAIL):
        study = bridge(train)
        responses: Responses = respond(study, Stiffness(study.truss))
        influence = responses.forces.influence["deck"]
        fast = best(lambda s=study, i=influence: exact(s, i), 9)  # type: ignore[misc]
        slow = best(lambda s=study, i=influence: sampled(s, i), 2)  # type: ignore[misc]
        fast = min(fast, best(lambda s=study, i=influence: exact(s, i), 9))  # type: ignore[misc]
        found, seen = exact(study, influence), sampled(study, influence)
        size = np.abs(found[1]).max()
        print(f"{train.name}: {len(influence)} members, 100 panels, both ways")
        times = f"exact {fast * 1e3:.0f} ms, sampled at 1/{PER_PANEL} panel {slow * 1e3:.0f} ms"
        print(f"  {times}: {slow / fast:.1f} times")
        print(
            f"  largest peak missed by sampling: {np.max(found[1] - seen[1]) / size:.1e} of the largest force"
        )
        over = np.max(seen[1] - found[1]) / size
        print(f"  sampling, whose areas are those of its grid, is over by at most: {over:.1e}")


if __name__ == "__main__":
    main()
