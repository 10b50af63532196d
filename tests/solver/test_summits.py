"""The highest point drawn of a force along a way is the peak itself, summits of parabolas included."""

from __future__ import annotations

import pytest

from explorer.document import read_text
from solver.answers import answer
from solver.passage import follow
from solver.placement import Standing, arrange_for
from solver.state import take_state
from tests.journeys.girder import pratt

TRAFFIC = """
[crossings.strips]
train = "sw0"
chord = "deck"
[crossings.rail]
train = "lm71"
chord = "deck"
[crossings.road]
train = "hl93_two_trucks"
chord = "deck"
"""


@pytest.mark.parametrize("load", ["strips", "rail", "road"])
@pytest.mark.parametrize("name", ["L3-U3", "L2-L3", "U2-U3", "U1-L2", "L1-U1"])
def test_what_is_drawn_reaches_its_peak_where_the_train_then_stands(load: str, name: str) -> None:
    study = read_text(pratt(8) + TRAFFIC, "girder.toml").study
    answers = answer(study)
    member = study.truss.member_index(name)
    column = [one.name for one in answers.combinations].index(load)
    scale = float(answers.forces.scales[column])
    for passage in (one for one in follow(answers.forces, member, column)):
        for sign, bound in ((1.0, passage.most), (-1.0, passage.least)):
            curve = bound or passage
            values = sign * (bound.values if bound else passage.forces)
            index = int(values.argmax())
            if values[index] <= 1e-9 * scale:
                continue
            arrangement = arrange_for(answers.responses.forces, member, sign) if bound else None
            place = float(curve.positions[index])
            standing = Standing(passage.direction, place, passage.number, None, arrangement)
            state = take_state(study, answers.responses, answers.combinations[column], standing)
            assert sign * state.forces[member] == pytest.approx(values[index], abs=1e-9 * scale)
            # nothing near stands higher
            for step in (-0.01, 0.01):
                near = Standing(passage.direction, place + step, passage.number, None, arrangement)
                beside = take_state(study, answers.responses, answers.combinations[column], near)
                assert sign * beside.forces[member] <= values[index] + 1e-9 * scale
