"""The part that a cut sets free, what wakes a member, and the joint drawn large."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from explorer.drawing.figures import (
    Arm,
    CutArm,
    FreeBody,
    PartPicture,
    PartPush,
    WakingPicture,
    draw_free_body,
    draw_part,
    draw_waking,
)

PART = PartPicture(
    label="The part around A, cut free",
    points=((0.0, 0.0), (3.0, 0.0), (3.0, 2.0)),
    names=("A", "B", "C"),
    members=((0, 1), (1, 2), (0, 2)),
    arms=(
        CutArm(2, 0.0, "C-E"),
        CutArm(2, -33.7, "C-D", asked=True),
        CutArm(1, 0.0, "B-D", known_zero=True),
    ),
    pushes=(PartPush(0, 90.0, "12", support=True), PartPush(2, 270.0, "5")),
)
TRUSS = WakingPicture(
    label="Loads at 2 joints wake A-B",
    points=((0.0, 0.0), (4.0, 0.0), (2.0, 1.0)),
    members=((0, 1), (1, 2), (0, 2)),
    asked=0,
    pulls=((0.0, 0.0), (1.0, 0.0), (0.0, -0.5)),
    name="B",
    text="T 1.00 for 1",
)


def lines(markup: str, group: str) -> list[tuple[float, ...]]:
    """The ends of the first line of every group of a class."""
    pattern = (
        rf'<g class="{group}"><line class="\w+" x1="([\d.-]+)" y1="([\d.-]+)" x2="([\d.-]+)" y2="([\d.-]+)"'
    )
    return [tuple(float(n) for n in found) for found in re.findall(pattern, markup)]


def test_a_cut_part_shows_each_cut_member_once_the_asked_one_firm_and_the_zero_broken() -> None:
    markup = draw_part(PART, 420)
    assert markup.count('class="arm plain"') == 1
    assert markup.count('class="arm plain asked"') == 1
    assert markup.count('class="arm z"') == 1
    for name in ("C-E", "C-D", "B-D 0", ">12<", ">5<"):
        assert name in markup


def test_a_moment_centre_is_tied_to_the_members_that_meet_there_and_named() -> None:
    tied = draw_part(replace(PART, centre=(5.0, 2.0), centre_name="about E"), 420)
    assert "about E" in tied and 'class="axis"' in tied
    assert 'class="axis"' not in draw_part(PART, 420)
    assert 'class="axis"' in draw_part(replace(PART, across=90.0), 420)


def test_names_are_escaped_in_both_pictures() -> None:
    hostile = replace(PART, label="<b>", names=("<i>", "", ""), arms=(CutArm(0, 10.0, "<u>", asked=True),))
    for markup in (draw_part(hostile, 420), draw_waking(replace(TRUSS, name="<i>", text="<b>"))):
        assert not re.search(r"<[ibu]>", markup)


def test_waking_arrows_are_as_long_as_the_forces_they_bring() -> None:
    arrows = lines(draw_waking(TRUSS), "arrow")
    # a shaft ends where its head begins: heads are 7 px, or 0.65 of a short arrow
    lengths = [((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 for x1, y1, x2, y2 in arrows]
    assert len(lengths) == 2
    assert lengths[0] + min(7, 0.65 * 20) == pytest.approx(20, abs=0.1)
    assert lengths[1] == pytest.approx(10 - min(7, 0.65 * 10), abs=0.1)


def test_where_no_load_reaches_a_member_no_arrow_is_drawn() -> None:
    still = replace(TRUSS, pulls=((0.0, 0.0),) * 3, name="", text="")
    assert 'class="arrow"' not in draw_waking(still)


def test_a_joint_drawn_large_keeps_its_lettering_and_lengthens_its_arms() -> None:
    body = FreeBody("Joint B", (Arm("B-C", 90.0, asked=True), Arm("A-B", 180.0), Arm("B-D", 0.0)), joint="B")
    small, large = draw_free_body(body), draw_free_body(body, 420)
    assert 'viewBox="0 0 168 ' in small and 'viewBox="0 0 420 ' in large
    reach = [max(x2 - x1 for x1, _, x2, _ in lines(markup, "arm plain")) for markup in (small, large)]
    assert reach[1] > 2 * reach[0]
    for name in ("B-C", "A-B", "B-D"):
        assert name in large
