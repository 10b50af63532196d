"""The joint alone: it always says which joint it is, and its sums speak of no axis that is not drawn."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.document.units import METRIC
from explorer.drawing.figures import Arm, FreeBody, Push, draw_free_body
from explorer.pages.proofs.joint import JointAlone, draw_joint
from explorer.wording.numbers import Teller
from explorer.wording.reasons import Reasoning
from solver.answers import answer
from solver.reasons.joint_rule import Finding
from solver.state import take_loads
from tests.building import build_study, build_truss, load_case
from tests.drawing.reading import Picture

angles = st.floats(0, 360)
NAMES = st.text("LU0123456789", min_size=1, max_size=4)


def words_in(body: FreeBody, width: float) -> list[str]:
    return Picture.read(draw_free_body(body, width)).words()


@pytest.mark.parametrize("width", [150.0, 420.0])
@given(st.lists(angles, min_size=1, max_size=9), st.lists(angles, max_size=3), st.none() | angles, NAMES)
def test_a_joint_is_always_named(
    width: float, some: list[float], acting: list[float], axis: float | None, name: str
) -> None:
    arms = tuple(Arm(f"{name}-M{i}", angle, "plain", "N = 0", i == 0) for i, angle in enumerate(some))
    pushes = tuple(Push(angle, "24") for angle in acting)
    body = FreeBody("joint", arms, pushes, axis, name, "no load", ("across: N = 0",))
    assert name in words_in(body, width)


@pytest.mark.parametrize("turn", [0.0, 30.0, 60.0, 90.0])
def test_a_rafter_joint_with_its_post_zero_and_its_brace_in_question_is_named(turn: float) -> None:
    # As in a fan of braces: a rafter at 3 in 5, its post straight down, a brace near the post.
    slopes = (("a-b", 143.1), ("b-c", -36.9), ("post", -90.0), ("brace", -112.0))
    arms = tuple(Arm(name, angle + turn, "plain", "N = 0", name == "brace") for name, angle in slopes)
    body = FreeBody("joint", arms, (), 53.1 + turn, "U9", "no load", ("across: N = 0",))
    assert "U9" in words_in(body, 420)


def test_of_two_bars_in_question_both_are_told_zero_and_none_across_an_axis() -> None:
    """A tip E that no load stands on, where two bars meet: each is alone across the other."""
    joints = {"A": (0, 0), "B": (4, 0), "C": (2, 3), "E": (6, 3)}
    truss = build_truss(joints, ["A-B", "A-C", "B-C", "B-E", "C-E"], {"A": "xy", "B": "y"})
    worked = answer(build_study(truss, [load_case(truss, "load", C=(0, -1000))]))
    loads = np.zeros((4, 2))
    loads[2, 1] = -1000.0
    state = take_loads(worked.reasoner.stiffness, loads)
    told = Reasoning(worked, Teller(METRIC), state, 1e-6)
    pair = (truss.member_index("B-E"), truss.member_index("C-E"))
    (first, _) = [r for r in worked.reasoner.explain(state, state.own_scale) if r.member in pair]
    assert isinstance(first.proof, Finding)
    both = Picture.read(draw_joint(JointAlone(told, 3, pair, frozenset(), first.proof, False), 420))
    assert "N = 0 in B-E and C-E" in both.words()
    assert not both.all("line", "axis")
    assert not [word for word in both.words() if "across" in word]
    alone = Picture.read(draw_joint(JointAlone(told, 3, pair[:1], frozenset(), first.proof, False), 420))
    assert alone.all("line", "axis")
    assert "across: N = 0" in alone.words()
