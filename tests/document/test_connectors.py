"""What joins paired angles, and pairs by name: as a study writes them."""

from __future__ import annotations

import pytest

from explorer.document import FaultyStudy, read_text
from explorer.sections.catalogue import find_profile
from solver.resisting import resist
from solver.study import Study
from tests.document.example import GOOD, edited
from tests.document.section_faults import bottom

PAIR = "2L 80x80x8 gap 10"


def read(*changes: tuple[str, str]) -> Study:
    return read_text(edited(*changes, text=GOOD), "teal.toml").study


def with_connectors(written: str, section: str = PAIR) -> tuple[str, str]:
    return bottom(section, beside=f"connectors = {written}")


def told_by(*changes: tuple[str, str]) -> list[tuple[str, str]]:
    with pytest.raises(FaultyStudy) as caught:
        read(*changes)
    return [(fault.key, fault.wrong) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("units", "written", "spacing", "fixing"),
    [
        ("metric", '{ spacing = 0.6, fixed = "welded" }', 0.6, "welded"),
        ("metric", '{ spacing = 0.45, fixed = "snug" }', 0.45, "snug"),
        ("US", '{ fixed = "snug", spacing = 5 }', 1.524, "snug"),
    ],
)
def test_connectors_are_read_in_the_studys_lengths_and_reach_the_bars(
    units: str, written: str, spacing: float, fixing: str
) -> None:
    study = read(('units = "metric"', f'units = "{units}"'), with_connectors(written))
    making, bar = study.truss.members[0].group.making, resist(study).bars[0]
    for found in (making, bar):
        assert found.connector_spacing == pytest.approx(spacing, rel=1e-12)
        assert found.connector_fixing == fixing


def test_without_connectors_nothing_is_known_of_them() -> None:
    study = read(bottom(PAIR))
    assert study.truss.members[0].group.making.connector_spacing is None
    assert resist(study).bars[0].connector_spacing is None


@pytest.mark.parametrize(
    ("written", "key", "words"),
    [
        ("0.6", "", "where spacing and fixing belong"),
        ('{ fixed = "snug" }', ".spacing", "is missing"),
        ("{ spacing = 0.6 }", ".fixed", "is missing"),
        ('{ spacing = 0, fixed = "snug" }', ".spacing", "is 0"),
        ('{ spacing = -1, fixed = "snug" }', ".spacing", "negative"),
        ('{ spacing = "near", fixed = "snug" }', ".spacing", "where a number belongs"),
        ('{ spacing = 0.6, fixed = "glued" }', ".fixed", "none of the choices"),
        ("{ spacing = 0.6, fixed = 1 }", ".fixed", "where a text belongs"),
        ('{ spacing = 0.6, fixed = "snug", gap = 10 }', ".gap", "unknown key"),
    ],
)
def test_faults_of_connectors_are_told_at_their_key(written: str, key: str, words: str) -> None:
    ((found, wrong),) = told_by(with_connectors(written))
    assert found == f"groups.bottom.connectors{key}" and words in wrong


@pytest.mark.parametrize(
    ("section", "words"),
    [("L 80x80x8", "shape angle"), ("SHS 100x100x5", "shape rectangular hollow"), ("tube", "has no size")],
)
def test_only_paired_angles_have_connectors(section: str, words: str) -> None:
    ((key, wrong),) = told_by(with_connectors('{ spacing = 0.6, fixed = "snug" }', section))
    assert key == "groups.bottom.connectors" and words in wrong


@pytest.mark.parametrize(
    ("written", "usual"),
    [
        ("2L4X3X1/4SLBB gap 3/8", "2L4X3X1/4 SLBB gap 3/8"),
        ("2l4x3x1/4slbb gap3/8", "2L4X3X1/4 SLBB gap 3/8"),
        ("2 L 4 x 3 x 1/4 SLBB gap 3/8 in", "2L4X3X1/4 SLBB gap 3/8"),
        ("2L4X3X1/4SLBBgap3/8in", "2L4X3X1/4 SLBB gap 3/8"),
        ("2L4X3X1/4LLBB", "2L4X3X1/4"),
        ("2L80x80x8gap10", "2L 80x80x8 gap 10"),
        ("2L 80x80x8 gap 10mm", "2L 80x80x8 gap 10"),
    ],
)
def test_blanks_in_the_name_of_a_pair_make_no_difference(written: str, usual: str) -> None:
    assert find_profile(written) == find_profile(usual)
    assert find_profile(written).size == usual
