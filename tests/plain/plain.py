"""A study computed plainly: dense force method, trains sampled; shares no code with the solver's way.

Forces are a particular answer to joint equilibrium plus states of self-stress, sized so that elongations
fit together (the force method of any textbook). Trains are placed at every thousandth of a panel and
wherever an axle is over a joint, a hair before and a hair after.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.linalg

from solver.cases import work_out
from solver.study import Study

STEPS = 1000
HAIR = 1e-12


@dataclass(frozen=True)
class Plain:
    """Columns of forces, reactions, movements and what fully held members would carry."""

    forces: np.ndarray
    reactions: np.ndarray
    movements: np.ndarray
    held: np.ndarray


def solve(study: Study, loads: np.ndarray, stretch: np.ndarray, moved: np.ndarray) -> Plain:
    """Answer joint loads (freedoms, c), free elongations (members, c), support movements (freedoms, c)."""
    truss = study.truss
    d, x = truss.dimension, truss.joint_coordinates
    pull = np.zeros((x.size, len(truss.members)))
    for i, member in enumerate(truss.members):
        along = (x[member.second] - x[member.first]) / np.linalg.norm(x[member.second] - x[member.first])
        pull[d * member.first : d * member.first + d, i] -= along
        pull[d * member.second : d * member.second + d, i] += along
    hold = []
    for support in truss.supports:
        for direction in support.directions:
            column = np.zeros(x.size)
            vector = np.array([float(c) for c in direction])
            column[d * support.joint : d * support.joint + d] = vector / np.linalg.norm(vector)
            hold.append(-column)
    whole = np.hstack([pull, np.array(hold).T])
    members = len(truss.members)
    flexibility = np.concatenate([1 / truss.axial_stiffness, np.zeros(len(hold))])
    asked = np.vstack([stretch - pull.T @ moved, np.zeros((len(hold), loads.shape[1]))])
    answer = np.linalg.lstsq(whole, loads, rcond=None)[0]
    states = scipy.linalg.null_space(whole, rcond=1e-11)
    if states.shape[1]:
        root = np.sqrt(flexibility)[:, None]
        # least work: minimise |root (answer + states z) + asked / root|
        target = root * answer + np.divide(asked, root, out=np.zeros_like(asked), where=root > 0)
        answer = answer - states @ np.linalg.lstsq(root * states, target, rcond=None)[0]
    strain = flexibility[:, None] * answer + asked
    strain[members:] = 0
    movement = np.linalg.lstsq(whole.T, strain, rcond=None)[0] + moved
    return Plain(answer[:members], answer[members:], movement, asked[:members] / flexibility[:members, None])


def case_columns(study: Study) -> Plain:
    """Every load case of a study."""
    actions = [work_out(case, study.truss, study.chords) for case in study.cases.values()]
    stack = lambda parts: np.stack([part.ravel() for part in parts], axis=1)  # noqa: E731
    return solve(
        study,
        stack([a.joint_loads for a in actions]),
        stack([a.free_elongations for a in actions]),
        stack([a.settlements for a in actions]),
    )


def influence(study: Study, chord: str) -> Plain:
    """A unit downward load at each joint of a chord."""
    truss, joints = study.truss, study.chords[chord].joints
    loads = np.zeros((truss.freedoms, len(joints)))
    for column, joint in enumerate(joints):
        loads[joint * truss.dimension + truss.dimension - 1, column] = -1.0
    nothing = np.zeros((len(truss.members), len(joints)))
    return solve(study, loads, nothing, np.zeros_like(loads))


def plan_positions(study: Study, chord: str) -> np.ndarray:
    """Plan distance of each joint of a chord from its first."""
    plan = study.truss.joint_coordinates[list(study.chords[chord].joints)][:, :-1]
    return np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(plan, axis=0), axis=1))])


def sampled_positions(study: Study, name: str, direction: str) -> tuple[np.ndarray, np.ndarray]:
    """Middles of even steps along the travel, and the positions with an axle over a joint, all round."""
    crossing = study.crossings[name]
    x = plan_positions(study, crossing.chord)
    sign = 1.0 if direction == "forward" else -1.0
    over = np.concatenate([x + sign * axle.distance for axle in crossing.trains[0].axles])
    step = np.diff(x).min() / STEPS
    count = min(int((over.max() - over.min()) / step) + 1, 60_000)
    middles = over.min() + (np.arange(count) + 0.5) * (over.max() - over.min()) / count
    hair = HAIR * max(1.0, x[-1])
    return middles, np.concatenate([over - hair, over, over + hair])


def placed(study: Study, name: str, direction: str, positions: np.ndarray) -> np.ndarray:
    """Loads at the chord's joints with the train's front at each position, (joints, positions)."""
    crossing = study.crossings[name]
    x = plan_positions(study, crossing.chord)
    sign = 1.0 if direction == "forward" else -1.0
    loads = np.zeros((len(x), len(positions)))
    for axle in crossing.trains[0].axles:
        place = positions - sign * axle.distance
        on = (place >= -HAIR / 10) & (place <= x[-1] + HAIR / 10)
        for j in range(len(x)):
            hat = np.zeros(len(x))
            hat[j] = 1.0
            loads[j, on] += axle.load * crossing.factor * (1 + crossing.impact) * np.interp(place[on], x, hat)
    return loads


def standing(study: Study, columns: np.ndarray, cases: dict[str, float]) -> np.ndarray:
    """The sum of some case columns with their factors."""
    names = list(study.cases)
    return columns @ np.array([cases.get(name, 0.0) for name in names])
