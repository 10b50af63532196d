"""Rows that no place of a train reaches: roundings of their influence lines must not place a load."""

from __future__ import annotations

import numpy as np

from explorer.document import read_text
from solver.answers import answer, give_concurrent, state_at_peak
from solver.placement import arrange_for, place_lane
from tests.journeys.girder import pratt

TRAFFIC = """
[crossings.people]
train = "crowd"
chord = "deck"
[crossings.rail]
train = "lm71"
chord = "deck"
[cases.dead]
joints = { U4 = [0, -12] }
[combinations.all]
dead = 1.0
people = 1.5
rail = 1.0
"""


def test_no_lane_lies_anywhere_for_a_hanger_that_no_place_of_it_loads() -> None:
    # depth and panels whose decimals leave roundings behind
    study = read_text((pratt(8) + TRAFFIC).replace(", 6]", ", 6.1]"), "girder.toml").study
    answers = answer(study)
    hanger = study.truss.member_index("L4-U4")
    forces = answers.responses.forces
    assert not forces.influence["deck"][hanger].any()
    crossing, chord = study.crossings["people"], study.chords["deck"]
    assert place_lane(crossing, chord, arrange_for(forces, hanger, -1.0), 1.5) == []
    peak = state_at_peak(answers, hanger, -1)
    assert peak is not None
    placed = [part.forces[hanger] for part in peak.state.parts if part.placed]
    assert not np.any(placed)
    assert peak.value == -12e3


def test_what_acts_together_does_not_hang_on_roundings_of_a_reaction_that_is_zero() -> None:
    found = []
    for depth in ("6.1", "6.3"):
        study = read_text((pratt(8) + TRAFFIC).replace(", 6]", f", {depth}]"), "girder.toml").study
        answers = answer(study)
        _, around = give_concurrent(answers)
        # the first reaction is the one along x, which vertical loads on a roller leave at 0
        found.append([one.reactions for one in around if one.row == 0])
    np.testing.assert_allclose(found[0], found[1], rtol=1e-9, atol=1e-3)
