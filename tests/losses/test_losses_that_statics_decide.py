"""Losses that statics alone decide: determinate trusses, and supports that lift off."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers import answer
from solver.cases import LoadCase
from solver.chords import make_chord
from solver.crossings import Crossing
from solver.study import Study
from solver.trains import Axle, Second, Train
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.laws.generator import draw_truss
from tests.losses.losing import elongations, lose, mechanism, stable


def determinate(seed: int) -> Truss:
    """The first drawn truss from a seed on that has no member and no support to spare."""
    while True:
        drawn = draw_truss(seed)
        if not drawn.indeterminacy:
            return drawn.truss
        seed += 1000


@pytest.mark.parametrize("seed", range(6))
def test_every_loss_of_a_determinate_truss_falls_under_the_load_along_the_lost_member(seed: int) -> None:
    # its ends pulled apart by 1: itself 1, all others 0, for that is in balance and nothing else is
    truss = determinate(seed)
    rows = elongations(truss)
    cases = [
        LoadCase(f"apart {i}", joints={m.first: tuple(row[m.first]), m.second: tuple(row[m.second])})
        for i, (m, row) in enumerate(zip(truss.members, rows, strict=True))
    ]
    answers = answer(build_study(truss, cases))
    np.testing.assert_allclose(answers.responses.forces.cases, np.eye(len(rows)), atol=1e-9)
    assert {loss.outcome for loss in answers.losses.each} == {"falls"}


@pytest.mark.parametrize("seed", range(6))
def test_what_moves_without_a_member_of_a_determinate_truss_lengthens_that_member_alone(seed: int) -> None:
    truss = determinate(seed)
    rows = elongations(truss)
    answers = answer(build_study(truss, [LoadCase("none", joints={0: (1.0,) * truss.dimension})]))
    for loss in answers.losses.each:
        movement = mechanism(loss).movement
        stretched = (rows * movement).sum(axis=(1, 2))
        others = np.delete(stretched, loss.member)
        assert np.abs(others).max(initial=0.0) <= 1e-9
        assert abs(stretched[loss.member]) > 1e-6
        assert np.linalg.norm(movement, axis=1).max() == pytest.approx(1.0)


SPANS = {"a": (0, 0), "b": (2, 0), "c": (4, 0), "p": (1, 1), "q": (3, 1)}
BARS = ["a-b", "b-c", "a-p", "p-b", "b-q", "q-c", "p-q"]


def two_spans(held: object = "y") -> Study:
    """Two triangles over three supports, joined at the top; 2 N at p, 1 N at q, EA = 1."""
    truss = build_truss(SPANS, BARS, {"a": "xy", "b": "y", "c": held})
    return build_study(truss, [load_case(truss, p=(0, -2), q=(0, -1))])


def test_a_support_that_the_loss_turns_into_one_that_pulls_is_told_to_lift_off() -> None:
    # With X = p-q by least work, X (3 + 2 sqrt 2) = (2 + 1) / 2, c bears 1 / 2 - X / 2 = 0.371: it presses.
    # Without a-p the triangle b-q-c tilts over b: c bears (1 x 1 - 2 x 1) / 2 = -0.5.
    study = two_spans()
    forces = answer(study).responses
    assert forces.reactions.cases[3, 0] == pytest.approx(0.5 - 0.75 / (3 + 2 * np.sqrt(2)), rel=1e-12)
    loss = lose(study, "a-p")
    (turned,) = loss.turned
    assert (turned.row, turned.how, turned.value) == (3, "lifts off", pytest.approx(-0.5, rel=1e-12))
    np.testing.assert_allclose(stable(loss).reactions, [[0, 0, 3.5, -0.5]] * 2, atol=1e-12)


def test_a_support_written_downwards_lifts_off_where_its_factor_turns_positive() -> None:
    (turned,) = lose(two_spans([[0, -2]]), "a-p").turned
    assert (turned.row, turned.how, turned.value) == (3, "lifts off", pytest.approx(0.5, rel=1e-12))


def test_a_support_whose_reaction_keeps_its_sign_has_not_turned() -> None:
    # without p-q each span stands alone: 1 + 0, 1 + 0.5, 0.5 as of simple beams
    loss = lose(two_spans(), "p-q")
    assert loss.turned == ()
    np.testing.assert_allclose(stable(loss).reactions, [[0, 1, 1.5, 0.5]] * 2, atol=1e-12)


def test_a_thrust_that_turns_round_is_told_to_reverse() -> None:
    # Three bars from a ceiling at 45 degrees, closed forms, 1 N down and 0.2 N to the right: the right
    # bar bears 0.29289 - 0.2 / sqrt 2 = 0.1515, and -0.2 sqrt 2 once the left one is gone. A bar that pulls
    # its ceiling joint down and inwards is held by as much up and outwards, each 1 / sqrt 2 of its force.
    joints = {"l": (-1, 0), "m": (0, 0), "r": (1, 0), "p": (0, -1)}
    truss = build_truss(joints, ["l-p", "m-p", "r-p"], dict.fromkeys("lmr", "xy"))
    study = build_study(truss, [load_case(truss, p=(0.2, -1))])
    assert answer(study).responses.reactions.cases[4, 0] == pytest.approx(
        0.29289 / np.sqrt(2) - 0.1, abs=1e-5
    )
    sideways, upwards = lose(study, "l-p").turned
    assert (sideways.row, sideways.how) == (4, "reverses")
    assert (upwards.row, upwards.how) == (5, "lifts off")
    assert (sideways.value, upwards.value) == (pytest.approx(-0.2), pytest.approx(-0.2))


def test_a_train_with_another_behind_it_crosses_whatever_is_lost() -> None:
    # axles of 1 N, 2 m apart or more: without p-q each span bears its own, and no support more than 1 N
    truss = build_truss(SPANS, BARS, {"a": "xy", "b": "y", "c": "y"})
    chord = make_chord("deck", tuple(map(truss.joint_index, "abc")), truss)
    train = Train("pair", (Axle(0.0, 1.0),), second=Second((Axle(0.0, 1.0),), (), 2.0))
    crossing = Crossing("pair", (train,), "deck", ("forward", "backward"), called="pair")
    found = stable(lose(Study("pair", truss, {"deck": chord}, {}, {"pair": crossing}), "p-q"))
    np.testing.assert_allclose(found.reactions, [[0, 0, 0, 0], [0, 1, 1, 1]], atol=1e-12)
    assert found.worst is None
