"""Slenderness and depth: which limits are asked of pulled, pushed and reversed members, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.combining import Combination
from solver.profiles.profile import Profile
from solver.resistance.directions import SAME_RADIUS
from solver.resistance.plain import Plain
from solver.resistance.slenderness import AASHTO, AISC_360, ALL, AREMA, IS_800, Recommendation
from solver.rules import Limits, Rules
from solver.study import Study
from solver.truss import Group, Making, Piece, Section
from tests.building import build_truss, load_case
from tests.checks.made_of import BAR, STEEL, all_checks_of, checks_of, made_of, ruled
from tests.resistance.members import box, rod

FORCES = ("compression", "tension", "tension with reversal")
EACH = tuple(
    Recommendation("code", f"clause {most}", force, "members", most, "from memory")  # type: ignore[arg-type]
    for force, most in zip(FORCES, (90.0, 110.0, 130.0), strict=True)
)
IN_COMPRESSION, IN_TENSION = "slenderness in compression", "slenderness in tension"


def bar_of(group: Group, *forces: float, rules: Rules, held: bool = True) -> Study:
    """A bar of 2 m under forces one after the other [N], held out of plane at its ends or not known so."""
    truss = made_of(build_truss({"A": (0, 0), "B": (2, 0)}, ["A-B"], {"A": "xy", "B": "y"}), {}, group)
    truss = replace(truss, pieces=(Piece("bar", (0, 1), (0, 1)),) if held else ())
    cases = [load_case(truss, f"case {i}", B=(force, 0)) for i, force in enumerate(forces)]
    combinations = [Combination(case.name, {case.name: 1.0}) for case in cases]
    return ruled(truss, cases, rules, combinations)


def asked(study: Study) -> list[tuple[str, float, float]]:
    found = [check for check in all_checks_of(study, "A-B") if check.key.startswith("slenderness")]
    return [(check.key, check.limit, check.utilisation) for check in found]


PLAIN_BAR = Group("bar", BAR, STEEL)
"""2 m over 0.02 m: 100."""


@pytest.mark.parametrize(
    ("forces", "expected"),
    [
        ((1.0,), [(IN_TENSION, 110.0), (IN_TENSION, 70.0)]),
        ((-1.0,), [(IN_COMPRESSION, 90.0), (IN_COMPRESSION, 50.0)]),
        (
            (1.0, -1.0),
            [(IN_COMPRESSION, 90.0), (IN_COMPRESSION, 50.0), (IN_TENSION, 130.0), (IN_TENSION, 70.0)],
        ),
        ((0.0,), []),
    ],
)
def test_each_member_is_asked_for_its_slenderness_under_the_forces_that_it_bears(
    forces: tuple[float, ...], expected: list[tuple[str, float]]
) -> None:
    rules = Rules(Plain(), EACH, Limits(slenderness=(50.0, 70.0)))
    found = asked(bar_of(PLAIN_BAR, *forces, rules=rules))
    assert sorted((key, limit) for key, limit, _ in found) == sorted(expected)
    for _, limit, utilisation in found:
        assert utilisation == pytest.approx(100 / limit, rel=1e-12)


def test_a_force_in_service_alone_asks_for_slenderness_as_well_one_for_nothing_does_not() -> None:
    study = bar_of(PLAIN_BAR, 1.0, -1.0, rules=Rules(Plain(), EACH))
    for purpose, keys in (("service", [IN_COMPRESSION, IN_TENSION]), ("nothing", [IN_TENSION])):
        combinations = (study.combinations[0], replace(study.combinations[1], purpose=purpose))
        assert sorted(key for key, *_ in asked(replace(study, combinations=combinations))) == keys


def test_recommendations_of_codes_are_told_with_code_clause_and_members() -> None:
    study = bar_of(PLAIN_BAR, -1.0, rules=Rules(Plain(), ALL))
    pushed = [check for check in all_checks_of(study, "A-B") if check.key == IN_COMPRESSION]
    main = {one.name for one in ALL if one.force == "compression" and one.rank != "secondary"}
    assert {check.by for check in pushed} == {name for name in main if "wind" not in name}
    assert len(pushed) == 4


def test_of_bracing_codes_are_asked_what_they_recommend_for_bracing() -> None:
    """AREMA: 100 of main members, 120 of bracing; AASHTO: 120 and 140, in tension 200 and 240."""
    secondary = replace(PLAIN_BAR, making=Making(secondary=True))
    for codes, force, of_main, of_bracing in (
        (AREMA, -1.0, 100.0, 120.0),
        (AASHTO, -1.0, 120.0, 140.0),
        (AASHTO, 1.0, 200.0, 240.0),
        (AREMA, 1.0, 200.0, 200.0),
    ):
        for group, limit in ((PLAIN_BAR, of_main), (secondary, of_bracing)):
            study = bar_of(group, force, rules=Rules(Plain(), codes))
            assert [most for _, most, _ in asked(study)] == [limit]


def test_what_wind_alone_would_allow_is_told_and_not_granted() -> None:
    """IS 800, table 3: 250 in compression under wind alone; whether it is wind alone nobody says here."""
    rules = Rules(Plain(), IS_800)
    (check,) = [c for c in all_checks_of(bar_of(PLAIN_BAR, -1.0, rules=rules), "A-B") if "slender" in c.key]
    assert check.limit == 180 and any("250 where wind" in text for text in check.unchecked)
    limits = [most for _, most, _ in asked(bar_of(PLAIN_BAR, 1.0, -1.0, rules=rules))]
    assert limits == [180, 180]


def made_as(profile: Profile) -> Group:
    return Group("shaped", Section("shaped", profile.area, profile=profile), STEEL)


def test_what_codes_do_not_ask_of_rods_in_tension_is_not_asked_of_rods() -> None:
    bar, tube = made_as(rod(0.02)), made_as(box(0.02, 0.02, 0.002))
    for codes, of_rods, of_tubes in ((AISC_360, 0, 1), (AASHTO, 0, 1), (AREMA, 1, 1), (IS_800, 1, 1)):
        found = [asked(bar_of(group, 1.0, rules=Rules(Plain(), codes))) for group in (bar, tube)]
        assert [len(checks) for checks in found] == [of_rods, of_tubes]
    reversed_rod = asked(bar_of(bar, 1.0, -1.0, rules=Rules(Plain(), AASHTO)))
    assert {key for key, *_ in reversed_rod} == {IN_COMPRESSION}


def test_a_flat_in_tension_is_a_plate_that_aashto_exempts() -> None:
    flat = made_as(replace(box(0.05, 0.02, 0.005), shape="flat"))
    assert asked(bar_of(flat, 1.0, rules=Rules(Plain(), AASHTO))) == []
    assert len(asked(bar_of(flat, 1.0, rules=Rules(Plain(), AISC_360)))) == 1


def test_the_limits_of_the_study_are_asked_of_rods_as_well() -> None:
    rules = Rules(Plain(), AISC_360, Limits(slenderness=(None, 100.0)))
    assert [limit for _, limit, _ in asked(bar_of(made_as(rod(0.02)), 1.0, rules=rules))] == [100.0]


def test_that_a_hanger_cannot_be_told_from_another_member_in_tension_is_said() -> None:
    pulled = checks_of(bar_of(PLAIN_BAR, 1.0, rules=Rules(Plain(), AISC_360)), "A-B")[IN_TENSION]
    assert "rods and hangers" in pulled.by
    assert [text for text in pulled.unchecked if text != SAME_RADIUS and "hanger" in text]
    assert len(pulled.unchecked) == 2
    pushed = checks_of(bar_of(PLAIN_BAR, -1.0, rules=Rules(Plain(), AISC_360)), "A-B")[IN_COMPRESSION]
    assert pushed.unchecked == (SAME_RADIUS,)


def test_names_of_recommendations_tell_the_force_and_tell_it_once() -> None:
    for one in ALL:
        assert one.name.count("tension") + one.name.count("compression") == (0 if "ties" in one.name else 1)


def test_effective_lengths_count_and_the_study_names_its_own_limits() -> None:
    group = replace(PLAIN_BAR, making=Making(effective=(0.5, 0.8)))
    (check,) = [
        c
        for c in all_checks_of(
            bar_of(group, -1.0, rules=Rules(Plain(), (), Limits(slenderness=(100.0, None)))), "A-B"
        )
        if c.key == IN_COMPRESSION
    ]
    assert check.utilisation == pytest.approx(0.8, rel=1e-12)
    assert check.by == "the study" and check.unchecked == (SAME_RADIUS,)


def test_without_a_radius_slenderness_is_not_known_and_says_so() -> None:
    bare = Group("bare", Section("bare", 1e-3), STEEL)
    study = bar_of(bare, 1.0, rules=Rules(Plain(), (), Limits(slenderness=(None, 100.0))))
    check = checks_of(study, "A-B")[IN_TENSION]
    assert np.isnan(check.utilisation) and check.refused == ("no radius of gyration",) and not check.holds


def test_a_length_out_of_plane_that_is_not_known_is_told() -> None:
    rules = Rules(Plain(), (), Limits(slenderness=(100.0, None)))
    check = checks_of(bar_of(PLAIN_BAR, -1.0, rules=rules, held=False), "A-B")[IN_COMPRESSION]
    assert check.unchecked == ("out of plane not checked",)


def test_a_member_shorter_than_so_many_depths_does_not_hold() -> None:
    deep = box(0.25, 0.1, 0.01)
    group = Group("deep", Section("deep", deep.area, profile=deep), STEEL)
    for least, holds in ((8.0, True), (8.01, False)):
        study = bar_of(group, 1.0, rules=Rules(Plain(), (), Limits(length_to_depth=least)))
        check = checks_of(study, "A-B")["depth"]
        assert check.demand == pytest.approx(8.0) and check.limit == least
        assert check.utilisation == pytest.approx(least / 8) and check.holds == holds


def test_a_depth_that_is_told_with_a_section_counts() -> None:
    told = replace(PLAIN_BAR, section=replace(BAR, depth=0.25))
    study = bar_of(told, 1.0, rules=Rules(Plain(), (), Limits(length_to_depth=10.0)))
    check = checks_of(study, "A-B")["depth"]
    assert check.demand == pytest.approx(8.0) and not check.holds


def test_the_depth_of_a_section_without_a_profile_is_not_known() -> None:
    study = bar_of(PLAIN_BAR, 0.0, rules=Rules(Plain(), (), Limits(length_to_depth=8.0)))
    check = checks_of(study, "A-B")["depth"]
    assert np.isnan(check.utilisation) and check.refused and not check.holds
    assert "depth" not in checks_of(bar_of(PLAIN_BAR, 0.0, rules=Rules(Plain())), "A-B")
