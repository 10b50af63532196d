"""What puts a force into each member under each load case: own weight, strains, or other loads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.cases import LoadCase, work_out
from solver.response import Responses
from solver.stiffness import Stiffness
from solver.study import Study

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Causes:
    """Forces of each load case by their cause, (members, cases) [N]: own weight, strains (temperature, misfit
    and settlement), other loads.
    """

    weight: Array
    strain: Array
    load: Array


def find_causes(study: Study, stiffness: Stiffness, responses: Responses) -> Causes:
    """Split the forces of every load case by their cause."""
    parts = [list(_split(case)) for case in study.cases.values()]
    weight, strain = (_answer(study, stiffness, [part[number] for part in parts]) for number in (0, 1))
    return Causes(weight, strain, responses.forces.cases - weight - strain)


def _split(case: LoadCase) -> Iterator[LoadCase]:
    """A case's own weight alone, and its strains alone."""
    yield LoadCase(case.name, self_weight=case.self_weight)
    yield replace(case, self_weight=0.0, joints={}, lines=())


def _answer(study: Study, stiffness: Stiffness, cases: list[LoadCase]) -> Array:
    truss = study.truss
    actions = [work_out(case, truss, study.chords) for case in cases]
    columns = [
        np.stack([part.ravel() for part in parts], axis=1) if parts else np.zeros((height, 0))
        for parts, height in (
            ([a.joint_loads for a in actions], truss.freedoms),
            ([a.free_elongations for a in actions], len(truss.members)),
            ([a.settlements for a in actions], truss.freedoms),
        )
    ]
    return np.asarray(stiffness.respond(*columns).forces)
