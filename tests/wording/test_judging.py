"""Judging what somebody marked: zero sets of textbooks, self-stress of an X-panel by hand, slips by name."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache

import pytest

from explorer.document.units import METRIC
from explorer.wording.judging import Judgement, Verdict, judge_needed, judge_zeros
from explorer.wording.numbers import NO_BREAK, Teller, plain
from explorer.wording.reasons import Reasoning
from solver.answers import Answers, answer, give_reasons_at
from solver.errors import InputError
from solver.reasons.reason import Reason
from solver.state import take_state
from solver.tolerances import ZERO
from tests.building import build_study, build_truss, load_case

FORBIDDEN = re.compile(r"(?i)safe|spare|may be removed|unnecessary|removable|\{|\}|\bnan\b")


def told_of(answers: Answers, under: str) -> tuple[Reasoning, tuple[Reason, ...]]:
    column = [combination.name for combination in answers.combinations].index(under)
    state = take_state(answers.study, answers.responses, answers.combinations[column], None)
    band = ZERO * float(answers.forces.scales[column])
    return Reasoning(answers, Teller(METRIC), state, band), give_reasons_at(answers, under)


def zeros(answers: Answers, under: str, marked: Iterable[str]) -> Judgement:
    told, reasons = told_of(answers, under)
    return checked(judge_zeros(told, reasons, {answers.study.truss.member_index(name) for name in marked}))


def needed(answers: Answers, under: str, marked: Iterable[str]) -> Judgement:
    told, reasons = told_of(answers, under)
    return checked(judge_needed(told, reasons, {answers.study.truss.member_index(name) for name in marked}))


def checked(judgement: Judgement) -> Judgement:
    """Every sentence begins and ends as one, has no forbidden word, and keeps numbers with their units."""
    verdicts = [*judgement.right, *judgement.missed, *judgement.wrong]
    slips = [verdict.slip for verdict in verdicts if verdict.slip]
    for sentence in [judgement.summary, *(verdict.sentence for verdict in verdicts), *slips]:
        assert re.fullmatch(r"[A-Z0-9].*\.", sentence), sentence
        assert not FORBIDDEN.search(sentence), sentence
        assert not re.search(r"\d [kM]?N\b", sentence), sentence
    return judgement


def names(verdicts: tuple[Verdict, ...]) -> list[str]:
    return [verdict.name for verdict in verdicts]


def sentences(verdicts: tuple[Verdict, ...]) -> dict[str, str]:
    return {verdict.name: plain(verdict.sentence) for verdict in verdicts}


def slips(verdicts: tuple[Verdict, ...]) -> dict[str, str]:
    return {verdict.name: plain(verdict.slip) for verdict in verdicts}


@cache
def fink() -> Answers:
    """Hibbeler, Statics, Sec. 6.3: 5 kN at the apex and 2 kN square to the rafter; then the other half."""
    rafters = {"A": (0, 0), "B": (3, 1.5), "C": (6, 3), "D": (9, 1.5), "E": (12, 0)}
    joints = rafters | {"H": (3.75, 0), "G": (6, 0), "F": (8.25, 0)}
    members = ["A-B", "B-C", "C-D", "D-E", "A-H", "H-G", "G-F", "F-E", "B-H", "H-C", "G-C", "F-C", "D-F"]
    truss = build_truss(joints, members, {"A": "xy", "E": "y"})
    left = load_case(truss, "left", C=(0, -5000), B=(2000 / 5**0.5, -4000 / 5**0.5))
    right = load_case(truss, "right", D=(0, -2000), G=(0, -1000))
    return answer(build_study(truss, [left, right]))


LEFT, RIGHT = ["G-C", "F-C", "D-F"], ["B-H", "H-C"]


@cache
def pratt() -> Answers:
    """Six panels of 4 m, 3 m deep: 30 kN at L1 and 10 kN at L3 leave the panels between without shear.

    20 kN down at L1 and 10 kN up at L2 leave L6 without a reaction.
    """
    joints = {f"L{i}": (4 * i, 0) for i in range(7)} | {f"U{i}": (4 * i, 3) for i in range(1, 6)}
    chords = [f"L{i}-L{i + 1}" for i in range(6)] + [f"U{i}-U{i + 1}" for i in range(1, 5)]
    posts = [f"L{i}-U{i}" for i in range(1, 6)]
    diagonals = ["L0-U1", "U1-L2", "U2-L3", "U4-L3", "U5-L4", "L6-U5"]
    truss = build_truss(joints, chords + posts + diagonals, {"L0": "xy", "L6": "y"})
    left = load_case(truss, "left", L1=(0, -30000), L3=(0, -10000))
    balanced = load_case(truss, "balanced", L1=(0, -20000), L2=(0, 10000))
    return answer(build_study(truss, [left, balanced]))


PRATT_ZEROS = ["L2-U2", "L3-U3", "L5-U5", "U1-L2", "U2-L3"]


@cache
def crossed() -> Answers:
    """A square X-panel A to D, one bar too many, and a tip E on two bars that nothing can stand in for."""
    joints = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1), "E": (2, 0)}
    members = ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D", "B-E", "C-E"]
    truss = build_truss(joints, members, {"A": "xy", "D": "x"})
    tip, panel = load_case(truss, "tip", E=(0, -9000)), load_case(truss, "panel", B=(0, -9000))
    return answer(build_study(truss, [tip, panel]))


def test_the_textbook_zeros_of_the_fink_roof_are_right_under_both_loads() -> None:
    left, right = zeros(fink(), "left", LEFT), zeros(fink(), "right", RIGHT)
    assert (names(left.right), left.missed, left.wrong) == (LEFT, (), ())
    assert (names(right.right), right.missed, right.wrong) == (RIGHT, (), ())
    assert left.summary == "All three zeros found."
    assert right.summary == "Both zeros found."
    assert "the other two members there lie in one line" in sentences(left.right)["G-C"]


def test_the_zeros_of_the_other_load_are_wrong_and_every_slip_has_a_name() -> None:
    found = zeros(fink(), "right", LEFT)
    assert (names(found.right), names(found.missed), names(found.wrong)) == ([], RIGHT, LEFT)
    assert found.summary == "None of two zeros found, three marked that work."
    assert slips(found.wrong) == {
        "G-C": "The three-bar rule holds at an unloaded joint; on G stands a load of 1.00 kN.",
        "D-F": "The three-bar rule holds at an unloaded joint; on D stands a load of 2.00 kN.",
        "F-C": (
            "Its mirror image H-C is zero here, but symmetry carries a zero across only where loads, "
            "supports and stiffnesses are symmetric too."
        ),
    }
    told = sentences(found.wrong)
    # D-F -1.7889, G-C 1.0, F-C 2.0 kN by the method of joints; D brings all of F-C and D-F.
    assert "T 1.00 kN" in told["G-C"] and "C 1.79 kN" in told["D-F"]
    assert told["F-C"] == (
        "It bears T 2.00 kN: the load on D alone would put T 2.00 kN into it, "
        "and the other load adds nothing to that."
    )


def test_a_load_square_to_a_rafter_forgotten_is_named() -> None:
    found = zeros(fink(), "left", RIGHT)
    assert names(found.wrong) == RIGHT
    assert slips(found.wrong)["B-H"] == (
        "The three-bar rule holds at an unloaded joint; on B stands a load of 2.00 kN."
    )


def test_what_is_missed_is_told_with_the_step_of_the_walk_that_shows_it() -> None:
    found = zeros(fink(), "left", ["G-C"])
    assert found.summary == "One of three zeros found, two missed."
    told = sentences(found.missed)
    # Joints in the file's order: D and G show one at once, F after D. So a walk comes by D, G, F.
    assert told["D-F"].startswith("Step 1 of the walk: No load stands on D")
    assert told["F-C"].startswith("Step 3 of the walk: No load stands on F")
    assert told["F-C"].endswith("Known before at F: D-F is zero.")


def test_where_nothing_is_marked_everything_is_missed() -> None:
    found = zeros(fink(), "left", [])
    assert (found.right, names(found.missed), found.wrong) == ((), LEFT, ())
    assert found.summary == "None of three zeros found."


def test_steps_are_told_of_joint_inspection_alone() -> None:
    told = sentences(zeros(pratt(), "balanced", []).missed)
    # L1 and L2 are loaded, at L3 five bars meet: L5 is the first joint that shows one, U3 the second.
    assert told["L5-U5"].startswith("Step 1 of the walk: No load stands on L5")
    assert told["L3-U3"].startswith("Step 2 of the walk: No load stands on U3")
    assert told["L5-L6"].startswith("The whole truss gives the reactions (at L6 none).")


def test_the_three_bar_rule_at_a_loaded_joint_is_named_with_its_load() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (2, 3)},
        ["A-B", "B-C", "A-D", "D-C", "B-D"],
        {"A": "xy", "C": "y"},
    )
    found = zeros(
        answer(build_study(truss, [load_case(truss, "load", B=(0, -55000))])), "load", ["B-D", "A-B"]
    )
    assert found.summary == "No member is zero here; two marked that work."
    assert sentences(found.wrong)["B-D"] == (
        "At B, only B-D can balance the load of 55.0 kN across the other unknowns: T 55.0 kN."
    )
    assert slips(found.wrong) == {
        "B-D": "The three-bar rule holds at an unloaded joint; on B stands a load of 55.0 kN.",
        "A-B": "The two-bar rule holds where no support acts; A has one, and its reaction acts there.",
    }


def test_a_zero_carried_across_the_middle_of_a_pratt_truss_is_named() -> None:
    found = zeros(pratt(), "left", ["U5-L4", "L4-U4", "U1-L2"])
    assert (names(found.right), names(found.wrong)) == (["U1-L2"], ["L4-U4", "U5-L4"])
    assert set(names(found.missed)) == set(PRATT_ZEROS) - {"U1-L2"}
    assert found.summary == "One of five zeros found, four missed, two marked that work."
    assert {name: slip.split(" is zero")[0] for name, slip in slips(found.wrong).items()} == {
        "L4-U4": "Its mirror image L2-U2",
        "U5-L4": "Its mirror image U1-L2",
    }
    # The shear of 10 kN goes down L4-U4, and through U5-L4 at 3 in 5.
    assert "C 10.0 kN" in sentences(found.wrong)["L4-U4"]
    assert "T 16.7 kN" in sentences(found.wrong)["U5-L4"]


def test_what_follows_from_a_wrong_mark_is_named_with_the_force_that_was_missed() -> None:
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "D": (8, 0), "E": (4, 3)}
    members = ["A-C", "B-C", "C-D", "B-E", "E-C", "D-E"]
    truss = build_truss(joints, members, {"A": "xy", "B": "xy"})
    worked = answer(build_study(truss, [load_case(truss, "load", D=(0, -6000))]))
    found = zeros(worked, "load", ["D-E", "E-C"])
    # D-E carries 6 kN at 3 in 5.
    assert slips(found.wrong) == {
        "D-E": "The two-bar rule holds at an unloaded joint; on D stands a load of 6.00 kN.",
        "E-C": "At E it would follow if D-E were zero, but D-E bears T 10.0 kN.",
    }


def test_a_force_is_told_with_what_its_main_load_alone_would_put_in() -> None:
    # Panels of 4 m, 3 m deep. Down at U1 20: L0 has 16.67, past U1 the shear is -3.33; 10 at U5: 1.67 at L0.
    # So in U1-L2 (5 long, 3 deep) U1 alone puts C 5.56, 10 at U5 T 2.78, 4 up at L3 takes 2 at L0: C 3.33.
    truss = pratt().study.truss
    one = load_case(truss, "one", U1=(0, -20000))
    less = load_case(truss, "less", U1=(0, -20000), U5=(0, -10000))
    more = load_case(truss, "more", U1=(0, -20000), L3=(0, 4000))
    three = load_case(truss, "three", U1=(0, -20000), U5=(0, -10000), L3=(0, 4000))
    worked = answer(build_study(truss, [one, less, more, three]))
    told = {
        name: sentences(zeros(worked, name, ["U1-L2"]).wrong)["U1-L2"]
        for name in ("one", "less", "more", "three")
    }
    start = "the load on U1 alone would put C 5.56 kN into it"
    assert told["one"] == "It bears C 5.56 kN, all of it from the load on U1."
    assert told["less"] == f"It bears C 2.78 kN: {start}, and the other load takes 2.78 kN of that off."
    assert told["more"] == f"It bears C 8.89 kN: {start}, and the other load adds 3.33 kN to that."
    assert told["three"] == f"It bears C 6.11 kN: {start}, and the other loads add 0.556 kN to that."


def test_nothing_marked_where_nothing_is_zero_is_said_so() -> None:
    truss = build_truss({"A": (0, 0), "B": (4, 0), "C": (2, 3)}, ["A-B", "B-C", "A-C"], {"A": "xy", "B": "y"})
    worked = answer(build_study(truss, [load_case(truss, "load", C=(0, -1000))]))
    assert zeros(worked, "load", []).summary == "No member is zero here; none was marked."


def test_of_a_determinate_truss_every_member_is_needed() -> None:
    everything = [member.name for member in pratt().study.truss.members]
    found = needed(pratt(), "left", everything)
    assert (names(found.right), found.missed, found.wrong) == (everything, (), ())
    assert found.summary == "All 21 needed members found."
    # A joint of a straight chord that its post alone holds square to it.
    told = sentences(found.right)
    assert told["L3-U3"] == "Without L3-U3 the truss is a mechanism: U3 moves."
    assert told["L1-U1"] == "Without L1-U1 the truss is a mechanism: L1 moves."


def test_zeros_left_out_of_the_needed_are_missed_with_their_slip_and_others_without() -> None:
    everything = {member.name for member in pratt().study.truss.members}
    found = needed(pratt(), "left", everything - {*PRATT_ZEROS, "L0-U1"})
    assert set(names(found.missed)) == {*PRATT_ZEROS, "L0-U1"}
    assert found.summary == "15 of 21 needed members found, six missed."
    named = slips(found.missed)
    assert named.pop("L0-U1") == ""
    assert set(named.values()) == {"That it bears nothing here is no sign that the truss stands without it."}
    assert sentences(found.missed)["L3-U3"] == "Without L3-U3 the truss is a mechanism: U3 moves."


def test_bars_of_an_x_panel_are_wrong_with_their_redundancy_share() -> None:
    # Self-stress 1 in the sides, -1.414 in the diagonals, of lengths 1 and 1.414: force squared times length
    # is 1 and 2.828, in all 9.657, of which each bar has 0.1036 or 0.2929.
    found = needed(crossed(), "tip", ["A-C", "C-D", "B-E"])
    assert (names(found.right), names(found.missed)) == (["B-E"], ["C-E"])
    assert sentences(found.wrong) == {
        "C-D": (
            "Without it the truss still stands; its redundancy share is 0.104, "
            "which says nothing about strength."
        ),
        "A-C": (
            "Without it the truss still stands; its redundancy share is 0.293, "
            "which says nothing about strength."
        ),
    }
    assert set(slips(found.wrong).values()) == {
        "Whether a truss stands is told by where its members and supports lie, not by what they bear."
    }
    assert found.summary == (
        "One of two needed members found, one missed, two marked without which the truss still stands."
    )
    assert sentences(found.missed)["C-E"] == "Without C-E the truss is a mechanism: E moves."


def test_the_tip_of_the_x_panel_is_needed_also_where_it_bears_nothing() -> None:
    found = needed(crossed(), "panel", [])
    assert names(found.missed) == ["B-E", "C-E"]
    assert all(slips(found.missed).values())
    assert found.summary == "None of two needed members found."


def test_a_member_that_is_none_is_refused() -> None:
    told, reasons = told_of(fink(), "left")
    for judge in (judge_zeros, judge_needed):
        with pytest.raises(InputError, match="there is no member number 13"):
            judge(told, reasons, [0, 13])


@pytest.mark.parametrize(("worked", "under"), [(fink, "left"), (fink, "right"), (pratt, "left")])
def test_all_marked_gives_every_force_and_every_zero_a_sentence(
    worked: Callable[[], Answers], under: str
) -> None:
    answers = worked()
    truss = answers.study.truss
    found = zeros(answers, under, [member.name for member in truss.members])
    told, _ = told_of(answers, under)
    assert sorted(v.member for v in (*found.right, *found.wrong)) == list(range(len(truss.members)))
    assert all(told.force(verdict.member) in verdict.sentence for verdict in found.wrong)
    assert all(NO_BREAK in verdict.sentence for verdict in found.wrong)
