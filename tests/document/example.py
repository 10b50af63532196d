"""A small good study that every test of faults edits in one place."""

from __future__ import annotations

GOOD = """\
title = "Teal Ford footbridge"
units = "metric"
zero_limit = 0

[joints]
L0 = [0, 0]
L1 = [4, 0]
L2 = [8, 0]
U1 = [4, 3]

[supports]
L0 = "xy"
L2 = "y"

[materials.steel]
E = 210_000
fy = 355
fu = 490
unit_weight = 77
expansion = 12e-6

[sections.tube]
area = 1500
I = 2.2e6
r = 38.3

[groups.bottom]
along = ["L0", "L1", "L2"]
section = "tube"
material = "steel"
tension = 300
compression = 120

[groups.rest]
members = ["L0-U1", "U1-L2", "L1-U1"]
section = "tube"
material = "steel"
duties = ["carries the handrail"]

[pieces.bottom]
joints = ["L0", "L1", "L2"]
lateral_props = ["L0", "L2"]

[chords.deck]
joints = ["L0", "L1", "L2"]

[cases.dead]
self_weight = 1.0
joints = { U1 = [0, -5] }
lines = [{ chord = "deck", load = [0, -3], per = "plan" }]
counts = 2

[cases.wind]
lines = [{ chord = "deck", normal = 1.2, from = 1.0, to = 6.5 }]

[cases.frost]
temperature = { bottom = -20 }
settlement = { L2 = [0, -10] }
misfit = { "U1-L1" = 3 }

[trains.cart]
axles = [[0, 10], [2.5, 15]]

[crossings.deck_cart]
train = "cart"
chord = "deck"
directions = "both"
factor = 0.5
impact = 0.3
counts = 1

[combinations.strength]
dead = 1.35
deck_cart = 1.5
"""


def edited(*changes: tuple[str, str], text: str = GOOD) -> str:
    """Return the good study with each old text replaced by its new one, exactly once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text
