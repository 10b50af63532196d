"""What a good study reads to: SI values, exact coordinates, the file's order."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from explorer.document import read_text
from explorer.document.units import KIP, METRIC, US
from solver.cases import work_out
from solver.errors import InputError
from tests.document.example import GOOD, edited

STUDY = read_text(GOOD, "teal.toml").study
TRUSS = STUDY.truss


def test_coordinates_are_the_decimals_as_written() -> None:
    study = read_text(edited(("U1 = [4, 3]", "U1 = [4.1, 3.0000000000000001]")), "x").study
    assert study.truss.coordinates[3] == (Fraction(41, 10), 3 + Fraction(1, 10**16))


def test_members_come_in_the_files_order_and_are_named_as_first_written() -> None:
    assert [m.name for m in TRUSS.members] == ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"]
    assert TRUSS.member_index("U1-L1") == TRUSS.member_index("L1-U1") == 4
    with pytest.raises(InputError, match="no member L0-L2"):
        TRUSS.member_index("L0-L2")
    turned = edited(
        ('along = ["L0", "L1", "L2"]\nsection', 'members = ["L2-L1"]\nalong = ["L0", "L1"]\nsection')
    )
    names = [m.name for m in read_text(turned, "x").study.truss.members]
    assert names[:2] == ["L2-L1", "L0-L1"]


def test_properties_are_read_into_si() -> None:
    member = TRUSS.members[0]
    material, section, group = member.group.material, member.group.section, member.group
    assert (material.elastic_modulus, material.yield_strength) == (210e9, 355e6)
    assert (material.ultimate_strength, material.unit_weight, material.expansion) == (490e6, 77e3, 12e-6)
    assert section.area == pytest.approx(1500e-6, rel=1e-15)
    assert section.second_moment == pytest.approx(2.2e-6, rel=1e-15)
    assert section.radius == pytest.approx(0.0383, rel=1e-15)
    assert (group.tension, group.compression, group.duties) == (300e3, 120e3, ())
    assert TRUSS.members[4].group.duties == ("carries the handrail",)
    assert TRUSS.axial_stiffness[0] == pytest.approx(210e9 * 1500e-6 / 4, rel=1e-15)
    assert TRUSS.weights[2] == pytest.approx(77e3 * 1500e-6 * 5, rel=1e-15)


def test_pieces_and_supports_are_read_by_joint() -> None:
    piece = TRUSS.pieces[0]
    assert (piece.name, piece.joints, piece.lateral_props) == ("bottom", (0, 1, 2), (0, 2))
    assert [(s.joint, s.labels) for s in TRUSS.supports] == [(0, ("x", "y")), (2, ("y",))]
    slope = edited(('L2 = "y"', "L2 = [[-0.60, 0.8]]"), ("settlement = { L2 = [0, -10] }\n", ""))
    sloped = read_text(slope, "x").study
    assert sloped.truss.supports[1].labels == ("[-0.60, 0.8]",)
    assert sloped.truss.supports[1].directions == ((Fraction(-3, 5), Fraction(4, 5)),)
    none = read_text(edited(('lateral_props = ["L0", "L2"]\n', "")), "x").study
    assert none.truss.pieces[0].lateral_props is None


def test_cases_are_read_into_si() -> None:
    dead, wind, frost = STUDY.cases.values()
    assert (dead.self_weight, dead.counts, wind.counts) == (1.0, 2.0, 1.0)
    assert dead.joints == {3: (0.0, -5000.0)}
    assert (dead.lines[0].vector, dead.lines[0].per) == ((0.0, -3000.0), "plan")
    assert (dead.lines[0].start, dead.lines[0].end) == (0.0, 8.0)
    assert (wind.lines[0].normal, wind.lines[0].start, wind.lines[0].end) == (1200.0, 1.0, 6.5)
    assert frost.temperature == (-20.0, -20.0, 0.0, 0.0, 0.0)
    assert frost.settlement == {2: (0.0, -0.01)}
    assert frost.misfit == {4: 0.003}


def test_one_number_heats_all_members() -> None:
    study = read_text(edited(("temperature = { bottom = -20 }", "temperature = 7.5")), "x").study
    assert study.cases["frost"].temperature == (7.5,) * 5


def test_trains_crossings_and_combinations_are_read() -> None:
    crossing = STUDY.crossings["deck_cart"]
    assert [(axle.distance, axle.load) for axle in crossing.trains[0].axles] == [(0.0, 10e3), (2.5, 15e3)]
    assert (crossing.factor, crossing.impact, crossing.counts) == (0.5, 0.3, 1.0)
    assert crossing.directions == ("forward", "backward")
    strength = STUDY.combinations[0]
    assert (strength.cases, strength.crossing, strength.crossing_factor) == ({"dead": 1.35}, "deck_cart", 1.5)
    assert STUDY.chords["deck"].positions.tolist() == [0.0, 4.0, 8.0]


def test_defaults_are_those_of_the_format_page() -> None:
    bare = edited(
        ("zero_limit = 0\n", ""),
        ('directions = "both"\nfactor = 0.5\nimpact = 0.3\ncounts = 1\n', ""),
        ("[combinations.strength]\ndead = 1.35\ndeck_cart = 1.5\n", ""),
    )
    study = read_text(bare, "x").study
    crossing = study.crossings["deck_cart"]
    assert (crossing.factor, crossing.impact, crossing.counts, study.zero_limit) == (1.0, 0.0, 1.0, 0.0)
    assert crossing.directions == ("forward", "backward")
    assert [c.name for c in study.asked] == ["dead", "wind", "frost", "deck_cart"]


# US customary units against SI, from the definitions of foot, pound and standard gravity (1959).
US_VALUES = [
    ("length", 1, 0.3048),
    ("force", 1, 4448.2216152605),
    ("line_load", 1, 14593.902937),
    ("area", 1, 6.4516e-4),
    ("second_moment", 1, 4.162314256e-7),
    ("radius", 1, 0.0254),
    ("stress", 1, 6894757.293),
    ("unit_weight", 1, 157087.464),
    ("small_length", 1, 0.0254),
    ("temperature", 9, 5),
    ("expansion", 5, 9),
]


@pytest.mark.parametrize(("kind", "value", "si"), US_VALUES, ids=[row[0] for row in US_VALUES])
def test_us_units_are_those_of_the_1959_agreement(kind: str, value: int, si: float) -> None:
    assert float(US.to_si(kind, Fraction(value))) == pytest.approx(si, rel=1e-9)
    assert US.from_si(kind, np.array([si]))[0] == pytest.approx(value, rel=1e-9)


def test_units_go_there_and_back() -> None:
    for system in (METRIC, US):
        for kind in system.factors:
            there = float(system.to_si(kind, Fraction("12.5")))
            assert system.from_si(kind, there) == pytest.approx(12.5, rel=1e-15)
            assert isinstance(system.label(kind), str)


def test_a_study_in_us_units_equals_the_same_study_in_metric_ones() -> None:
    us = read_text(edited(('units = "metric"', 'units = "US"')), "x").study
    assert us.truss.coordinates[1][0] == Fraction("0.3048") * 4
    assert us.cases["dead"].joints[3][1] == pytest.approx(-5 * float(KIP), rel=1e-15)
    assert us.cases["frost"].settlement[2][1] == pytest.approx(-0.254, rel=1e-15)
    temperature = us.cases["frost"].temperature
    assert temperature is not None
    assert temperature[0] == pytest.approx(-100 / 9, rel=1e-15)


def test_letters_of_any_alphabet_name_joints_and_cases() -> None:
    text = edited(("[cases.wind]", '[cases."Überlast"]')).replace("U1", "Ü1")
    study = read_text(text.replace("Ü1 = [4, 3]", '"Ü1" = [4, 3]').replace("{ Ü1 =", '{ "Ü1" ='), "x").study
    assert study.truss.joint_names[3] == "Ü1"
    assert "Überlast" in study.cases


def test_a_line_load_on_no_stretch_at_all_loads_nothing() -> None:
    study = read_text(edited(("from = 1.0, to = 6.5", "from = 2.0, to = 2.0")), "x").study
    action = work_out(study.cases["wind"], study.truss, study.chords)
    assert not action.joint_loads.any()
