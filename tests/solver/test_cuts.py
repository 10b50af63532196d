"""Zero forces by the method of sections (common practice), and against equilibrium in fractions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

import numpy as np
import pytest

from solver.reasons.cuts import Cut, Cuts
from solver.reasons.joint_rule import JointRule
from solver.reasons.whole_truss import known_reactions, supports_determinate
from solver.stiffness import Stiffness
from solver.truss import ExactVector, Truss
from tests.building import build_truss
from tests.laws.generator import draw_truss
from tests.solver.test_cut_search import SMALL, minimal_cuts, pieces

Vectors = list[list[Fraction]]


def loads_on(truss: Truss, **loads: Sequence[float]) -> np.ndarray:
    joint_loads = np.zeros((len(truss.joint_names), truss.dimension))
    for name, load in loads.items():
        joint_loads[truss.joint_index(name)] = load
    return joint_loads


def prove(
    truss: Truss, joint_loads: np.ndarray, known: Iterable[int] = (), *, reactions: bool = False
) -> dict[str, Cut]:
    """Proofs for all members by name; with `reactions`, these are worked out from the whole truss."""
    if reactions:
        supported = known_reactions(truss, joint_loads)
        assert supported is not None
        joint_loads = joint_loads + supported
    found = Cuts(truss, reactions).prove(
        range(len(truss.members)), set(known), joint_loads, np.linalg.norm(joint_loads, axis=1)
    )
    assert all(member == cut.member for member, cut in found.items())
    return {truss.members[member].name: cut for member, cut in found.items()}


def names(truss: Truss, cut: Cut) -> tuple[set[str], set[str]]:
    return {truss.members[m].name for m in cut.members}, {truss.joint_names[j] for j in cut.part}


def warren(origin: int = 0) -> Truss:
    """Four panels of 4 m, 3 m deep, no posts: lower joints A to E, upper ones F to I."""
    lower = {name: (origin + 4 * i, origin) for i, name in enumerate("ABCDE")}
    upper = {name: (origin + 4 * i + 2, origin + 3) for i, name in enumerate("FGHI")}
    chords = ["A-B", "B-C", "C-D", "D-E", "F-G", "G-H", "H-I"]
    web = ["A-F", "F-B", "B-G", "G-C", "C-H", "H-D", "D-I", "I-E"]
    return build_truss(lower | upper, chords + web, {"A": "xy", "E": "y"})


# --- textbook sections ---------------------------------------------------------------------------------


@pytest.mark.parametrize("origin", [0, 10_000_000])
def test_diagonals_between_two_equal_symmetric_loads_are_zero_by_vertical_forces(origin: int) -> None:
    truss = warren(origin)
    proofs = prove(truss, loads_on(truss, B=(0, -7), D=(0, -7)), reactions=True)
    assert set(proofs) == {"B-G", "G-C", "C-H", "H-D"}
    cut = proofs["G-C"]
    assert names(truss, cut) == ({"B-C", "G-C", "G-H"}, {"A", "B", "F", "G"})
    assert cut.known == ()
    assert cut.turning.kind == "shift"
    np.testing.assert_allclose(np.abs(cut.turning.shift), [0, 1], atol=1e-12)


def test_a_millionth_of_shear_proves_no_diagonal_zero() -> None:
    truss = warren()
    assert prove(truss, loads_on(truss, B=(0, -7), D=(0, -7.000007)), reactions=True) == {}


def test_without_the_reactions_no_panel_of_the_girder_shows_a_zero() -> None:
    truss = warren()
    assert prove(truss, loads_on(truss, B=(0, -7), D=(0, -7))) == {}


def bracket() -> Truss:
    """Chords A-C and B-D that would meet at (8, 2), and the diagonal A-D between them."""
    joints = {"A": (0, 0), "B": (0, 4), "C": (4, 1), "D": (4, 3)}
    return build_truss(joints, ["A-C", "B-D", "A-D", "C-D", "A-B"], {"A": "xy", "B": "x"})


def test_a_diagonal_is_zero_where_the_load_passes_through_the_meeting_point_of_the_chords() -> None:
    truss = bracket()
    proofs = prove(truss, loads_on(truss, C=(1, 0), D=(1, 0)))
    cut = proofs["A-D"]
    assert names(truss, cut) == ({"A-C", "B-D", "A-D"}, {"C", "D"})
    assert cut.turning.kind == "turn"
    assert not any(cut.turning.shift)
    assert cut.turning.axis == ()
    np.testing.assert_allclose(cut.turning.point, [8, 2], rtol=1e-12)
    assert "A-D" not in prove(truss, loads_on(truss, C=(1, 0), D=(2, 0)))


def test_loads_that_cancel_on_paper_are_none_and_a_millionth_of_them_is_a_load() -> None:
    truss = bracket()
    at_d = {"A-D", "B-D"}
    assert 0.1 + 0.2 != 0.3
    assert set(prove(truss, loads_on(truss, C=(0, -0.3), D=(0, 0.1 + 0.2)))) >= at_d
    assert not set(prove(truss, loads_on(truss, C=(0, -0.3), D=(0, 0.3000003)))) & at_d


def test_a_sum_too_small_for_its_direction_to_be_certain_shows_nothing() -> None:
    truss = bracket()
    known = {truss.member_index(name) for name in ("A-C", "B-D", "C-D")}
    asked = [truss.member_index("A-D")]
    # what is left at D of contributions of 0.3 is along A-D on paper, which bears it; its sixth digit is off
    load = loads_on(truss, D=(4e-11, 3.00001e-11))
    largest = np.array([0, 0, 0, 0.3])
    cuts = Cuts(truss, False)
    assert cuts.prove(asked, known, load, largest) == {}
    # contributions of its own size leave no doubt about its direction
    assert list(cuts.prove(asked, known, load, largest * 1e-10)) == asked


def test_a_member_known_to_be_zero_is_no_unknown_of_the_cut() -> None:
    wall = {"A": (0, 0), "B": (0, 2), "C": (0, 4)}
    body = {"D": (3, 0), "E": (3, 2), "F": (3, 4), "G": (6, 2)}
    members = ["A-B", "B-C", "A-D", "B-E", "C-F", "D-E", "E-F", "D-G", "E-G", "F-G"]
    truss = build_truss(wall | body, members, {"A": "xy", "B": "xy", "C": "xy", "G": "y"})
    load = loads_on(truss, D=(1, 0))
    assert "C-F" not in prove(truss, load)
    known = truss.member_index("B-E")
    cut = prove(truss, load, {known})["C-F"]
    assert names(truss, cut) == ({"A-D", "B-E", "C-F"}, {"D", "E", "F", "G"})
    assert cut.known == (known,)
    # where A-D and the upright reaction at G meet
    assert cut.turning.kind == "turn"
    np.testing.assert_allclose(cut.turning.point, [6, 0], atol=1e-12)
    assert "B-E" not in prove(truss, load, {known})


def test_fewer_unknown_members_come_before_a_smaller_body() -> None:
    truss = warren()
    nothing = loads_on(truss)
    assert names(truss, prove(truss, nothing, reactions=True)["B-C"])[1] == {"A", "B", "F"}
    known = {truss.member_index("G-C"), truss.member_index("G-H")}
    assert names(truss, prove(truss, nothing, known, reactions=True)["B-C"])[1] == {"A", "B", "F", "G"}


def test_the_line_of_a_roller_is_an_unknown_of_the_body_that_stands_on_it() -> None:
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "D": (4, 3), "E": (7, -1)}
    members = ["A-B", "A-C", "B-D", "C-D", "D-E", "C-E"]
    truss = build_truss(joints, members, {"A": "xy", "B": "xy", "E": "y"})
    # A-C and the upright reaction at E meet at (7, 0), and a load at D along (1, -1) passes there
    cut = prove(truss, loads_on(truss, D=(1, -1)))["B-D"]
    assert names(truss, cut) == ({"A-C", "B-D"}, {"C", "D", "E"})
    assert cut.turning.kind == "turn"
    np.testing.assert_allclose(cut.turning.point, [7, 0], atol=1e-12)
    assert prove(truss, loads_on(truss, D=(0, -1))) == {}


def tower() -> Truss:
    """One storey on three upright legs, each face with a diagonal; a tripod to G on top."""
    feet = {"A": (0, 0, 0), "B": (4, 0, 0), "C": (1, 3, 0)}
    heads = {"D": (0, 0, 5), "E": (4, 0, 5), "F": (1, 3, 5), "G": (1.5, 1, 8)}
    storey = ["A-D", "B-E", "C-F", "A-E", "B-F", "C-D", "D-E", "E-F", "F-D", "A-B", "B-C", "C-A"]
    return build_truss(feet | heads, [*storey, "D-G", "E-G", "F-G"], {"A": "xyz", "B": "xyz", "C": "xyz"})


def test_under_an_upright_load_the_diagonals_of_a_tower_are_zero_by_moments_about_its_legs() -> None:
    truss = tower()
    proofs = prove(truss, loads_on(truss, G=(0, 0, -2)))
    # the leg in which the two other faces meet
    legs = {"A-E": (1, 3), "B-F": (0, 0), "C-D": (4, 0)}
    for name, foot in legs.items():
        cut = proofs[name]
        assert names(truss, cut) == ({"A-D", "B-E", "C-F", "A-E", "B-F", "C-D"}, {"D", "E", "F", "G"})
        assert cut.turning.kind == "turn"
        np.testing.assert_allclose(np.abs(cut.turning.axis), [0, 0, 1], atol=1e-12)
        np.testing.assert_allclose(cut.turning.point[:2], foot, atol=1e-12)


def test_a_load_across_the_tower_leaves_it_with_no_zero_diagonal() -> None:
    truss = tower()
    assert not set(prove(truss, loads_on(truss, G=(3, 1, -2)))) & {"A-E", "B-F", "C-D"}


# --- all cuts, and all that they prove ----------------------------------------------------------------


def exact_wrench(point: ExactVector, force: Sequence[Fraction]) -> list[Fraction]:
    """A force and its moments about the origin."""
    if len(point) == 2:
        return [*force, point[0] * force[1] - point[1] * force[0]]
    turns = ((1, 2), (2, 0), (0, 1))
    return [*force, *(point[a] * force[b] - point[b] * force[a] for a, b in turns)]


def without(pivot: list[Fraction], row: list[Fraction], column: int) -> list[Fraction]:
    return [a - row[column] * b for a, b in zip(row, pivot, strict=True)]


def reduced(rows: Vectors) -> Vectors:
    """Rows of the reduced echelon form (Gauss and Jordan), without those that vanish."""
    done: Vectors = []
    for column in range(len(rows[0]) if rows else 0):
        pivot = next((row for row in rows if row[column]), None)
        if pivot is not None:
            rows = [row for row in rows if row is not pivot]
            pivot = [value / pivot[column] for value in pivot]
            rows = [without(pivot, row, column) for row in rows]
            done = [*(without(pivot, row, column) for row in done), pivot]
    return done


def rank(vectors: Vectors) -> int:
    return len(reduced(vectors))


def exact_reactions(truss: Truss, loads: Vectors) -> Vectors:
    """Loads and determinate reactions together, joint by joint."""
    held = [(s.joint, direction) for s in truss.supports for direction in s.directions]
    columns = [exact_wrench(truss.coordinates[joint], direction) for joint, direction in held]
    wrenches = [exact_wrench(x, load) for x, load in zip(truss.coordinates, loads, strict=True)]
    rows = reduced(
        [[*(column[i] for column in columns), -sum(w[i] for w in wrenches)] for i in range(len(columns[0]))]
    )
    together = [list(load) for load in loads]
    for (joint, direction), row in zip(held, rows, strict=True):
        together[joint] = [a + row[-1] * c for a, c in zip(together[joint], direction, strict=True)]
    return together


def shown(
    truss: Truss, members: Sequence[int], part: Iterable[int], loads: Vectors, *, held: bool
) -> set[int]:
    """Which of the cut members (none known) the equilibrium of a body shows to be zero, in fractions."""
    inside = set(part)
    x = truss.coordinates
    others = [
        exact_wrench(x[s.joint], d)
        for s in truss.supports
        if held and s.joint in inside
        for d in s.directions
    ]
    each = [exact_wrench(x[joint], loads[joint]) for joint in inside]
    others.append([sum(column, Fraction(0)) for column in zip(*each, strict=True)])
    lines = {m: exact_wrench(x[truss.members[m].first], truss.exact_vectors[m]) for m in members}
    everything = [*lines.values(), *others]
    return {
        m
        for m in members
        if rank(everything) > rank([*(lines[other] for other in members if other != m), *others])
    }


def drawn_loads(truss: Truss, seed: int) -> Vectors:
    """Whole numbers at one or two joints."""
    random = np.random.default_rng(seed)
    loads = [[Fraction(0)] * truss.dimension for _ in truss.joint_names]
    for joint in random.choice(len(loads), int(random.integers(1, 3)), replace=False):
        loads[joint] = [Fraction(int(c)) for c in random.integers(-3, 4, truss.dimension)]
    return loads


@pytest.mark.parametrize("number", range(len(SMALL)))
@pytest.mark.parametrize("reactions", [False, True])
def test_cuts_prove_exactly_what_equilibrium_in_fractions_proves(number: int, reactions: bool) -> None:
    truss = SMALL[number]
    reactions = reactions and supports_determinate(truss)
    everyone = set(range(len(truss.joint_names)))
    cuts = minimal_cuts(truss, 3 if truss.dimension == 2 else 6)
    for seed in range(3):
        loads = drawn_loads(truss, seed)
        plain = np.array([[float(c) for c in load] for load in loads])
        proofs = prove(truss, plain, reactions=reactions)
        acting = exact_reactions(truss, loads) if reactions else loads
        expected: set[int] = set()
        for members in cuts:
            after = pieces(truss, members)
            part = {joint for joint in everyone if after[joint] == after[truss.members[members[0]].first]}
            for body in (part, everyone - part):
                expected |= shown(truss, members, body, acting, held=not reactions)
        assert {cut.member for cut in proofs.values()} == expected
        for cut in proofs.values():
            assert cut.members in cuts
            assert cut.member in shown(truss, cut.members, cut.part, acting, held=not reactions)


def movement_at(cut: Cut, point: np.ndarray) -> np.ndarray:
    """How a point of the body moves."""
    turning = cut.turning
    if turning.kind == "shift":
        return np.array(turning.shift)
    arm = point - np.array(turning.point)
    if len(point) == 2:
        return np.array([-arm[1], arm[0]])
    return np.cross(turning.axis, arm) + np.array(turning.shift)


@pytest.mark.parametrize("seed", range(40))
def test_forces_shown_zero_are_zero_and_the_movement_named_isolates_them(seed: int) -> None:
    truss = draw_truss(seed).truss
    reactions = supports_determinate(truss) and seed % 2 == 0
    loads = np.array([[float(c) for c in load] for load in drawn_loads(truss, seed)])
    forces = Stiffness(truss).respond(loads.reshape(-1, 1)).forces[:, 0]
    seen = {finding.member for finding in JointRule(truss).inspect(loads, np.linalg.norm(loads, axis=1))}
    if reactions and known_reactions(truss, loads) is None:
        return
    x = truss.joint_coordinates
    acting = loads + known_reactions(truss, loads) if reactions else loads
    for known in (set(), seen):
        for cut in prove(truss, loads, known, reactions=reactions).values():
            assert abs(forces[cut.member]) <= 1e-9 * max(1.0, np.abs(loads).max())
            assert set(cut.known) == set(cut.members) & known
            part = set(cut.part)
            reach = max(np.linalg.norm(movement_at(cut, x[joint])) for joint in part)
            for member in set(cut.members) - known:
                bar = truss.members[member]
                inner, outer = (bar.first, bar.second) if bar.first in part else (bar.second, bar.first)
                work = movement_at(cut, x[inner]) @ (x[outer] - x[inner]) / truss.lengths[member]
                assert (abs(work) < 1e-8 * reach) == (member != cut.member)
                if member == cut.member and (truss.dimension == 3 or cut.turning.kind == "shift"):
                    assert work > 0
            # about its own line a bar turns idly, so that a screw is never needed for it
            assert cut.turning.kind != "screw" or len(part) > 2
            work = sum(movement_at(cut, x[joint]) @ acting[joint] for joint in part)
            assert abs(work) < 1e-8 * reach * max(1.0, np.abs(acting).max())
            for support in truss.supports:
                if support.joint in part and not reactions:
                    for direction in support.directions:
                        along = np.array([float(c) for c in direction])
                        assert abs(movement_at(cut, x[support.joint]) @ along) < 1e-8 * reach * 10


def test_of_two_bodies_that_only_the_ground_ties_together_each_proves_its_own_zeros() -> None:
    joints = {"A": (0, 0), "B": (4, 0), "C": (2, 3), "D": (10, 0), "E": (10, 3)}
    truss = build_truss(joints, ["A-C", "B-C", "D-E"], {"A": "xy", "B": "xy", "D": "xy", "E": "x"})
    # the load at C lies along A-C, that at E in the direction held there
    assert set(prove(truss, loads_on(truss, C=(2, 3), E=(5, 0)))) == {"B-C", "D-E"}
