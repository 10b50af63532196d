"""The joint that is asked about, what all rules tell in common, and what they refuse."""

from __future__ import annotations

import pytest

from solver.errors import InputError
from solver.propping.demand import HeldPoint, Side
from solver.propping.rules import ALL, ask
from tests.propping.lines import middle


def test_a_joint_knows_the_bars_on_both_sides() -> None:
    point = HeldPoint((3.0, 2.0, 1.0), (10.0, -5.0, 40.0), place=1)
    assert point.sides == (Side(10.0, 3.0), Side(-5.0, 2.0))
    assert (point.compression, point.braces, point.span, point.at_end) == (10.0, 2, 6.0, False)


def test_an_end_joint_has_one_side() -> None:
    point = HeldPoint((3.0, 2.0), (10.0, 20.0), place=2)
    assert point.sides == (Side(20.0, 2.0),)
    assert point.at_end


def test_the_harder_pushed_side_is_that_of_the_larger_compression_over_length() -> None:
    assert middle((90.0, 100.0), (1.0, 5.0)).hardest == Side(90.0, 1.0)


@pytest.mark.parametrize(
    ("lengths", "compressions", "place"),
    [
        ((), (), 0),
        ((1.0,), (1.0, 2.0), 0),
        ((1.0, 1.0), (1.0, 1.0), 3),
        ((1.0, 1.0), (1.0, 1.0), -1),
        ((1.0, 0.0), (1.0, 1.0), 1),
        ((1.0, 1.0, 1.0), (-1.0, 0.0, 5.0), 1),
    ],
)
def test_a_joint_that_is_not_there_or_not_pushed_is_refused(
    lengths: tuple[float, ...], compressions: tuple[float, ...], place: int
) -> None:
    with pytest.raises(InputError):
        HeldPoint(lengths, compressions, place)


def test_every_rule_answers_under_a_name_of_its_own() -> None:
    asked = ask(middle(), ALL)
    assert len(asked) == len(ALL)
    assert all(demand.force is not None and demand.force > 0 for demand in asked.values())


def test_every_rule_ends_its_steps_with_what_it_asks() -> None:
    for name, demand in ask(middle(), ALL).items():
        results = [step.result.value for step in demand.steps]
        assert demand.force in results, name
        assert demand.stiffness is None or demand.stiffness in results, name
        assert all(step.clause and step.formula and step.given for step in demand.steps), name


def test_what_members_in_the_plane_are_asked_is_marked_as_common_practice() -> None:
    assert all(d.stretched.startswith("common practice") for d in ask(middle(), ALL).values())
    across = ask(middle(in_plane=False), ALL)
    assert [name for name, demand in across.items() if demand.stretched] == ["2 % rule"]


def test_a_stiffness_and_a_load_per_length_name_their_unit() -> None:
    for demand in ask(middle(), ALL).values():
        for step in demand.steps:
            for quantity in (*step.given, step.result):
                if quantity.kind == "none" and quantity.symbol[0] in "βq":
                    assert quantity.symbol.endswith("[N/m]")


def test_no_rule_asks_less_of_harder_pushed_bars() -> None:
    soft, hard = ask(middle((50e3, 60e3)), ALL), ask(middle((55e3, 90e3)), ALL)
    for name, demand in soft.items():
        assert (demand.force or 0) < (hard[name].force or 0)
        assert (demand.stiffness or 0) <= (hard[name].stiffness or 0)
