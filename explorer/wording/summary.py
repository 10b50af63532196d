"""A run in a few words: what was worked through, what is zero, and what a reader must be told."""

from __future__ import annotations

from explorer.document import UnitSystem
from solver.answers import Answers

CAUTION = (
    "Stillbar is an aid to judgement. Local codes and a licensed engineer decide; "
    "a member that is zero here may be needed for what this study does not contain."
)


def describe_run(answers: Answers, units: UnitSystem, folder: str) -> str:
    """Return the closing lines of a run: what, where, how well it balances, notices, the caution."""
    study, statics = answers.study, answers.statics
    truss = study.truss
    still = [m.name for m, is_still in zip(truss.members, answers.forces.still, strict=True) if is_still]
    lines = [
        study.title,
        f"{len(truss.members)} members, {len(truss.joint_names)} joints, "
        f"static indeterminacy {statics.static_indeterminacy}; "
        f"{len(study.alone)} load cases, {len(study.asked)} combinations; units: {units.name}",
        f"still (zero in every load case and combination): {', '.join(still) or 'none'}",
        f"mechanism without it: {int(answers.removals.mechanism.sum())} of {len(truss.members)} members",
        f"largest joint imbalance: {answers.imbalance:.1e} of the scale",
        *(f"notice: {notice}" for notice in answers.notices),
        f"tables written to {folder}",
        CAUTION,
    ]
    return "\n".join(lines)


def describe_members(answers: Answers, units: UnitSystem) -> str:
    """Return a readable list of members: zero share, peaks, whether the truss needs it to stand."""
    forces = answers.forces
    unit = units.label("force")
    head = f"{'member':<12}{'zero share':>11}{'tension':>12}{'compression':>13}   without it"
    lines = [head, f"{'':<12}{'':>11}{unit:>12}{unit:>13}"]
    tension = units.from_si("force", forces.tension.values)
    compression = units.from_si("force", forces.compression.values)
    for index, member in enumerate(answers.study.truss.members):
        fate = "a mechanism" if answers.removals.mechanism[index] else "stands; strength not checked"
        lines.append(
            f"{member.name:<12}{forces.zero_share[index]:>11.1%}"
            f"{tension[index]:>12.4g}{compression[index]:>13.4g}   {fate}"
        )
    note = "zero share: mean over the load cases, each alone; peaks: over the combinations, tension positive"
    return "\n".join([*lines, note])
