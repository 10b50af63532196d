"""Every number of a loss is that of the tables of the truss built without the member."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from solver.cases import LoadCase
from solver.errors import UntrustworthyError
from solver.losses import after
from solver.losses.stable import Stable, examine_stable
from solver.response import Responses, respond
from solver.statics import examine
from solver.study import Study
from solver.truss import Group
from tests.laws.random_trains import draw_crossing
from tests.laws.studies import draw_study
from tests.losses.losing import bundled
from tests.losses.plain_way import Expected, expect, resistances, work_out

CLOSE = 1e-8
"""Both ways end in forces that are trusted to 1e-9 of their scale."""

CAMPAIGN = range(30_000, 31_000)


def with_resistances(study: Study, random: np.random.Generator, decades: float = 0.0) -> Study:
    """The study with resistances drawn member by member, some left out; areas over `decades`, if any."""

    def drawn(group: Group) -> Group:
        tension, compression = (
            None if random.random() < 0.15 else float(10 ** random.uniform(3, 6)) for _ in range(2)
        )
        area = float(10 ** random.uniform(-decades, 0)) if decades else group.section.area
        section = replace(group.section, area=area)
        return replace(group, section=section, tension=tension, compression=compression)

    members = tuple(replace(member, group=drawn(member.group)) for member in study.truss.members)
    return replace(study, truss=replace(study.truss, members=members))


def any_study(seed: int) -> Study:
    return with_resistances(draw_study(seed).study, np.random.default_rng([seed, 7]))


def crossed_study(seed: int) -> Study:
    """A girder under a train of everything that can be written down, and under a case of its own."""
    study, random = draw_crossing(seed), np.random.default_rng([seed, 8])
    joint = int(random.integers(len(study.truss.joint_names)))
    wind = LoadCase("wind", joints={joint: (float(random.normal()), float(random.normal()))})
    both = replace(study.combinations[0], name="both", cases={"wind": 1.5})
    study = replace(study, cases={"wind": wind}, combinations=(*study.combinations, both))
    study = with_resistances(study, random)
    small = [replace(m.group, tension=m.group.tension and m.group.tension / 1e3) for m in study.truss.members]
    members = tuple(replace(m, group=g) for m, g in zip(study.truss.members, small, strict=True))
    return replace(study, truss=replace(study.truss, members=members))


def uneven_study(seed: int) -> Study:
    """Areas over nine decades, so that some redundancy shares are next to 0 and some next to 1."""
    return with_resistances(draw_study(seed).study, np.random.default_rng([seed, 9]), decades=9.0)


def hold(study: Study, anew: bool = False) -> tuple[int, float]:
    """Hold every loss of a study against the plain way; how many there are, and the worst difference."""
    spared = np.flatnonzero(~examine(study.truss).needed)
    if not len(spared):
        return 0, 0.0
    tables, before, stiffness = work_out(study)
    worst = 0.0
    for lost, found in examine_stable(before, stiffness, spared, anew):
        expected = expect(study, tables, lost)
        differences = [*_strength(found, expected), *_growth(found, expected), _reactions(found, expected)]
        assert max(differences) <= CLOSE, (lost, differences)
        _names(found, expected)
        worst = max(worst, *differences)
    return len(spared), worst


def _size(expected: Expected) -> float:
    """What differences of forces are held against [N]; 1 where nothing acts."""
    return max(expected.before.scale, expected.after.scale) or 1.0


def _strength(found: Stable, expected: Expected) -> list[float]:
    """Differences of utilisations, as shares of the largest, or of the scale over the least resistance."""
    # A force may be zero in the larger scale of a truss whose stiffest heated member is yet to be lost.
    if not 0 < expected.unproven <= 2e-9 * _size(expected):
        assert found.unproven == bool(expected.unproven)
    assert {over.member: over.how for over in found.over} == expected.over
    assert (found.worst is None) == (expected.worst is None)
    if found.worst is None or expected.worst is None:
        return [0.0]
    least = float(np.nanmin(resistances(expected.study)))
    size = max(expected.worst, _size(expected) / least)
    told = [abs(over.utilisation - expected.utilisations[over.member]) for over in found.over]
    return [difference / size for difference in [abs(found.worst.utilisation - expected.worst), *told]]


def _growth(found: Stable, expected: Expected) -> list[float]:
    """Differences of the largest rise and of the ratio of deflections."""
    size = _size(expected)
    rise = max(0.0, float(expected.rises.max()))
    differences = [abs(found.growth - rise) / size]
    ratio = expected.after.deflection / expected.before.deflection if expected.before.deflection else np.nan
    if np.isnan(ratio):
        assert np.isnan(found.deflection_ratio)
        return differences
    return [*differences, abs(found.deflection_ratio - ratio) / (ratio or 1.0)]


def _reactions(found: Stable, expected: Expected) -> float:
    size = _size(expected)
    return float(np.abs(found.reactions - expected.after.reactions).max(initial=0.0)) / size


def _names(found: Stable, expected: Expected) -> None:
    """Whoever is named is the one, or as good as it."""
    worst, least = found.worst, np.nanmin([*resistances(expected.study).ravel(), np.inf])
    if worst and expected.worst and expected.worst > 2e-9 * _size(expected) / least:
        assert expected.utilisations[worst.member] >= expected.worst * (1 - CLOSE)
        governing = expected.governing(worst.member, worst.compression)
        assert (worst.combination, worst.direction) == (governing.combinations[0], governing.directions[0])
        np.testing.assert_allclose(worst.position, governing.positions[0], rtol=1e-6, atol=1e-6)
    if found.grown < 0:
        assert expected.rises.max() <= 2e-9 * _size(expected)
        assert np.isnan(found.growth_ratio)
    else:
        size = _size(expected)
        assert expected.rises[found.grown] >= expected.rises.max() - CLOSE * size
        was = expected.before.peaks[found.grown]
        if was:
            np.testing.assert_allclose(found.growth_ratio, (was + found.growth) / was, rtol=1e-8)
        else:
            assert np.isnan(found.growth_ratio)


@pytest.mark.parametrize("seed", range(12))
def test_what_a_loss_leaves_is_what_the_truss_built_without_the_member_says(seed: int) -> None:
    hold(any_study(seed))


@pytest.mark.parametrize("name", ["curlew_mast", "godwit_girder", "heron_fan"])
def test_losses_of_bundled_studies_are_those_of_the_plain_way(name: str) -> None:
    count, _ = hold(bundled(name))
    assert count > 0


@pytest.mark.parametrize("seed", range(12))
def test_after_a_loss_every_kind_of_train_is_placed_anew_where_it_is_worst(seed: int) -> None:
    hold(crossed_study(seed))


@pytest.mark.parametrize("seed", range(6))
def test_members_of_areas_nine_decades_apart_are_lost_as_exactly(seed: int) -> None:
    hold(uneven_study(seed))


@pytest.mark.parametrize("kind", [any_study, crossed_study])
def test_losses_worked_out_anew_are_those_of_the_plain_way_too(kind: Callable[[int], Study]) -> None:
    for seed in range(4):
        hold(kind(seed), anew=True)


def test_a_loss_worked_out_anew_that_leaves_joints_unbalanced_is_refused_by_name(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    study = bundled("heron_fan")
    _, before, stiffness = work_out(study)

    def astray(left: Study, *more: Any) -> Responses:
        found = respond(left, *more)
        return replace(found, imbalance=replace(found.imbalance, cases=found.imbalance.cases + 1.0))

    monkeypatch.setattr(after, "respond", astray)
    with pytest.raises(UntrustworthyError, match=f"without {study.truss.members[1].name} the joints"):
        list(examine_stable(before, stiffness, np.array([1]), anew=True))


@pytest.mark.campaign
@pytest.mark.parametrize("kind", [any_study, crossed_study, uneven_study])
def test_every_loss_of_a_thousand_trusses_is_that_of_the_plain_way(kind: Callable[[int], Study]) -> None:
    losses, worst = 0, 0.0
    for seed in CAMPAIGN:
        try:
            count, difference = hold(kind(seed))
        except AssertionError as error:
            raise AssertionError(f"seed {seed}") from error
        losses, worst = losses + count, max(worst, difference)
    print(f"{kind.__name__}: {losses} losses, worst difference {worst:.3g} of the scale")
    assert losses > len(CAMPAIGN)
