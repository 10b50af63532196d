"""Where a group is held against other rules with another section, where resistances were given."""

from __future__ import annotations

from collections.abc import Sequence

from explorer.wording.asked import begin
from explorer.wording.lighter_checks import shown_trial
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates

GIVEN = "given with the group"


def tell_rules(found: Candidates, one: Candidate) -> str:
    """Tell whose rules a group's tension and compression are held against now and then, where they change."""
    then = shown_trial(found)
    changed: dict[tuple[str, str], list[str]] = {}
    for key in ("tension", "compression"):
        now, after = (_rule(trial.groups[one.place], key) for trial in (found.now, then))
        if now is not None and after is not None and now != after:
            changed.setdefault((now, after), []).append(key)
    section = found.sizes.section(one.place, then.choice[one.place]).name
    told = [
        f"{' and '.join(keys)} now {_against(now)}, with {section} {_against(after)}"
        for (now, after), keys in changed.items()
    ]
    return f"{begin('; '.join(told))}." if told else ""


def _rule(checks: Sequence[Check], key: str) -> str | None:
    """Whose rule a check of a group is, None where it is not asked; members of a group share their rules."""
    return next((check.by for check in checks if check.key == key), None)


def _against(rule: str) -> str:
    if rule == GIVEN:
        return "against the resistances given"
    return f"by {rule}" if rule else "by no rule"
