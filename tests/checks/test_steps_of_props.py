"""The checks of a prop show the steps that are theirs: the force its own, the stiffness its own."""

from __future__ import annotations

import pytest

from solver.resistance.aisc_360_22 import Aisc360, Method
from tests.checks.test_propping import props, strut


@pytest.mark.parametrize(("method", "letter"), [("LRFD", "a"), ("ASD", "b")])
def test_a_props_force_is_told_by_a_6_3_and_its_stiffness_by_a_6_4(method: Method, letter: str) -> None:
    found = props(strut(standard=Aisc360(method)), "M-P")
    clauses = {key: [step.clause for step in check.steps] for (key, _), check in found.items()}
    assert clauses == {
        "prop force": ["AISC 360-22 App. 6, A-6-3"],
        "prop stiffness": [f"AISC 360-22 App. 6, A-6-4{letter}"],
    }
