"""Faults of chords, pieces, loads, trains and combinations.

Each is the fact, the edit that makes it, the key path it is told at, and words of its message.
"""

from __future__ import annotations

TRAIN = "[trains.cart]\naxles = [[0, 10], [2.5, 15]]"

LOAD_FAULTS = [
    (
        "a chord with one joint",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0"]'),
        "chords.deck.joints",
        "fewer than two",
    ),
    (
        "a chord that stands still in plan",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0", "L1", "U1"]'),
        "chords.deck.joints[2]",
        "stands still",
    ),
    (
        "a chord that turns back in plan",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0", "L2", "L1"]'),
        "chords.deck.joints[1]",
        "right angle or more",
    ),
    (
        "a piece that is not in line",
        ('[pieces.bottom]\njoints = ["L0", "L1", "L2"]', '[pieces.bottom]\njoints = ["L0", "U1", "L2"]'),
        "pieces.bottom.joints[1]",
        "not in line",
    ),
    (
        "a piece with no member between neighbours",
        ('[pieces.bottom]\njoints = ["L0", "L1", "L2"]', '[pieces.bottom]\njoints = ["L0", "L2"]'),
        "pieces.bottom.joints[1]",
        "no member joins L0 and L2",
    ),
    (
        "a member in two pieces",
        ("[chords.deck]", '[pieces.other]\njoints = ["L1", "L2"]\n[chords.deck]'),
        "pieces.other.joints[1]",
        "in two pieces",
    ),
    (
        "a prop that is no joint of its piece",
        ('lateral_props = ["L0", "L2"]', 'lateral_props = ["U1"]'),
        "pieces.bottom.lateral_props[0]",
        "no joint of the piece",
    ),
    (
        "a stretch with its ends swapped",
        ("from = 1.0, to = 6.5", "from = 6.5, to = 1.0"),
        "cases.wind.lines[0]",
        "swapped",
    ),
    ("a stretch that ends outside its chord", ("to = 6.5", "to = 8.1"), "cases.wind.lines[0].to", "outside"),
    (
        "a stretch that starts outside its chord",
        ("from = 1.0", "from = -0.1"),
        "cases.wind.lines[0].from",
        "outside",
    ),
    ("a train with nothing in it", (TRAIN, "[trains.cart]\naxles = []"), "trains.cart", "nothing in it"),
    (
        "an axle that is no pair",
        ("[2.5, 15]", "[2.5, 15, 1]"),
        "trains.cart.axles[1]",
        "where an axle belongs",
    ),
    (
        "a line with both load and normal",
        ("normal = 1.2", "normal = 1.2, load = [0, 1]"),
        "cases.wind.lines[0]",
        "both load and normal",
    ),
    ("a line with neither load nor normal", ("normal = 1.2, ", ""), "cases.wind.lines[0]", "neither"),
    (
        "a settlement that leaves the held directions",
        ("L2 = [0, -10]", "L2 = [1, -10]"),
        "cases.frost.settlement.L2",
        "leaves the held directions",
    ),
    (
        "a settlement of a joint without support",
        ("L2 = [0, -10]", "L1 = [0, -10]"),
        "cases.frost.settlement.L1",
        "leaves the held directions",
    ),
    (
        "temperature without expansion",
        ("expansion = 12e-6\n", ""),
        "cases.frost.temperature.bottom",
        "expansion",
    ),
    ("self weight without unit weight", ("unit_weight = 77\n", ""), "cases.dead.self_weight", "unit_weight"),
    (
        "two travelling crossings in one combination",
        (
            "[combinations.strength]",
            '[crossings.two]\ntrain = "cart"\nchord = "deck"\n[combinations.strength]\ntwo = 1',
        ),
        "combinations.strength",
        "two travelling crossings",
    ),
    (
        "an empty table of combinations",
        ("[combinations.strength]\ndead = 1.35\ndeck_cart = 1.5", "[combinations]"),
        "combinations",
        "empty",
    ),
    ("an empty combination", ("dead = 1.35\ndeck_cart = 1.5", ""), "combinations.strength", "empty"),
    (
        "one name for a case and a crossing",
        ("[cases.wind]", "[cases.deck_cart]"),
        "crossings.deck_cart",
        "too",
    ),
    ("a case with a reserved name", ("[cases.wind]", "[cases.weight]"), "cases.weight", "no name of a case"),
    (
        "a joint's name with a blank",
        ("U1 = [4, 3]", 'U1 = [4, 3]\n"U 2" = [5, 5]\n'),
        'joints."U 2"',
        "no joint's name",
    ),
    ("a name that starts with a dash", ("[cases.wind]", '[cases."-wind"]'), "cases.-wind", "is no name"),
    (
        "a name with a control character",
        ("[cases.wind]", '[cases."wi\\u0001nd"]'),
        'cases."wi\\u0001nd"',
        "is no name",
    ),
    (
        "a name beyond 40 characters",
        ("[cases.wind]", f"[cases.{'w' * 41}]"),
        f"cases.{'w' * 41}",
        "is no name",
    ),
    ("strips in no list", (TRAIN, TRAIN + "\nstrips = 8"), "trains.cart.strips", "where a list belongs"),
    ("a lane load of 0", (TRAIN, TRAIN + "\nlane = 0"), "trains.cart.lane", "is 0"),
    (
        "a clear stretch without a lane",
        (TRAIN, TRAIN + "\nlane_clear = [0, 1]"),
        "trains.cart.lane_clear",
        "there is no lane",
    ),
    (
        "a negative impact of the lane",
        ("impact = 0.3", "impact = 0.3\nlane_impact = -0.1"),
        "crossings.deck_cart.lane_impact",
        "negative",
    ),
    ("a negative lean", ("zero_limit = 0", "zero_limit = 0\nlean = -0.05"), "lean", "-0.05 is negative"),
    (
        "a purpose of a combination in unknown words",
        ("dead = 1.35", 'for = "strengths"\ndead = 1.35'),
        "combinations.strength.for",
        "did you mean strength",
    ),
    ("a purpose of no text", ("dead = 1.35", "for = 2\ndead = 1.35"), "combinations.strength.for", "a text"),
    (
        "a combination with a purpose and no factor",
        ("dead = 1.35\ndeck_cart = 1.5", 'for = "service"'),
        "combinations.strength",
        "empty",
    ),
    (
        "a situation of a later part",
        ("dead = 1.35", 'situation = "lift"\ndead = 1.35'),
        "combinations.strength.situation",
        "this version: situation",
    ),
]
