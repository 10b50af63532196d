"""Every bundled study and random ones: each answer is what 50-digit direct stiffness and sampling give."""

from __future__ import annotations

from functools import cache

import pytest

from explorer.bundled import list_bundled
from explorer.document import read_study
from solver.answers import Answers, answer
from tests.laws.studies import draw_study
from tests.plain import checks
from tests.plain.expected import Expected, work_out_plainly

BUNDLED = {item.name: item.path for item in list_bundled("study") if item.kind == "study"}
NAMES = [*BUNDLED, *(f"random {seed}" for seed in range(40))]
CAMPAIGN = range(10_000, 11_000)


@cache
def worked_out(name: str) -> tuple[Answers, Expected]:
    kind, _, seed = name.partition(" ")
    study = draw_study(int(seed)).study if kind == "random" else read_study(BUNDLED[name]).study
    return answer(study), work_out_plainly(study)


@pytest.mark.parametrize("name", NAMES)
def test_forces_reactions_and_movements_of_every_case_and_unit_load_are_those_of_the_plain_way(
    name: str,
) -> None:
    checks.check_columns(*worked_out(name))


@pytest.mark.parametrize("name", NAMES)
def test_scales_and_extreme_forces_of_every_combination_are_those_of_the_plain_way(name: str) -> None:
    checks.check_peaks_and_scales(*worked_out(name))


@pytest.mark.parametrize("name", NAMES)
def test_zero_shares_are_the_lengths_and_the_counts_of_zero_samples(name: str) -> None:
    checks.check_zero_shares(*worked_out(name))


@pytest.mark.parametrize("name", NAMES)
def test_peaks_occur_where_they_are_said_to_and_nowhere_sooner(name: str) -> None:
    checks.check_governing_forces(*worked_out(name))


@pytest.mark.parametrize("name", NAMES)
def test_extreme_reactions_and_deflections_occur_where_they_are_said_to_and_nowhere_sooner(name: str) -> None:
    checks.check_extremes(*worked_out(name))


@pytest.mark.parametrize("name", NAMES)
def test_redundancy_shares_and_waking_loads_are_those_of_their_definitions(name: str) -> None:
    checks.check_redundancy_and_waking(*worked_out(name))


@pytest.mark.campaign
@pytest.mark.parametrize("seed", CAMPAIGN)
def test_everything_is_that_of_the_plain_way(seed: int) -> None:
    study = draw_study(seed).study
    answers, expected = answer(study), work_out_plainly(study)
    for check in checks.CHECKS:
        check(answers, expected)
