"""A train's passage over a chord, placed plainly: at every thousandth of a panel and at every event.

An event is an axle over a joint. There three states count: just before, at that very position, and just
after; an axle over an end joint is on the chord in one of the outer two only, and in the middle one. Between
two events every answer is a straight line, so what the outer states say holds for all of the stretch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.crossings import Crossing
from solver.study import Study
from tests.plain.direct import floats, plan_positions

SAME = 1e-11
"""Positions nearer than this share of the travel are one: decimals that meet on paper do not in binary."""
SAMPLES_A_PANEL = 1000
OFFSET = np.sqrt(2) - 1
"""Where in its step a sample lies: nowhere that an event would fall on."""
MOST = 40_000


@dataclass(frozen=True)
class Passage:
    """One direction of a crossing; loads are downward, at the chord's joints, (joints, states) [N].

    events (e,) are positions of the train's front, ascending; before, at and after (joints, e) the loads
    there; samples (joints, n) those at n even steps; occupied (e - 1,) whether some axle is
    on the chord between two events.
    """

    crossing: str
    direction: str
    events: np.ndarray
    before: np.ndarray
    at: np.ndarray
    after: np.ndarray
    samples: np.ndarray
    occupied: np.ndarray

    @property
    def states(self) -> np.ndarray:
        """Before, at and after each event, in order of position, (joints, 3 e)."""
        return np.stack([self.before, self.at, self.after], axis=2).reshape(len(self.at), -1)

    def throughout(self, zero: np.ndarray) -> np.ndarray:
        """Which samples, (rows, n), are zero together with all others between the same two events."""
        steps = self.samples.shape[1]
        spots = self.events[0] + (np.arange(steps) + OFFSET) * np.ptp(self.events) / steps
        pieces = np.searchsorted(self.events, spots)
        _, first, counts = np.unique(pieces, return_index=True, return_counts=True)
        return np.repeat(np.logical_and.reduceat(zero, first, axis=1), counts, axis=1)


def pass_over(study: Study, crossing: Crossing, direction: str) -> Passage:
    """Lay out one direction of a crossing."""
    x = floats(np.array(plan_positions(study, crossing.chord)))
    sign = 1.0 if direction == "forward" else -1.0
    behind = sign * np.array([axle.distance for axle in crossing.trains[0].axles])
    weights = (
        np.array([axle.load for axle in crossing.trains[0].axles]) * crossing.factor * (1 + crossing.impact)
    )
    events = merged((x[:, None] + behind).ravel())
    near = SAME * max(np.ptp(events), np.abs(events).max())
    places = snapped(events[:, None] - behind, x, near)
    steps = min(MOST, int(np.ptp(events) / np.diff(x).min() * SAMPLES_A_PANEL) + 1)
    spots = events[0] + (np.arange(steps) + OFFSET) * np.ptp(events) / steps
    sampled = spots[:, None] - behind
    between = (events[1:] + events[:-1])[:, None] / 2 - behind
    return Passage(
        crossing.name,
        direction,
        events,
        before=lever(x, places, (places > 0) & (places <= x[-1]), weights),
        at=lever(x, places, (places >= 0) & (places <= x[-1]), weights),
        after=lever(x, places, (places >= 0) & (places < x[-1]), weights),
        samples=lever(x, sampled, (sampled > 0) & (sampled < x[-1]), weights),
        occupied=((between > 0) & (between < x[-1])).any(axis=1),
    )


def merged(positions: np.ndarray) -> np.ndarray:
    """Ascending, those that are one on paper made one."""
    kept: list[float] = []
    for position in np.sort(positions):
        if not kept or position - kept[-1] > SAME * max(np.ptp(positions), np.abs(positions).max()):
            kept.append(float(position))
    return np.array(kept)


def snapped(places: np.ndarray, x: np.ndarray, near: float) -> np.ndarray:
    """Places that are a joint's own on paper put exactly there."""
    for joint in x:
        places = np.where(np.abs(places - joint) <= near, joint, places)
    return places


def lever(x: np.ndarray, places: np.ndarray, on: np.ndarray, weights: np.ndarray) -> np.ndarray:
    """Downward load at each joint, (joints, states), of axles at `places` (states, axles) that are `on`."""
    loads = np.zeros((len(x), len(places)))
    inside = np.clip(places, x[0], x[-1])
    for joint in range(len(x)):
        tent = np.interp(inside, x, np.eye(len(x))[joint])
        loads[joint] = (tent * on * weights).sum(axis=1)
    return loads


def share_on_lines(start: np.ndarray, end: np.ndarray, widths: np.ndarray, band: float) -> np.ndarray:
    """Share of the way on which straight lines from start to end, (rows, pieces), stay within the band."""
    spread = np.abs(end - start)
    low, high = np.minimum(start, end), np.maximum(start, end)
    inside = np.clip(np.minimum(high, band) - np.maximum(low, -band), 0.0, None)
    flat = (spread == 0) & (np.abs(start) <= band)
    part = np.divide(inside, spread, out=flat.astype(float), where=spread > 0)
    return part @ widths / widths.sum()


def share_throughout(start: np.ndarray, end: np.ndarray, widths: np.ndarray, band: float) -> np.ndarray:
    """Share of the way made of pieces that stay within the band from one end to the other."""
    return ((np.abs(start) <= band) & (np.abs(end) <= band)) @ widths / widths.sum()
