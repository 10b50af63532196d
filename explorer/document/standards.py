"""The standard by which a study's resistances are worked out, its factors, and recommended slenderness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from explorer.document.values import Values, join, show
from solver.combining import Combination
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.en_1993_1_1 import IMPERFECTION, En1993
from solver.resistance.plain import Plain
from solver.resistance.slenderness import AASHTO, AISC_360, AREMA, IS_800, Recommendation
from solver.resistance.standard import Standard

EN, PLAIN, LRFD, ASD = "EN 1993-1-1", "plain", "AISC 360-22 LRFD", "AISC 360-22 ASD"
STRENGTHS = (LRFD, ASD, EN, PLAIN)
SAFETIES = ("gamma_M0", "gamma_M1", "gamma_M2")
SHARES = ("stress_share", "euler_share")
BELONGS = MappingProxyType(dict.fromkeys((*SAFETIES, "curve"), EN) | dict.fromkeys(SHARES, PLAIN))
"""The standard to which each factor belongs."""

CODES: Mapping[str, tuple[Recommendation, ...]] = MappingProxyType(
    {"AISC 360-22": AISC_360, "AASHTO LRFD": AASHTO, "AREMA": AREMA, "IS 800:2007": IS_800}
)
"""Recommended slenderness by the code's name in a study."""

Chosen = tuple[Standard | None, tuple[Recommendation, ...]]


def read_standards(values: Values, raw: object) -> Chosen:
    """Read the standard and the recommendations; None and empty where there are none."""
    read = None if raw is None else values.table(raw, "standards", "standards")
    if read is None or not isinstance(raw, dict):
        return None, ()
    strength = values.choice(read["strength"], "standards.strength", STRENGTHS)
    curve = values.choice(read["curve"], "standards.curve", tuple(IMPERFECTION))
    doubtful = "strength" in raw and strength not in STRENGTHS
    for key in () if doubtful else BELONGS:
        if key in raw and strength != BELONGS[key]:
            chosen = f"not to {strength}" if strength else "and no strength is chosen"
            right = f'leave it out, or write strength = "{BELONGS[key]}"'
            values.faults.add(join("standards", key), f"belongs to {BELONGS[key]}, {chosen}", right)
    _note_shares(values, read)
    recommendations = _recommendations(values, read["slenderness"] or ())
    return _standard(strength, read, curve), recommendations


def _standard(strength: str | None, read: dict[str, Any], curve: str | None) -> Standard | None:
    """The standard; a factor with a fault, told already, counts as 1."""
    numbers = {key: float(read[key] or 1) for key in (*SAFETIES, *SHARES)}
    match strength:
        case "AISC 360-22 LRFD":
            return Aisc360("LRFD")
        case "AISC 360-22 ASD":
            return Aisc360("ASD")
        case "EN 1993-1-1":
            first, second, third = (numbers[key] for key in SAFETIES)
            return En1993(first, second, third, curve)
        case "plain":
            return Plain(*(numbers[key] for key in SHARES))
        case _:
            return None


def _note_shares(values: Values, read: dict[str, Any]) -> None:
    """Note a share above 1: neither yielding nor Euler's load can be exceeded."""
    for key in SHARES:
        if read[key] is not None and read[key] > 1:
            wrong = f"{float(read[key]):g} is more than 1"
            values.faults.add(join("standards", key), wrong, "write a share above 0, at most 1")


def _recommendations(values: Values, codes: Sequence[str]) -> tuple[Recommendation, ...]:
    found: list[Recommendation] = []
    for i, code in enumerate(codes):
        here = f"standards.slenderness[{i}]"
        if code in codes[:i]:
            values.faults.add(here, f"{show(code)} stands twice", "write it once")
        elif values.choice(code, here, tuple(CODES)) in CODES:
            found += CODES[code]
    return tuple(found)


def note_standard(standard: Standard | None, combinations: Sequence[Combination]) -> tuple[str, ...]:
    """Return notices on what a standard's strengths are compared with, and of factors that raise them."""
    if isinstance(standard, Aisc360) and standard.method == "ASD":
        return (
            f"{standard.name}: allowable strengths are compared with the combinations as written, which must "
            "be those at service level",
        )
    if not isinstance(standard, Aisc360 | En1993):
        return ()
    return (*_note_purposes(standard.name, combinations), *_note_low(standard))


def _note_purposes(name: str, combinations: Sequence[Combination]) -> tuple[str, ...]:
    """Design strengths want combinations with factors; say so where none is told to be one."""
    purposes = {combination.purpose for combination in combinations}
    if "strength" in purposes:
        return _note_factors(name, combinations)
    if not combinations:
        what = "without [combinations] each load case alone, without a factor, is compared with them"
    elif "both" in purposes:
        what = 'no combination is for = "strength": those without `for` are compared with them as written'
    else:
        what = "no combination is for strength, so that no member is compared with them"
    return (f"{name}: design strengths want combinations with load factors; {what}",)


def _note_factors(name: str, combinations: Sequence[Combination]) -> tuple[str, ...]:
    """Tell of combinations for strength of which none has a factor above 1."""
    asked = [combination for combination in combinations if combination.counts_for("strength")]
    factors = [
        factor
        for combination in asked
        for factor in (*combination.cases.values(), *combination.lanes.values(), combination.crossing_factor)
    ]
    if any(factor > 1 for factor in factors):
        return ()
    return (
        f"{name}: design strengths want combinations with load factors; none for strength has one above 1",
    )


def _note_low(standard: Standard) -> tuple[str, ...]:
    if not isinstance(standard, En1993):
        return ()
    factors = zip(SAFETIES, (standard.gamma_m0, standard.gamma_m1, standard.gamma_m2), strict=True)
    low = [(key, value) for key, value in factors if value < 1]
    return tuple(f"standards: {key} = {value:g} is below 1 and raises resistances" for key, value in low)
