"""Question 5: what stops it being lighter? So far: what is known, and plainly what is missing."""

from __future__ import annotations

from explorer.wording.asked import Asked, Told

CAUTION = "A question, not a proposal: local codes and a licensed engineer decide."


def tell_what_stops(asked: Asked) -> Told:
    """Tell which limits the study gives, and which are not worked out."""
    group = asked.answers.study.truss.members[asked.member].group
    forces = asked.answers.forces
    given = []
    if group.tension is not None:
        given.append(f"tension {asked.teller.force(group.tension)}")
    if group.compression is not None:
        given.append(f"compression {asked.teller.force(group.compression)}")
    known = (
        f"The study gives resistances: {', '.join(given)}."
        if given
        else "The study gives no resistances for it."
    )
    missing = ["slenderness", "duty as a prop", "deflection", "the loss of another", "its joints"]
    lacking = [
        sign
        for sign, value, peak in (
            ("in tension", group.tension, forces.tension.values[asked.member]),
            ("in compression", group.compression, forces.compression.values[asked.member]),
        )
        if value is None and peak > 0
    ]
    if lacking:
        missing.insert(0, f"a resistance {' and '.join(lacking)}")
    sentence = f"Not worked out in this version. Missing for an answer: {', '.join(missing)}."
    rows = tuple(list_limits(asked))
    return Told("Not answered yet", (sentence, known), CAUTION, "every limit", rows)


def list_limits(asked: Asked) -> list[tuple[str, str]]:
    """List every limit with what is known of it."""
    group = asked.answers.study.truss.members[asked.member].group
    return [
        ("tension", asked.teller.force(group.tension) if group.tension is not None else "none given"),
        (
            "compression",
            asked.teller.force(group.compression) if group.compression is not None else "none given",
        ),
        ("slenderness", "not checked"),
        ("duty as a prop", "not checked"),
        ("deflection", "not checked"),
        ("another's loss", "not checked"),
        (f"joints {asked.name.replace('-', ', ')}", "not checked"),
    ]
