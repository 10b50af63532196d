"""Question 3: why is it zero? Or, where it is not: which load does it answer?"""

from __future__ import annotations

from explorer.wording.asked import Asked, Told, begin, words
from explorer.wording.numbers import listed
from solver.reasons import joint_rule
from solver.reasons.joint_rule import Finding
from solver.state import Part

NO_LOAD = "No load stands on {joint}"
SENTENCES = {
    joint_rule.ONLY_MEMBER: f"{NO_LOAD}, and no other member there works: nothing could answer {{member}}.",
    joint_rule.TWO_MEMBERS: (
        f"{NO_LOAD}, where two members meet that are not in line: neither can answer the other."
    ),
    joint_rule.THREE_MEMBERS: (
        f"{NO_LOAD}, and the other two members there lie in one line: across it {{member}} is alone."
    ),
    joint_rule.OTHERS_IN_LINE: (
        f"{NO_LOAD}, and all other members there lie in one line: across it {{member}} is alone."
    ),
    joint_rule.OTHERS_IN_PLANE: (
        f"{NO_LOAD}, and all other members there lie in one plane: out of it {{member}} is alone."
    ),
    joint_rule.LOAD_IN_LINE: (
        "The load on {joint} lies in line with the others there: across that line {member} is alone."
    ),
    joint_rule.LOAD_IN_PLANE: (
        "The load on {joint} lies in one plane with the others there: out of it {member} is alone."
    ),
    joint_rule.SUPPORT: (
        "The support at {joint} acts along a known line and stands in for a member: "
        "across what else is there {member} is alone."
    ),
}
UNTOUCHED = (
    "No load that acts now puts any force into it; no single joint shows it, "
    "the balance of the whole truss does."
)
CANCELS = (
    "No single joint shows it: what the loads put into it cancels, or the balance of the whole truss decides."
)


def tell_why_zero(asked: Asked) -> Told:
    """Tell the joint that shows the member to be zero, or what its force comes from."""
    finding = find(asked)
    if finding:
        return _tell_finding(asked, finding)
    return _tell_zero(asked) if not asked.force else _tell_force(asked)


def find(asked: Asked) -> Finding | None:
    """What joint inspection says of the member in this state, if anything."""
    return next((f for f in asked.findings if f.member == asked.member), None)


def _tell_finding(asked: Asked, finding: Finding) -> Told:
    joint = asked.joint(finding.joint)
    sentences = [SENTENCES[finding.rule].format(joint=joint, member=asked.name)]
    if finding.because:
        earlier = listed(asked.member_names(finding.because))
        sentences.append(f"It rests on earlier zeros at {joint}: {earlier}.")
    rows = [("step", "joint", "member", "rule"), *_chain(asked, finding)]
    unloaded = finding.rule not in (joint_rule.LOAD_IN_LINE, joint_rule.LOAD_IN_PLANE, joint_rule.SUPPORT)
    answer = f"{joint} has no load" if unloaded else f"{joint} decides"
    return Told(answer, tuple(sentences), "", f"the proof, step {finding.step}", tuple(rows))


def _chain(asked: Asked, finding: Finding) -> list[tuple[str, ...]]:
    """The finding with all that it rests on, first things first."""
    by_member = {f.member: f for f in asked.findings}
    needed, waiting = {finding.member}, [finding]
    while waiting:
        for member in waiting.pop().because:
            if member not in needed:
                needed.add(member)
                waiting.append(by_member[member])
    chain = [f for f in asked.findings if f.member in needed]
    return [(str(f.step), asked.joint(f.joint), asked.member_names((f.member,))[0], f.rule) for f in chain]


def _tell_zero(asked: Asked) -> Told:
    rows = _part_rows(asked)
    touched = any(float(part.forces[asked.member]) for part in asked.state.parts)
    sentence = CANCELS if touched else UNTOUCHED
    return Told("Not by one joint", (sentence,), "", "what each load puts into it", rows)


def _tell_force(asked: Asked) -> Told:
    force = asked.force
    parts = [part for part in asked.state.parts if float(part.forces[asked.member]) * force > 0]
    main = max(parts, key=lambda part: abs(float(part.forces[asked.member])))
    share = asked.teller.member_force(float(main.forces[asked.member]))
    told = asked.teller.member_force(force)
    source = name_part(asked, main)
    sentence = (
        f"It is not zero now: {told}, all of it from {source}."
        if len(asked.state.parts) == 1
        else f"It is not zero now: {told}, most of it ({share}) from {source}."
    )
    crossing = asked.answers.study.crossings.get(asked.combination.crossing or "")
    answer = begin(words(main.case)) if main.case else f"The {words(crossing.train.name if crossing else '')}"
    rows = _part_rows(asked)
    return Told(answer, (sentence,), "", "what each load puts into it", rows, "What does it answer?")


def name_part(asked: Asked, part: Part) -> str:
    """Name a load that acts: a case with its factor, or an axle with its place."""
    if part.case is not None:
        factor = "" if part.factor == 1 else f"{part.factor:g} × "
        return f"{factor}{words(part.case)}"
    return f"the axle of {asked.teller.force(part.load)} at {asked.teller.position(part.position)}"


def _part_rows(asked: Asked) -> tuple[tuple[str, ...], ...]:
    rows = [
        (name_part(asked, part), asked.teller.member_force(_tidy(asked, part))) for part in asked.state.parts
    ]
    return (("load", "force in it"), *rows, ("together", asked.teller.member_force(asked.force)))


def _tidy(asked: Asked, part: Part) -> float:
    force = float(part.forces[asked.member])
    return 0.0 if abs(force) <= asked.band else force
