"""The table of candidates: of each group what it is, what it could be, what governs then, what stops it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from explorer.document import UnitSystem
from explorer.tables.context import Context
from explorer.tables.table import Cell, Table
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates, Rung
from solver.study import Study

CANDIDATES_HEADER = (
    "group", "members", "state", "now", "lighter", "weight_now", "weight_lighter", "saving",
    "fails_now", "fails_by", "fails_member", "fails_utilisation",
    "governs", "governs_by", "governs_member", "utilisation",
    "next_lighter", "stopped_by", "stopped_member", "stopped_utilisation",
    "idle_props", "joint", "proven", "lacks", "lacks_member", "lacks_utilisation", "passed_over", "unchecked",
)  # fmt: skip
NOT_CHECKED, NOT_KNOWN = "not checked", "not known: "
WHOLE = "the whole truss"
Told = tuple[Cell, Cell, Cell, Cell]
"""Of a check which it is, whose rule, of which member, and its utilisation."""


def candidates_table(context: Context, candidates: Candidates | None) -> Table:
    """One row a group that names a family, most saving first; none without candidates."""
    each = candidates.each if candidates else ()
    rows = [_candidate(candidates, context.units, one) for one in each if candidates]
    return Table("candidates", CANDIDATES_HEADER, tuple(rows))


def _candidate(candidates: Candidates, units: UnitSystem, one: Candidate) -> tuple[Cell, ...]:
    study = candidates.sizes.study
    members = study.truss.members
    stops, lacks = _rung(study, one.stops), _rung(study, one.lacks or _of_the_whole(candidates))
    return (
        candidates.sizes.groups[one.place].name,
        len(one.members),
        one.state,
        one.now.name,
        one.then.name if one.then else "",
        *_weights(candidates, units, one),
        *_rung(study, one.fails or _unknown(candidates, one)),
        *_rung(study, one.governs),
        one.below.name if one.below else "",
        stops[0], *stops[2:],
        " ".join(members[member].name for member in one.idle),
        NOT_CHECKED,
        "yes" if candidates.proven else "no",
        lacks[0], *lacks[2:],
        "; ".join(passed.section.name for passed in one.passed_over),
        "; ".join(_unchecked(candidates, one)),
    )  # fmt: skip


def _weights(candidates: Candidates, units: UnitSystem, one: Candidate) -> Sequence[Cell]:
    """Weight now and then, and the saving; what is not known or not found is left empty."""
    if not candidates.sizes.weighed:
        return ("", "", "")
    now, then = (float(value) for value in units.from_si("force", np.array(one.weights)))
    return (now, then, now - then) if one.then else (now, "", "")


def _unknown(candidates: Candidates, one: Candidate) -> Rung | None:
    """A check of a group that cannot be answered as it is now."""
    rungs = (Rung(check, member) for member in one.members for check in candidates.now.checks.each[member])
    return next((rung for rung in rungs if rung.check.asked and np.isnan(rung.check.utilisation)), None)


def _of_the_whole(candidates: Candidates) -> Rung | None:
    """Where nothing holds, the hardest check of the whole truss that the nearest choice does not meet."""
    checks: Sequence[Check] = candidates.nearest.checks.whole if candidates.nearest else ()
    broken = [check for check in checks if not check.holds]
    hardest = max(broken, key=lambda check: check.utilisation, default=None)
    return None if hardest is None else Rung(hardest, -1)


def _unchecked(candidates: Candidates, one: Candidate) -> Sequence[str]:
    """What the checks of a group leave out, with the sections found, of the nearest choice, or as it is."""
    trial = candidates.then or candidates.nearest or candidates.now
    return tuple(dict.fromkeys(text for check in trial.groups[one.place] for text in check.unchecked))


def _rung(study: Study, rung: Rung | None) -> Told:
    if rung is None:
        return "", "", "", ""
    check = rung.check
    name = study.truss.members[rung.member].name if rung.member >= 0 else WHOLE
    if np.isnan(check.utilisation):
        return f"{NOT_KNOWN}{check.key}", check.by, name, ""
    return check.key, check.by, name, check.utilisation
