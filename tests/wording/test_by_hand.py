"""What stands on the board: equations of textbooks and by hand, letter by letter."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

import numpy as np
import pytest

from explorer.document.units import METRIC, US
from explorer.wording.by_hand import WrittenStep, write_by_hand
from explorer.wording.numbers import NO_BREAK, Teller, plain
from solver.by_hand import solve_by_hand
from solver.truss import Truss
from tests.building import build_truss
from tests.laws.generator import draw_truss


def write(truss: Truss, loads: Mapping[str, Sequence[float]]) -> tuple[WrittenStep, ...]:
    joint_loads = np.zeros((len(truss.joint_names), truss.dimension))
    for joint, load in loads.items():
        joint_loads[truss.joint_index(joint)] = load
    return write_by_hand(truss, solve_by_hand(truss, joint_loads), joint_loads, Teller(METRIC))


def results(step: WrittenStep) -> list[str]:
    return [plain(result) for result in step.results]


def test_beer_and_johnston_sample_problem_6_1_on_the_board() -> None:
    """Beer & Johnston, Vector Mechanics for Engineers: Statics, Sample Problem 6.1, its numbers as m and kN.

    Its equations: moments about C 24 · 2000 + 12 · 1000 = 6 E; at joint B the verticals are
    -1000 - 4/5 · 2500 - 4/5 · BE.
    """
    points = {"A": (0, 8), "B": (12, 8), "C": (24, 8), "D": (6, 0), "E": (18, 0)}
    truss = build_truss(points, ["A-B", "A-D", "D-B", "D-E", "B-E", "B-C", "E-C"], {"C": "xy", "E": "y"})
    whole, first, second, *_ = write(truss, {"A": (0, -2000), "B": (0, -1000)})
    assert whole.title == "The whole truss: three unknowns"
    assert whole.lines == ("→  C→ = 0", "about C:  −6 · E↑ + 24 · 2 + 12 · 1 = 0", "↑  −2 − 1 + 10 + C↑ = 0")
    assert results(whole) == ["C→ = 0", "E↑ = 10 kN", "C↑ = −7 kN"]
    assert first.title == "Joint A: two unknowns"
    assert first.lines == ("↑  −2 − 4/5 · A-D = 0", "→  A-B + 3/5 · A-D = 0")
    assert results(first) == ["A-B = 1.5 kN, tension", "A-D = −2.5 kN, compression"]
    assert second.title == "Joint C: two unknowns"


def test_a_known_force_is_put_in_with_its_sign() -> None:
    """A king post of 3-4-5 triangles, 12 kN at the foot: halves of 6 kN, rafters -10, ties 8, post 12."""
    points = {"A": (0, 0), "M": (4, 0), "B": (8, 0), "T": (4, 3)}
    truss = build_truss(points, ["A-T", "T-B", "A-M", "M-B", "M-T"], {"A": "xy", "B": "y"})
    steps = write(truss, {"M": (0, -12e3)})
    whole, start, *rest = steps
    assert whole.lines[1] == "about A:  8 · B↑ − 4 · 12 = 0"
    assert start.lines == ("↑  6 + 3/5 · A-T = 0", "→  4/5 · A-T + A-M = 0")
    assert results(start) == ["A-T = −10 kN, compression", "A-M = 8 kN, tension"]
    told = [(step.title, step.lines, results(step)) for step in rest]
    assert (
        "Joint M: two unknowns",
        ("→  −8 + M-B = 0", "↑  −12 + M-T = 0"),
        ["M-B = 8 kN, tension", "M-T = 12 kN, tension"],
    ) in told
    assert ("Joint B: one unknown", ("→  −8 − 4/5 · T-B = 0",), ["T-B = −10 kN, compression"]) in told
    # Upwards at B nothing was needed: its half of the load, and 3 in 5 of the rafter's thrust.
    assert {step.title: step.checks for step in steps if step.checks} == {
        "Joint B: one unknown": ("↑  −3/5 · 10 + 6 = 0",)
    }


def test_in_moments_arms_stand_first_and_forces_of_one_size_are_taken_together() -> None:
    """Bays of 3 m: 12 kN at 3, 6 and 9 m, 6 kN at 12 m: L4 bears (18 · 12 + 12 · 6) / 12 = 24."""
    points = {f"L{i}": (3 * i, 0) for i in range(5)} | {f"U{i}": (3 * i, 4) for i in range(1, 4)}
    chords = ["L0-L1", "L1-L2", "L2-L3", "L3-L4", "U1-U2", "U2-U3"]
    truss = build_truss(
        points,
        [*chords, "L0-U1", "L1-U1", "U1-L2", "L2-U2", "L2-U3", "L3-U3", "U3-L4"],
        {"L0": "xy", "L4": "y"},
    )
    whole = write(truss, {"L4": (0, -6e3), **dict.fromkeys(("U1", "U2", "U3"), (0, -12e3))})[0]
    assert whole.lines[1] == "about L0:  12 · L4↑ − 12 · 6 − (3 + 6 + 9) · 12 = 0"
    assert results(whole)[1] == "L4↑ = 24 kN"


def test_a_check_stands_only_where_its_sum_was_not_used_before() -> None:
    """Each sum at a joint is written at most once, be it to find something or as a check."""
    for seed in range(30):
        truss = draw_truss(seed).truss
        loads = np.random.default_rng(seed).normal(size=(len(truss.joint_names), truss.dimension)) * 1e4
        steps = write_by_hand(truss, solve_by_hand(truss, loads), loads, Teller(METRIC))
        for name in truss.joint_names:
            here = [step for step in steps if step.title.startswith(f"Joint {name}:")]
            headings = [line.split("  ")[0] for step in here for line in (*step.lines, *step.checks)]
            assert len(headings) == len(set(headings))
            assert not [step for step in here[:-1] if step.checks]


def test_an_axis_is_told_as_the_vertical_or_by_a_members_two_ends() -> None:
    """A tripod on a table: A held in all directions, B square to the wall and up, C up alone."""
    points = {"A": (0, 0, 0), "B": (4, 0, 0), "M": (2, 0, 0), "C": (2, 3, 0), "T": (2, 1, 3)}
    members = ["A-M", "M-B", "A-C", "B-C", "M-C", "A-T", "B-T", "C-T", "M-T"]
    truss = build_truss(points, members, {"A": "xyz", "B": "yz", "C": "z"})
    whole = write(truss, {"T": (0, 2e3, -6e3)})[0]
    headings = [line.split(":")[0] for line in whole.lines]
    # The unknown of B along y turns about the vertical through A; C's about the line A, M, B: A-M is a bar.
    assert "about the vertical through A" in headings
    assert "about the line A to M" in headings
    assert not [heading for heading in headings if "(0, 0, 1)" in heading]


def test_members_in_line_leave_one_across_them() -> None:
    """Three members at an unloaded joint, two in line, on an indeterminate panel: the third is zero."""
    points = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (8, 3), "E": (0, 3)}
    members = ["A-B", "B-C", "C-D", "D-E", "E-A", "A-D", "E-C", "B-D"]
    truss = build_truss(points, members, {"A": "xy", "C": "y"})
    steps = write(truss, {"D": (3e3, 0)})
    assert steps[1] == WrittenStep("Joint B: one of three unknowns", ("↑  3/5 · B-D = 0",), ("B-D = 0",))
    # Five joints have 10 equations: 3 of them are those of the whole truss, one is spent across A-B-C.
    assert steps[-1].title == "Here equilibrium alone ends: seven unknowns, six equations"
    assert steps[-1].lines == (
        "Equilibrium alone does not give A-B, B-C, C-D, D-E, E-A, A-D and E-C: the truss is statically "
        "indeterminate there, and how the load divides depends on how stiff the members are.",
    )


def test_a_cut_is_told_with_its_part_and_its_moments() -> None:
    """Two rigid halves tied by three members: by hand, moments about D of the left half give QS = 30 kN."""
    half = {"A": (0, 0), "B": (2, 1), "C": (4, 2), "D": (6, 3), "P": (2.5, 0), "Q": (5, 0), "R": (3.75, 1)}
    other = {"E": (8, 2), "F": (10, 1), "G": (12, 0), "S": (7, 0), "T": (9.5, 0), "U": (8.25, 1)}
    left = ["A-B", "B-C", "C-D", "A-P", "P-B", "P-R", "P-Q", "B-R", "C-R", "R-D", "Q-R"]
    right = ["D-E", "E-F", "F-G", "S-T", "T-G", "T-F", "T-U", "F-U", "E-U", "U-D", "S-U"]
    truss = build_truss({**half, **other}, [*left, *right, "Q-S"], {"A": "xy", "G": "y"})
    steps = write(truss, dict.fromkeys("BCDEF", (0, -10000.0)))
    cut = next(step for step in steps if step.title.startswith("Cut"))
    assert cut.title == "Cut through C-D, R-D and Q-S; the part with A, B, C, P, Q and R"
    assert cut.lines[0] == "about D:  3 · Q-S + (4 + 2) · 10 − 6 · 25 = 0"
    assert results(cut)[0] == "Q-S = 30 kN, tension"
    joint = next(step for step in steps if step.title.startswith("Joint C:"))
    # Square to the rafter (2, 1), downwards: 10 · 2 / sqrt 5, and CR along (-1, -4) gives 7 / sqrt 85.
    assert joint.lines == ("across B-C and C-D:  0.8944 · 10 + 0.7593 · C-R = 0",)


def test_irrational_lengths_are_decimals_of_four_digits() -> None:
    """A square braced by its diagonal: 1 / sqrt 2 = 0.7071; 10 kN down at the tip."""
    truss = build_truss({"A": (0, 0), "B": (0, 2), "C": (2, 2)}, ["A-C", "B-C"], {"A": "xy", "B": "xy"})
    first = write(truss, {"C": (0, -10e3)})[0]
    assert first.lines == ("↑  −10 − 0.7071 · A-C = 0", "→  −0.7071 · A-C − B-C = 0")
    assert results(first) == ["A-C = −14.14 kN, compression", "B-C = 10 kN, tension"]


def test_a_sloped_roller_has_its_arrow_and_a_space_truss_its_axes() -> None:
    slope = [(Fraction(3), Fraction(4))]
    truss = build_truss(
        {"A": (0, 0), "B": (4, 0), "C": (2, 3)}, ["A-B", "B-C", "A-C"], {"A": "xy", "B": slope}
    )
    # Moments about A: 4 · 4/5 · B = 2 · 8, so B = 5 kN.
    whole = write(truss, {"C": (0, -8e3)})[0]
    assert "B↗ = 5 kN" in results(whole)
    tripod = {"T": (0, 0, 4), "A": (3, 0, 0), "B": (-3, 0, 0), "C": (0, 3, 0)}
    space = build_truss(tripod, ["T-A", "T-B", "T-C"], {"A": "xyz", "B": "xyz", "C": "xyz"})
    # At the top: y gives TC = 0, then z: -8 = 4/5 (TA + TB), x: TA = TB = -5 kN.
    first = write(space, {"T": (0, 0, -8e3)})[0]
    assert first.lines == (
        "y:  3/5 · T-C = 0",
        "x:  3/5 · T-A − 3/5 · T-B = 0",
        "z:  −8 − 4/5 · T-A − 4/5 · T-B − 4/5 · T-C = 0",
    )
    assert results(first) == ["T-A = −5 kN, compression", "T-B = −5 kN, compression", "T-C = 0"]


def test_what_only_several_joints_give_together_is_said_so() -> None:
    points = {"A": (0, 0), "B": (4, -1), "C": (8, 0), "D": (9, 4), "E": (4, 7), "F": (0, 4)}
    members = ["A-B", "B-C", "C-D", "D-E", "E-F", "F-A", "A-D", "B-E", "C-F"]
    end = write(build_truss(points, members, {"A": "xy", "C": "y"}), {"E": (1e3, -10e3)})[-1]
    assert end.title == "Here the way step by step ends: nine unknowns, nine equations"
    assert end.lines[0].startswith("No single joint and no cut through so few unknown members as three ")
    assert "indeterminate" not in end.lines[0]


def test_unknown_reactions_are_counted_where_equilibrium_ends() -> None:
    """A bar between two pins with a post on it, pushed along itself: x at A, M and B ties four unknowns."""
    points = {"A": (0, 0), "M": (2, 0), "B": (4, 0), "T": (2, 3)}
    truss = build_truss(points, ["A-M", "M-B", "A-T", "B-T", "M-T"], {"A": "xy", "B": "xy"})
    end = write(truss, {"M": (6e3, 0)})[-1]
    assert end.title == "Here equilibrium alone ends: four unknowns (two of them reactions), three equations"
    assert end.lines[0].startswith("Equilibrium alone does not give A-M and M-B: ")


def test_readers_in_feet_and_kips_get_arms_and_forces_in_theirs() -> None:
    """A span of 40 ft (12.192 m), 10 kip (44 482.216 N) at its quarter point: 2.5 kip at the far end."""
    points = {"A": (0, 0), "M": ("3.048", 0), "B": ("12.192", 0), "T": ("3.048", 3)}
    truss = build_truss(points, ["A-T", "T-B", "A-M", "M-B", "M-T"], {"A": "xy", "B": "y"})
    loads = np.zeros((4, 2))
    loads[1, 1] = -44482.2161526
    whole = write_by_hand(truss, solve_by_hand(truss, loads), loads, Teller(US))[0]
    assert whole.lines[1] == "about A:  40 · B↑ − 10 · 10 = 0"
    assert results(whole)[1] == "B↑ = 2.5 kip"


def _evaluate(line: str, values: Mapping[str, float]) -> tuple[float, float]:
    """What the left side of a written equation comes to, and the same with all of it added."""
    left = line.split("  ", 1)[1].removesuffix(" = 0")
    parts = re.split(r"( · | \+ | − |^−)", left)
    signs = {" · ": "*", " + ": "+", " − ": "-", "−": "-"}
    text = "".join(signs.get(part, f"({values[part]!r})" if part in values else part) for part in parts)
    sizes = "".join(
        signs.get(part, f"({abs(values[part])!r})" if part in values else part).replace("-", "+")
        for part in parts
    )
    return float(eval(text)), float(eval(sizes))


def check_sums(steps: Sequence[WrittenStep]) -> None:
    """Every line is an equation, right to the digits it is written with."""
    for step in steps:
        assert len(step.lines) == len(step.results)
        told = [result.split(" = ") for result in step.results]
        values = {name: float(re.split(f"[{NO_BREAK},]", force)[0].replace("−", "-")) for name, force in told}
        for line in (*step.lines, *step.checks):
            total, size = _evaluate(line, values)
            assert abs(total) <= 2e-3 * size


def test_a_cut_in_space_is_told_by_axes_and_adds_up() -> None:
    """Two tetrahedra linked by six members; loads at the top of the upper one."""
    points = {"A": (0, 0, 0), "B": (4, 0, 0), "C": (1, 4, 0), "D": (1, 1, 3)}
    points |= {"E": (1, 0, 8), "F": (5, 1, 8), "G": (0, 4, 9), "H": (2, 2, 12)}
    bodies = ["A-B", "B-C", "A-C", "A-D", "B-D", "C-D", "E-F", "F-G", "E-G", "E-H", "F-H", "G-H"]
    links = ["A-E", "B-F", "C-G", "D-H", "D-E", "B-G"]
    truss = build_truss(points, [*bodies, *links], {"A": "xyz", "B": "yz", "C": "z"})
    steps = write(truss, {"H": (2e3, 1e3, -10e3), "F": (0, -3e3, 0)})
    assert steps[1].title == "Cut through A-E, B-F, C-G, D-H, D-E and B-G; the part with E, F, G and H"
    headings = [line.split(":")[0] for line in steps[1].lines]
    assert headings[0].startswith("along and about the line through ")
    assert "about the line A to B" in headings
    check_sums(steps)


@pytest.mark.parametrize("seed", range(60))
def test_what_is_written_adds_up_when_results_are_put_in(seed: int) -> None:
    truss = draw_truss(seed).truss
    loads = np.random.default_rng(seed).normal(size=(len(truss.joint_names), truss.dimension)) * 1e4
    order = solve_by_hand(truss, loads)
    written = write_by_hand(truss, order, loads, Teller(METRIC))
    assert len(written) == len(order.steps) + bool(order.left or order.together)
    check_sums(written[: len(order.steps)])
