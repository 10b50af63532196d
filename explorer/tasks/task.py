"""A task: drawn again and again until truss and load show what its level asks for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from explorer.document import read_text
from explorer.tasks.clearance import reads_well
from explorer.tasks.draws import Draws
from explorer.tasks.form import Form
from explorer.tasks.girders import (
    draw_cantilever,
    draw_fan,
    draw_girder,
    draw_roof,
    draw_tower,
    draw_warren,
)
from explorer.tasks.levels import LEVELS, MEMBERS, has_unlike_pair, suits
from explorer.tasks.loads import Load, draw_loads
from explorer.tasks.masts import draw_mast, draw_pyramids, draw_space_girder
from explorer.tasks.proof import shows_on_the_whole
from explorer.tasks.state import Bench
from explorer.tasks.thickets import draw_space_thicket, draw_thicket, with_grown_joint, with_joint_in_a_bar
from explorer.tasks.writing import write_study
from solver.errors import StudyError
from solver.truss import Truss

LAST_SEED = 999_999_999
TRIES = 1500
"""So many draws fail together once in more tasks than there are seeds; then a known one serves."""
LOADINGS = 4
"""Loads tried on one truss before another is drawn."""
KNOWN = {
    (1, False): (0, 0),
    (2, False): (0, 0),
    (3, False): (0, 0),
    (1, True): (0, 4),
    (2, True): (0, 0),
    (3, True): (0, 12),
}
"""Seeds and tries that are known to give a task, by level and whether in space."""
TRIES_A_FAMILY = 12
TRIES_FOR_PAIR = 8
"""So long a task of the last level is asked for a mirror-image pair of which one member alone is zero."""
Draw = Callable[[Draws, int], Form]
PLANE: tuple[Draw, ...] = (
    draw_girder,
    draw_girder,
    draw_warren,
    draw_roof,
    draw_fan,
    draw_cantilever,
    draw_tower,
    draw_thicket,
)
SPACE: tuple[Draw, ...] = (draw_space_thicket, draw_mast, draw_space_girder, draw_pyramids)
CHANGES = {1: 1, 2: 3, 3: 3}
"""At most so many joints are added to a truss of a regular form."""
IN_BARS = 75
"""So many of a hundred of them lie in bars."""


@dataclass(frozen=True)
class Task:
    """A study that asks which members carry no force; `text` is in the project's own format."""

    seed: int
    level: int
    space: bool
    text: str


def make_task(seed: int, level: int, space: bool) -> Task:
    """Make the task of a seed (0 to LAST_SEED) and a level (of LEVELS), in the plane or in space.

    The same everywhere and at any time. Raises ValueError for a seed or level out of range.
    """
    if level not in LEVELS:
        raise ValueError(f"there is no level {level}; levels are {', '.join(map(str, LEVELS))}")
    if not 0 <= seed <= LAST_SEED:
        raise ValueError(f"there is no task {seed}; tasks are 0 to {LAST_SEED}")
    asked = Asked(seed, level, space)
    title = f"Task {seed}, level {level}" + (", in space" if space else "")
    for number in range(TRIES):
        text = _attempt(asked, number, title)
        if text is not None:
            return Task(seed, level, space, text)
    known_seed, number = KNOWN[level, space]
    text = _attempt(Asked(known_seed, level, space), number, title)
    if text is None:
        raise AssertionError(f"the known draw of level {level} gives a task")
    return Task(seed, level, space, text)


@dataclass(frozen=True)
class Asked:
    """What is asked for; it alone decides every draw."""

    seed: int
    level: int
    space: bool

    def draws(self, number: int) -> Draws:
        """The stream of one try."""
        return Draws(self.seed, self.level, int(self.space), number)

    def family(self, number: int) -> Draw:
        """What is drawn in a try: the same for some tries, so that forms that seldom suit come up too."""
        draws = Draws(self.seed, self.level, int(self.space), number // TRIES_A_FAMILY, 1)
        return draws.one_of(SPACE if self.space else PLANE)


def _attempt(asked: Asked, number: int, title: str) -> str | None:
    """Draw a truss and some loads; None where none of them makes a task."""
    draws = asked.draws(number)
    form = _with_joints_added(draws, asked.family(number)(draws, asked.level), asked.level)
    least, most = MEMBERS[asked.level, asked.space]
    if not least <= len(form.bars) <= most or not reads_well(form):
        return None
    loadings = [draw_loads(draws, form, asked.level) for _ in range(LOADINGS)]
    truss = read_text(write_study(title, form, loadings[0]), title).study.truss
    try:
        bench = Bench(truss)
        states = list(bench.look_at(_newtons(loadings, truss)))
    except StudyError:
        return None
    picky = asked.level == LEVELS[-1] and number < TRIES_FOR_PAIR
    for loads, state in zip(loadings, states, strict=True):
        if state is None or not suits(state, asked.level) or (picky and not has_unlike_pair(state)):
            continue
        text = write_study(title, form, loads)
        if bench.is_sound and (asked.level < LEVELS[-1] or shows_on_the_whole(read_text(text, title).study)):
            return text
    return None


def _newtons(loadings: list[dict[str, Load]], truss: Truss) -> NDArray[np.float64]:
    """Loads in kN by joint as arrays, (loads, joints, dimension) [N]."""
    stack = np.zeros((len(loadings), len(truss.joint_names), truss.dimension))
    for row, loads in zip(stack, loadings, strict=True):
        for name, load in loads.items():
            row[truss.joint_index(name)] = 1000.0 * np.array(load)
    return stack


def _with_joints_added(draws: Draws, plain: Form, level: int) -> Form:
    """At times with joints added: most into bars, some beside them."""
    form = plain
    for _ in range(draws.below(CHANGES[level] + 1)):
        add = with_joint_in_a_bar if draws.happens(IN_BARS) else with_grown_joint
        form = add(draws, form)
    return form if form is plain else replace(form, kind=f"{plain.kind}, joints added")
