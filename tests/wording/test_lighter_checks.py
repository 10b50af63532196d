"""Checks as the page on lighter sections tells them: props, losses, limits, what is not known."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from explorer.bundled import list_bundled
from explorer.document.units import METRIC
from explorer.store import Results
from explorer.wording.lighter_checks import (
    asked_checks,
    tell_broken,
    tell_demand,
    tell_limit,
    tell_outcome,
    tell_place,
    tell_rung,
    tell_unanswered,
    use_of,
    utilisation,
)
from explorer.wording.numbers import Teller, plain
from solver.answers import size
from solver.checks.check import Check
from solver.sizing.candidates import Candidates, Rung

NAN = float("nan")
TELLER = Teller(METRIC)


@cache
def found(name: str = "bittern_roof") -> Candidates:
    item = next(item for item in list_bundled("study") if item.name == name)
    return size(Results().work(item.text(), item.path.name).answers)


def check(key: str, ratio: float) -> Check:
    return Check(key, "a rule", ratio, 1.0, ratio)  # type: ignore[arg-type]


def prop() -> tuple[Check, ...]:
    """4 kN of its own and 2 kN for what it holds, of 12 kN in compression and 40 kN in tension."""
    own = [replace(check(key, 0.0), demand=n, limit=m) for key, n, m in OWN]
    return (*own, replace(check("prop force", 0.5), demand=2e3, limit=8e3, joint=1, others=(0, 1)))


OWN = (("tension", 3e3, 40e3), ("compression", 4e3, 12e3))


def test_a_props_force_is_told_with_the_members_own_of_what_it_resists() -> None:
    checks = prop()
    assert plain(tell_demand(TELLER, checks, checks[2])) == "own 4.00 kN + prop 2.00 kN"
    assert plain(tell_limit(TELLER, checks, checks[2])) == "N_R 12.0 kN in compression"
    study, trial = found().sizes.study, found().now
    assert tell_rung(study, Rung(checks[2], 0)) == "prop force of L0-U1 at 0.50 = (own + prop) / N_R"
    each = (checks, *trial.checks.each[1:])
    told = tell_broken(replace(trial, checks=replace(trial.checks, each=each)), TELLER, Rung(checks[2], 0))
    assert "own 4.00 kN + prop 2.00 kN of N_R 12.0 kN in compression, at joint" in plain(told)


def test_a_props_force_whose_resistance_is_not_known_stands_by_itself() -> None:
    unknown = replace(check("tension", NAN), limit=NAN)
    force = replace(check("prop force", NAN), demand=2e3, limit=NAN)
    assert plain(tell_demand(TELLER, (unknown, force), force)) == "2.00 kN"
    assert tell_limit(TELLER, (unknown, force), force) == "not known"
    assert tell_rung(found().sizes.study, Rung(force, 0)) == "prop force of L0-U1 not known"


def test_limits_say_whether_they_are_the_most_or_the_least() -> None:
    def limit(key: str) -> str:
        one = replace(check(key, 0.5), kind="none", demand=100.0, limit=200.0)
        return plain(tell_limit(TELLER, (one,), one))

    assert limit("depth") == "at least 200"
    assert limit("slenderness in tension") == limit("slenderness in compression") == "at most 200"


def test_who_is_lost_is_named_with_what_fails_then_and_once_in_a_line() -> None:
    study, trial = found().sizes.study, found().now
    lost = replace(check("another's loss", 1.04), others=(3,))
    name = study.truss.members[3].name
    assert tell_rung(study, Rung(lost, 0)) == f"another's loss of L0-U1, with {name} lost, at 1.04"
    assert tell_broken(trial, TELLER, Rung(lost, 0)).count(name) == 1
    assert tell_place(trial.before, TELLER, Rung(lost, 0)) == f"with {name} lost"


def test_a_member_of_which_two_rules_cannot_be_answered_is_named_once() -> None:
    trial = found().now
    unknown = tuple(replace(check("prop force", NAN), by=by) for by in ("one rule", "another"))
    each = (unknown, *trial.checks.each[1:])
    told = tell_unanswered(trial.before.study, replace(trial, checks=replace(trial.checks, each=each)))
    assert told == ("prop force cannot be answered of L0-U1",)


def test_what_cannot_be_answered_of_any_member_is_told_once_with_why() -> None:
    trial = found().now
    unknown = replace(check("depth", NAN), refused=("no profile",))
    trial = replace(trial, checks=replace(trial.checks, each=tuple((unknown,) for _ in trial.checks.each)))
    study = trial.before.study
    assert tell_unanswered(study, trial) == ("depth cannot be answered of any member (no profile)",)
    assert tell_outcome(study, trial, as_now=True) == (
        "As it is, depth cannot be answered of any member; all others made here are met; "
        "joints are not among them."
    )


def test_who_cannot_be_answered_for_is_named_by_groups_only_where_all_of_them_are_meant() -> None:
    trial, names = found().now, [member.name for member in found().sizes.study.truss.members]
    study = trial.before.study

    def told(members: list[int]) -> str:
        each = tuple(
            (check("depth", NAN if place in members else 0.5),) for place in range(len(trial.checks.each))
        )
        (line,) = tell_unanswered(study, replace(trial, checks=replace(trial.checks, each=each)))
        return line

    bow = [place for place, member in enumerate(study.truss.members) if member.group.name == "bow"]
    assert told(bow) == "depth cannot be answered of any member of bow"
    assert told(bow[1:3]) == f"depth cannot be answered of {names[bow[1]]} and {names[bow[2]]}"


def test_where_a_train_brings_a_member_nothing_it_stands_at_every_position() -> None:
    trial = found("avocet_bridge").now
    names = [member.name for member in trial.before.study.truss.members]

    def place(member: str) -> str:
        own = next(one for one in trial.checks.each[names.index(member)] if one.direction >= 0)
        return tell_place(trial.before, TELLER, Rung(own, names.index(member)))

    # no axle on the deck reaches a post that only props the top chord; it does reach a hanger
    assert place("L2-U2").endswith(", at every position")
    assert ", front at " in place("L3-U3")


@pytest.mark.parametrize("ratio", [1.0001, 1.004, 1.00000002, 1.9999])
def test_what_is_over_its_limit_is_never_written_as_within_it(ratio: float) -> None:
    assert float(utilisation(ratio)) > 1


def test_what_is_over_its_limit_counts_before_what_is_not_known_and_that_before_what_is_met() -> None:
    met, over, unknown = (
        check("tension", 0.5),
        check("slenderness in tension", 1.5),
        check("compression", NAN),
    )
    assert use_of([met, unknown, over]) == (1.5, over)
    ratio, hardest = use_of([met, unknown])
    assert ratio != ratio and hardest is unknown
    assert use_of([met, check("depth", NAN)]) == (0.5, met)
    assert use_of([]) == (0.0, None) == use_of([check("tension", 0.0)])


def test_where_nothing_else_is_asked_what_cannot_be_answered_is_not_known_and_not_nothing() -> None:
    ratio, unknown = use_of([check("tension", 0.0), check("depth", NAN)])
    assert ratio != ratio and unknown is not None and unknown.key == "depth"


def test_checks_after_a_loss_count_only_where_the_study_asks_for_them() -> None:
    both = (check("tension", 0.5), replace(check("another's loss", 1.4), asked=False))
    assert asked_checks(both) == both[:1]
    assert asked_checks((both[0], check("another's loss", 1.4))) == (both[0], check("another's loss", 1.4))
