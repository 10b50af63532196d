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

Array = NDArray[np.float64]
ZOOMS = tuple(2.0 ** (step / 2) for step in range(-4, 13))
"""A quarter to sixty-four times the plate's own scale."""

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

    `gap`: the member (index) in whose own bar it stands, if it does. `preferred`: so many of the places
    are as good as one another; the others are taken only where there is room for them to be seen as what
    they are, for a label keeps its place at every nearer zoom.
    """

    width: float
    places: tuple[Place, ...]
    gap: int | None = None
    preferred: int = 99


@dataclass(frozen=True)
class Placed:
    """A label's place and the least zoom from which on it is free; None where it never is."""

    place: Place
    zoom: float | None


@dataclass(frozen=True)
class Ground:
    """What labels must keep off: joints (n, 2) [px at zoom 1], bars (m, 2), supports at joints `feet`."""

    joints: Array
    ends: NDArray[np.int64]
    feet: tuple[int, ...] = ()


ROOMY = 5.0
"""A label takes one of its other places from this many times the zoom at which it first has room."""

FOOT = np.array([0.0, 14.0, 19.0, 13.0])
"""Middle and half sizes of a support's symbol around its joint [px]."""


def text_width(text: str) -> float:
    """Return a generous width of a text [px]."""
    return PER_LETTER * len(text) + 4


@dataclass(frozen=True)
class _Bars:
    """Bars and joints at one zoom, sorted by their left ends, so that only near ones are looked at."""

    bars: Array
    order: NDArray[np.int64]
    lefts: Array
    widest: float
    joints: Array
    joint_x: Array

    def near(self, left: float, right: float) -> NDArray[np.int64]:
        """Bars (indices) that may reach between two x."""
        start, end = np.searchsorted(self.lefts, [left - self.widest, right])
        return self.order[start:end]

    def joints_near(self, left: float, right: float) -> Array:
        """Joints between two x."""
        start, end = np.searchsorted(self.joint_x, [left, right])
        return self.joints[start:end]


def place_labels(ground: Ground, labels: Sequence[Label]) -> list[Placed]:
    """Place labels, the most important first, at every zoom from far to near."""
    found: list[Placed | None] = [None] * len(labels)
    least = [_least_zoom(ground, label) for label in labels]
    waiting = list(range(len(labels)))
    for zoom in ZOOMS:
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
    return (40.0 + LINE if label.gap is not None else 0.6 * label.width) / length if length else np.inf


def _sorted_bars(ground: Ground, zoom: float) -> _Bars:
    joints = ground.joints * zoom
    bars = joints[ground.ends]
    lefts = bars[:, :, 0].min(axis=1)
    order = np.argsort(lefts, kind="stable")
    by_x = np.argsort(joints[:, 0], kind="stable")
    widest = float(np.ptp(bars[:, :, 0], axis=1).max(initial=0.0))
    return _Bars(bars, order, lefts[order], widest, joints[by_x], joints[by_x, 0])


def _place_at(
    zoom: float, ground: Ground, labels: Sequence[Label], found: list[Placed | None], trying: dict[int, bool]
) -> list[int]:
    """Place what is free at this zoom; `trying`: labels and whether all their places are open to them.

    Returns what still waits.
    """
    joints, sorted_bars = ground.joints * zoom, _sorted_bars(ground, zoom)
    taken = [np.concatenate([joints[foot], [0.0, 0.0]]) + FOOT for foot in ground.feet]
    taken += [_box(joints, labels[i].width, one.place) for i, one in enumerate(found) if one]
    boxes = np.array(taken + [np.zeros(4)] * len(trying)).reshape(-1, 4)
    count, left = len(taken), []
    for i, roomy in trying.items():
        open_places = labels[i].places if roomy else labels[i].places[: labels[i].preferred]
        boxes_now = [(place, _box(joints, labels[i].width, place)) for place in open_places]
        free = next(((p, b) for p, b in boxes_now if _free(labels[i], b, sorted_bars, boxes[:count])), None)
        if free is None:
            left.append(i)
            continue
        found[i] = Placed(free[0], zoom)
        boxes[count] = free[1]
        count += 1
    return left


def _box(joints: Array, width: float, place: Place) -> Array:
    """Middle and half sizes of a label's box: (x, y, half width, half height)."""
    middle = (1 - place.share) * joints[place.first] + place.share * joints[place.second]
    return np.array([middle[0] + place.right, middle[1] + place.down, width / 2, LINE / 2])


def _free(label: Label, box: Array, around: _Bars, boxes: Array) -> bool:
    if label.gap is not None and not _fits_bar(box, around.bars[label.gap]):
        return False
    x, y, half, tall = box[0], box[1], box[2] + ROOM, box[3] + ROOM
    if (
        (np.abs(boxes[:, 0] - x) < half + boxes[:, 2]) & (np.abs(boxes[:, 1] - y) < tall + boxes[:, 3])
    ).any():
        return False
    away = np.abs(around.joints_near(x - half - 4, x + half + 4)[:, 1] - y)
    if (away < tall + 4).any():
        return False
    near = around.near(x - half - 2, x + half + 2)
    near = near[near != label.gap] if label.gap is not None else near
    return not _crossed(box[:2], np.array([half + 2, tall + 2]), around.bars[near]).any()


def _fits_bar(box: Array, bar: Array) -> bool:
    """Whether the gap leaves something of the bar to be seen on both sides of it."""
    along = bar[1] - bar[0]
    length = float(np.hypot(*along))
    if length == 0:
        return False
    share = np.abs(along) / length
    reach = float(min(box[2] / max(share[0], 1e-9), box[3] / max(share[1], 1e-9)))
    place = float((box[:2] - bar[0]) @ along) / length
    return place - reach >= 20 and length - place - reach >= 20


def _crossed(middle: Array, half: Array, bars: Array) -> NDArray[np.bool_]:
    """Which bars cross a box: by separating axes (common practice in computational geometry)."""
    reach = np.abs(bars[:, 1] - bars[:, 0]) / 2
    away = (bars[:, 0] + bars[:, 1]) / 2 - middle
    along = (bars[:, 1] - bars[:, 0]) / 2
    apart = (np.abs(away) > half + reach).any(axis=1)
    turned = np.abs(along[:, 0] * away[:, 1] - along[:, 1] * away[:, 0])
    apart |= turned > half[0] * reach[:, 1] + half[1] * reach[:, 0]
    return np.asarray(~apart)
