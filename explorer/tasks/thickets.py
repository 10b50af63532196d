"""Trusses that grow joint by joint, in the plane and in space, and joints put into bars of others."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from explorer.tasks.clearance import reads_well
from explorer.tasks.draws import Draws
from explorer.tasks.form import Form, Point

TRIES = 12
REACH = 10
"""A new joint lies at most this far from those it is tied to, in half metres along each axis."""
FEET = (("A", (-3, -2)), ("B", (3, -2)), ("C", (0, 4)), ("D", (6, 4)))
JOINTS = {1: (5, 8), 2: (7, 12), 3: (8, 15)}
SPACE_JOINTS = {1: (2, 4), 2: (3, 7), 3: (5, 10)}


def draw_thicket(draws: Draws, level: int) -> Form:
    """A plane truss grown from a triangle, each new joint tied to two old ones."""
    width, height = draws.between(4, 8), draws.between(3, 7)
    joints: dict[str, Point] = {"A": (0, 0), "B": (width, 0), "C": (draws.between(0, width), height)}
    supports = {"A": "xy", "B": "y"}
    form = Form("truss of triangles", joints, (("A", "B"), ("A", "C"), ("B", "C")), supports)
    for _ in range(draws.between(*JOINTS[level]) - 3):
        form = with_grown_joint(draws, form)
    return form


def draw_space_thicket(draws: Draws, level: int) -> Form:
    """A space truss grown from three or four feet, each new joint tied to three old ones."""
    size = draws.between(1, 2)
    feet = {name: (size * x, size * y, 0) for name, (x, y) in FEET[: draws.between(3, 4)]}
    peak = (draws.between(-2, 2), draws.between(-1, 2), draws.between(4, 8))
    form = Form("chain of tripods", dict(feet), (), dict.fromkeys(feet, "xyz")).with_joint(peak, "ABC")
    for _ in range(draws.between(*SPACE_JOINTS[level]) - 1):
        form = with_grown_joint(draws, form)
    idle = {name for name in feet if not form.bars_at(name)}
    joints = {name: point for name, point in form.joints.items() if name not in idle}
    return replace(
        form, joints=joints, supports={n: held for n, held in form.supports.items() if n not in idle}
    )


def with_grown_joint(draws: Draws, form: Form) -> Form:
    """Tie a further joint to two old ones, in space to three; the same form where no place is free."""
    for _ in range(TRIES):
        ends = _near(draws, form)
        middle = [sum(form.joints[end][axis] for end in ends) // len(ends) for axis in range(form.dimension)]
        point = tuple(c + draws.between(-6, 6) for c in middle)
        close = all(abs(a - b) <= REACH for end in ends for a, b in zip(point, form.joints[end], strict=True))
        if point[-1] < 0 or not close:
            continue
        grown = form.with_joint(point, ends)
        if reads_well(grown):
            return grown
    return form


def with_joint_in_a_bar(draws: Draws, form: Form) -> Form:
    """Put a joint halfway into a bar and tie it to a joint beyond (in space to two); or the same form."""
    for _ in range(TRIES):
        a, b = draws.one_of(form.bars)
        p, q = form.joints[a], form.joints[b]
        beyond = [name for name in form.joints if _is_tied(form, a, name) and _is_tied(form, b, name)]
        ties = list(combinations(beyond, form.dimension - 1))
        if any((c + d) % 2 for c, d in zip(p, q, strict=True)) or not ties:
            continue
        halfway = tuple((c + d) // 2 for c, d in zip(p, q, strict=True))
        divided = form.with_joint(halfway, (a, b, *draws.one_of(ties)), without=(a, b))
        if reads_well(divided):
            return divided
    return form


def _near(draws: Draws, form: Form) -> list[str]:
    """Joints to tie a new one to: an old one and others that are tied to it or stand on the ground too."""
    names = list(form.joints)
    first = draws.one_of(names)
    others = [
        name
        for name in names
        if name != first and (_is_tied(form, first, name) or {first, name} <= set(form.supports))
    ]
    ends = [first]
    while others and len(ends) < form.dimension:
        ends.append(others.pop(draws.below(len(others))))
    return ends if len(ends) == form.dimension else names[: form.dimension]


def _is_tied(form: Form, one: str, other: str) -> bool:
    return (one, other) in form.bars or (other, one) in form.bars
