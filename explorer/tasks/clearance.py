"""Whether a form can be drawn and read: no bar through another or through a joint, no sharp angle."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from explorer.tasks.form import Bar, Form, Point

SHORTEST, LONGEST = 2, 20
"""Lengths of bars, in half metres."""
SHARPEST = (94, 100)
"""The square of the cosine between two bars at a joint is at most this: about 14 degrees."""

Vector = tuple[int, int, int]


def reads_well(form: Form) -> bool:
    """Tell whether nothing in the form hides anything else; all in whole numbers."""
    joints = {name: _in_space(point) for name, point in form.joints.items()}
    if len(set(joints.values())) < len(joints) or len({frozenset(bar) for bar in form.bars}) < len(form.bars):
        return False
    return (
        all(_has_good_length(joints[a], joints[b]) for a, b in form.bars)
        and not any(_lies_on(joints[j], joints[a], joints[b]) for j in joints for a, b in form.bars)
        and not any(_is_sharp(joints, one, other) for one, other in combinations(form.bars, 2))
        and _crossings(joints, form.bars) == form.crossings
    )


def _in_space(point: Point) -> Vector:
    return (point[0], point[1] if len(point) == 3 else 0, point[-1])


def _has_good_length(a: Vector, b: Vector) -> bool:
    return SHORTEST**2 <= _dot(_from(a, b), _from(a, b)) <= LONGEST**2


def _lies_on(joint: Vector, a: Vector, b: Vector) -> bool:
    """Whether a joint lies on a bar, its ends left out."""
    along, to = _from(a, b), _from(a, joint)
    return _cross(along, to) == (0, 0, 0) and 0 < _dot(along, to) < _dot(along, along)


def _is_sharp(joints: dict[str, Vector], one: Bar, other: Bar) -> bool:
    shared = set(one) & set(other)
    if not shared:
        return False
    at = shared.pop()
    p, q = (_from(joints[at], joints[bar[0] if bar[1] == at else bar[1]]) for bar in (one, other))
    part, whole = SHARPEST
    return _dot(p, q) > 0 and whole * _dot(p, q) ** 2 > part * _dot(p, p) * _dot(q, q)


def _crossings(joints: dict[str, Vector], bars: Iterable[Bar]) -> int:
    return sum(
        _cross_each_other(*(joints[name] for name in (*one, *other)))
        for one, other in combinations(bars, 2)
        if not set(one) & set(other)
    )


def _cross_each_other(a: Vector, b: Vector, c: Vector, d: Vector) -> bool:
    """Whether the bars a-b and c-d meet between their ends."""
    one, other, gap = _from(a, b), _from(c, d), _from(a, c)
    normal = _cross(one, other)
    size = _dot(normal, normal)
    if not size or _dot(gap, normal):
        return False
    return 0 < _dot(_cross(gap, other), normal) < size and 0 < _dot(_cross(gap, one), normal) < size


def _from(a: Vector, b: Vector) -> Vector:
    return (b[0] - a[0], b[1] - a[1], b[2] - a[2])


def _dot(a: Vector, b: Vector) -> int:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
