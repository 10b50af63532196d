"""Faults of the standard chosen and of limits.

Each is the fact, the edit that makes it, the key path it is told at, and words of its message.
"""

from __future__ import annotations

STRENGTH = "[combinations.strength]"


def standards(keys: str) -> tuple[str, str]:
    """Standards before the combinations of the example."""
    return STRENGTH, f"[standards]\n{keys}\n{STRENGTH}"


def limits(keys: str) -> tuple[str, str]:
    """Limits before the combinations of the example."""
    return STRENGTH, f"[limits]\n{keys}\n{STRENGTH}"


RULE_FAULTS = [
    (
        "an unknown standard",
        standards('strength = "AISC 360-22"'),
        "standards.strength",
        "there are AISC 360-22 LRFD, AISC 360-22 ASD, EN 1993-1-1, plain",
    ),
    ("a standard of no text", standards("strength = 360"), "standards.strength", "where a text belongs"),
    (
        "standards in no table",
        ("zero_limit = 0", 'zero_limit = 0\nstandards = "plain"'),
        "standards",
        "where a table belongs",
    ),
    ("an unknown key", standards('strenght = "plain"'), "standards.strenght", "did you mean strength?"),
    (
        "a partial factor of another standard",
        standards('strength = "AISC 360-22 LRFD"\ngamma_M1 = 1.1'),
        "standards.gamma_M1",
        "belongs to EN 1993-1-1, not to AISC 360-22 LRFD",
    ),
    (
        "a curve of another standard",
        standards('strength = "plain"\ncurve = "c"'),
        "standards.curve",
        "belongs to EN 1993-1-1, not to plain",
    ),
    (
        "a share of another standard",
        standards('strength = "EN 1993-1-1"\nstress_share = 0.6'),
        "standards.stress_share",
        "belongs to plain",
    ),
    (
        "a factor of no standard",
        standards("gamma_M0 = 1.1"),
        "standards.gamma_M0",
        "no strength is chosen",
    ),
    (
        "a partial factor of 0",
        standards('strength = "EN 1993-1-1"\ngamma_M2 = 0'),
        "standards.gamma_M2",
        "is 0",
    ),
    (
        "an unknown buckling curve",
        standards('strength = "EN 1993-1-1"\ncurve = "e"'),
        "standards.curve",
        "write one of a0, a, b, c, d",
    ),
    (
        "more than the yield strength",
        standards('strength = "plain"\nstress_share = 1.1'),
        "standards.stress_share",
        "1.1 is more than 1",
    ),
    (
        "more than Euler's load",
        standards('strength = "plain"\neuler_share = 2'),
        "standards.euler_share",
        "2 is more than 1",
    ),
    (
        "a code without a recommendation",
        standards('slenderness = ["EN 1993-1-1"]'),
        "standards.slenderness[0]",
        "none of the choices",
    ),
    (
        "a code named twice",
        standards('slenderness = ["AREMA", "IS 800:2007", "AREMA"]'),
        "standards.slenderness[2]",
        "stands twice",
    ),
    ("a code in no list", standards('slenderness = "AREMA"'), "standards.slenderness", "a list belongs"),
    ("a limit of deflection of 0", limits("deflection = 0"), "limits.deflection", "is 0"),
    ("deflections in no table", limits("deflections = 20"), "limits.deflections", "a table by joint belongs"),
    (
        "a limit of a joint that is not there",
        limits("deflections = { L9 = 20 }"),
        "limits.deflections.L9",
        "no joint 'L9'",
    ),
    (
        "a negative limit of a joint",
        limits("deflections = { L1 = -20 }"),
        "limits.deflections.L1",
        "negative",
    ),
    ("a length to depth of 0", limits("length_to_depth = 0"), "limits.length_to_depth", "is 0"),
    (
        "a negative slenderness in compression",
        limits("slenderness_compression = -200"),
        "limits.slenderness_compression",
        "negative",
    ),
    (
        "a slenderness in tension in words",
        limits('slenderness_tension = "300"'),
        "limits.slenderness_tension",
        "where a number belongs",
    ),
    ("after a loss in numbers", limits("after_loss = 1"), "limits.after_loss", "where true or false belongs"),
    ("an unknown limit", limits("deflexion = 20"), "limits.deflexion", "did you mean deflection"),
]
