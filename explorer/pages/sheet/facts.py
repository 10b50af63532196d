"""What a calculation sheet says of the member itself: its making, its lengths, what is asked of it."""

from __future__ import annotations

from collections.abc import Iterator

from explorer.wording.asked import Asked, begin, words
from explorer.wording.checks import tell_amount, tell_place
from explorer.wording.numbers import listed, trimmed
from explorer.wording.steps import tell_quantity
from solver.lengths import Unbraced
from solver.resistance.bar import Bar
from solver.resistance.directions import plain_radius
from solver.resistance.pairs import is_pair
from solver.resistance.steps import Quantity
from solver.truss import Fixing

Pair = tuple[str, str]
CONNECTORS: dict[Fixing, str] = {
    "snug": "bolted snug-tight",
    "welded": "welded, or bolted with pretension",
}
NONE = "none in the combinations for strength"
NOT_SAID = "not checked: the study does not say what holds it there"


def list_facts(asked: Asked) -> list[Pair]:
    """List member, group, section, material, connection and lengths, name by value."""
    resisting = asked.answers.losses.before.resisting
    group = asked.answers.study.truss.members[asked.member].group
    bar, unbraced = resisting.bars[asked.member], resisting.unbraced[asked.member]
    duties = [("declared duties", "; ".join(group.duties))] if group.duties else []
    return [
        ("member", f"{asked.name}, group {words(group.name)}"),
        ("section", _section(asked, bar)),
        ("material", _material(asked, bar)),
        *_connection(asked, bar),
        ("length", asked.teller.length(bar.length)),
        ("buckling in plane", _in_plane(asked, bar, unbraced)),
        ("buckling out of plane", _across(asked, bar, unbraced)),
        *duties,
    ]


def list_demands(asked: Asked) -> list[tuple[str, str, str]]:
    """List peak tension and compression over the combinations for strength, each with where it occurs."""
    rows = []
    for check in asked.checks:
        if check.key in ("tension", "compression"):
            told = tell_amount(asked, check, check.demand) if check.demand else NONE
            rows.append((begin(check.key), told, tell_place(asked, check).strip()))
    return rows


def list_combinations(asked: Asked) -> list[tuple[str, str, str, str]]:
    """List each combination: what it is for, and the forces nearest to tension and to compression."""
    answers = asked.answers
    own = answers.losses.before.of("forces")
    band = 1e-12 * answers.forces.asked_scales
    rows = []
    for column, load in enumerate(answers.study.asked):
        purposes = [purpose for purpose in ("strength", "service") if load.counts_for(purpose)]
        ends = (float(own.largest[asked.member, column]), float(own.smallest[asked.member, column]))
        told = [asked.teller.member_force(end if abs(end) > band[column] else 0.0) for end in ends]
        rows.append((words(load.name), " and ".join(purposes), *told))
    return [(name, purpose, high, low) for name, purpose, high, low in rows]


def _quantities(asked: Asked, quantities: list[Quantity | None]) -> str:
    return ", ".join(tell_quantity(one, asked.teller) for one in quantities if one is not None)


def _some(symbol: str, value: float | None, kind: str) -> Quantity | None:
    return None if value is None else Quantity(symbol, value, kind)  # type: ignore[arg-type]


def _section(asked: Asked, bar: Bar) -> str:
    section, profile = bar.section, bar.profile
    area = Quantity("A", section.area, "area")
    if profile is None:
        rest = [_some("I", section.second_moment, "second_moment"), _some("r", plain_radius(bar), "radius")]
        return f"{section.name}: {_quantities(asked, [area, *rest])}; no profile"
    sizes = [
        Quantity("depth in plane", profile.depth, "radius"),
        Quantity("width", profile.width, "radius"),
        Quantity("thickness", profile.thickness, "radius"),
        Quantity("r in plane", profile.radius, "radius"),
        Quantity("r out of plane", profile.radius_across, "radius"),
        Quantity("least r", profile.least_radius, "radius"),
    ]
    return f"{section.name} ({profile.table}, {profile.making}): {_quantities(asked, [area, *sizes])}"


def _material(asked: Asked, bar: Bar) -> str:
    material = bar.material
    strengths = [
        _some("f_y", material.yield_strength, "stress"),
        _some("f_u", material.ultimate_strength, "stress"),
    ]
    told = _quantities(asked, [Quantity("E", material.elastic_modulus, "stress"), *strengths])
    return f"{material.name}: {told}"


def _connection(asked: Asked, bar: Bar) -> Iterator[Pair]:
    given = [_some("net area", bar.net_area, "area"), _some("shear lag", bar.shear_lag, "none")]
    told = _quantities(asked, given)
    if bar.single_angle:
        by = bar.joined_by if bar.joined_by in ("one leg", "both legs") else f"the {bar.joined_by}"
        told = f"by {by}{', ' if told else ''}{told}"
    if told:
        yield "connection", told
    if is_pair(bar):
        yield "connectors", _connectors(asked, bar)


def _connectors(asked: Asked, bar: Bar) -> str:
    """What joins two angles back to back between their ends, as the study has it."""
    if bar.connector_spacing is None:
        return "not given"
    every = asked.teller.length(bar.connector_spacing)
    return f"{CONNECTORS[bar.connector_fixing]}, {every} apart"


def _factor(length: float, of: float) -> str:
    """By what a buckling length differs from the unbraced one, where it does."""
    ratio = length / of
    return "" if abs(ratio - 1) < 1e-9 else f" ({trimmed(f'{ratio:.3f}')} times the unbraced length)"


def _in_plane(asked: Asked, bar: Bar, unbraced: Unbraced) -> str:
    member = asked.answers.study.truss.members[asked.member]
    joints = zip((member.first, member.second), unbraced.holders, strict=True)
    ends = [f"{asked.joint(joint)} held by {_holders(asked, joint, holders)}" for joint, holders in joints]
    told = asked.teller.length(bar.in_plane)
    return f"{told}{_factor(bar.in_plane, unbraced.in_plane)}, between its joints: {'; '.join(ends)}"


def _holders(asked: Asked, joint: int, holders: tuple[int, ...]) -> str:
    if holders:
        return listed(asked.member_names(holders), 12)
    held = any(support.joint == joint for support in asked.answers.study.truss.supports)
    return "its support" if held else "nothing across it"


def _across(asked: Asked, bar: Bar, unbraced: Unbraced) -> str:
    if bar.across is None or unbraced.across is None:
        return NOT_SAID
    told = f"{asked.teller.length(bar.across)}{_factor(bar.across, unbraced.across)}"
    if bar.space:
        return f"{told}, between its joints"
    props = unbraced.piece.lateral_props if unbraced.piece else None
    if not unbraced.piece or not props:
        return f"{told}, between its joints, both held by lateral props of the study"
    names = listed([asked.joint(joint) for joint in props], 12)
    return f"{told}, between the lateral props of the piece {words(unbraced.piece.name)} (at {names})"
