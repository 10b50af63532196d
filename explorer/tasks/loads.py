"""Joint loads: whole kN, upright, level or inclined by 3-4-5."""

from __future__ import annotations

from explorer.tasks.draws import Draws
from explorer.tasks.form import Form, Point

Load = tuple[int, ...]
SIZES = (4, 5, 6, 8, 10, 12, 15, 20)
PARTS = (2, 3, 4)
"""An inclined load is 3 and 4 times one of these."""
INCLINED: dict[int, tuple[Load, ...]] = {
    2: ((3, -4), (-3, -4), (4, -3), (-4, -3)),
    3: ((3, 0, -4), (-3, 0, -4), (0, 3, -4), (0, -3, -4), (4, 0, -3), (0, 4, -3), (3, 4, 0), (-4, 3, 0)),
}
MOST = {1: 2, 2: 3, 3: 3}


def draw_loads(draws: Draws, form: Form, level: int) -> dict[str, Load]:
    """Loads in kN by joint: one to three, at level 3 at times two that mirror one another."""
    joints = form.free_joints()
    if level == 3 and draws.happens(50):
        return _mirrored(draws, form)
    loads: dict[str, Load] = {}
    for _ in range(draws.between(1, MOST[level])):
        loads[draws.one_of(joints)] = _draw_load(draws, form.dimension)
    return loads


def _draw_load(draws: Draws, dimension: int) -> Load:
    kind = draws.below(10)
    if kind < 2:
        part = draws.one_of(PARTS)
        return tuple(part * c for c in draws.one_of(INCLINED[dimension]))
    load = [0] * dimension
    if kind < 5:
        load[draws.below(dimension - 1)] = draws.one_of((1, -1)) * draws.one_of(SIZES)
    else:
        load[-1] = -draws.one_of(SIZES)
    return tuple(load)


def _mirrored(draws: Draws, form: Form) -> dict[str, Load]:
    """The same load down on a joint and on its mirror image across the middle of the form, if it is free."""
    place = {form.joints[name]: name for name in form.free_joints()}
    ends = [point[0] for point in form.joints.values()]
    joint = draws.one_of(form.free_joints())
    image = place.get(_image(form.joints[joint], min(ends) + max(ends)), joint)
    down = (*[0] * (form.dimension - 1), -draws.one_of(SIZES))
    return {joint: down, image: down}


def _image(point: Point, both_ends: int) -> Point:
    return (both_ends - point[0], *point[1:])
