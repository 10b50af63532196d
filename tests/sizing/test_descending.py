"""Descending, for studies of too many choices to try: never lighter than the least, and holding afresh."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers import answer
from solver.sizing import least
from solver.sizing.choice import Choice, find_sizes
from solver.sizing.descending import settle
from solver.sizing.least import Found, find_least
from solver.sizing.trial import Bench
from tests.sizing.plain_truss import MODULUS, YIELD, Sized, Workings
from tests.sizing.sized_trusses import CIRCLE, circling, crossed, drawn, warren

CAMPAIGN = range(30)
HEAVIER = 1.5
"""Nowhere more than half as heavy again as the least: forces that move may keep the search from it."""


def descend(sized: Sized, monkeypatch: pytest.MonkeyPatch) -> tuple[Found, Bench]:
    """What is found where every study counts as too large."""
    monkeypatch.setattr(least, "MOST", -1)
    answers = answer(sized.study())
    bench = Bench(find_sizes(answers.study), (answers.statics, answers.removals))
    return find_least(bench), bench


def hold(sized: Sized, monkeypatch: pytest.MonkeyPatch) -> float | None:
    """Hold what descending finds against the least of all; by how many times it is heavier."""
    workings = Workings(sized)
    found, bench = descend(sized, monkeypatch)
    expected = workings.least()
    assert not found.proven
    if found.trial is None:
        assert expected is None
        return None
    assert expected is not None
    choice = found.trial.choice
    assert workings.worst(choice) <= 1 + 1e-9
    _afresh(bench, choice)
    ratio = workings.weight(choice) / workings.weight(expected)
    assert 1 - 1e-12 <= ratio <= HEAVIER
    return ratio


def _afresh(bench: Bench, choice: Choice) -> None:
    checks = answer(bench.sizes.study_with(choice)).checks
    for part in (*checks.each, checks.whole):
        assert all(check.holds for check in part if check.key != "another's loss")


@pytest.mark.parametrize("sized", [warren(), warren(own_weight=1.0, deflection=4e-3), crossed(3e-3)])
def test_descending_holds_and_is_never_lighter_than_the_least(
    sized: Sized, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert hold(sized, monkeypatch) is not None


def test_where_forces_stay_descending_finds_the_least_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """Statically determinate, without own weight: each group is on its own."""
    assert hold(warren(own_weight=0.0), monkeypatch) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("seed", range(8))
def test_descending_on_trusses_drawn_at_random(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    hold(drawn(seed), monkeypatch)


def test_where_nothing_holds_descending_finds_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    found, _ = descend(crossed(deflection=1e-3), monkeypatch)
    assert Workings(crossed(deflection=1e-3)).least() is None
    assert found.trial is None and not found.proven


def follow(workings: Workings, choice: Choice) -> Choice:
    """The lightest section of each group for the forces of a choice."""
    sized, forces, found = workings.sized, workings.forces(choice)[0], []
    for place, name in enumerate(sized.groups):
        rows = workings.of_group == place
        fits = []
        for number, section in enumerate(sized.families[name]):
            assert section.radius is not None
            euler = MODULUS * section.area * (np.pi * section.radius / workings.lengths[rows]) ** 2
            pulled, pushed = forces[rows].max(axis=1), -forces[rows].min(axis=1)
            least_ = np.minimum(YIELD * section.area, euler)
            if (pulled <= YIELD * section.area).all() and (pushed <= least_).all():
                fits.append(number)
        found.append(fits[0] if fits else len(sized.families[name]) - 1)
    return tuple(found)


def test_sections_that_go_round_in_circles_end_with_the_heaviest_that_were_met(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    workings = Workings(circling())
    assert [follow(workings, choice) for choice in CIRCLE] == CIRCLE[::-1]
    _, bench = descend(circling(), monkeypatch)
    settled = settle(bench)
    assert settled.choice == tuple(max(pair) for pair in zip(*CIRCLE, strict=True)) == (1, 0, 0, 2)
    # it does not hold yet; what follows makes it hold
    assert workings.worst(settled.choice) > 1
    found, expected = find_least(bench).trial, workings.least()
    assert found is not None and expected is not None
    assert workings.worst(found.choice) <= 1 + 1e-9
    assert found.weight >= workings.weight(expected) * (1 - 1e-12)


@pytest.mark.campaign
def test_how_near_descending_comes_on_thirty_trusses(monkeypatch: pytest.MonkeyPatch) -> None:
    found = [hold(drawn(seed), monkeypatch) for seed in CAMPAIGN]
    ratios = np.array([ratio for ratio in found if ratio is not None])
    share = (ratios < 1 + 1e-9).mean()
    print(f"{len(ratios)} studies: mean {ratios.mean():.4f}, worst {ratios.max():.4f}, least in {share:.0%}")
    assert ratios.mean() < 1.05
