"""The truss as a whole beside its lighter sections: how far it moves, and which of its checks are near."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan

import numpy as np
from numpy.typing import NDArray

from explorer.wording.lighter_checks import tell_by, utilisation
from explorer.wording.numbers import Teller, listed
from solver.checks.check import Check
from solver.peaks import sweep_extremes
from solver.sizing.candidates import Candidates
from solver.sizing.trial import Trial
from solver.study import Study

NEAR = 0.9
"""Checks of the whole truss that ask more than this are told over the list of groups."""


@dataclass(frozen=True)
class Moved:
    """The largest deflection along an axis [m] and its joint (index), in service or under any combination."""

    size: float
    joint: int
    in_service: bool


def find_moved(trial: Trial) -> Moved:
    """Find how far a truss moves in service; where no combination is for service, under any that is asked."""
    study = trial.before.study
    sizes = _deflections(trial)
    counted = np.array([load.counts_for("service") for load in study.asked])
    if counted.any():
        sizes = np.where(counted, sizes, 0.0)
    row = int(sizes.max(axis=1).argmax())
    return Moved(float(sizes[row].max()), row // study.truss.dimension, bool(counted.any()))


def _deflections(trial: Trial) -> NDArray[np.float64]:
    """Absolute deflections [m], (rows, combinations asked); a trial has them only where they are limited."""
    before = trial.before
    if "deflections" in before.intact:
        own = before.of("deflections")
        return np.maximum(np.abs(own.smallest), np.abs(own.largest))
    rows = before.responses
    swept = sweep_extremes(before.ways, rows.deflections, rows.case_names).sweep
    return np.maximum(np.abs(swept.smallest), np.abs(swept.largest))


def limits_deflection(study: Study) -> bool:
    """Whether a study sets any limit of deflection."""
    limits = study.rules.limits
    return limits.deflection is not None or bool(limits.deflections)


def tell_moved(found: Candidates, teller: Teller) -> str:
    """Tell how far the truss moves now and with the sections found, and where nobody limits that."""
    other = None if found.then is found.now else found.then
    moved = [find_moved(trial) for trial in (found.now, other) if trial is not None]
    sizes = " → ".join(teller.tell("small_length", one.size) for one in moved)
    under = "in service" if moved[0].in_service else "under any combination"
    free = "" if limits_deflection(found.sizes.study) else "; the study sets no limit of deflection"
    return f"Largest deflection {under} {sizes}{free}."


def tell_near(found: Candidates) -> str:
    """Tell which checks of the whole truss are near their limits with the sections found, or beyond them.

    Nothing where none is, and where nothing was found.
    """
    if found.then is None:
        return ""
    near = [check for check in found.then.checks.whole if not check.utilisation <= NEAR]
    told = listed([_tell_check(found.sizes.study, check) for check in near])
    return f"Of the whole truss, with the sections found: {told}." if near else ""


def _tell_check(study: Study, check: Check) -> str:
    where = f" at {study.truss.joint_names[check.joint]}" if check.joint >= 0 else ""
    stands = "not known" if isnan(check.utilisation) else utilisation(check.utilisation)
    return f"{check.key}{where} {stands} ({tell_by(check)})"
