"""Trains of a study: strips, lanes, left out axles, second trains, sets; what they read to, every fault."""

from __future__ import annotations

from math import inf

import pytest

from explorer.document import FaultyStudy, read_text
from solver.combining import Combination
from solver.study import Study
from solver.trains import Axle, Lane, Second, Strip, Train
from tests.document.example import edited

AXLES = "axles = [[0, 10], [2.5, 15]]"
CART = (Axle(0.0, 10e3), Axle(2.5, 15e3))
VAN = "\n[trains.van]\naxles = [[0, 4]]"
BOTH = '\n[trains.both]\none_of = ["cart", "van"]'
ALONE = '\n[trains.walkers]\nlane = 3\n[crossings.walk]\ntrain = "walkers"\nchord = "deck"'
STRENGTH = "[combinations.strength]"


def read(train: str, *changes: tuple[str, str]) -> Study:
    """The example with other keys in its train, and whatever tables follow it."""
    return read_text(edited((AXLES, train), *changes), "teal.toml").study


def trains_of(train: str, named: str = "cart") -> tuple[Train, ...]:
    study = read(train, ('train = "cart"', f'train = "{named}"')) if named != "cart" else read(train)
    return study.crossings["deck_cart"].trains


def faults_of(train: str, *changes: tuple[str, str]) -> list[tuple[str, str]]:
    with pytest.raises(FaultyStudy) as caught:
        read(train, *changes)
    return [(fault.key, fault.wrong) for fault in caught.value.faults]


def test_strips_are_read_into_si_and_are_endless_without_an_end() -> None:
    strips = "strips = [{ from = 4, to = 30, load = 8 }, { from = 31.5, load = 6 }]"
    (train,) = trains_of(f"{AXLES}\n{strips}")
    assert train.strips == (Strip(4.0, 30.0, 8e3), Strip(31.5, inf, 6e3))
    assert train.axles == CART
    assert (train.first_load, train.last_load) == (0.0, 31.5)
    (bare,) = trains_of("strips = [{ from = 0, to = 15, load = 133 }]")
    assert bare == Train("cart", strips=(Strip(0.0, 15.0, 133e3),))


def test_a_strip_in_feet_is_read_into_metres() -> None:
    units = ('units = "metric"', 'units = "US"')
    study = read("strips = [{ from = 10, to = 20, load = 1 }]\nlane = 2\nlane_clear = [-1, 4]", units)
    (train,) = study.crossings["deck_cart"].trains
    assert (train.strips[0].start, train.strips[0].end) == pytest.approx((3.048, 6.096), rel=1e-12)
    assert train.strips[0].load == pytest.approx(14593.902937, rel=1e-9)
    assert train.lane is not None
    assert train.lane.load == pytest.approx(2 * 14593.902937, rel=1e-9)
    assert train.lane.clear == pytest.approx((-0.3048, 1.2192), rel=1e-12)


def test_a_lane_is_read_beside_axles_and_alone() -> None:
    (train,) = trains_of(f"{AXLES}\nlane = 3")
    assert train == Train("cart", axles=CART, lane=Lane(3e3))
    (alone,) = trains_of("lane = 3")
    assert alone == Train("cart", lane=Lane(3e3))
    assert not alone.travels


def test_a_clear_stretch_may_begin_ahead_of_the_front() -> None:
    (train,) = trains_of(f"{AXLES}\nlane = 3\nlane_clear = [-0.8, 5.6]")
    assert train.lane == Lane(3e3, (-0.8, 5.6))


def test_relieving_axles_count_unless_left_out() -> None:
    assert not trains_of(AXLES)[0].relieving_left_out
    assert not trains_of(f'{AXLES}\nrelieving = "counted"')[0].relieving_left_out
    assert trains_of(f'{AXLES}\nrelieving = "left out"')[0].relieving_left_out


def test_impact_and_lane_impact_are_read_apart() -> None:
    crossing = read(f"{AXLES}\nlane = 3", ("impact = 0.3", "impact = 0.33\nlane_impact = 0.1")).crossings
    moving, lane = crossing["deck_cart"].moving_factor, crossing["deck_cart"].lane_factor
    # factor 0.5 goes to both
    assert (moving, lane) == pytest.approx((0.5 * 1.33, 0.5 * 1.1), rel=1e-12)
    plain = read(f"{AXLES}\nlane = 3").crossings["deck_cart"]
    assert (plain.lane_impact, plain.lane_factor) == (0.0, 0.5)


def test_a_second_train_is_the_same_again_or_another_one() -> None:
    (train,) = trains_of(f"{AXLES}\nsecond = {{ gap = 15 }}")
    assert train == Train("cart", axles=CART, second=Second(CART, (), 15.0))
    assert train.follow_distance == 17.5
    (named,) = trains_of(f'{AXLES}\nsecond = {{ gap = 15, train = "cart" }}')
    assert named == train
    (other,) = trains_of(f'{AXLES}\nsecond = {{ gap = 0, train = "van" }}{VAN}')
    assert other.second == Second((Axle(0.0, 4e3),), (), 0.0)
    (bundled,) = trains_of(f'{AXLES}\nsecond = {{ gap = 1, train = "sw0" }}')
    assert bundled.second == Second((), (Strip(0.0, 15.0, 133e3), Strip(20.3, 35.3, 133e3)), 1.0)


def test_a_second_train_may_end_in_an_endless_strip_and_leaves_the_lane_of_the_first() -> None:
    wagons = "\n[trains.wagons]\nstrips = [{ from = 0, load = 8 }]"
    (train,) = trains_of(f'{AXLES}\nlane = 3\nsecond = {{ gap = 2, train = "wagons" }}{wagons}')
    assert train.second == Second((), (Strip(0.0, inf, 8e3),), 2.0)
    assert train.lane == Lane(3e3)


def test_a_set_is_its_trains_in_the_order_written() -> None:
    cart, van = trains_of(f"{AXLES}{VAN}{BOTH}", "both")
    assert (cart, van) == (Train("cart", axles=CART), Train("van", axles=(Axle(0.0, 4e3),)))
    turned = BOTH.replace('"cart", "van"', '"van", "cart"')
    assert trains_of(f"{AXLES}{VAN}{turned}", "both") == (van, cart)


def test_a_set_written_above_its_trains_is_read_alike() -> None:
    below = trains_of(f"{AXLES}{VAN}{BOTH}", "both")
    above = read_text(
        edited(
            ("[trains.cart]", f"{BOTH}{VAN}\n[trains.cart]"),
            ('train = "cart"', 'train = "both"'),
        ),
        "teal.toml",
    )
    assert above.study.crossings["deck_cart"].trains == below


def test_a_set_takes_its_trains_with_their_seconds() -> None:
    cart, _ = trains_of(f"{AXLES}\nsecond = {{ gap = 15 }}{VAN}{BOTH}", "both")
    assert cart.second == Second(CART, (), 15.0)


def test_a_set_of_bundled_trains_and_own_ones_takes_the_own_one_of_a_name() -> None:
    own = '\n[trains.hl93_tandem]\naxles = [[0, 1]]\n[trains.both]\none_of = ["hl93_tandem", "hl93_truck"]'
    tandem, truck = trains_of(f"{AXLES}{own}", "both")
    assert tandem.axles == (Axle(0.0, 1e3),)
    assert truck.lane is not None


def test_a_travelling_crossing_and_lanes_alone_go_into_one_combination() -> None:
    runners = '\n[crossings.run]\ntrain = "crowd"\nchord = "deck"'
    study = read(AXLES + ALONE + runners, (STRENGTH, f"{STRENGTH}\nwalk = 1.2\nrun = 1.1"))
    assert study.combinations == (
        Combination("strength", {"dead": 1.35}, "deck_cart", 1.5, {"walk": 1.2, "run": 1.1}),
    )


def one_strip(keys: str) -> str:
    return f"strips = [{{ {keys} }}]"


# The fact, the keys of the train and what follows it, and every fault told: its key path and words of it.
FAULTS = [
    ("a strip with its ends swapped", one_strip("from = 4, to = 3, load = 8"),
     [("cart.strips[0].to", "swapped")]),
    ("a strip with equal ends", one_strip("from = 4, to = 4.0, load = 8"), [("cart.strips[0].to", "equal")]),
    ("a strip with a negative start", one_strip("from = -1, to = 4, load = 8"),
     [("cart.strips[0].from", "negative")]),
    ("a strip load of 0", one_strip("from = 0, to = 4, load = 0"), [("cart.strips[0].load", "is 0")]),
    ("a negative strip load", one_strip("from = 0, load = -8"), [("cart.strips[0].load", "negative")]),
    ("a strip without a load", one_strip("from = 0, to = 4"), [("cart.strips[0].load", "is missing")]),
    ("a strip without a start", one_strip("to = 4, load = 8"), [("cart.strips[0].from", "is missing")]),
    ("a strip with an infinite end", one_strip("from = 0, to = inf, load = 8"),
     [("cart.strips[0].to", "not finite")]),
    ("a strip with an unknown key", one_strip("from = 0, till = 4, load = 8"),
     [("cart.strips[0].till", "unknown key")]),
    ("a strip that is no table", "strips = [[0, 4, 8]]", [("cart.strips[0]", "where a table belongs")]),
    ("two strips, both wrong",
     "strips = [{ from = 4, to = 3, load = 8 }, { from = -1, load = 8 }]",
     [("cart.strips[0].to", "swapped"), ("cart.strips[1].from", "negative")]),
    ("nothing but an empty list of strips", "strips = []", [("cart", "nothing in it")]),
    ("a negative lane load", "lane = -3", [("cart.lane", "negative")]),
    ("a lane in words", 'lane = "wide"', [("cart.lane", "where a number belongs")]),
    ("a clear stretch with its ends swapped", f"{AXLES}\nlane = 3\nlane_clear = [5.6, -0.8]",
     [("cart.lane_clear", "swapped")]),
    ("a clear stretch with equal ends", f"{AXLES}\nlane = 3\nlane_clear = [1, 1]",
     [("cart.lane_clear", "equal")]),
    ("a clear stretch of one number", f"{AXLES}\nlane = 3\nlane_clear = [1]",
     [("cart.lane_clear", "where a stretch belongs")]),
    ("a clear stretch of no numbers", f'{AXLES}\nlane = 3\nlane_clear = [0, "far"]',
     [("cart.lane_clear[1]", "where a number belongs")]),
    ("a clear stretch beside a lane with a fault", f"{AXLES}\nlane = -3\nlane_clear = [0, 1]",
     [("cart.lane", "negative")]),
    ("a clear stretch of a lane alone", "lane = 3\nlane_clear = [0, 1]",
     [("cart.lane_clear", "nothing travels")]),
    ("relieving in unknown words", f'{AXLES}\nrelieving = "left_out"',
     [("cart.relieving", "none of the choices")]),
    ("a second train without a gap", f"{AXLES}\nsecond = {{}}", [("cart.second.gap", "is missing")]),
    ("a second train with a negative gap", f"{AXLES}\nsecond = {{ gap = -1 }}",
     [("cart.second.gap", "negative")]),
    ("a second train that is no table", f"{AXLES}\nsecond = 15", [("cart.second", "where a table belongs")]),
    ("an unknown second train", f'{AXLES}\nsecond = {{ gap = 1, train = "lorry" }}',
     [("cart.second.train", "no train 'lorry'")]),
    ("a second train behind an endless strip", f"{one_strip('from = 0, load = 8')}\nsecond = {{ gap = 1 }}",
     [("cart.second", "endless strip")]),
    ("a second train beside a clear stretch",
     f"{AXLES}\nlane = 3\nlane_clear = [0, 1]\nsecond = {{ gap = 1 }}",
     [("cart.second", "clear stretch")]),
    ("a second train behind a lane alone", "lane = 3\nsecond = { gap = 1 }",
     [("cart.second", "does not travel")]),
    ("a second train with a lane", f'{AXLES}\nsecond = {{ gap = 1, train = "van" }}{VAN}\nlane = 2',
     [("cart.second.train", "van has a lane or a second")]),
    ("a second train with a second of its own",
     f'{AXLES}\nsecond = {{ gap = 1, train = "van" }}{VAN}\nsecond = {{ gap = 2 }}',
     [("cart.second.train", "van has a lane or a second")]),
    ("a bundled second train with a second of its own",
     f'{AXLES}\nsecond = {{ gap = 1, train = "hl93_two_trucks" }}',
     [("cart.second.train", "hl93_two_trucks has a lane or a second")]),
    ("a set as a second train",
     f'{AXLES}\nsecond = {{ gap = 1, train = "both" }}{VAN}\n[trains.both]\none_of = ["van"]',
     [("cart.second.train", "both is a set")]),
    ("a bundled set as a second train", f'{AXLES}\nsecond = {{ gap = 1, train = "cooper" }}',
     [("cart.second.train", "cooper is a set")]),
    ("a second train that has a fault",
     f'{AXLES}\nsecond = {{ gap = 1, train = "van" }}{VAN.replace("4", "0")}',
     [("van.axles[0][1]", "is 0")]),
    ("an empty set", f"{AXLES}\n[trains.both]\none_of = []", [("both.one_of", "an empty set")]),
    ("a set with an unknown train", f'{AXLES}\n[trains.both]\none_of = ["cart", "lorry"]',
     [("both.one_of[1]", "no train 'lorry'")]),
    ("a set in a set", f'{AXLES}{VAN}{BOTH}\n[trains.all]\none_of = ["van", "both"]',
     [("all.one_of[1]", "both is a set itself")]),
    ("a set in itself", f'{AXLES}\n[trains.both]\none_of = ["cart", "both"]',
     [("both.one_of[1]", "both is a set itself")]),
    ("a bundled set in a set", f'{AXLES}\n[trains.both]\none_of = ["cart", "hl93"]',
     [("both.one_of[1]", "hl93 is a set itself")]),
    ("an own set that bears the name of a bundled train, in a set",
     f'{AXLES}\n[trains.sw0]\none_of = ["cart"]\n[trains.both]\none_of = ["cart", "sw0"]',
     [("both.one_of[1]", "sw0 is a set itself")]),
    ("a lane alone in a set", f'{AXLES}\n[trains.both]\none_of = ["cart", "crowd"]',
     [("both.one_of[1]", "crowd is nothing but a lane")]),
    ("a train named twice in a set", f'{AXLES}{VAN}\n[trains.both]\none_of = ["van", "cart", "van"]',
     [("both.one_of", "van is named twice")]),
    ("a set with loads of its own", f'{AXLES}\n[trains.both]\none_of = ["cart"]\naxles = [[0, 1]]',
     [("both.axles", "nothing of its own")]),
    ("a set with a second", f'{AXLES}\n[trains.both]\none_of = ["cart"]\nsecond = {{ gap = 1 }}',
     [("both.second", "nothing of its own")]),
    ("a set in no list", f'{AXLES}\n[trains.both]\none_of = "cart"',
     [("both.one_of", "where a list belongs")]),
    ("a set of a train that has a fault",
     f'{AXLES}{VAN.replace("4", "0")}{BOTH}', [("van.axles[0][1]", "is 0")]),
]  # fmt: skip


@pytest.mark.parametrize(("fact", "train", "told"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_each_fault_of_a_train_is_told_at_its_key_and_alone(
    fact: str, train: str, told: list[tuple[str, str]]
) -> None:
    found = faults_of(train)
    assert [key for key, _ in found] == [f"trains.{key}" for key, _ in told], fact
    for (_, wrong), (_, words) in zip(found, told, strict=True):
        assert words in wrong


def test_a_train_that_is_no_table_is_told() -> None:
    with pytest.raises(FaultyStudy) as caught:
        read_text(edited(("[trains.cart]", "[trains]\nvan = 3\n[trains.cart]")), "teal.toml")
    assert [fault.key for fault in caught.value.faults] == ["trains.van"]


def test_two_travelling_crossings_in_one_combination_are_told_beside_a_lane_alone() -> None:
    two = '\n[crossings.two]\ntrain = "cart"\nchord = "deck"'
    found = faults_of(AXLES + ALONE + two, (STRENGTH, f"{STRENGTH}\nwalk = 1\ntwo = 1"))
    assert [key for key, _ in found] == ["combinations.strength"]
    assert "two travelling crossings, two and deck_cart" in found[0][1]


def test_a_lane_alone_with_a_fault_is_not_taken_for_a_second_train_that_travels() -> None:
    faulty = ALONE.replace("lane = 3", "lane = 0")
    found = faults_of(AXLES + faulty, (STRENGTH, f"{STRENGTH}\nwalk = 1"))
    assert found == [("trains.walkers.lane", "0 is 0")]


@pytest.mark.parametrize("number", ["-0.1", '"none"', "nan"])
def test_a_lane_impact_that_is_no_number_from_0_up_is_told(number: str) -> None:
    found = faults_of(f"{AXLES}\nlane = 3", ("impact = 0.3", f"impact = 0.3\nlane_impact = {number}"))
    assert [key for key, _ in found] == ["crossings.deck_cart.lane_impact"]
