"""Practice tasks, judged by a computation of their own: dense stiffness, joint inspection by ranks."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import tomllib
from dataclasses import dataclass
from functools import cache
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from explorer.document import read_text
from explorer.tasks import LAST_SEED, LEVEL_WORDS, LEVELS, Task, make_task, task
from explorer.tasks.clearance import reads_well
from explorer.tasks.draws import Draws
from explorer.tasks.form import Form
from solver.answers import answer, give_reasons
from solver.reasons.reason import CUT, JOINT_INSPECTION, KNOWN_REACTION

SEEDS = range(16)
KINDS = list(product(LEVELS, (False, True)))
SIZES = {
    (1, False): (7, 15),
    (2, False): (11, 25),
    (3, False): (13, 35),
    (1, True): (6, 15),
    (2, True): (9, 24),
    (3, True): (12, 36),
}
NAME = re.compile(r"[LUM]\d{1,2}|[ABCDP]\d?|[A-Z]")
PROJECT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Plain:
    """A task read with the standard library alone."""

    points: np.ndarray
    bars: list[tuple[int, int]]
    held: dict[int, list[int]]
    loads: np.ndarray

    @property
    def directions(self) -> np.ndarray:
        vectors = np.array([self.points[b] - self.points[a] for a, b in self.bars])
        return vectors / np.linalg.norm(vectors, axis=1)[:, None]

    def bars_at(self, joint: int) -> list[int]:
        return [i for i, bar in enumerate(self.bars) if joint in bar]


@cache
def made_of(seed: int, level: int, space: bool) -> Task:
    return make_task(seed, level, space)


def plain(made: Task) -> Plain:
    tree = tomllib.loads(made.text)
    names = list(tree["joints"])
    axes = "xyz" if made.space else "xy"
    loads = np.zeros((len(names), len(axes)))
    for name, load in tree["cases"]["load"]["joints"].items():
        loads[names.index(name)] = load
    return Plain(
        np.array(list(tree["joints"].values()), dtype=float),
        [tuple(map(names.index, member.split("-"))) for member in tree["groups"]["bars"]["members"]],  # type: ignore[misc]
        {names.index(name): [axes.index(c) for c in held] for name, held in tree["supports"].items()},
        loads,
    )


def dense_forces(truss: Plain, stiffness: np.ndarray) -> np.ndarray:
    """Member forces by K u = f, K assembled dense; `stiffness` EA/L of each member."""
    joints, dimension = truss.points.shape
    pull = np.zeros((joints * dimension, len(truss.bars)))
    for i, (a, b) in enumerate(truss.bars):
        pull[a * dimension : (a + 1) * dimension, i] = -truss.directions[i]
        pull[b * dimension : (b + 1) * dimension, i] = truss.directions[i]
    held = {joint * dimension + axis for joint, axes in truss.held.items() for axis in axes}
    free = [i for i in range(joints * dimension) if i not in held]
    movement = np.linalg.solve(pull[free] * stiffness @ pull[free].T, truss.loads.ravel()[free])
    return stiffness * (pull[free].T @ movement)


def zeros_of(truss: Plain) -> set[int]:
    """Members without force whatever their stiffness: tried with equal ones and with unequal ones."""
    count = len(truss.bars)
    found = []
    for stiffness in (np.ones(count), 1 + 0.37 * np.sin(1 + np.arange(count))):
        forces = np.abs(dense_forces(truss, stiffness))
        zero = forces < 1e-9 * forces.max()
        assert forces[~zero].min() > 5e-3 * forces.max(), "no member is nearly zero"
        found.append(set(np.flatnonzero(zero).tolist()))
    assert found[0] == found[1]
    return found[0]


@dataclass(frozen=True)
class Inspected:
    """Members that joint inspection shows, by the step; those in which a load or a support has a hand."""

    steps: dict[int, int]
    minding: set[int]


def inspect(truss: Plain) -> Inspected:
    """A member is zero where it raises the rank of everything else at its joint, the load included."""
    steps: dict[int, int] = {}
    minding: set[int] = set()
    axes = np.eye(truss.points.shape[1])
    while True:
        new: dict[int, bool] = {}
        for joint in range(len(truss.points)):
            live = [bar for bar in truss.bars_at(joint) if bar not in steps]
            extra = [axes[axis] for axis in truss.held.get(joint, [])]
            load = truss.loads[joint]
            extra += [load / np.linalg.norm(load)] if load.any() else []
            for bar in live:
                others = [truss.directions[i] for i in live if i != bar] + extra
                if rank([*others, truss.directions[bar]]) > rank(others):
                    new.setdefault(bar, bool(extra))
        if not new:
            return Inspected(steps, minding)
        steps |= dict.fromkeys(new, 1 + max(steps.values(), default=0))
        minding |= {bar for bar, minds in new.items() if minds}


def rank(vectors: list[np.ndarray]) -> int:
    return int(np.linalg.matrix_rank(np.array(vectors), tol=1e-9)) if vectors else 0


def trapping_bars(truss: Plain, zeros: set[int]) -> list[int]:
    """Working members that would be zero by inspection of their joint, were it not loaded."""
    found: list[int] = []
    dimension = truss.points.shape[1]
    for joint in set(np.flatnonzero(truss.loads.any(axis=1)).tolist()) - set(truss.held):
        here = truss.bars_at(joint)
        if len(here) < 3 or (len(here) == 3) != (dimension == 2):
            continue
        for bar in set(here) - zeros:
            others = [truss.directions[i] for i in here if i != bar]
            if rank(others) < rank([*others, truss.directions[bar]]):
                found.append(bar)
    return found


@pytest.mark.parametrize("space", [False, True], ids=["plane", "space"])
def test_at_level_1_every_zero_shows_at_a_joint_in_at_most_two_steps(space: bool) -> None:
    for seed in SEEDS:
        truss = plain(made_of(seed, 1, space))
        zeros, seen = zeros_of(truss), inspect(truss)
        assert set(seen.steps) == zeros
        assert max(seen.steps.values()) <= 2
        assert 2 <= len(zeros) <= len(truss.bars) / 3


@pytest.mark.parametrize("space", [False, True], ids=["plane", "space"])
def test_at_level_2_there_is_a_chain_or_a_load_or_support_to_mind_and_a_trap(space: bool) -> None:
    for seed in SEEDS:
        truss = plain(made_of(seed, 2, space))
        zeros, seen = zeros_of(truss), inspect(truss)
        assert set(seen.steps) == zeros
        assert 3 <= len(zeros) <= 10
        assert max(seen.steps.values()) >= 3 or seen.minding
        assert trapping_bars(truss, zeros)


@pytest.mark.parametrize("space", [False, True], ids=["plane", "space"])
def test_at_level_3_one_zero_shows_at_a_joint_and_another_at_none(space: bool) -> None:
    for seed in SEEDS:
        truss = plain(made_of(seed, 3, space))
        zeros, seen = zeros_of(truss), inspect(truss)
        assert set(seen.steps) < zeros
        assert seen.steps
        assert len(zeros) <= len(truss.bars) / 2


@pytest.mark.parametrize(("level", "space"), KINDS)
def test_a_task_is_written_in_the_format_in_whole_kilonewtons_on_half_metres(level: int, space: bool) -> None:
    least, most = SIZES[level, space]
    for seed in SEEDS:
        made = made_of(seed, level, space)
        tree = tomllib.loads(made.text)
        study = read_text(made.text, "task.toml").study
        assert study.title.startswith(f"Task {seed}, level {level}")
        assert tree["units"] == "metric"
        assert list(tree["cases"]) == ["load"]
        assert list(tree["cases"]["load"]) == ["joints"]
        assert all(NAME.fullmatch(name) for name in tree["joints"])
        assert not (2 * study.truss.joint_coordinates % 1).any()
        assert study.truss.dimension == (3 if space else 2)
        assert least <= len(study.truss.members) <= most
        loads = tree["cases"]["load"]["joints"]
        assert 1 <= len(loads) <= 3
        assert not set(loads) & set(tree["supports"])
        assert all(isinstance(part, int) for load in loads.values() for part in load)


@pytest.mark.parametrize(("level", "space"), KINDS)
def test_a_task_stands_and_is_answered_far_from_any_critical_form(level: int, space: bool) -> None:
    for seed in range(1000, 1006):
        made = made_of(seed, level, space)
        answers = answer(read_text(made.text, "task.toml").study)
        peaks = np.maximum(answers.forces.tension.values, answers.forces.compression.values)
        assert set(np.flatnonzero(peaks < 1e-9 * peaks.max()).tolist()) == zeros_of(plain(made))
        assert not answers.sensitivity.near_critical


@pytest.mark.parametrize("space", [False, True], ids=["plane", "space"])
def test_at_level_3_a_known_reaction_or_a_cut_shows_a_zero_that_no_joint_shows(space: bool) -> None:
    for seed in range(1000, 1006):
        made = made_of(seed, 3, space)
        (reasoned,) = give_reasons(answer(read_text(made.text, "task.toml").study))
        kinds = {reason.member: reason.kind for reason in reasoned.reasons}
        seen = inspect(plain(made))
        assert {bar for bar, kind in kinds.items() if kind == JOINT_INSPECTION} == set(seen.steps)
        assert {CUT, KNOWN_REACTION} & {kinds[bar] for bar in zeros_of(plain(made)) - set(seen.steps)}


@pytest.mark.parametrize(("level", "space"), KINDS)
def test_different_seeds_give_different_trusses_or_loads(level: int, space: bool) -> None:
    bodies = {made_of(seed, level, space).text.split("[joints]")[1] for seed in SEEDS}
    assert len(bodies) == len(SEEDS)


def test_the_same_task_comes_out_of_every_process() -> None:
    asked = [(4711, 1, False), (4711, 3, False), (LAST_SEED, 2, True)]
    code = (
        "import hashlib; from explorer.tasks import make_task\n"
        f"print([hashlib.sha256(make_task(*a).text.encode()).hexdigest() for a in {asked}])"
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=PROJECT,
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("0", "4242")
    }
    here = [hashlib.sha256(make_task(*each).text.encode()).hexdigest() for each in asked]
    assert printed == {str(here)}


@pytest.mark.parametrize("asked", [(0, 0), (0, 4), (-1, 1), (LAST_SEED + 1, 1)])
def test_a_seed_or_level_out_of_range_is_refused(asked: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="there is no"):
        make_task(*asked, space=False)


@pytest.mark.parametrize(("level", "space"), KINDS)
def test_where_no_try_gives_a_task_a_known_one_serves(
    level: int, space: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(task, "TRIES", 0)
    made = make_task(77, level, space)
    assert read_text(made.text, "task.toml").study.title.startswith(f"Task 77, level {level}")
    assert zeros_of(plain(made))


def test_every_level_has_its_words() -> None:
    assert tuple(LEVEL_WORDS) == LEVELS


def test_numbers_drawn_are_the_first_eight_bytes_of_sha256_of_key_and_counter() -> None:
    # printf '7/1:0' | sha256sum, and '7/1:1'
    draws = Draws(7, 1)
    assert draws.below(2**64) == 0x5E1698154261167F
    assert draws.below(1000) == 0x0B806BFC6ABA3D59 % 1000


def square(*bars: str, crossings: int = 0, **more: tuple[int, int]) -> Form:
    """A square of 4 m with the bars named by their two letters."""
    joints = {"A": (0, 0), "B": (8, 0), "C": (8, 8), "D": (0, 8), **more}
    return Form("square", joints, tuple((bar[0], bar[1]) for bar in bars), {}, crossings)


def test_a_form_reads_well_without_crossings_hidden_joints_sharp_angles_and_doubled_bars() -> None:
    rim = ("AB", "BC", "CD", "DA")
    assert reads_well(square(*rim, "AC"))
    assert not reads_well(square(*rim, "AC", "BD"))
    assert reads_well(square(*rim, "AC", "BD", crossings=1))
    assert not reads_well(square(*rim, "AC", "CE", E=(4, 4)))
    assert not reads_well(square(*rim, "CE", "DE", E=(4, 0)))
    assert not reads_well(square(*rim, "AE", "BE", E=(4, 1)))
    assert reads_well(square(*rim, "AE", "BE", E=(4, 2)))
    assert not reads_well(square(*rim, "BA"))
    assert not reads_well(square(*rim, "AE", "BE", E=(0, 0)))
    assert not reads_well(square(*rim, "AE", "BE", E=(4, 40)))
