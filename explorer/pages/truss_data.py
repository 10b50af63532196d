"""What every page's browser gets of a truss: names, coordinates, the keys' order, units. SI numbers."""

from __future__ import annotations

import numpy as np

from explorer.document.units import SYSTEMS
from explorer.store import Worked
from solver.answers import Answers


def pack_truss(worked: Worked) -> dict[str, object]:
    """Pack a study's truss, the study's key and title with it."""
    answers = worked.answers
    truss = answers.study.truss
    return {
        "key": worked.key,
        "title": answers.study.title,
        "units": worked.document.units.name,
        "dimension": truss.dimension,
        "joints": truss.joint_coordinates.tolist(),
        "members": [member.name for member in truss.members],
        "ends": truss.ends.tolist(),
        "order": _walking_order(answers),
        "systems": {
            name: {kind: [system.labels[kind], float(system.factors[kind])] for kind in ("force", "length")}
            for name, system in SYSTEMS.items()
        },
    }


def _walking_order(answers: Answers) -> list[int]:
    """Members from left to right by their middles (in space: from low to high), for the arrow keys."""
    truss = answers.study.truss
    middles = truss.joint_coordinates[truss.ends].mean(axis=1).round(9)
    keys = (
        (middles[:, 1], middles[:, 0])
        if truss.dimension == 2
        else (middles[:, 0], middles[:, 1], middles[:, 2])
    )
    return [int(index) for index in np.lexsort(keys)]
