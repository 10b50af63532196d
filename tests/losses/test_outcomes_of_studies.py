"""What losses leave of the bundled bridge, roof and mast, worked out by hand or by plain matrices here.

The statements on each are those of the description of the three studies: two members that look alike, full
snow that tells lies, and counting that says two to spare.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from explorer.bundled import list_bundled
from solver.answers import answer
from solver.losses.whole import Losses
from solver.study import Study
from solver.truss import Truss
from tests.losses.losing import bundled, elongations, lose, mechanism
from tests.verdicts.small_studies import dense_forces

BRIDGE, ROOF, MAST = "avocet_bridge", "bittern_roof", "curlew_mast"
HANGERS, POSTS = ["L1-U1", "L3-U3", "L5-U5", "L7-U7"], ["L2-U2", "L4-U4", "L6-U6"]
DIAGONALS = ["L2-U1", "L3-U2", "L4-U3", "L4-U5", "L5-U6", "L6-U7"]


SHEET = Path(__file__).resolve().parents[2] / "data" / "README.md"
COLUMNS = ("falls", "tips", "loose", "unpropped", "overload", "carried")


def on_the_sheet(name: str) -> dict[str, int]:
    """How many losses have which outcome, by the data sheet of the bundled studies."""
    header = "| file | falls | tips |"
    table = SHEET.read_text(encoding="utf-8").partition(header)[2].partition("\n\n")[0]
    (row,) = [line for line in table.splitlines() if line.startswith(f"| `{name}` |")]
    cells = [cell.strip() for cell in row.split("|")[2:8]]
    return {outcome: int(cell) for outcome, cell in zip(COLUMNS, cells, strict=True) if cell}


@cache
def losses(name: str, *cases: str, pieces: bool = True) -> tuple[Study, Losses]:
    study = bundled(name, cases or None, pieces)
    return study, answer(study).losses


def outcomes(found: tuple[Study, Losses], names: list[str]) -> set[str]:
    study, every = found
    return {every.each[study.truss.member_index(name)].outcome for name in names}


def movement_without(truss: Truss, name: str) -> np.ndarray:
    """The one movement that all other members and the supports (along axes) allow, the farthest by 1."""
    rows = np.delete(elongations(truss), truss.member_index(name), axis=0).reshape(len(truss.members) - 1, -1)
    held = [
        truss.dimension * support.joint + [bool(c) for c in direction].index(True)
        for support in truss.supports
        for direction in support.directions
    ]
    free = np.setdiff1d(np.arange(rows.shape[1]), held)
    vectors = np.linalg.svd(rows[:, free])[2][np.linalg.matrix_rank(rows[:, free]) :]
    assert len(vectors) == 1
    movement = np.zeros(rows.shape[1])
    movement[free] = vectors[0]
    movement = movement.reshape(-1, truss.dimension)
    return movement / np.linalg.norm(movement, axis=1).max()


@pytest.mark.parametrize("name", [item.name for item in list_bundled("study")])
def test_every_loss_has_the_outcome_that_the_data_sheet_counts(name: str) -> None:
    _, found = losses(name)
    assert Counter(loss.outcome for loss in found.each) == on_the_sheet(name)


def test_a_hanger_of_the_bridge_lets_its_floor_beam_fall_and_a_post_only_lets_go_of_the_chord() -> None:
    assert outcomes(losses(BRIDGE), HANGERS) == {"falls"}
    assert outcomes(losses(BRIDGE), POSTS) == {"unpropped"}
    study, every = losses(BRIDGE)
    for name in POSTS:
        found = mechanism(every.each[study.truss.member_index(name)])
        assert found.unpropped is not None
        assert (found.unpropped.before, found.unpropped.after) == (5.0, 10.0)


def test_under_a_post_only_the_weight_of_the_chord_moves() -> None:
    # half of two bars of 5 m, 5500 mm2 and 77 kN/m3 hangs at the top joint: 2.1175 kN
    driven = mechanism(lose(bundled(BRIDGE, ["self_weight"]), "L2-U2")).driven
    assert driven is not None and driven.value == pytest.approx(2117.5, rel=1e-12)


def test_a_post_of_a_chord_that_is_no_piece_lets_it_fall_under_own_weight_and_tip_without() -> None:
    assert outcomes(losses(BRIDGE, pieces=False), POSTS) == {"falls"}
    assert outcomes(losses(BRIDGE, "deck", pieces=False), POSTS) == {"tips"}
    assert outcomes(losses(BRIDGE, "lorry_crossing", pieces=False), POSTS) == {"tips"}
    assert outcomes(losses(BRIDGE, "deck"), POSTS) == {"unpropped"}


def test_the_tipping_chord_of_the_bridge_has_the_geometric_stiffness_of_its_two_pushed_bars() -> None:
    # deck alone, 9 kN/m: moment at L2 is 9 x 10 (40 - 10) / 2 = 1350 kNm, at a height of 6 m 225 kN in both
    found = mechanism(lose(bundled(BRIDGE, ["deck"], pieces=False), "L2-U2")).carried_away
    assert found is not None and found.value == pytest.approx(-225e3 * (1 / 5 + 1 / 5), rel=1e-9)


def test_the_lorry_drives_the_joint_below_a_lost_hanger_most_with_its_middle_axle_there() -> None:
    # 55 on L1, 55 at 1.3 m and 30 at 3.8 m from it, panels of 5 m: 55 (1 + 3.7 / 5) + 30 x 1.2 / 5 = 102.9
    driven = mechanism(lose(bundled(BRIDGE, ["lorry_crossing"]), "L1-U1")).driven
    assert driven is not None and driven.standing is not None
    assert driven.value == pytest.approx(102.9e3, rel=1e-12)
    assert (driven.standing.direction, driven.standing.position) == ("forward", pytest.approx(5 + 3.8))


@pytest.mark.parametrize("name", DIAGONALS)
@pytest.mark.parametrize(
    ("case", "drives"),
    [
        ("roofing", False),
        ("snow", False),
        ("snow_left", True),
        ("snow_right", True),
        ("suction", True),
        ("wind", True),
    ],
)
def test_without_a_diagonal_the_roof_falls_under_half_snow_and_wind_and_never_under_full_snow(
    name: str, case: str, drives: bool
) -> None:
    study, every = losses(ROOF, case)
    loss = every.each[study.truss.member_index(name)]
    # an even load on a parabola runs along the bow alone and does no work when the span moves
    assert (loss.outcome == "falls") == drives
    assert (mechanism(loss).driven is not None) == drives


@pytest.mark.parametrize("name", ["L3-U2", "L4-U3", "L4-U5", "L5-U6"])
def test_without_a_diagonal_compression_carries_the_roof_away_under_even_load_that_does_not_push(
    name: str,
) -> None:
    study, every = losses(ROOF)
    truss = study.truss
    unpushed = mechanism(every.each[truss.member_index(name)]).unpushed
    assert unpushed is not None
    # 1.35 x 2.5 + 1.5 x 4 = 9.375 kN/m on panels of 3 m; the other combinations all push
    load = np.zeros((len(truss.joint_names), 2))
    for place in range(9):
        joint = f"U{place}" if 0 < place < 8 else f"L{place}"
        load[truss.joint_index(joint), 1] = -9.375e3 * (1.5 if place in (0, 8) else 3)
    forces, movement = dense_forces(truss, load), movement_without(truss, name)
    across = movement[truss.ends[:, 1]] - movement[truss.ends[:, 0]]
    expected = float(np.sum(forces / truss.lengths * (across**2).sum(axis=1)))
    assert expected < 0 and unpushed.value == pytest.approx(expected, rel=1e-9)
    assert (study.alone + study.combinations)[unpushed.column].name == "full_snow"


@pytest.mark.parametrize("name", DIAGONALS)
def test_the_work_of_half_snow_in_the_movement_without_a_diagonal_is_load_times_movement(name: str) -> None:
    # 4 kN/m on panels of 3 m up to the middle: 6 kN at the end, 12 at U1, U2, U3, 6 at the middle U4
    study, every = losses(ROOF, "snow_left")
    truss = study.truss
    movement = movement_without(truss, name)
    loads = {"L0": 6e3, "U1": 12e3, "U2": 12e3, "U3": 12e3, "U4": 6e3}
    work = -sum(load * movement[truss.joint_index(joint), 1] for joint, load in loads.items())
    driven = mechanism(every.each[truss.member_index(name)]).driven
    assert driven is not None
    assert abs(driven.value) == pytest.approx(abs(work), rel=1e-9)


def test_the_whole_roof_falls_without_any_diagonal_and_its_end_verticals_prop_the_tie() -> None:
    assert outcomes(losses(ROOF), DIAGONALS) == {"falls"}
    study, every = losses(ROOF)
    for name in ("L1-U1", "L7-U7"):
        loss = every.each[study.truss.member_index(name)]
        unpropped = mechanism(loss).unpropped
        assert loss.outcome == "unpropped"
        assert unpropped is not None and (unpropped.before, unpropped.after) == (3.0, 6.0)


def test_the_verticals_at_the_ends_of_the_roof_prop_nothing_where_no_wind_lifts_it() -> None:
    assert outcomes(losses(ROOF, "roofing", "snow"), ["L1-U1", "L7-U7"]) == {"loose"}
    assert outcomes(losses(ROOF, "suction"), ["L1-U1", "L7-U7"]) == {"unpropped"}
    assert outcomes(losses(ROOF, "suction", pieces=False), ["L1-U1", "L7-U7"]) == {"tips"}


def test_without_its_tie_the_mast_has_one_member_more_than_it_needs_and_four_joints_that_move() -> None:
    study = bundled(MAST)
    truss = study.truss
    movement = movement_without(truss, "N1-S1")
    moving = [truss.joint_names[j] for j in np.flatnonzero(np.linalg.norm(movement, axis=1) > 1e-9)]
    assert sorted(moving) == ["E1", "N1", "S1", "W1"]
    # 29 members for 27 movements, 28 without the tie
    assert (len(truss.members), truss.freedoms - truss.held) == (29, 27)
    found = mechanism(lose(study, "N1-S1"))
    turned = found.movement * np.sign((found.movement * movement).sum())
    np.testing.assert_allclose(turned, movement, atol=1e-9)


def test_the_tie_of_the_mast_is_missed_only_by_the_wind_on_its_faces() -> None:
    without = ("head", "ice", "wind_on_head", "wind_on_corners", "torque")
    assert outcomes(losses(MAST), ["N1-S1"]) == {"falls"}
    assert outcomes(losses(MAST, "wind_on_face"), ["N1-S1"]) == {"falls"}
    study, every = losses(MAST, *without)
    assert mechanism(every.each[study.truss.member_index("N1-S1")]).driven is None


def test_the_wind_on_a_face_of_the_mast_does_work_where_its_joint_moves() -> None:
    study = bundled(MAST, ["wind_on_face"])
    movement = movement_without(study.truss, "N1-S1")
    driven = mechanism(lose(study, "N1-S1")).driven
    along = movement[study.truss.joint_index("E1"), 0]
    assert driven is not None and abs(driven.value) == pytest.approx(1500 * abs(along), rel=1e-9)


def test_any_one_member_of_the_diamond_may_go_by_geometry_where_the_tie_may_not() -> None:
    study, every = losses(MAST)
    for name in ("N1-W1", "W1-S1", "S1-E1", "E1-N1"):
        assert every.each[study.truss.member_index(name)].stable is not None
