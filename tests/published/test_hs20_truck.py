"""The HS20 truck alone on simple spans, against its closed forms; the printed table is in test_hs20_spans.

AASHTO, Standard Specifications for Highway Bridges, 17th ed., 2002, Art. 3.7.

A truss of parallel chords measures moments and shears: chord force x depth is the moment at a panel
point, the end reaction is the end shear. Panel points lie at twelfths of the span and where the largest
moment occurs, so that no section may show more than the table.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.crossings import Direction
from tests.building import build_study
from tests.published.forms import FOOT, KIP, deck, pratt
from tests.published.record import agree_relatively, agree_within, published, read

TABLE = read("hs20_truck")
SPANS = [row[0] for row in read("hs20_spans")["spans"]]
DEPTH = Fraction(25)
BOTH: tuple[Direction, ...] = ("forward", "backward")


def eccentricity(span: int) -> Fraction:
    """How far from midspan [ft] the largest moment occurs: half the way from an axle to the resultant.

    One axle of 32 up to 23.90 ft, two of 32 up to 33.80 ft, from there on all three.
    """
    if span < 23.90:
        return Fraction(0)
    return Fraction(7, 2) if span < 33.80 else Fraction(7, 3)


def largest_moment(span: int) -> float:
    """The largest moment of the truck [kip-ft] in closed form."""
    if span < 23.90:
        return 8.0 * span
    return 16 * span - 224 + 784 / span if span < 33.80 else 18 * span - 280 + 392 / span


def largest_shear(span: int) -> float:
    """The largest end shear of the truck [kip] in closed form."""
    if span < 14:
        return 32.0
    return 64 - 448 / span if span < 28 else 72 - 672 / span


@cache
def crossed(span: int, directions: tuple[Direction, ...] = BOTH) -> Answers:
    """The truck crosses a truss of `span` [ft]."""
    middle = Fraction(span, 2)
    points = {Fraction(span * k, 12) for k in range(13)}
    points |= {middle - eccentricity(span), middle + eccentricity(span)}
    positions = [x * FOOT for x in sorted(points)]
    axles = [(float(distance * FOOT), load * KIP) for distance, load in TABLE["axles"]]
    truss = pratt(positions, DEPTH * FOOT)
    study = build_study(truss, chord=deck(len(positions) - 1), axles=axles, directions=directions)
    return answer(study)


def moment(answers: Answers) -> float:
    """The largest chord force times the depth [kip-ft]; both chords must tell the same."""
    names = [member.name for member in answers.study.truss.members]
    top = [i for i, name in enumerate(names) if name.count("U") == 2]
    bottom = [i for i, name in enumerate(names) if name.count("L") == 2]
    pushed = answers.forces.compression.values[top].max()
    pulled = answers.forces.tension.values[bottom].max()
    return float(max(pushed, pulled) * DEPTH / KIP)


def shear(answers: Answers) -> float:
    """The larger end reaction [kip]; held directions are L0 x, L0 y and the far end's y."""
    largest = answers.reactions.largest.values
    assert largest[1] == pytest.approx(largest[2], rel=1e-12)
    return float(largest[1:].max() / KIP)


@published("hs20_closed", "largest moment of the truck alone, spans of 10 to 300 ft")
def test_the_moment_is_that_of_the_closed_form() -> None:
    agree_relatively(
        [moment(crossed(span)) for span in SPANS], [largest_moment(span) for span in SPANS], 1e-12
    )


@published("hs20_closed", "largest end shear of the truck alone, spans of 10 to 300 ft")
def test_the_shear_is_that_of_the_closed_form() -> None:
    agree_relatively([shear(crossed(span)) for span in SPANS], [largest_shear(span) for span in SPANS], 1e-12)


@published("hs20_closed", "either direction alone, and where the largest moment occurs")
@pytest.mark.parametrize("direction", BOTH)
def test_the_largest_moment_occurs_beyond_midspan_in_the_direction_of_travel(direction: Direction) -> None:
    span = 100
    answers = crossed(span, (direction,))
    agree_within(moment(answers), largest_moment(span), 1e-9)
    # The resultant of a truck that drives on lies behind its middle axle, so that axle stands 7/3 ft past
    # midspan, 14 ft behind the front.
    sign = 1 if direction == "forward" else -1
    worst = int(np.argmax(answers.forces.tension.values))
    front = span / 2 + sign * (7 / 3 + 14)
    agree_within(answers.forces.tension.positions[worst] / float(FOOT), front, 1e-9)
