"""The peaks along the line of members that the chosen one belongs to: its group, where that is a line."""

from __future__ import annotations

from collections import Counter

from explorer.drawing.figures import Envelope, EnvelopeMember, draw_envelope
from explorer.markup import Markup
from explorer.wording.asked import Asked
from solver.truss import Truss

LEAST = 3
"""Fewer members in a row make no line to follow."""


def draw_line_of(asked: Asked) -> Markup:
    """Draw the envelope along the chosen member's group; nothing where its members are not in a row."""
    truss, forces = asked.answers.study.truss, asked.answers.forces
    group = truss.members[asked.member].group
    row = members_in_a_row(truss, [i for i, m in enumerate(truss.members) if m.group is group])
    if len(row) < LEAST:
        return Markup("")
    place, members = 0.0, []
    for member in row:
        end = place + float(truss.lengths[member])
        tension, compression = (float(side.values[member]) for side in (forces.tension, forces.compression))
        name, chosen = truss.members[member].name, member == asked.member
        members.append(EnvelopeMember(name, place, end, tension, compression, chosen))
        place = end
    return draw_envelope(Envelope(f"Peaks along {group.name}", tuple(members), asked.teller.member_force))


def members_in_a_row(truss: Truss, members: list[int]) -> list[int]:
    """Return members in the order of the one line that they make, from the left; none if none."""
    met = Counter(joint for member in members for joint in truss.ends[member].tolist())
    ends = [joint for joint, count in met.items() if count == 1]
    if len(ends) != 2 or any(count > 2 for count in met.values()):
        return []
    x = truss.joint_coordinates
    at = min(ends, key=lambda joint: tuple(x[joint]))
    row: list[int] = []
    left = set(members)
    while left:
        following = next((m for m in left if at in truss.ends[m]), None)
        if following is None:
            return []
        row.append(following)
        left.remove(following)
        first, second = truss.ends[following].tolist()
        at = second if at == first else first
    return row
