"""A study without one of its members: what the member brings with it goes, all else stays."""

from __future__ import annotations

from dataclasses import replace

from solver.cases import LoadCase
from solver.study import Study
from solver.truss import Truss


def without(study: Study, member: int) -> Study:
    """Return the study without a member (index), its own weight, temperature and misfit gone with it.

    Pieces are left out: one that lacks a bar is none.
    """
    cases = {name: _without(case, member) for name, case in study.cases.items()}
    return replace(study, truss=take_out(study.truss, member), cases=cases)


def take_out(truss: Truss, member: int) -> Truss:
    """Return the truss without a member (index) and without its pieces."""
    left = tuple(one for index, one in enumerate(truss.members) if index != member)
    return replace(truss, members=left, pieces=())


def _without(case: LoadCase, member: int) -> LoadCase:
    temperature = case.temperature
    if temperature is not None:
        temperature = tuple(t for index, t in enumerate(temperature) if index != member)
    misfit = {m - (m > member): amount for m, amount in case.misfit.items() if m != member}
    return replace(case, temperature=temperature, misfit=misfit)
