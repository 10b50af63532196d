"""The lightest choice, against going through every one in plain matrices."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from solver.answers import answer, size
from solver.sizing.by_weight import by_weight
from solver.sizing.choice import Choice, find_sizes
from tests.sizing.plain_truss import Sized, Workings
from tests.sizing.sized_trusses import crossed, drawn, warren

STUDIES = {
    "determinate, own weight": warren(),
    "determinate, deflection": warren(own_weight=1.0, deflection=4e-3),
    "crossed": crossed(),
    "crossed, deflection": crossed(deflection=3e-3),
}
CAMPAIGN = range(100, 160)


def hold(sized: Sized) -> Choice | None:
    """Hold what is found against every choice in plain matrices; what it is."""
    workings = Workings(sized)
    found, expected = size(answer(sized.study())), workings.least()
    assert found.proven
    if expected is None:
        assert found.then is None and {one.state for one in found.each} == {"none holds"}
        return None
    assert found.then is not None
    assert found.then.weight == pytest.approx(workings.weight(expected), rel=1e-12)
    chosen = tuple(
        len(sized.families[group]) + sized.now if one < 0 else one
        for group, one in zip(sized.groups, found.then.choice, strict=True)
    )
    assert workings.worst(chosen) <= 1 + 1e-9
    return chosen


@pytest.mark.parametrize("name", STUDIES)
def test_the_lightest_choice_is_that_of_going_through_all(name: str) -> None:
    chosen = hold(STUDIES[name])
    sizes = [len(STUDIES[name].families[group]) for group in STUDIES[name].groups]
    assert chosen is not None
    # neither the lightest nor the heaviest of every family: something decided
    assert any(chosen) and any(one < most - 1 for one, most in zip(chosen, sizes, strict=True))


def test_own_weight_and_deflection_decide_in_these_studies() -> None:
    chosen = {name: Workings(sized).least() for name, sized in STUDIES.items()}
    weightless = Workings(warren(own_weight=0.0)).least()
    assert chosen["determinate, own weight"] != weightless
    assert chosen["determinate, deflection"] != Workings(warren(own_weight=1.0)).least()
    assert chosen["crossed, deflection"] != chosen["crossed"]


def test_forces_of_the_crossed_panel_move_with_its_sections() -> None:
    workings = Workings(crossed())
    one, other = workings.forces((0, 0, 9))[0], workings.forces((9, 7, 0))[0]
    assert abs(one - other).max() > 0.2 * abs(one).max()


@pytest.mark.parametrize("seed", range(4))
def test_on_trusses_drawn_at_random_too(seed: int) -> None:
    hold(drawn(seed))


@pytest.mark.campaign
def test_on_dozens_of_trusses_drawn_at_random() -> None:
    found = [hold(drawn(seed)) for seed in CAMPAIGN]
    print(f"{sum(one is not None for one in found)} of {len(found)} have a choice that holds")
    assert any(one is None for one in found) and any(found)


def in_order(sized: Sized) -> list[Choice]:
    """Every choice, the lightest first."""
    sizes = find_sizes(sized.study())
    return list(by_weight(sizes, [sizes.options(place) for place in range(len(sizes.groups))]))


def test_trials_work_out_what_plain_matrices_do() -> None:
    """Every utilisation of some choices, beside the largest."""
    for sized in (STUDIES["determinate, own weight"], STUDIES["crossed, deflection"]):
        workings, sizes = Workings(sized), find_sizes(sized.study())
        for choice in workings.choices()[::97]:
            checks = answer(sizes.study_with(choice)).checks
            asked = [
                check.utilisation
                for part in (*checks.each, checks.whole)
                for check in part
                if check.key != "another's loss"
            ]
            assert max(asked) == pytest.approx(workings.worst(choice), rel=1e-8), choice


@pytest.mark.parametrize("sized", [warren(), crossed(), drawn(3)])
def test_every_choice_comes_once_and_none_before_a_lighter_one(sized: Sized) -> None:
    workings = Workings(sized)
    order = in_order(sized)
    assert len(order) == len(set(order)) and set(order) == set(workings.choices())
    weights = [workings.weight(choice) for choice in order]
    assert all(one <= two * (1 + 1e-12) for one, two in pairwise(weights))


def test_families_out_of_order_and_with_equal_sections_are_gone_through_as_well() -> None:
    sized = replace(crossed(), families={n: s[1::2] for n, s in crossed().families.items()})
    families = {
        name: (*sections[::-1], replace(sections[2], name="again"))
        for name, sections in sized.families.items()
    }
    shuffled = replace(sized, families=families, now=0)
    order = in_order(shuffled)
    workings = Workings(shuffled)
    assert len(order) == len(set(order)) == len(workings.choices())
    weights = [workings.weight(choice) for choice in order]
    assert all(one <= two * (1 + 1e-12) for one, two in pairwise(weights))
    best, again = Workings(sized).least(), workings.least()
    assert best is not None and again is not None
    found = size(answer(shuffled.study())).then
    assert found is not None
    assert found.weight == pytest.approx(Workings(sized).weight(best), rel=1e-12)
    assert workings.weight(again) == pytest.approx(found.weight, rel=1e-12)
