"""Which side, which length and which method Appendix 6 takes, by hand; coefficients lie in published/."""

from __future__ import annotations

import pytest

from solver.errors import InputError
from solver.propping.aisc_appendix_6 import LRFD_1999, PanelBracing, PointBracing
from solver.propping.demand import HeldPoint
from tests.propping.lines import middle


def test_the_strength_follows_the_larger_compression_and_the_stiffness_the_larger_over_length() -> None:
    asked = PointBracing().demand(middle((90e3, 100e3), (2.0, 5.0)))
    assert asked.force == pytest.approx(0.01 * 100e3)
    assert asked.stiffness == pytest.approx(8 * 90e3 / 2.0 / 0.75)


def test_between_the_ends_the_length_need_not_be_below_the_permitted_one() -> None:
    near = middle((100e3, 100e3), (2.0, 2.0))
    far = middle((100e3, 100e3), (2.0, 2.0), permitted=5.0)
    longer = middle((100e3, 100e3), (6.0, 6.0), permitted=5.0)
    assert [PointBracing("ASD").demand(point).stiffness for point in (near, far, longer)] == pytest.approx(
        [16 * 100e3 / 2, 16 * 100e3 / 5, 16 * 100e3 / 6]
    )


def test_at_an_end_and_of_a_panel_the_permitted_length_does_not_count() -> None:
    end = HeldPoint((2.0, 2.0), (100e3, 100e3), place=0, permitted=5.0)
    assert PointBracing("ASD").demand(end).stiffness == pytest.approx(16 * 100e3 / 2)
    assert PanelBracing("ASD").demand(end).stiffness == pytest.approx(4 * 100e3 / 2)


def test_the_number_of_props_halves_the_stiffness_of_one_and_is_told() -> None:
    lowered = PointBracing(by_number=True).demand(middle())
    full = PointBracing().demand(middle())
    assert full.stiffness is not None and lowered.stiffness == pytest.approx(full.stiffness / 2)
    assert "commentary" in lowered.steps[1].clause
    assert len(full.steps) == 2


def test_lines_alike_are_summed() -> None:
    one, four = (PointBracing().demand(middle(alike=n)) for n in (1, 4))
    assert one.force is not None and four.force == pytest.approx(4 * one.force)
    assert one.stiffness is not None and four.stiffness == pytest.approx(4 * one.stiffness)


def test_a_panel_follows_the_harder_pushed_bar_on_whichever_side() -> None:
    for compressions, lengths in (((90e3, 120e3), (3.0, 3.0)), ((120e3, 90e3), (3.0, 3.0))):
        asked = PanelBracing("ASD").demand(middle(compressions, lengths))
        assert asked.stiffness == pytest.approx(4 * 120e3 / 3)
    assert PanelBracing("ASD").demand(middle((90e3, 120e3), (1.0, 3.0))).stiffness == pytest.approx(360e3)


def test_the_edition_of_1999_has_neither_asd_nor_a_rule_by_number() -> None:
    with pytest.raises(InputError, match="ASD"):
        PanelBracing("ASD", LRFD_1999)
    with pytest.raises(InputError, match="number"):
        PointBracing("LRFD", LRFD_1999, by_number=True)
