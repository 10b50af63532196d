"""What a reader of the results should be told besides the numbers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from solver.checks.whole import Checks
from solver.peaks import Extremes
from solver.sensitivity import Sensitivity
from solver.study import Study
from solver.tolerances import FABRICATION, is_zero

Array = NDArray[np.float64]


def take_notice(
    study: Study, sensitivity: Sensitivity, reactions: Extremes, scales: Array, checks: Checks
) -> tuple[str, ...]:
    """Return the notices of a study and of its finished run, the study's own first.

    Near-critical form, uplift, load cases in no combination, resistances that nobody knows. scales
    (combinations,) [N].
    """
    own = (*study.notices, *_near_critical(sensitivity), *_uplift(study, reactions, scales))
    return (*own, *_uncombined(study), *_unknown(study, checks))


def _unknown(study: Study, checks: Checks) -> Iterator[str]:
    """Groups some of whose members bear what nobody knows that they resist, where any resistance is known."""
    groups = [member.group for member in study.truss.members]
    given = any(group.tension is not None or group.compression is not None for group in groups)
    if study.rules.standard is None and not given:
        return
    unknown: dict[tuple[str, str, str], None] = {}
    for group, own in zip(groups, checks.each, strict=True):
        for check in own:
            if check.key in ("tension", "compression") and np.isnan(check.utilisation):
                unknown[group.name, check.key, "; ".join(check.refused) or "none is given"] = None
    yield from (f"group {name}: resistance in {key} not known: {why}" for name, key, why in unknown)


def _near_critical(sensitivity: Sensitivity) -> Iterator[str]:
    if sensitivity.near_critical:
        yield (
            "near-critical form: the largest member force per unit joint load is "
            f"{sensitivity.as_written:.4g} as written, and between {sensitivity.best:.4g} and "
            f"{sensitivity.worst:.4g} if joints lie span/{1 / FABRICATION:.0f} off"
        )


def _uplift(study: Study, reactions: Extremes, scales: Array) -> Iterator[str]:
    """A reaction with an upward direction that turns downward: the support must hold the truss down."""
    row = 0
    for support in study.truss.supports:
        for direction, label in zip(support.directions, support.labels, strict=True):
            upward = 1.0 if direction[-1] >= 0 else -1.0
            worst = reactions.smallest if upward > 0 else reactions.largest
            index = worst.combinations[row]
            turned = upward * worst.values[row] < 0 and not is_zero(worst.values[row], scales[index])
            if direction[-1] and turned:
                combination = study.asked[index].name
                name = study.truss.joint_names[support.joint]
                place = f"support {name} along {label} in '{combination}'"
                yield f"uplift at {place}: it must hold the truss down"
            row += 1


def _uncombined(study: Study) -> Iterator[str]:
    """Load cases that no combination takes up: they wake members but make no peak."""
    if not study.combinations:
        return
    taken = {name for c in study.combinations for name in (*c.cases, *c.lanes, c.crossing)}
    left = [f"'{load.name}'" for load in study.alone if load.name not in taken]
    if left:
        yield f"in no combination, so in no peak: {', '.join(left)}"
