"""Resistances of members by hand: given ones first, else a standard at the members' unbraced lengths."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import pi

import numpy as np
import pytest

from solver.resistance.bar import Bar
from solver.resistance.directions import OUT_OF_PLANE
from solver.resistance.plain import Plain
from solver.resistance.standard import Standard
from solver.resistance.steps import Strength
from solver.resisting import resist
from solver.rules import Rules
from solver.study import Study
from solver.truss import Group, Making, Material, Piece, Section
from tests.building import build_study, build_truss, load_case

STEEL = Material("steel", elastic_modulus=200e9, yield_strength=250e6)
BAR = Section("bar", area=1e-3, second_moment=1e-6)
GROUP = Group("all", BAR, STEEL)
SQUASH = 250e3
"""fy A [N]."""

JOINTS = {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)}
MEMBERS = ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"]


def euler(length: float) -> float:
    """Euler's load of the bar [N]: at 4 m pi² 200e9 1e-6 / 16 = 123.4 kN."""
    return pi**2 * 200e9 * 1e-6 / length**2


def study_of(*groups: Group, standard: Standard | None = None, props: tuple[str, ...] | None = None) -> Study:
    """The truss of groups, one a member (the last for all the rest), its bottom chord one piece."""
    truss = build_truss(JOINTS, MEMBERS, {"L0": "xy", "L2": "y"})
    each = [groups[min(i, len(groups) - 1)] for i in range(len(MEMBERS))]
    members = tuple(replace(m, group=group) for m, group in zip(truss.members, each, strict=True))
    held = None if props is None else tuple(truss.joint_index(name) for name in props)
    truss = replace(truss, members=members, pieces=(Piece("bottom", (0, 1, 2), held),))
    study = build_study(truss, [load_case(truss, U1=(0, -1e3))])
    return replace(study, rules=Rules(standard))


@dataclass
class Counting:
    """A standard of nothing that keeps the bars it was asked of."""

    asked: list[Bar] = field(default_factory=list)
    name: str = "counting"

    def tension(self, bar: Bar) -> Strength:
        self.asked.append(bar)
        return Strength(1.0, ())

    def compression(self, bar: Bar) -> Strength:
        return Strength(2.0, ())


def test_without_a_standard_only_given_resistances_are_known() -> None:
    given = replace(GROUP, tension=300e3)
    tension, compression = resist(study_of(given, GROUP)).values
    assert tension[0] == 300e3
    assert np.isnan(tension[1:]).all()
    assert np.isnan(compression).all()


def test_given_resistances_win_each_sign_for_itself() -> None:
    given = replace(GROUP, compression=70e3)
    tension, compression = resist(study_of(given, GROUP, standard=Plain())).values
    assert (tension[0], compression[0]) == (pytest.approx(SQUASH, rel=1e-12), 70e3)
    assert compression[1] == pytest.approx(euler(4), rel=1e-12)


def test_a_standard_works_at_each_members_length() -> None:
    tension, compression = resist(study_of(GROUP, standard=Plain(0.6, 0.5))).values
    assert tension == pytest.approx([0.6 * SQUASH] * 5, rel=1e-12)
    # 4 m along the chord, 5 m the diagonals, 3 m the post: pi² 200e9 1e-6 / 9 / 2 is 109.66 kN
    wanted = [0.5 * euler(length) for length in (4, 4, 5, 5, 3)]
    assert compression == pytest.approx(wanted, rel=1e-12)
    assert compression[4] == pytest.approx(109.66e3, rel=1e-4)


def test_out_of_plane_counts_where_props_tell_its_length() -> None:
    unknown = resist(study_of(GROUP, standard=Plain()))
    known = resist(study_of(GROUP, standard=Plain(), props=("L0", "L2")))
    # between L0 and L2 lie 8 m
    assert known.values[1][:2] == pytest.approx([euler(8), euler(8)], rel=1e-12)
    assert unknown.values[1][:2] == pytest.approx([euler(4), euler(4)], rel=1e-12)
    assert OUT_OF_PLANE in unknown.compression[0].unchecked
    assert OUT_OF_PLANE not in known.compression[0].unchecked
    # the web has no props at U1, and stays unknown
    assert OUT_OF_PLANE in known.compression[2].unchecked


def test_effective_factors_multiply_both_lengths() -> None:
    making = Making(effective=(0.5, 0.75))
    group = replace(GROUP, making=making)
    found = resist(study_of(group, standard=Plain(), props=("L0", "L2")))
    bar = found.bars[0]
    assert (bar.length, bar.in_plane, bar.across) == pytest.approx((4.0, 2.0, 6.0), rel=1e-12)
    assert found.values[1][0] == pytest.approx(euler(6), rel=1e-12)
    alone = resist(study_of(group, standard=Plain()))
    assert alone.bars[0].across is None
    # 2 m in plane would bear 493 kN; the bar yields at 250 kN
    assert alone.values[1][0] == pytest.approx(SQUASH, rel=1e-12)


def test_a_standard_is_told_what_the_group_says_of_its_connections() -> None:
    making = Making(net_area=8e-4, shear_lag=0.85, connected="long leg")
    bars = resist(study_of(replace(GROUP, making=making), GROUP)).bars
    told = (bars[0].net_area, bars[0].shear_lag, bars[0].connected)
    assert told == (8e-4, 0.85, "long leg")
    assert (bars[1].net_area, bars[1].shear_lag, bars[1].connected) == (None, None, "both legs")
    assert (bars[0].section, bars[0].material) == (BAR, STEEL)


def test_members_of_pieces_are_chords_and_all_others_webs() -> None:
    found = resist(study_of(GROUP))
    assert [bar.web for bar in found.bars] == [False, False, True, True, True]
    assert {bar.space for bar in found.bars} == {False}
    assert [unbraced.piece is None for unbraced in found.unbraced] == [bar.web for bar in found.bars]


def test_alike_bars_are_worked_out_once() -> None:
    standard = Counting()
    tension, compression = resist(study_of(GROUP, standard=standard)).values
    # two bars of the chord, two diagonals, one post
    assert [bar.length for bar in standard.asked] == pytest.approx([4.0, 5.0, 3.0], rel=1e-12)
    assert (set(tension), set(compression)) == ({1.0}, {2.0})


def test_alike_bars_with_other_given_resistances_keep_their_own() -> None:
    first, second = replace(GROUP, tension=10e3), replace(GROUP, tension=20e3)
    tension, _ = resist(study_of(first, second, standard=Plain())).values
    assert list(tension) == [10e3, 20e3, 20e3, 20e3, 20e3]


def test_what_a_standard_refuses_is_no_number() -> None:
    bare = replace(GROUP, section=Section("area alone", 1e-3))
    found = resist(study_of(bare, standard=Plain()))
    assert np.isnan(found.values[1]).all()
    assert found.values[0] == pytest.approx([SQUASH] * 5, rel=1e-12)
    assert found.compression[0].refused


def test_in_space_a_bar_is_told_so_and_its_length_across_is_its_own() -> None:
    joints = {"A": (3, 0, 0), "B": (-3, 0, 0), "C": (0, 3, 0), "T": (0, 0, 4)}
    truss = build_truss(joints, ["A-T", "B-T", "C-T"], {"A": "xyz", "B": "xyz", "C": "xyz"})
    truss = replace(truss, members=tuple(replace(member, group=GROUP) for member in truss.members))
    study = replace(build_study(truss, [load_case(truss, T=(0, 0, -1e3))]), rules=Rules(Plain()))
    found = resist(study)
    assert {(bar.space, bar.web) for bar in found.bars} == {(True, True)}
    assert [bar.across for bar in found.bars] == pytest.approx([5.0] * 3, rel=1e-12)
    assert found.values[1] == pytest.approx([euler(5)] * 3, rel=1e-12)
