"""Trains in words: what travels, what stands where, and what a lane is."""

from __future__ import annotations

from math import isinf

from explorer.wording.numbers import NO_BREAK, Teller
from solver.crossings import Crossing
from solver.placement import Placed
from solver.trains import Train

MOST_AXLES = 4


def tell_crossing(crossing: Crossing, number: int, teller: Teller) -> str:
    """Tell what a train of a crossing brings, and the factors by which it counts."""
    train = crossing.trains[number]
    told = f"{called(crossing, number)} of {tell_train(train, teller)}"
    factors = []
    if train.travels and abs(crossing.moving_factor - 1) > 1e-12:
        factors.append(f"times {_product(crossing.factor, crossing.impact)}")
    same = train.travels and crossing.lane_factor == crossing.moving_factor
    if train.lane and not same and abs(crossing.lane_factor - 1) > 1e-12:
        factors.append(f"the lane times {_product(crossing.factor, crossing.lane_impact)}")
    return ", ".join([told, *factors])


def _product(share: float, impact: float) -> str:
    """A share on this truss and an impact as they multiply.

    >>> _product(0.605, 0.03), _product(1.0, 0.33), _product(0.5, 0.0)
    ('0.605 × 1.03 (share and impact)', '1.33 (impact)', '0.5 (its share on this truss)')
    """
    if not impact:
        return f"{share:.4g} (its share on this truss)"
    if share == 1:
        return f"{1 + impact:.4g} (impact)"
    return f"{share:.4g} × {1 + impact:.4g} (share and impact)"


def called(crossing: Crossing, number: int) -> str:
    """The name of a train as words; of a set that of the set and the train's own."""
    own, of_set = train_name(crossing.trains[number].name), train_name(crossing.called)
    return own if own == of_set or not of_set else f"{of_set}: {own}"


def train_name(name: str) -> str:
    """Write a train's name as words; one with a figure in it is a designation, and in capitals.

    >>> train_name("hs20_truck"), train_name("lm71"), train_name("cooper_e80"), train_name("lorry")
    ('HS20 truck', 'LM71', 'cooper E80', 'lorry')
    """
    parts = name.replace("_", " ").split(" ")
    return " ".join(p.upper() if any(c.isdigit() for c in p) and p[:1].isalpha() else p for p in parts)


def name_placed(one: Placed, teller: Teller) -> str:
    """Name a load that stands on a chord: an axle with its place, a strip or a lane with its stretch."""
    second = " of the second train" if one.second else ""
    if one.kind == "axle":
        return f"the axle of {teller.force(one.load)} at {teller.position(one.start)}{second}"
    what = "lane" if one.kind == "lane" else "strip"
    stretch = f"{teller.position(one.start)} to {teller.position(one.end)}"
    return f"the {what} of {teller.tell('line_load', abs(one.load))} from {stretch}{second}"


def tell_train(train: Train, teller: Teller) -> str:
    """Tell a train's loads: axles, strips, lane, and whether a second train follows."""
    parts = []
    if train.axles:
        axles = [f"{teller.value('force', axle.load):.4g}" for axle in train.axles]
        shown = ", ".join(axles[:MOST_AXLES])
        more = f" … ({len(axles)} axles)" if len(axles) > MOST_AXLES else ""
        parts.append(f"{shown}{more}{NO_BREAK}{teller.units.label('force')}")
    for strip in train.strips:
        load = teller.tell("line_load", strip.load)
        length = "without end" if isinf(strip.end) else f"on {teller.position(strip.end - strip.start)}"
        parts.append(f"{load} {length}")
    if train.lane:
        parts.append(f"a lane of {teller.tell('line_load', train.lane.load)} where it is adverse")
    told = " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else parts[0]
    return f"{told}, and a second behind it" if train.second else told
