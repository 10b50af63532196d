"""Members that look idle and hold: no load but own weight that strength asks for reaches them."""

from __future__ import annotations

from dataclasses import replace

from solver.answers import answer
from solver.combining import Combination
from solver.resistance.plain import Plain
from solver.rules import Rules
from tests.building import build_study, build_truss, load_case
from tests.checks.made_of import made_of, ruled

POINTS = {"A": (0, 0), "M": (3, 0), "B": (7, 0), "P": (3, 2)}
TRUSS = made_of(build_truss(POINTS, ["A-M", "M-B", "A-P", "P-B", "M-P"], {"A": "xy", "B": "y"}), {})
"""A chord A-M-B; what pushes it passes the post M-P by, which holds M across it."""
PUSH = load_case(TRUSS, "push", B=(-40e3, 0))
WEIGHT = replace(load_case(TRUSS, "weight"), self_weight=1.0)
HUNG = load_case(TRUSS, "hung", M=(0, -5e3))


def idle(*cases: object, combinations: tuple[Combination, ...] = ()) -> list[str]:
    answers = answer(ruled(TRUSS, cases, Rules(Plain()), combinations))  # type: ignore[arg-type]
    return [TRUSS.members[member].name for member in answers.checks.idle]


def test_a_post_that_nothing_reaches_is_idle_and_holds() -> None:
    assert idle(PUSH) == ["M-P"]


def test_own_weight_alone_does_not_make_it_work() -> None:
    answers = answer(ruled(TRUSS, [PUSH, WEIGHT], Rules(Plain())))
    forces = answers.losses.before.demands
    assert forces[0][4] > 0, "half the weight of the chord hangs on it"
    assert idle(PUSH, WEIGHT) == ["M-P"]
    heavier = replace(WEIGHT, joints={TRUSS.joint_names.index("M"): (0.0, -1.0)})
    assert idle(PUSH, heavier) == []


def test_a_load_hung_from_it_makes_it_work_where_strength_asks_for_it() -> None:
    assert idle(PUSH, HUNG) == []
    strength = Combination("strength", {"push": 1.0}, purpose="strength")
    service = Combination("service", {"push": 1.0, "hung": 1.0}, purpose="service")
    assert idle(PUSH, HUNG, combinations=(strength, service)) == ["M-P"]


def test_what_holds_nothing_is_not_among_them() -> None:
    """Pulled, the chord wants no hold: the post is zero and no prop."""
    assert idle(load_case(TRUSS, "pull", B=(40e3, 0))) == []


def test_a_load_that_only_pulls_it_from_time_to_time_makes_it_work() -> None:
    """A wheel over M pulls the post and nowhere pushes it; off M it bears nothing."""
    study = build_study(TRUSS, [PUSH], chord=["A", "M", "B"], axles=[(0, 5e3)])
    study = replace(study, rules=Rules(Plain()))
    answers = answer(study)
    post = TRUSS.member_index("M-P")
    alone = answers.losses.before.every
    assert (alone.smallest[post] >= -1e-6).all() and alone.largest[post].max() > 1e3
    assert answers.checks.idle == ()
