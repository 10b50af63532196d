"""Where labels stand: each has a few possible places, and from some zoom on one of them is free.

Labels keep their size while the truss grows with the zoom. So each label is placed once, at the least
zoom at which one of its places hits no bar, no joint and no label placed before; from that zoom on it
is shown. A drawing of sixty panels thus thins out by itself, and nothing is ever printed over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.clearance import Surroundings, meets, surround

Array = NDArray[np.float64]
ZOOMS = tuple(2.0 ** (step / 2) for step in range(-5, 13))
"""A little below a quarter to sixty-four times the plate's own scale."""

PER_LETTER, LINE, ROOM = 6.9, 14.0, 2.5
"""Width of a letter and height of a line at 12 px, and the room to leave around a label [px]."""


@dataclass(frozen=True)
class Place:
    """A place for a label: `share` of the way from joint `first` to joint `second`, then (right, down) px."""

    first: int
    second: int
    share: float = 0.0
    right: float = 0.0
    down: float = 0.0


@dataclass(frozen=True)
class Label:
    """Something to be written, `width` px wide, at the first of its places that is free.

    `bar`: the member (index) that it belongs to, or -1; `gap`: it stands in that bar. `preferred`: so
    many of the places are as good as one another; the others are taken only where there is room for them
    to be seen as what they are, for a label keeps its place at every nearer zoom.
    """

    width: float
    places: tuple[Place, ...]
    bar: int = -1
    gap: bool = False
    preferred: int = 99


@dataclass(frozen=True)
class Placed:
    """A label's place and the least zoom from which on it is free; None where it never is."""

    place: Place
    zoom: float | None


@dataclass(frozen=True)
class Ground:
    """What labels must keep off: joints (n, 2) [px at zoom 1], bars (m, 2), `feet`: supports, each its joint
    and whether it stands below it (1) or hangs above (-1).
    """

    joints: Array
    ends: NDArray[np.int64]
    feet: tuple[tuple[int, float], ...] = ()


ROOMY = 5.0
"""A label takes one of its other places from this many times the zoom at which it first has room."""

FOOT = np.array([[0.0, 14.0], [19.0, 13.0]])
"""Middle and half sizes of a support's symbol around its joint [px]."""

RING, THICK = 1.0, 2.0
MANY = 1500


def text_width(text: str) -> float:
    """Return a generous width of a text [px]."""
    return PER_LETTER * len(text) + 4


def place_labels(ground: Ground, labels: Sequence[Label]) -> list[Placed]:
    """Place labels, the most important first, at every zoom from far to near."""
    found: list[Placed | None] = [None] * len(labels)
    least = [_least_zoom(ground, label) for label in labels]
    waiting = list(range(len(labels)))
    # Very many labels come in at every second zoom only, in half the time.
    for zoom in ZOOMS if len(labels) < MANY else ZOOMS[::2]:
        later = [i for i in waiting if least[i] > zoom]
        trying = {i: zoom >= ROOMY * least[i] for i in waiting if least[i] <= zoom}
        waiting = sorted(later + _place_at(zoom, ground, labels, found, trying))
    return [one or Placed(label.places[0], None) for one, label in zip(found, labels, strict=True)]


def _least_zoom(ground: Ground, label: Label) -> float:
    """A zoom below which a label surely has no room, told without looking around."""
    first, second = label.places[0].first, label.places[0].second
    if first == second:
        away = np.abs(np.delete(ground.joints, first, axis=0) - ground.joints[first]).max(axis=1)
        nearest = float(away.min()) if len(away) else np.inf
        return 8.0 / nearest if nearest else np.inf
    length = float(np.hypot(*(ground.joints[second] - ground.joints[first])))
    return (40.0 + LINE if label.gap else 0.6 * label.width) / length if length else np.inf


@dataclass
class _Standing:
    """What stands at one zoom: anchors, offsets and half sizes (n, 2) [px] of labels, feet among them."""

    anchors: Array
    offsets: Array
    halves: Array
    count: int

    def add(self, anchor: Array, offset: Array, half: Array) -> None:
        self.anchors[self.count], self.offsets[self.count], self.halves[self.count] = anchor, offset, half
        self.count += 1


def _place_at(
    zoom: float, ground: Ground, labels: Sequence[Label], found: list[Placed | None], trying: dict[int, bool]
) -> list[int]:
    """Place what is free at this zoom; `trying`: labels and whether all their places are open to them.

    Returns what still waits.
    """
    joints = ground.joints * zoom
    around = surround(joints, ground.ends)
    standing = _stand(joints, ground, labels, found)
    left = []
    for i, roomy in trying.items():
        open_places = labels[i].places if roomy else labels[i].places[: labels[i].preferred]
        free = next((p for p in open_places if _is_free(labels[i], p, around, standing)), None)
        if free is None:
            left.append(i)
            continue
        found[i] = Placed(free, zoom)
        standing.add(_anchor(joints, free), np.array([free.right, free.down]), _half(labels[i]))
    return left


def _stand(
    joints: Array, ground: Ground, labels: Sequence[Label], found: Sequence[Placed | None]
) -> _Standing:
    room = len(labels) + len(ground.feet)
    standing = _Standing(np.zeros((room, 2)), np.zeros((room, 2)), np.zeros((room, 2)), 0)
    for joint, side in ground.feet:
        standing.add(joints[joint], side * FOOT[0], FOOT[1])
    for label, one in zip(labels, found, strict=True):
        if one:
            place = one.place
            standing.add(_anchor(joints, place), np.array([place.right, place.down]), _half(label))
    return standing


def _anchor(joints: Array, place: Place) -> Array:
    """The point a label hangs on [px]."""
    return np.asarray((1 - place.share) * joints[place.first] + place.share * joints[place.second])


def _half(label: Label) -> Array:
    return np.array([label.width / 2, LINE / 2])


def _is_free(label: Label, place: Place, around: Surroundings, standing: _Standing) -> bool:
    """Whether a place is free now and stays free at every nearer zoom."""
    anchor, offset, half = _anchor(around.joints, place), np.array([place.right, place.down]), _half(label)
    if label.gap and not _fits_bar(anchor, half, around.joints[around.ends[label.bar]]):
        return False
    n = standing.count
    apart = standing.anchors[:n] - anchor
    # What lies beyond the box's own reach from the anchor stays there: zooming in moves it away.
    reach = np.abs(offset) + half + ROOM + 2
    others = np.abs(standing.offsets[:n]) + standing.halves[:n]
    near = (np.abs(apart) < reach + others).all(axis=1)
    joints = around.joints_near(anchor, reach) - anchor
    joints = joints[(joints != 0).any(axis=1)]
    bars = around.bars_near(anchor, reach)
    # Its own bar passes through the point that the label hangs on.
    bars = bars[bars != label.bar]
    ends = around.joints[around.ends[bars]] - anchor
    first = np.concatenate([apart[near], joints, ends[:, 0]])
    second = np.concatenate([apart[near], joints, ends[:, 1]])
    middles, halves = np.tile(offset, (len(first), 1)), np.tile(half + ROOM, (len(first), 1))
    count = int(near.sum())
    middles[:count] -= standing.offsets[:n][near]
    halves[:count] += standing.halves[:n][near]
    halves[count : count + len(joints)] += RING
    halves[count + len(joints) :] += THICK
    return not meets(first, second, middles, halves).any()


def _fits_bar(middle: Array, half: Array, bar: Array) -> bool:
    """Whether the gap leaves something of the bar to be seen on both sides of it."""
    along = bar[1] - bar[0]
    length = float(np.hypot(*along))
    if length == 0:
        return False
    share = np.abs(along) / length
    reach = float((half / np.maximum(share, 1e-9)).min())
    place = float((middle - bar[0]) @ along) / length
    return place - reach >= 20 and length - place - reach >= 20
