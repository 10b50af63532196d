"""A run in a few words: what was worked through, what is zero, and what a reader must be told."""

from __future__ import annotations

from collections.abc import Iterator

from explorer.document import UnitSystem
from explorer.wording.checked import tell_checks, tell_left_out
from explorer.wording.lighter import QUESTION, tell_proven, tell_title
from explorer.wording.numbers import Teller, several
from solver.answers import Answers
from solver.sizing.candidates import Candidates

CAUTION = (
    "Stillbar is an aid to judgement. Local codes and a licensed engineer decide; "
    "a member that is zero here may be needed for what this study does not contain."
)


TRAIN_CAUTION = (
    "Loads of standards are given from memory and recomputed against their tables; the standard in force, "
    "its national values and a licensed engineer decide which of them apply, and with what factors."
)

WHICH_MOMENT = (
    "Beside a table of moments on simple spans: a chord force here is the moment at its panel point over its "
    "lever arm, axles and lane together at their worst position for that point; tables give the absolute "
    "maximum, that at midspan, or that at tenth points."
)


def describe_run(
    answers: Answers, units: UnitSystem, folder: str, candidates: Candidates | None = None
) -> str:
    """Return the closing lines of a run: what, where, how well it balances, notices, the caution."""
    study, statics = answers.study, answers.statics
    truss = study.truss
    still = [m.name for m, is_still in zip(truss.members, answers.forces.still, strict=True) if is_still]
    lines = [
        study.title,
        f"{len(truss.members)} members, {len(truss.joint_names)} joints, "
        f"static indeterminacy {statics.static_indeterminacy}; "
        f"{several(len(study.alone), 'load case', 'load cases')}, "
        f"{several(len(study.asked), 'combination', 'combinations')}; units: {units.name}",
        f"still (zero in every load case and combination): {', '.join(still) or 'none'}",
        f"members without which the truss is a mechanism: {int(answers.removals.mechanism.sum())} "
        f"of {len(truss.members)}",
        f"largest joint imbalance: {answers.imbalance:.1e} of the scale",
        *filter(None, [tell_checks(answers), tell_checks(answers) and tell_left_out(answers)]),
        *_tell_candidates(candidates, Teller(units)),
        *(f"notice: {notice}" for notice in answers.notices),
        f"tables written to {folder}",
        CAUTION,
    ]
    return "\n".join(lines)


def _tell_candidates(candidates: Candidates | None, teller: Teller) -> Iterator[str]:
    """Lighter sections in two lines: what was found and how far it was sought, and what it is."""
    if candidates is not None:
        yield f"lighter sections: {tell_title(candidates, teller)} {tell_proven(candidates)}".rstrip()
        yield QUESTION
