"""At a support the load on it and its reaction both stand below: their arrows and letters keep apart."""

from __future__ import annotations

import re

import numpy as np
import pytest

from explorer.drawing.labels import text_width
from explorer.drawing.loads import JointLoads, Reaction, draw_joint_loads, draw_reactions
from explorer.drawing.view import Direction
from tests.building import build_truss

# An end post stands over each support, so the load on it pulls from below.
FRAME = build_truss(
    {"A": (0, 0), "B": (4, 0), "a": (0, 3), "b": (4, 3)},
    ["A-B", "a-b", "A-a", "B-b", "A-b"],
    {"A": "xy", "B": "y"},
)
PIXELS = np.array([[100.0, 300.0], [500.0, 300.0], [100.0, 100.0], [500.0, 100.0]])


def letters(markup: str, kind: str, told: str) -> tuple[float, float]:
    """From where to where a text reaches, from its joint [px]."""
    groups = re.findall(rf'<g class="{kind}".*?(?=<g class="{kind}"|$)', markup, re.DOTALL)
    texts = [re.search(rf"<text ([^>]*)>{told}</text>", group) for group in groups]
    (found,) = [text[1] for text in texts if text]
    at = float(re.search(r'x="([^"]*)"', found)[1])  # type: ignore[index]
    anchor = re.search(r'text-anchor="([^"]*)"', found)
    width = text_width(told)
    share = {"start": 0.0, "end": 1.0}.get(anchor[1] if anchor else "middle", 0.5)
    return at - share * width, at + (1 - share) * width


@pytest.mark.parametrize(("joint", "told", "inwards"), [(0, "26.9", 1), (1, "8.93", -1)])
def test_a_load_on_a_support_steps_inwards_and_the_letters_of_the_reaction_stand_outside(
    joint: int, told: str, inwards: int
) -> None:
    loads = np.zeros((4, 2))
    loads[joint, 1] = -10e3
    drawn = draw_joint_loads(JointLoads(FRAME, loads, Direction(), lambda _: told), PIXELS)
    row = 1 if joint == 0 else 2
    reactions = [Reaction("264" if number == row else "", False, number == row) for number in range(3)]
    held = draw_reactions(FRAME, PIXELS, Direction(), reactions)
    load, reaction = letters(drawn, "load", told), letters(held, "reaction", "264")
    if inwards > 0:
        assert reaction[1] < 0 < load[0] + text_width(told)
        assert reaction[1] <= load[0]
    else:
        assert load[1] - text_width(told) < 0 < reaction[0]
        assert load[1] <= reaction[0]
