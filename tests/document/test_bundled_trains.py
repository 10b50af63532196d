"""The trains that come with Stillbar: each reads, tells its source, and holds the loads of that source.

Expected loads are those of the standards as remembered, summed and placed by hand; what follows from them on
simple spans is held against published tables in tests/published/.
"""

from __future__ import annotations

import re
import tomllib
from itertools import pairwise
from math import inf
from typing import Any

import pytest

from explorer.bundled import data_folder, find_bundled, list_bundled
from explorer.command import main
from explorer.document import read_text
from explorer.document.trains import bundled_trains
from solver.trains import Train
from tests.document.example import edited

FOOT, KIP = 0.3048, 4448.2216152605
KIP_PER_FOOT = KIP / FOOT
TREES: dict[str, dict[str, Any]] = {item.name: tomllib.loads(item.text()) for item in list_bundled("train")}
NAMES = list(TREES)
SETS = {
    "hs20_moment": ("hs20_truck", "hs20_lane_18"),
    "hs20_shear": ("hs20_truck", "hs20_lane_26"),
    "hl93": ("hl93_truck", "hl93_tandem"),
    "cooper": ("cooper_e80", "cooper_alternative"),
    "lm71_or_sw0": ("lm71", "sw0"),
}
SINGLE = sorted(set(NAMES) - set(SETS))
KEYS = ("title", "units", "source", "certainty", "covers", "not_covered", "impact", "train")


def one(name: str) -> Train:
    (train,) = bundled_trains()[name]
    return train


@pytest.mark.parametrize("name", NAMES)
def test_each_file_reads_and_a_study_can_name_it(name: str) -> None:
    study = read_text(edited(('train = "cart"', f'train = "{name}"')), "x").study
    assert study.crossings["deck_cart"].trains == bundled_trains()[name]
    assert study.crossings["deck_cart"].called == name
    assert study.notices == ()


@pytest.mark.parametrize("name", NAMES)
def test_each_file_says_what_it_is_and_where_it_comes_from(name: str) -> None:
    tree = TREES[name]
    assert tuple(tree) == KEYS
    assert all(tree[key].strip() and "\n" not in tree[key] for key in KEYS if key != "train")
    assert re.match(r"(seen|from memory|invented)\b", tree["certainty"])
    assert (tree["certainty"] == "invented") == tree["source"].startswith("invented")
    assert re.search(r"\bimpact\b", tree["impact"])
    if "lane" in tree["train"]:
        assert "lane_impact = " in tree["impact"]


@pytest.mark.parametrize("name", NAMES)
def test_trains_that_a_file_speaks_of_are_there(name: str) -> None:
    told = " ".join(TREES[name][key] for key in ("covers", "not_covered", "impact", "certainty"))
    spoken_of = re.findall(r"\b(?:hs20|hl93|cooper|lm1|lm71|sw[02])(?:_\w+)?\b", told)
    assert set(spoken_of) <= set(NAMES) - {name}


def test_the_data_sheet_has_a_line_for_every_train_and_for_no_other() -> None:
    sheet = (data_folder() / "README.md").read_text(encoding="utf-8")
    section = sheet[sheet.index("\n## The trains\n") : sheet.index("\n## The studies at a glance\n")]
    lines = re.findall(r"^\| `(\w+)` \| ([^|]+) \| ([^|]+) \| ([^|]+) \|$", section, re.MULTILINE)
    assert [line[:3] for line in lines] == [
        (name, TREES[name]["title"], TREES[name]["source"]) for name in NAMES
    ]
    for name, _, _, how_sure in lines:
        assert TREES[name]["certainty"].startswith(how_sure)


def test_sets_name_single_trains_and_hold_just_those() -> None:
    written = {name: tuple(tree["train"].get("one_of", ())) for name, tree in TREES.items()}
    assert {name: parts for name, parts in written.items() if parts} == SETS
    for name, parts in SETS.items():
        assert bundled_trains()[name] == tuple(one(part) for part in parts)
    for name in SINGLE:
        assert one(name).name == name


# Axles: how many, their sum [kip or kN], and the distance of their resultant behind the front [ft or m], as
# sum of load x distance over sum of loads.
AXLES = [
    ("hs20_truck", 3, 72, (32 * 14 + 32 * 28) / 72),
    ("hs20_truck_30", 3, 72, (32 * 14 + 32 * 44) / 72),
    ("hs20_lane_18", 1, 18, 0),
    ("hs20_lane_26", 1, 26, 0),
    ("hl93_truck", 3, 72, (32 * 14 + 32 * 28) / 72),
    ("hl93_tandem", 2, 50, 2),
    ("hl93_two_trucks", 3, 64.8, (32 * 14 + 32 * 28) / 72),
    ("hl93_fatigue", 3, 72, (32 * 14 + 32 * 44) / 72),
    # an engine with its tender: 40 + 4 x 80 + 4 x 52 = 568 kip; the second one 56 ft behind the first
    ("cooper_e80", 18, 1136, (80 * 62 + 52 * 160) / 568 + 56 / 2),
    ("cooper_alternative", 4, 400, 8),
    # four axles of 250 kN on 6.4 m are the 156.25 kN/m as which they may be spread
    ("lm71", 4, 156.25 * 6.4, 2.4),
    ("lm1_lane_1", 2, 600, 0.6),
    ("lm1_lane_2", 2, 400, 0.6),
    ("lm1_lane_3", 2, 200, 0.6),
    ("hoist", 2, 80, 0.8),
]


@pytest.mark.parametrize(("name", "count", "total", "resultant"), AXLES, ids=[row[0] for row in AXLES])
def test_axles_have_the_sum_and_the_resultant_of_their_source(
    name: str, count: int, total: float, resultant: float
) -> None:
    force, length = (KIP, FOOT) if TREES[name]["units"] == "US" else (1000.0, 1.0)
    axles = one(name).axles
    moment = sum(axle.load * axle.distance for axle in axles)
    assert len(axles) == count
    assert sum(axle.load for axle in axles) == pytest.approx(total * force, rel=1e-12)
    assert moment / (total * force) == pytest.approx(resultant * length, rel=1e-12)
    assert axles[0].distance == 0.0


def test_the_train_of_two_engines_keeps_the_spacings_and_loads_of_its_figure() -> None:
    axles = one("cooper_e80").axles
    engine = [8, 5, 5, 5, 9, 5, 6, 5]
    gaps = [(behind.distance - ahead.distance) / FOOT for ahead, behind in pairwise(axles)]
    assert gaps == pytest.approx([*engine, 8, *engine], rel=1e-12)
    loads = [40, *[80] * 4, *[52] * 4]
    assert [axle.load / KIP for axle in axles] == pytest.approx(loads + loads, rel=1e-12)
    (strip,) = one("cooper_e80").strips
    # 8 kip/ft begin 5 ft behind the last axle and have no end
    assert (strip.start - axles[-1].distance) / FOOT == pytest.approx(5, rel=1e-12)
    assert (strip.end, strip.load) == (inf, pytest.approx(8 * KIP_PER_FOOT, rel=1e-12))


def test_the_alternative_axles_stand_5_6_and_5_ft_apart() -> None:
    axles = one("cooper_alternative").axles
    gaps = [(behind.distance - ahead.distance) / FOOT for ahead, behind in pairwise(axles)]
    assert gaps == pytest.approx([5, 6, 5], rel=1e-12)
    assert {axle.load for axle in axles} == {axles[0].load}


def test_the_light_axle_of_the_truck_goes_ahead() -> None:
    for name, rear in (("hs20_truck", 14), ("hl93_truck", 14), ("hs20_truck_30", 30), ("hl93_fatigue", 30)):
        axles = one(name).axles
        assert [axle.load / KIP for axle in axles] == pytest.approx([8, 32, 32], rel=1e-12)
        assert [axle.distance / FOOT for axle in axles] == pytest.approx([0, 14, 14 + rear], rel=1e-12)


STRIPS = [("sw0", 133e3, 15.0, 5.3), ("sw2", 150e3, 25.0, 7.0)]


@pytest.mark.parametrize(("name", "load", "length", "gap"), STRIPS, ids=[row[0] for row in STRIPS])
def test_the_strips_of_table_6_1_have_its_loads_lengths_and_gap(
    name: str, load: float, length: float, gap: float
) -> None:
    first, second = one(name).strips
    assert (first.start, first.load, second.load) == (0.0, load, load)
    lengths = (first.end - first.start, second.end - second.start, second.start - first.end)
    assert lengths == pytest.approx((length, length, gap), rel=1e-12)
    assert not one(name).axles
    assert one(name).lane is None


# Lanes of Load Model 1 are kN/m2 on 3 m of width.
LANES = {
    "hs20_lane_18": 0.64 * KIP_PER_FOOT,
    "hs20_lane_26": 0.64 * KIP_PER_FOOT,
    "hl93_truck": 0.64 * KIP_PER_FOOT,
    "hl93_tandem": 0.64 * KIP_PER_FOOT,
    "hl93_two_trucks": 0.9 * 0.64 * KIP_PER_FOOT,
    "lm71": 80e3,
    "lm1_lane_1": 9.0e3 * 3,
    "lm1_lane_2": 2.5e3 * 3,
    "lm1_lane_3": 2.5e3 * 3,
    "crowd": 5e3,
}


def test_lanes_have_the_loads_of_their_sources_and_other_trains_have_none() -> None:
    found = {name: lane.load for name in SINGLE if (lane := one(name).lane)}
    assert found == pytest.approx(LANES, rel=1e-12)
    # editions in SI units print 0.64 kip/ft as 9.3 kN/m
    assert found["hl93_truck"] == pytest.approx(9.3e3, abs=50)


def test_the_lane_of_lm71_keeps_0_8_m_clear_of_the_outer_axles() -> None:
    lane, axles = one("lm71").lane, one("lm71").axles
    assert lane is not None
    assert lane.clear is not None
    clear = (axles[0].distance - lane.clear[0], lane.clear[1] - axles[-1].distance)
    assert clear == pytest.approx((0.8, 0.8), rel=1e-12)
    assert [name for name in SINGLE if (other := one(name).lane) and other.clear] == ["lm71"]


def test_axles_that_relieve_are_left_out_where_the_standard_says_so() -> None:
    left_out = {name for name in SINGLE if one(name).relieving_left_out}
    assert left_out == {"hl93_truck", "hl93_tandem", "hl93_two_trucks", "lm71"}


def test_two_trucks_are_nine_tenths_of_the_truck_with_50_ft_between_them() -> None:
    train, truck = one("hl93_two_trucks"), one("hl93_truck")
    assert train.second is not None
    for axles in (train.axles, train.second.axles):
        assert [axle.load for axle in axles] == pytest.approx([0.9 * axle.load for axle in truck.axles])
        assert [axle.distance for axle in axles] == [axle.distance for axle in truck.axles]
    assert train.second.gap / FOOT == pytest.approx(50, rel=1e-12)
    assert train.follow_distance / FOOT == pytest.approx(28 + 50, rel=1e-12)
    assert [name for name in SINGLE if one(name).second] == ["hl93_two_trucks"]


def test_a_crowd_alone_does_not_travel_and_every_other_train_does() -> None:
    assert [name for name in SINGLE if not one(name).travels] == ["crowd"]


def test_a_studys_own_train_of_a_bundled_name_is_taken_with_a_notice() -> None:
    changes = (("[trains.cart]", "[trains.lm71]"), ('train = "cart"', 'train = "lm71"'))
    study = read_text(edited(*changes), "x").study
    (train,) = study.crossings["deck_cart"].trains
    assert [axle.load for axle in train.axles] == [10e3, 15e3]
    assert study.notices == ("the study's own train lm71 is taken, not the bundled one",)


def test_a_bundled_train_keeps_its_own_units_in_a_study_of_others() -> None:
    study = read_text(edited(('train = "cart"', 'train = "hl93_tandem"')), "x").study
    (train,) = study.crossings["deck_cart"].trains
    assert train.axles[1].distance == pytest.approx(1.2192, rel=1e-12)
    assert train.axles[1].load == pytest.approx(111205.54, rel=1e-7)


def test_bundled_lists_every_kind_and_prints_a_train(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bundled"]) == 0
    lines = capsys.readouterr().out.splitlines()
    for kind in ("study", "train"):
        listed = [line.split()[1] for line in lines if line.startswith(f"{kind}  ")]
        assert sorted(listed) == sorted(item.name for item in list_bundled(kind))
    assert all(any(TREES[name]["title"] in line for line in lines) for name in NAMES)
    assert main(["bundled", "train/lm71"]) == 0
    assert capsys.readouterr().out == find_bundled("lm71").text()
