"""Each ground: a small study in which it comes first, one in which it must not appear, numbers by hand."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from solver.answers import answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.study import Study
from solver.verdicts.ground import Ground
from tests.building import build_study, build_truss, load_case
from tests.losses.losing import bundled, resisting
from tests.verdicts.small_studies import (
    SIDES,
    THIN,
    bays,
    cantilever,
    dense_forces,
    fan,
    five_bars,
    girder,
    line_of_bars,
    mast,
    propped,
    square,
    thin_middle,
)


def grounds(study: Study, name: str) -> dict[str, Ground]:
    """The grounds of a member by key, in their order."""
    found = answer(study).grounds[study.truss.member_index(name)]
    assert len({ground.key for ground in found}) == len(found)
    return {ground.key: ground for ground in found}


def first(study: Study, name: str, key: str) -> Ground:
    """The weightiest ground of a member, which is to be of some key."""
    found = grounds(study, name)
    assert next(iter(found)) == key, list(found)
    return found[key]


def named(study: Study, ground: Ground) -> list[str]:
    return [study.truss.members[member].name for member in ground.members]


def joints(study: Study, ground: Ground) -> list[str]:
    return [study.truss.joint_names[joint] for joint in ground.joints]


# ---- prop, mechanism ---------------------------------------------------------------------------------------


def test_a_prop_comes_first_with_the_compression_that_it_holds() -> None:
    study = propped(10)
    found = first(study, "M-P", "prop")
    assert found.number == pytest.approx(-10, rel=1e-12)
    assert (named(study, found), joints(study, found)) == (["A-M"], ["M"])


def test_the_post_of_the_bridge_props_a_chord_of_300_kn_under_its_deck_alone() -> None:
    # 9 kN/m on 40 m: 1800 kNm in the middle, 6 m high
    found = first(bundled("avocet_bridge", ["deck"]), "L4-U4", "prop")
    assert found.number == pytest.approx(-300e3, rel=1e-12)


@pytest.mark.parametrize("study", [propped(-10), propped(10, -1.0)])
def test_what_holds_a_pulled_or_a_loaded_joint_is_no_prop(study: Study) -> None:
    assert "prop" not in grounds(study, "M-P")
    found = first(study, "M-P", "mechanism")
    assert (found.number, joints(study, found)) == (1.0, ["M"])


def test_a_mechanism_is_told_with_its_joints() -> None:
    # without L3-U3 the floor beam at L3 has nothing to hang on
    study = bundled("avocet_bridge")
    found = first(study, "L3-U3", "mechanism")
    assert (found.number, joints(study, found)) == (1.0, ["L3"])


def test_no_mechanism_is_told_of_a_member_that_geometry_can_spare() -> None:
    assert all("mechanism" not in grounds(square(), name) for name in ("A-B", "A-C", "B-D"))


# ---- overload, deflection ----------------------------------------------------------------------------------


def test_an_overload_comes_first_with_the_utilisation_of_the_one_that_is_over() -> None:
    study = square(tension=1.2, compression=1.1)
    found = first(study, "B-D", "overload")
    assert found.number == pytest.approx(sqrt(2) / 1.2, rel=1e-12)
    assert named(study, found) == ["A-C"]


def test_an_overload_is_told_under_the_combination_that_is_worst() -> None:
    study = square(tension=1.9, compression=1.9)
    combinations = (Combination("less", {"load": 0.5}), Combination("more", {"load": 1.5}))
    found = first(replace(study, combinations=combinations), "B-D", "overload")
    assert found.number == pytest.approx(1.5 * sqrt(2) / 1.9, rel=1e-12)
    # columns: the load alone, then the combinations
    assert found.under == 2


def test_the_number_of_an_overload_is_that_of_the_members_it_names() -> None:
    # D-E is over its 0.3 N before and after, by the 1 N at E alone; what the loss brings is A-C at sqrt 2
    points = {"A": (0, 0), "B": (0, 1), "C": (1, 1), "D": (1, 0), "E": (2, 0)}
    bars = ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D", "D-E", "C-E"]
    truss = build_truss(points, bars, {"A": "xy", "D": "y"})
    truss = resisting(truss, {"": (3.0, 3.0), "A-C": (1.2, 3.0), "D-E": (0.3, 3.0)})
    study = build_study(truss, [load_case(truss, C=(1, 0), E=(1, 0))])
    found = first(study, "B-D", "overload")
    assert named(study, found) == ["A-C"]
    assert found.number == pytest.approx(sqrt(2) / 1.2, rel=1e-12)


def test_no_overload_is_told_where_all_others_can_bear_the_loss_or_have_no_resistances() -> None:
    assert "overload" not in grounds(square(tension=1.5, compression=1.1), "B-D")
    assert "overload" not in grounds(square(), "B-D")


def test_a_deflection_that_grows_by_half_comes_first() -> None:
    # work of the load, EA = 1: 2 sqrt 2 + 1 without B-D, sum n^2 L of the panel's known forces with it
    forces = np.array([0.3964466, 0.3964466, -0.6035534, 0.3964466, 0.8535534, -0.5606602])
    before = forces**2 @ [1, 1, 1, 1, sqrt(2), sqrt(2)]
    found = first(square(), "B-D", "deflection")
    assert found.number == pytest.approx((2 * sqrt(2) + 1) / before, rel=1e-6)


def test_a_deflection_that_hardly_grows_is_not_told() -> None:
    # 1.4 %, and none at all
    weighed = thin_middle()
    assert "deflection" not in grounds(build_study(weighed, [load_case(weighed, p=(0, -1))]), "t1-p")
    assert "deflection" not in grounds(cantilever("e", "f"), "c-d")


@pytest.mark.parametrize(("thin", "told"), [(0.099 * SIDES, False), (0.101 * SIDES, True)])
def test_a_deflection_is_told_from_a_tenth_on(thin: float, told: bool) -> None:
    # stiffness SIDES + thin before, SIDES after: the ratio is 1 + thin / SIDES
    truss = fan([-1, 0, 1], [1, thin, 1])
    found = grounds(build_study(truss, [load_case(truss, p=(0, -1))]), "t1-p")
    assert ("deflection" in found) == told
    assert not told or found["deflection"].number == pytest.approx(1.101, rel=1e-9)


def test_a_settlement_that_moves_more_than_the_load_does_not_hide_what_a_loss_does_under_the_load() -> None:
    study = square()
    sinks = LoadCase("sinks", settlement={study.truss.joint_index("A"): (-10.0, 0.0)})
    plain = first(study, "B-D", "deflection")
    masked = first(replace(study, cases={**study.cases, "sinks": sinks}), "B-D", "deflection")
    assert masked.number == pytest.approx(plain.number, rel=1e-9) and masked.under == 0


def test_a_combination_under_which_hardly_anything_moved_is_compared_with_a_tenth_of_the_largest() -> None:
    # stiffness SIDES + 0.2 SIDES before, SIDES after
    truss = fan([-1, 0, 1], [1, 0.2 * SIDES, 1])
    cases = [load_case(truss, "down", p=(0, -1)), load_case(truss, "hint", p=(0, -0.01))]
    found = grounds(build_study(truss, cases), "t1-p")
    # both grow by a fifth; of the small one a hundredth over a tenth is no growth
    assert found["deflection"].number == pytest.approx(1.2, rel=1e-9) and found["deflection"].under == 0


# ---- reverses, works, weight, strain -----------------------------------------------------------------------


def test_a_force_that_changes_sign_while_a_train_travels_comes_first_with_the_smaller_of_both() -> None:
    # one axle of 1 N: its force is linear between joints, so its extremes are those over L1 and L2
    truss = girder()
    over = []
    for joint in ("L1", "L2"):
        load = np.zeros((6, 2))
        load[truss.joint_index(joint), 1] = -1.0
        over.append(dense_forces(truss, load)[9])
    assert min(over) < 0 < max(over)
    study = build_study(truss, chord=["L0", "L1", "L2", "L3"], axles=[(0, 1)])
    found = first(study, "U1-L2", "reverses")
    assert found.number == pytest.approx(min(over, key=abs), rel=1e-9)
    assert grounds(study, "U1-L2")["works"].number == pytest.approx(max(over, key=abs), rel=1e-9)


def test_signs_that_change_between_combinations_are_a_reversal_told_with_both() -> None:
    truss = girder()
    cases = [load_case(truss, "near", L1=(0, -1)), load_case(truss, "far", L2=(0, -1))]
    found = grounds(build_study(truss, cases), "U1-L2")
    # without combinations of its own each case is one; shear turns between the two loads
    assert found["reverses"].under == -1 and set(found["reverses"].loads) == {0, 1}
    assert "reverses" not in grounds(build_study(truss, cases[:1]), "U1-L2")
    one_way = build_study(truss, chord=["L0", "L1", "L2", "L3"], axles=[(0, 1)])
    assert "reverses" not in grounds(one_way, "L0-L1")


def test_a_train_that_reverses_a_force_alone_does_not_where_permanent_load_holds_it_down() -> None:
    truss = girder()
    dead = load_case(truss, "dead", L2=(0, -9))
    chord = ["L0", "L1", "L2", "L3"]
    alone = build_study(truss, [dead], chord=chord, axles=[(0, 1)])
    assert "reverses" in grounds(alone, "U1-L2")
    both = Combination("both", {"dead": 1.0}, "train", 1.0)
    held = build_study(truss, [dead], chord=chord, axles=[(0, 1)], combinations=[both])
    assert "reverses" not in grounds(held, "U1-L2")


def test_a_member_that_works_is_told_with_its_largest_force_under_one_load_alone() -> None:
    truss = thin_middle()
    cases = [load_case(truss, f"load {size}", p=(0, -size)) for size in (1, 5, 2)]
    found = first(build_study(truss, cases), "t1-p", "works")
    assert found.number == pytest.approx(5 * THIN / (THIN + SIDES), rel=1e-12)
    assert (found.under, found.loads) == (1, (0, 1, 2))


def test_the_hanger_of_the_bridge_works_most_under_the_lorry_and_bears_what_hangs_on_it() -> None:
    # lorry: 55 (1 + 3.7 / 5) + 30 x 1.2 / 5 kN; deck 9 x 5; weight: 5 m of 5500 mm2 and 3 m of 1500 mm2
    found = grounds(bundled("avocet_bridge"), "L3-U3")
    weight = 77e3 * (5 * 5500e-6 + 3 * 1500e-6)
    assert found["works"].number == pytest.approx(1.35 * (45e3 + weight) + 1.5 * 102.9e3, rel=1e-12)
    assert found["weight"].number == pytest.approx(weight, rel=1e-12)
    assert found["duty"].number == 2


def test_a_member_that_only_weight_loads_is_told_with_the_force_of_it_and_not_to_work() -> None:
    truss = thin_middle(unit_weight=7.0)
    study = build_study(truss, [LoadCase("once", self_weight=1.0), LoadCase("more", self_weight=1.35)])
    found = first(study, "t1-p", "weight")
    # half of every bar at p: of two bars of sqrt 2 m, and of the thin one
    hung = 7.0 * (2 * sqrt(2) + THIN) / 2
    assert found.number == pytest.approx(1.35 * hung * THIN / (THIN + SIDES), rel=1e-12)
    assert found.under == 1
    assert "works" not in grounds(study, "t1-p")


def test_no_weight_is_told_where_none_is_asked_for_or_none_reaches_the_member() -> None:
    truss = thin_middle(unit_weight=7.0)
    assert "weight" not in grounds(build_study(truss, [load_case(truss, p=(0, -1))]), "t1-p")
    level = build_truss({"a": (0, 0), "b": (2, 0), "p": (1, -1)}, ["a-b", "a-p", "b-p"],
                        {"a": "xy", "b": "xy"}, unit_weight=7.0)  # fmt: skip
    assert "weight" not in grounds(build_study(level, [LoadCase("weight", self_weight=1.0)]), "a-b")


def test_a_member_that_only_heat_loads_is_told_with_the_force_of_it() -> None:
    # n = -k R e0: k = 0.01, R = SIDES / (THIN + SIDES), e0 = 1e-5 x 30
    truss = thin_middle(expansion=1e-5)
    study = build_study(truss, [LoadCase("heat", temperature=(0.0, 30.0, 0.0))])
    found = first(study, "t1-p", "strain")
    assert found.number == pytest.approx(-THIN * SIDES / (THIN + SIDES) * 3e-4, rel=1e-12)
    assert not {"works", "weight"} & set(grounds(study, "t1-p"))


def test_a_misfit_and_a_settlement_are_strains_too() -> None:
    truss = thin_middle()
    cases = [LoadCase("long", misfit={1: 0.002}), LoadCase("sinks", settlement={1: (0.0, -0.005)})]
    found = first(build_study(truss, cases), "t1-p", "strain")
    # its ceiling joint sinks by 5 mm: the bar is as good as made 5 mm too long, and pushes
    assert found.number == pytest.approx(-THIN * SIDES / (THIN + SIDES) * 0.005, rel=1e-12)
    assert (found.under, found.loads) == (1, (0, 1))


def test_even_heat_of_a_truss_free_to_grow_is_no_strain() -> None:
    study = square()
    members = tuple(
        replace(m, group=replace(m.group, material=replace(m.group.material, expansion=1e-5)))
        for m in study.truss.members
    )
    truss = replace(study.truss, members=members)
    heated = build_study(truss, [load_case(truss, C=(1, 0)), LoadCase("heat", temperature=(40.0,) * 6)])
    assert all("strain" not in grounds(heated, m.name) for m in truss.members)


# ---- pair, series, takeover, coincidence -------------------------------------------------------------------


@pytest.mark.parametrize("name", ["c-e", "d-f", "e-f", "c-f", "d-e"])
def test_idle_members_of_an_unloaded_panel_pair_with_the_four_others(name: str) -> None:
    study = cantilever("c", "d")
    found = first(study, name, "pair")
    assert found.number == 4
    assert sorted([*named(study, found), name]) == ["c-e", "c-f", "d-e", "d-f", "e-f"]


def test_an_idle_member_among_members_that_work_pairs_with_none_and_comes_first_as_in_series() -> None:
    # dropping this zero bar sends the shares of the other four bars of its panel to 0 (tests/published)
    study = cantilever("e", "f")
    found = first(study, "e-f", "series")
    assert found.number == 4
    assert sorted(named(study, found)) == ["c-e", "c-f", "d-e", "d-f"]
    assert "pair" not in grounds(study, "e-f")


def test_the_upright_that_both_panels_share_is_in_series_with_none_and_takes_over_most() -> None:
    # 0 -> 2.69 without a-c or b-d, which bear 3 (tests/published); a-c comes first
    study = cantilever("e", "f")
    found = first(study, "c-d", "takeover")
    assert found.number == pytest.approx(2.69, abs=0.005)
    assert named(study, found) == ["a-c"]
    assert not {"pair", "series"} & set(grounds(study, "c-d"))


def test_nothing_takes_over_in_a_determinate_truss_nor_from_members_that_bear_nothing() -> None:
    assert "takeover" not in grounds(propped(10, -1.0), "A-P")
    assert "takeover" not in grounds(bays(), "e-h")
    assert "takeover" not in grounds(mast(), "l-p")


def test_what_is_relieved_by_a_loss_takes_nothing_over() -> None:
    # Springs: A-C with C's behind it is 0.04 x 1.1 / 1.14 = 0.0386. g1-A bears 2 / 2.0386 = 0.981; lost,
    # A-C takes 0.0386 / 1.0386 = 3.7 % of it, less than a twentieth. C-g3 bears 0.034; lost, its force on C
    # goes and A-C bears less than before.
    assert "takeover" not in grounds(line_of_bars(), "A-C")


def test_a_zero_of_balanced_stiffnesses_comes_first_where_its_bar_is_too_thin_to_take_over() -> None:
    study = five_bars()
    load = np.zeros((6, 2))
    load[-1, 0] = 1.0
    changes = []
    for grown in (0, 1, 3, 4):
        areas = [1, 1, THIN, 1, 1]
        areas[grown] *= 1.1
        changes.append(abs(dense_forces(fan([-2, -1, 0, 1, 2], areas), load)[2]))
    found = first(study, "t2-p", "coincidence")
    assert found.number == pytest.approx(max(changes), rel=1e-9)
    most = np.isclose(changes, max(changes), rtol=1e-9).argmax()
    assert named(study, found) == [["t0-p", "t1-p", "t3-p", "t4-p"][most]]


def test_a_zero_by_statics_or_a_force_is_no_coincidence() -> None:
    assert "coincidence" not in grounds(bays(), "e-h")
    assert "coincidence" not in grounds(square(), "A-C")
    assert "coincidence" not in grounds(mast(), "l-p")


# ---- lean, duty --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("share", [0.05, 0.1])
def test_a_load_that_leans_comes_first_where_upright_it_wakes_nothing(share: float) -> None:
    # across acts `share` of 1 N, on bars of k = 1, 1 and 1/2: 1 / 2.5 of it each on the first two
    assert first(mast(share), "l-p", "lean").number == pytest.approx(share / 2.5, rel=1e-12)
    assert first(mast(share), "far-p", "lean").number == pytest.approx(share / 5, rel=1e-12)


def test_in_space_a_load_leans_towards_the_bar_that_it_wakes() -> None:
    # bars along (1, 1, 0) of k = 1, 1, 1/2 over sqrt 2, others across them: worst leaning along (1, 1, 0)
    points = {"p": (0, 0, 0), "v": (0, 0, 1), "n": (1, 1, 0), "s": (-1, -1, 0), "far": (2, 2, 0)}
    points |= {"e": (1, -1, 0), "w": (-1, 1, 0), "out": (2, -2, 0)}
    held = [name for name in points if name != "p"]
    truss = build_truss(points, [f"{name}-p" for name in held], dict.fromkeys(held, "xyz"))
    study = build_study(truss, [load_case(truss, p=(0, 0, -1))])
    assert first(study, "n-p", "lean").number == pytest.approx(0.05 / 2.5, rel=1e-12)


def test_no_leaning_is_told_of_a_member_that_the_upright_load_wakes_or_that_no_lean_is_tried_on() -> None:
    assert "lean" not in grounds(mast(), "v-p")
    assert "lean" not in grounds(mast(lean=0.0), "l-p")


def test_a_duty_comes_last_and_first_where_nothing_else_is_found() -> None:
    study = mast(lean=0.0, duties=("carries a lamp", "keeps children out"))
    assert first(study, "l-p", "duty").number == 2
    assert list(grounds(study, "v-p"))[-1] == "duty"


def test_without_a_duty_none_is_told_and_a_member_may_be_left_without_any_ground() -> None:
    assert grounds(mast(lean=0.0), "l-p") == {}
    assert "duty" not in grounds(mast(), "v-p")
