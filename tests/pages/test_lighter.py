"""The page on lighter sections: its numbers are those of the table and of a study written with them."""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest

from explorer import store
from explorer.drawing.view import Direction
from explorer.pages.lighter.shown import show_checks, show_found, show_table, show_trial, show_truss
from explorer.pages.lighter.tried import choice_of, order_of
from explorer.store import MOST_TRIED, Jobs, Results
from explorer.wording.lighter_checks import utilisation
from explorer.wording.numbers import MINUS, significant
from solver.answers import Answers
from solver.checks.check import Check
from solver.progress import Progress, silent
from solver.sizing.candidates import Candidates
from tests.pages.sized import RESULTS, SIZED, found, text_of, told_ratio, words_of, worked

TRIED = {
    "avocet_bridge": {"top": "SHS 100x100x5", "posts": "SHS 40x40x3"},
    "bittern_roof": {"bow": "SHS 80x80x4", "diagonals": "SHS 60x60x3"},
}
WRONG = re.compile(r"(?i:\bsafe|\bspare\b|\bremovable\b|may be removed|unnecessary|\bnan\b)|\bNone\b|\binf\b")


def tried(name: str, sections: dict[str, Any] | None = None, **asked: object) -> dict[str, Any]:
    wish = {"sections": TRIED[name] if sections is None else sections, **asked}
    return show_trial(worked(name), RESULTS.bench(worked(name)), wish)


@cache
def written_with(name: str) -> Answers:
    """The study with the sections tried written into its file, and no resistances beside them."""
    text = text_of(name)
    for group, section in TRIED[name].items():
        start = text.index(f"[groups.{group}]")
        end = start + re.search(r"\n\n", text[start:]).start()  # type: ignore[union-attr]
        block = re.sub(r"^(tension|compression) = .*\n", "", text[start:end], flags=re.M)
        block = re.sub(r'^section = ".*?"', f'section = "{section}"', block, flags=re.M)
        text = text[:start] + block + text[end:]
    return Results().work(text, f"{name}.toml").answers


def hardest(checks: tuple[Check, ...]) -> float:
    return max((check.utilisation for check in checks if check.utilisation == check.utilisation), default=0.0)


@pytest.mark.parametrize("name", SIZED)
def test_a_trial_tells_what_the_study_tells_with_these_sections_written_into_it(name: str) -> None:
    answers, painted = written_with(name), tried(name)["painted"]
    assert answers.study.rules.limits.after_loss is False
    own = [
        tuple(check for check in checks if check.key != "another's loss") for checks in answers.checks.each
    ]
    assert painted["parts"] == pytest.approx([min(hardest(checks), 1.0) for checks in own], abs=1e-9)
    assert painted["said"] == [utilisation(hardest(checks)) for checks in own]
    over = {m.name for m, c in zip(answers.study.truss.members, own, strict=True) if hardest(c) > 1}
    looks = zip(answers.study.truss.members, painted["looks"], strict=True)
    assert over and {member.name for member, look in looks if look.split()[0] == "over"} == over


@pytest.mark.parametrize("name", SIZED)
def test_weight_and_deflection_are_those_of_the_study_with_these_sections(name: str) -> None:
    truss, cells = written_with(name).study.truss, tried(name)["cells"]
    weight = sum(
        length * member.group.section.area * (member.group.material.unit_weight or 0)
        for member, length in zip(truss.members, truss.lengths, strict=True)
    )
    assert words_of(cells["weight:1"]).startswith(f"{significant(float(weight) / 1000)} kN")
    deflection = words_of(cells["deflection:3"])
    if name == "avocet_bridge":
        (limit,) = written_with(name).checks.whole
        assert deflection.startswith(
            f"{utilisation(limit.utilisation)} {significant(1000 * limit.demand)} mm of 50.0 mm at "
        )
        assert deflection.endswith("not met") == (limit.utilisation > 1)
    else:
        ends = written_with(name).deflections
        most = max(abs(float(v)) for part in (ends.largest, ends.smallest) for v in part.values)
        assert deflection == f"{significant(1000 * most)} mm at L4, no limit given"


@pytest.mark.parametrize("name", SIZED)
def test_every_group_tells_its_weight_and_its_hardest_check_before_and_after(name: str) -> None:
    cells = tried(name)["cells"]
    for place, group in enumerate(found(name).sizes.groups):
        for column, answers in enumerate((worked(name).answers, written_with(name))):
            truss = answers.study.truss
            own = [m for m, member in enumerate(truss.members) if member.group.name == group.name]
            weight = sum(
                float(truss.lengths[m])
                * truss.members[m].group.section.area
                * (group.material.unit_weight or 0)
                for m in own
            )
            told = words_of(cells[f"{place}:{column}"])
            assert told.partition(" (")[0] == f"{significant(weight / 1000)} kN"
            most = max(
                hardest(tuple(check for check in answers.checks.each[m] if check.key != "another's loss"))
                for m in own
            )
            use = words_of(cells[f"{place}:{2 + column}"])
            assert use.startswith(f"{utilisation(most)} ") and ("not met" in use) == (most > 1)


@pytest.mark.parametrize("name", SIZED)
def test_what_fails_is_told_with_every_member_that_fails_and_whose_rule_it_is(name: str) -> None:
    shown = tried(name)
    lines = [words_of(line) for line in re.findall(r"<li>(.*?)</li>", str(shown["failing"]))]
    answers = written_with(name)
    broken = [
        (check.utilisation, f"{check.key} of {member.name} at {told_ratio(check.key, check.utilisation)}")
        for member, checks in zip(answers.study.truss.members, answers.checks.each, strict=True)
        for check in checks
        if check.utilisation > 1 + 1e-9 and check.key != "another's loss"
    ]
    assert broken and all(any(line.startswith(start) for line in lines) for _, start in broken)
    most = max(broken)[0]
    # of a symmetric truss two members are the hardest but for a rounding
    hard = [words for ratio, words in broken if ratio == pytest.approx(most, rel=1e-9)]
    assert any(words in words_of(shown["outcome"]) for words in hard)


def test_as_it_is_nothing_changes_and_the_page_says_so() -> None:
    shown = tried("bittern_roof", {})
    assert shown["outcome"] == "As it is, every check made here is met; joints are not among them."
    assert shown["failing"] == ""
    for place in range(4):
        assert shown["cells"][f"{place}:0"] and shown["cells"][f"{place}:2"]
        assert shown["cells"][f"{place}:1"] == shown["cells"][f"{place}:3"] == ""
    assert words_of(shown["cells"]["weight:1"]) == words_of(shown["cells"]["deflection:3"]) == "as now"


def test_before_tried_anything_the_drawing_shows_the_checks_of_the_study() -> None:
    assert show_truss(worked("bittern_roof"), Direction())["now"] == tried("bittern_roof", {})["painted"]


def test_the_lightest_found_weighs_when_tried_what_the_title_tells() -> None:
    told = show_found(worked("bittern_roof"), found("bittern_roof"), None)
    shown = tried("bittern_roof", told["lightest"])  # type: ignore[arg-type]
    weight = words_of(shown["cells"]["weight:1"]).partition(" (")[0]
    assert f"also met with a weight of {weight} instead of" in str(told["title"]).replace("\u00a0", " ")
    assert shown["outcome"] == "With these sections every check made here is met; joints are not among them."


@pytest.mark.parametrize(
    "sections",
    [{"no such group": "SHS 40x40x3"}, {"bow": "SHS 1x1x1"}, {"bow": None}, {"bow": 7}, {"bow": ["x"]}],
    ids=str,
)
def test_sections_that_are_not_there_leave_everything_as_it_is(sections: dict[str, object]) -> None:
    sizes = RESULTS.bench(worked("bittern_roof")).sizes
    assert choice_of(sizes, sections) == sizes.now


@pytest.mark.parametrize("name", SIZED)
def test_every_section_of_a_family_can_be_tried_the_lightest_first(name: str) -> None:
    sizes = found(name).sizes
    table = show_table(worked(name), None)
    for place, group in enumerate(sizes.groups):
        select = re.search(rf'<select id="section-{place}".*?</select>', table)
        assert select and f'data-group="{group.name}"' in select[0]
        values = re.findall(r'<option value="([^"]*)"', select[0])
        assert values[0] == "" and set(values[1:]) == {section.name for section in sizes.families[place]}
        weights = [sizes.weight_of(place, chosen) for chosen in order_of(sizes, place)]
        assert weights == sorted(weights)


def test_an_option_tells_area_and_difference_of_weight() -> None:
    # four walls of 40 by 3 with round corners: 434 mm² in the table; the bow has 2000 mm² and 77 kN/m³
    table = show_table(worked("bittern_roof"), None).replace("\u00a0", " ")
    length = 2 * sum((9 + rise**2) ** 0.5 for rise in (1.575, 1.125, 0.675, 0.225))
    difference = 77 * length * (2000 - 434) * 1e-6
    told = re.search(rf"SHS 40x40x3, 434 mm², {MINUS}([\d.]+) kN", table)
    assert told and float(told[1]) == pytest.approx(difference, rel=5e-3)


def test_numbers_are_told_in_the_units_chosen() -> None:
    for units, own, other in (("metric", " kN", " kip"), ("US", " kip", " kN")):
        asked = {"units": units}
        told = show_found(worked("bittern_roof"), found("bittern_roof"), asked)
        shown = tried("bittern_roof", units=units)
        for part in (told["title"], told["list"], show_table(worked("bittern_roof"), asked), shown["cells"]):
            words = words_of(part).replace("\\xa0", " ")
            assert own in words and other not in words


def test_the_checks_of_the_member_chosen_stand_before_and_after() -> None:
    names = [member.name for member in worked("bittern_roof").answers.study.truss.members]
    member = names.index("L0-U1")
    before, after = re.findall(r"<table.*?</table>", str(tried("bittern_roof", member=member)["checks"]))
    own = written_with("bittern_roof").checks.each[member]
    assert "L0-U1 as it is" in before and "L0-U1 as tried" in after
    (compression,) = (check for check in own if check.key == "compression")
    assert f"{significant(compression.limit / 1000)} kN" in words_of(after)
    assert utilisation(compression.utilisation) in words_of(after)
    assert "out of plane not checked" in after


def test_the_check_of_the_whole_truss_stands_below_those_of_the_member_and_says_so() -> None:
    for table in re.findall(r"<table.*?</table>", str(tried("avocet_bridge", member=0)["checks"])):
        heads = re.findall(r'<th scope="row">(.*?)</th>', table)
        assert heads[-1] == "deflection, whole truss" and heads.count("deflection, whole truss") == 1
        assert "of 50.0 mm" not in words_of(table) and "at most 50.0 mm" in words_of(table)


@pytest.mark.parametrize("name", ["curlew_mast", "heron_fan"])
def test_a_study_without_families_says_what_to_write_and_shows_its_checks(name: str) -> None:
    shown: dict[str, Any] = show_truss(worked(name), Direction())
    assert shown["groups"] == [] and show_table(worked(name), None) == ""
    assert "names a family" in shown["none"]["said"] and 'family = "square"' in shown["none"]["write"]
    assert "tension" in show_checks(worked(name), {"member": 0})


@pytest.mark.parametrize("name", SIZED)
def test_no_wrong_word_stands_on_the_page(name: str) -> None:
    told, shown = show_found(worked(name), found(name), None), tried(name)
    parts = [told["title"], told["proven"], told["unchecked"], told["list"], show_table(worked(name), None)]
    parts += [shown["outcome"], shown["failing"], shown["checks"], *shown["cells"].values()]
    assert not WRONG.findall(" ".join(words_of(part) for part in parts))


IDLE = {"bittern_roof": {"L1-U1", "L7-U7"}, "avocet_bridge": {"L2-U2", "L4-U4", "L6-U6"}}
"""Roofing and snow hang on the bow alone; of the bridge no axle reaches a post."""


@pytest.mark.parametrize("name", SIZED)
def test_members_that_look_idle_and_hold_come_first_and_are_marked_on_the_drawing(name: str) -> None:
    members = worked(name).answers.study.truss.members
    painted = tried(name, {})["painted"]
    looks = zip(members, painted["looks"], strict=True)
    assert {member.name for member, look in looks if look.endswith(" holds")} == IDLE[name]
    told = str(show_found(worked(name), found(name), None)["list"])
    first = told[: told.index("What could be lighter")]
    assert all(f">{member}<" in first for member in IDLE[name])
    reach = (
        "nothing but own weight reaches it"
        if name == "avocet_bridge"
        else "0 nothing asked of it nothing reaches it"
    )
    holds = f"{reach}, yet it holds the joint at the stroke"
    assert holds in words_of(show_truss(worked(name), Direction())["legend"])


HELD = {
    "bittern_roof": {"L1-U1": "L1", "L7-U7": "L7"},
    "avocet_bridge": {"L2-U2": "U2", "L4-U4": "U4", "L6-U6": "U6"},
}
"""The compressed joint that each of these holds: of the roof's tie under wind, of the bridge's top chord."""


@pytest.mark.parametrize("name", SIZED)
def test_a_stroke_lies_at_the_joint_that_an_idle_member_holds_and_at_no_other(name: str) -> None:
    truss = worked(name).answers.study.truss
    painted: dict[str, Any] = tried(name, {})["painted"]
    strokes = dict(zip([member.name for member in truss.members], painted["strokes"], strict=True))
    ends = {member.name: truss.ends[place].tolist() for place, member in enumerate(truss.members)}
    joint = truss.joint_names.index
    assert {name: shares for name, shares in strokes.items() if shares} == {
        member: [float(ends[member].index(joint(held)))] for member, held in HELD[name].items()
    }


def test_the_key_has_no_mark_that_the_drawing_has_not() -> None:
    assert not worked("heron_fan").answers.checks.idle
    assert "yet it holds" not in words_of(show_truss(worked("heron_fan"), Direction())["legend"])


def test_the_row_of_a_props_force_adds_up_to_its_utilisation() -> None:
    names = [member.name for member in worked("bittern_roof").answers.study.truss.members]
    shown = words_of(tried("bittern_roof", {}, member=names.index("L4-U3"))["checks"])
    rows = re.findall(
        r"prop force own ([\d.]+) kN \+ prop ([\d.]+) kN N_R ([\d.]+) kN in \w+ ([\d.]+) ", shown
    )
    assert rows
    for row in rows:
        own, prop, most, ratio = map(float, row)
        # each of the three is written with three digits
        assert (own + prop) / most == pytest.approx(ratio, abs=0.005 + 0.011 * ratio)


def test_names_of_strangers_are_written_as_text() -> None:
    text = text_of("bittern_roof").replace("[groups.bow]", '[groups."a<i>b"]')
    results = Results()
    study = results.work(text, "strange.toml")
    told, shown = show_found(study, results.size(study), None), show_trial(study, results.bench(study), {})
    for part in (told["list"], show_table(study, None), *shown["cells"].values()):  # type: ignore[attr-defined]
        assert "<i>" not in str(part)
    assert "a&lt;i&gt;b" in str(told["list"])


# ---- the work in threads ----


def until(holds: Callable[[], bool]) -> None:
    deadline = time.monotonic() + 30
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.01)


def test_looking_for_lighter_sections_tells_how_far_it_is_and_ends_when_called_off(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    begun = threading.Event()
    whole = store.size

    def slow(answers: Answers, progress: Progress = silent) -> Candidates:
        begun.set()
        for _ in range(3000):
            progress("lighter sections", 0.25)
            time.sleep(0.01)
        raise AssertionError("it was not called off")

    monkeypatch.setattr(store, "size", slow)
    results = Results()
    jobs, study = Jobs(results), results.work(text_of("bittern_roof"), "roof.toml")
    job = jobs.start_work(lambda tell: (results.size(study, tell), study.key)[1])
    assert begun.wait(30)
    until(lambda: jobs.look(job).share == 0.25)
    assert jobs.look(job).what == "lighter sections" and not jobs.look(job).ended
    jobs.cancel(job)
    until(lambda: jobs.look(job).ended)
    assert jobs.look(job).key is None and jobs.look(job).lines[0].wrong == "cancelled"
    assert results.find_sized(study.key) is None
    monkeypatch.setattr(store, "size", whole)
    again = jobs.start_work(lambda tell: (results.size(study, tell), study.key)[1])
    until(lambda: jobs.look(again).ended)
    assert jobs.look(again).key == study.key and results.find_sized(study.key) is not None


def test_what_was_found_is_kept_and_not_looked_for_again(monkeypatch: pytest.MonkeyPatch) -> None:
    first = found("bittern_roof")
    monkeypatch.setattr(store, "size", lambda *_: pytest.fail("looked for again"))
    assert RESULTS.size(worked("bittern_roof")) is first


def test_trials_of_a_study_share_a_bench_until_it_holds_many() -> None:
    results = Results()
    study = results.work(text_of("bittern_roof"), "roof.toml")
    bench = results.bench(study)
    assert results.bench(study) is bench
    families = bench.sizes.families
    choices = [(a, b, -1, -1) for a in range(len(families[0])) for b in range(len(families[1]))]
    for choice in choices[:MOST_TRIED]:
        bench.try_out(choice)
    assert results.bench(study) is not bench
