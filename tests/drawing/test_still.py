"""The README's picture is what the drawing makes of the bundled bridge, no more and no less."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

from explorer.bundled import find_bundled
from explorer.drawing.still import draw_still
from explorer.store import Results
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller
from solver.placement import Standing

PROJECT = Path(__file__).resolve().parents[2]
PICTURE = PROJECT / "data" / "pictures" / "avocet_bridge.svg"


def drawn() -> str:
    """The bundled bridge under its lorry at 26.5 m, its middle hanger chosen."""
    worked = Results().work(find_bundled("avocet_bridge").text(), "avocet_bridge.toml")
    answers = worked.answers
    member = answers.study.truss.member_index("L3-U3")
    column = [load.name for load in answers.combinations].index("lorry_crossing")
    return draw_still(
        Asked(answers, Teller(worked.document.units), member, column, Standing("forward", 26.5))
    )


def test_the_picture_in_the_readme_is_up_to_date() -> None:
    """Made anew by: python -m tests.drawing.test_still"""
    assert PICTURE.read_text(encoding="utf-8") == drawn() + "\n"
    assert "data/pictures/avocet_bridge.svg" in (PROJECT / "README.md").read_text(encoding="utf-8")


def test_it_stands_alone_as_a_file() -> None:
    root = ET.fromstring(PICTURE.read_text(encoding="utf-8"))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert "http" not in PICTURE.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")


def test_it_shows_the_reactions_and_the_zeros_of_a_pencil() -> None:
    root = ET.fromstring(drawn())
    texts = ["".join(node.itertext()) for node in root.iter("{http://www.w3.org/2000/svg}text")]
    # Moments about L8: axles 30, 55, 55 kN at 26.5, 22.7, 21.4 m of 40 m.
    left = (30 * 13.5 + 55 * 17.3 + 55 * 18.6) / 40
    assert f"{left:.1f}" in texts and f"{140 - left:.1f}" in texts
    zeros = [node for node in root.iter("{http://www.w3.org/2000/svg}g") if node.get("class") == "bar z"]
    # No axle stands beside L1, L3 or L7: their hangers. And every post, for nothing stands above.
    assert {node.get("data-member") for node in zeros} == {
        "L1-U1",
        "L3-U3",
        "L7-U7",
        "L2-U2",
        "L4-U4",
        "L6-U6",
    }


if __name__ == "__main__":
    PICTURE.write_text(drawn() + "\n", encoding="utf-8")
