"""The small pictures made from results: what is written in them is what results have."""

from __future__ import annotations

import pytest

from explorer.document.units import METRIC
from explorer.pages.explore.pictures import draw_limits, draw_shares
from explorer.wording.asked import Asked
from explorer.wording.numbers import NO_BREAK, Teller
from tests.drawing.reading import check
from tests.wording.test_questions import BUNDLED, known


@pytest.mark.parametrize("name", BUNDLED)
def test_no_share_of_nothing_or_of_all_is_written_beside_the_ends_of_a_way(name: str) -> None:
    answers = known(name).answers
    travelling = [name for name, crossing in answers.study.crossings.items() if crossing.travels]
    for column, load in enumerate(answers.combinations):
        if load.crossing not in travelling:
            continue
        for member in range(len(answers.study.truss.members)):
            words = check(draw_shares(Asked(answers, Teller(METRIC), member, column, None))).words()
            assert not {f"0{NO_BREAK}%", f"100{NO_BREAK}%"} & set(words)


@pytest.mark.parametrize("name", BUNDLED)
def test_deflection_alone_stands_under_the_whole_truss_in_the_ladder_of_limits(name: str) -> None:
    answers = known(name).answers
    for member in range(len(answers.study.truss.members)):
        picture = check(draw_limits(Asked(answers, Teller(METRIC), member, 0, None)))
        (line,) = picture.all("line", "apart")
        below = {word for word, box in picture.boxes() if box[1] > float(line.attrib["y1"])}
        assert {"the whole truss", "deflection"} <= below and len(below) == 3
