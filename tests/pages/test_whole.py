"""The page on the whole truss: what each member is, who shares, and the states of self-stress it draws."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.drawing.view import Direction
from explorer.pages.whole.drawn import STROKES
from explorer.pages.whole.listed import draw_list, draw_shares
from explorer.pages.whole.shown import show_state, show_told, show_whole
from explorer.store import Results, Worked
from explorer.wording.whole_truss import (
    CARRIED,
    KINDS,
    NEEDED,
    OVERLOAD,
    PROP,
    UNPROVEN,
    ToldMember,
    kinds_of,
    share_by_group,
    tell_counts,
    tell_state,
)
from solver.truss import Truss
from tests.laws.proving import is_alone, rank

BUNDLED = [item.name for item in list_bundled("study")]
WRONG = re.compile(
    r"(?i:\bsafe|\bspare\b|may be removed|unnecessary|redundant member|\bnan\b)|\bNone\b(?! of )"
)


@cache
def worked(name: str) -> Worked:
    item = next(item for item in list_bundled("study") if item.name == name)
    return Results().work(item.text(), item.path.name)


def columns(truss: Truss) -> list[list[Fraction]]:
    """What each member and each held direction puts on the joints, exactly, a member as long as it is."""
    found = []
    for member, vector in zip(truss.members, truss.exact_vectors, strict=True):
        column = [Fraction(0)] * truss.freedoms
        for joint, sign in ((member.first, 1), (member.second, -1)):
            for axis, part in enumerate(vector):
                column[joint * truss.dimension + axis] = sign * part
        found.append(column)
    for support in truss.supports:
        for direction in support.directions:
            column = [Fraction(0)] * truss.freedoms
            start = support.joint * truss.dimension
            column[start : start + truss.dimension] = list(direction)
            found.append(column)
    return found


def words_of(markup: object) -> str:
    return re.sub(r"<[^>]*>", " ", str(markup)).replace("\u00a0", " ")


@pytest.mark.parametrize("name", BUNDLED)
def test_a_member_shares_where_the_others_hold_every_joint_and_only_there(name: str) -> None:
    answers = worked(name).answers
    all_columns = columns(answers.study.truss)
    for member, kind in enumerate(kinds_of(answers)):
        others = [column for place, column in enumerate(all_columns) if place != member]
        assert (kind in (PROP, NEEDED)) == is_alone(others, all_columns[member])


def test_the_posts_that_hold_the_compressed_chord_of_the_bridge_are_its_props() -> None:
    # its file says of seven verticals that four hang a floor beam and three prop the top chord
    answers = worked("avocet_bridge").answers
    members = answers.study.truss.members
    props = {m.name for m, kind in zip(members, kinds_of(answers), strict=True) if kind is PROP}
    assert props == {"L2-U2", "L4-U4", "L6-U6"}
    assert (
        tell_counts(kinds_of(answers))
        == "None of 29 members can be spared; three of them hold a compressed joint."
    )


def test_the_title_counts_every_kind_in_words() -> None:
    assert tell_counts([NEEDED] * 13) == "None of 13 members can be spared."
    assert (
        tell_counts([NEEDED, CARRIED])
        == "One of two members cannot be spared; without one more this study shows no overload."
    )
    assert (
        tell_counts([NEEDED, PROP, OVERLOAD, OVERLOAD, CARRIED])
        == "Two of five members cannot be spared, one of them holds a compressed joint; losing any one of "
        "two more would overload others; without one more this study shows no overload."
    )
    assert tell_counts([OVERLOAD, UNPROVEN]) == (
        "Losing one of two members would overload others; strength without one more is unproven."
    )


def test_the_title_never_begins_with_what_could_be_lost_where_a_loss_overloads_others() -> None:
    for kinds in ([CARRIED] * 9 + [OVERLOAD], [CARRIED, UNPROVEN], [CARRIED, NEEDED]):
        first = tell_counts(kinds).partition(";")[0]
        assert "no overload" not in first


def test_letters_and_lines_tell_kinds_apart_and_are_not_those_of_forces() -> None:
    letters = [kind.letter for kind in KINDS]
    assert len(set(letters)) == len(KINDS) and not {"T", "C", "0", "O"} & set(letters)
    assert set(STROKES) == {kind.key for kind in KINDS}
    # of those that share, drawn alike but for their strokes, no two have the same
    assert len({STROKES[kind.key] for kind in (OVERLOAD, UNPROVEN, CARRIED)}) == 3


@pytest.mark.parametrize("name", BUNDLED)
def test_shares_by_group_together_are_the_static_indeterminacy(name: str) -> None:
    answers = worked(name).answers
    truss = answers.study.truss
    shares = share_by_group(answers)
    assert sum(one.members for one in shares) == len(truss.members)
    whole = len(truss.members) + truss.held - len(truss.joint_names) * truss.dimension
    assert sum(one.share for one in shares) == pytest.approx(whole, abs=1e-9)
    assert bool(draw_shares(shares)) == bool(whole)


@pytest.mark.parametrize("name", ["curlew_mast", "godwit_girder", "heron_fan"])
def test_a_state_drawn_is_in_balance_at_every_joint_and_zero_elsewhere(name: str) -> None:
    study = worked(name)
    truss = study.answers.study.truss
    matrix = np.array(columns(truss), dtype=float).T
    matrix /= np.linalg.norm(matrix, axis=0)
    states = study.answers.losses.sharing.states
    assert len(states) == matrix.shape[1] - rank(columns(truss))
    for state, chosen in enumerate(states):
        # through so few there is one state only: what spans the rest of a dense decomposition
        _, sizes, spans = np.linalg.svd(matrix[:, list(chosen)])
        assert np.count_nonzero(sizes > 1e-9) == len(chosen) - 1
        forces = np.zeros(matrix.shape[1])
        forces[list(chosen)] = spans[-1] / spans[-1][0]
        expected = forces[: len(truss.members)]
        shown = show_state(study, {"state": state})
        looks = ["z" if m not in chosen else "t" if expected[m] > 0 else "c" for m in range(len(expected))]
        assert shown["looks"] == looks
        assert shown["parts"] == pytest.approx(np.abs(expected) / np.abs(expected).max(), abs=1e-9)
        for said, force in zip(shown["said"], expected, strict=True):  # type: ignore[call-overload]
            number = 0.0 if said == "0" else float(said[2:]) * (1 if said[0] == "T" else -1)
            assert number == pytest.approx(force, rel=0.05, abs=1e-9)


def test_a_crossed_panel_of_four_by_three_is_a_state_by_itself() -> None:
    study = worked("godwit_girder")
    truss = study.answers.study.truss
    # by hand: with 1 in diagonals of 5 m, the sides of 4 m have 0.8 and those of 3 m have 0.6, turned
    names = [member.name for member in truss.members]
    shown = show_state(study, {"state": 1})
    said = dict(zip(names, shown["said"], strict=True))  # type: ignore[call-overload]
    bearing = {name: text for name, text in said.items() if text != "0"}
    assert bearing == {
        "L3-U4": "T 1",
        "U3-L4": "T 1",
        "L3-L4": "C 0.8",
        "U3-U4": "C 0.8",
        "L3-U3": "C 0.6",
        "L4-U4": "C 0.6",
    }
    assert str(shown["caption"]).startswith("State 2 of 7: six members balance one another without any load.")


def test_a_state_beyond_the_last_is_the_last() -> None:
    study = worked("curlew_mast")
    last = len(study.answers.losses.sharing.states) - 1
    assert show_state(study, {"state": 99})["state"] == last
    assert show_state(study, {"state": -3})["state"] == 0


def test_a_state_tells_how_many_supports_take_part_in_it() -> None:
    answers = worked("heron_fan").answers
    forces = answers.losses.sharing.forces(0).tolist()
    # three rods that meet in a point balance one another through the joints that hold their other ends
    told = tell_state(answers, 0, forces)
    assert "three members and five support reactions balance one another" in told


@pytest.mark.parametrize("name", BUNDLED)
def test_the_list_has_every_member_once_sorted_by_what_it_is(name: str) -> None:
    study = worked(name)
    answers = study.answers
    listed = str(show_told(study, None)["list"])
    rows = [int(row) for row in re.findall(r'<tr data-row="(\d+)"', listed)]
    assert sorted(rows) == list(range(len(answers.study.truss.members)))
    kinds = kinds_of(answers)
    places = [KINDS.index(kinds[row]) for row in rows]
    assert places == sorted(places)
    headings = re.findall(r'scope="rowgroup">.*?<b>(.*?)</b>', listed)
    assert headings == [
        f"{kind.letter} {kind.name}: {kinds.count(kind)}" for kind in KINDS if kinds.count(kind)
    ]


@pytest.mark.parametrize("name", BUNDLED)
def test_no_wrong_word_stands_on_the_page(name: str) -> None:
    study = worked(name)
    shown, told = show_whole(study, Direction()), show_told(study, None)
    words = " ".join(
        [words_of(told["list"]), str(told["told"]), *map(str, (shown["counts"], shown["sharing"]))]
        + [words_of(shown[part]) for part in ("legend", "shares")]
    )
    assert not WRONG.findall(words)


def test_sentences_are_told_in_the_units_chosen() -> None:
    study = worked("avocet_bridge")
    metric, american = (words_of(show_told(study, {"units": units})["list"]) for units in ("metric", "US"))
    assert " kN" in metric and " kip" not in metric
    assert " kip" in american and " kN" not in american


def test_names_of_strangers_are_written_as_text() -> None:
    told = ToldMember(0, "<b>A</b>", "<i>", CARRIED, "<script>1</script> & more.")
    listed = str(draw_list([told]))
    assert "<script>" not in listed and "<i>" not in listed and "&lt;b&gt;A&lt;/b&gt;" in listed
