"""It holds a compressed joint in place."""

from __future__ import annotations

from solver.losses.mechanisms import forces_under
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member without which compression carries joints away that no load pushes but own weight.

    The number is the largest compression in a bar that it holds [N].
    """
    mechanism = evidence.losses.each[member].mechanism
    if mechanism is None or mechanism.pushed or not mechanism.carried_away:
        return None
    truss = evidence.study.truss
    joints = evidence.removals.moves[member]
    held = sorted({bar for joint in joints for bar in truss.members_at[joint] if bar != member})
    # Told of one state throughout: the one in which compression carries most away.
    under = mechanism.carried_away
    forces = forces_under(evidence.losses.before, under)
    most = min(held, key=lambda bar: float(forces[bar]))
    return Ground("prop", float(forces[most]), under.column, under.standing, (most,), joints)
