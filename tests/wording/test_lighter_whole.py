"""The truss as a whole beside its lighter sections: how far it moves, which of its checks are near."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.document import read_text
from explorer.document.units import METRIC
from explorer.store import Results
from explorer.wording.lighter_whole import find_moved, tell_moved, tell_near
from explorer.wording.numbers import Teller, plain, significant
from solver.answers import size
from solver.checks.check import Check
from solver.sizing.candidates import Candidates

TELLER = Teller(METRIC)


def text_of(name: str) -> str:
    return next(item for item in list_bundled("study") if item.name == name).text()


@cache
def found(name: str) -> Candidates:
    return size(Results().work(text_of(name), f"{name}.toml").answers)


def with_whole(*checks: Check) -> Candidates:
    of = found("avocet_bridge")
    assert of.then
    return replace(of, then=replace(of.then, checks=replace(of.then.checks, whole=checks)))


def deflection(ratio: float) -> Check:
    return Check("deflection", "the study", ratio * 0.05, 0.05, ratio, "radius", joint=3)


@pytest.mark.parametrize("limit", [True, False], ids=["limited", "without a limit"])
def test_how_far_the_truss_moves_in_service_is_what_its_limit_is_held_against(limit: bool) -> None:
    text = text_of("avocet_bridge")
    assert "deflection = 50" in text
    of = found("avocet_bridge")
    now = of.now
    if not limit:
        study = read_text(text.replace("deflection = 50", "# none"), "free.toml").study
        intact = {kind: part for kind, part in now.before.intact.items() if kind != "deflections"}
        now = replace(now, before=replace(now.before, study=study, intact=intact))
    (check,) = of.now.checks.whole
    moved = find_moved(now)
    assert moved.in_service and moved.size == pytest.approx(check.demand, rel=1e-9)


def test_both_deflections_are_told_and_where_nobody_limits_them_that_too() -> None:
    of = found("avocet_bridge")
    assert of.then
    demands = [trial.checks.whole[0].demand for trial in (of.now, of.then)]
    now, then = (f"{significant(1000 * demand)} mm" for demand in demands)
    assert plain(tell_moved(of, TELLER)) == f"Largest deflection in service {now} → {then}."
    assert plain(tell_moved(replace(of, then=None), TELLER)) == f"Largest deflection in service {now}."
    roof = plain(tell_moved(found("bittern_roof"), TELLER))
    # all of its combinations are for strength
    assert roof.startswith("Largest deflection under any combination ")
    assert roof.endswith(" mm; the study sets no limit of deflection.")


def test_a_check_of_the_whole_truss_is_told_once_it_asks_more_than_nine_tenths() -> None:
    joint = found("avocet_bridge").sizes.study.truss.joint_names[3]
    told = "Of the whole truss, with the sections found: deflection at"
    assert tell_near(with_whole(deflection(0.93))) == f"{told} {joint} 0.93 (the study)."
    assert tell_near(with_whole(deflection(0.89))) == tell_near(with_whole()) == ""
    assert tell_near(with_whole(deflection(float(np.nan)))) == f"{told} {joint} not known (the study)."
    assert tell_near(replace(with_whole(deflection(0.93)), then=None)) == ""
