"""HS20-44 on simple spans, truck or lane.

AASHTO, Standard Specifications for Highway Bridges, 17th ed., 2002, Appendix A; from memory, recomputed. The
lane moments of 60, 100 and 120 ft are also printed by M. A. Khan, Bridge and Highway Structure
Rehabilitation and Repair, 2010, table 6.7 (seen).
"""

from __future__ import annotations

from explorer.document.trains import bundled_trains
from tests.published.forms import FOOT, KIP
from tests.published.record import (
    agree_as_printed,
    agree_exactly,
    agree_relatively,
    agree_within,
    published,
    read,
)
from tests.published.simple_spans import Span, cross

TABLE = read("hs20_spans")
MOMENT = KIP * float(FOOT)


def spanned(name: str, span: float) -> Span:
    return cross(float(span * FOOT), tuple(bundled_trains()[name]))


def closed_moment(span: float) -> float:
    """The larger of truck and lane [kip-ft]."""
    truck = 18 * span - 280 + 392 / span if span >= 33.80 else 16 * span - 224 + 784 / span
    truck = 8 * span if span <= 23.90 else truck
    return max(truck, 0.08 * span**2 + 4.5 * span)


def closed_shear(span: float) -> float:
    """The larger of truck and lane [kip]."""
    truck = 72 - 672 / span if span >= 28 else 64 - 448 / span if span >= 14 else 32
    return max(truck, 0.32 * span + 26)


@published("aashto_2002", "largest moment of HS20, truck or lane with 18 kip, spans of 10 to 300 ft")
def test_chord_force_times_depth_is_the_moment_of_the_table() -> None:
    found = [spanned("hs20_moment", row[0]).moment / MOMENT for row in TABLE["spans"]]
    agree_within(found, [float(row[1]) for row in TABLE["spans"]], TABLE["moment_within"])


@published("aashto_2002", "largest end shear of HS20, truck or lane with 26 kip, spans of 10 to 300 ft")
def test_the_end_reaction_is_the_shear_of_the_table() -> None:
    found = [spanned("hs20_shear", row[0]).shear / KIP for row in TABLE["spans"]]
    agree_within(found, [float(row[2]) for row in TABLE["spans"]], TABLE["shear_within"])


@published("hs20_closed", "moment and shear of truck or lane in closed form, without rounding")
def test_moments_and_shears_are_those_of_the_closed_forms() -> None:
    spans = [row[0] for row in TABLE["spans"]]
    moments = [spanned("hs20_moment", span).moment / MOMENT for span in spans]
    agree_relatively(moments, [closed_moment(span) for span in spans], 1e-9)
    shears = [spanned("hs20_shear", span).shear / KIP for span in spans]
    agree_relatively(shears, [closed_shear(span) for span in spans], 1e-9)


@published("khan_2010", "moment of the HS20 lane of 60, 100 and 120 ft, and its shear of 60 and 100 ft")
def test_the_lane_alone_gives_the_printed_moments_and_shears() -> None:
    agree_as_printed(
        [spanned("hs20_lane_18", span).moment / MOMENT for span in (60, 100, 120)], "558 1250 1692"
    )
    agree_as_printed([spanned("hs20_lane_26", span).shear / KIP for span in (60, 100)], "45.2 58")


@published("hs20_closed", "lane with 18 and with 26 kip alone in closed form, where the truck governs")
def test_the_lane_alone_follows_its_closed_forms() -> None:
    # where the lane governs, the set above has shown the same
    spans = [row[0] for row in TABLE["spans"] if row[0] < 144.81]
    moments = [spanned("hs20_lane_18", span).moment / MOMENT for span in spans]
    agree_relatively(moments, [0.08 * span**2 + 4.5 * span for span in spans], 1e-11)
    spans = [row[0] for row in TABLE["spans"] if row[0] < 127.25]
    shears = [spanned("hs20_lane_26", span).shear / KIP for span in spans]
    agree_relatively(shears, [0.32 * span + 26 for span in spans], 1e-11)


@published("aashto_2002", "which of truck and lane governs, as the table marks it")
def test_the_set_takes_truck_or_lane_as_the_table_marks_them() -> None:
    # The lane governs moments above 144.81 ft and shears above 127.25 ft.
    spans = [row[0] for row in TABLE["spans"]]
    moments = [spanned("hs20_moment", span).answers.forces.tension for span in spans]
    shears = [spanned("hs20_shear", span).answers.reactions.largest for span in spans]
    agree_exactly(
        [int(forces.trains[forces.values.argmax()]) for forces in moments],
        [int(span > 144.81) for span in spans],
    )
    agree_exactly([list(found.trains[1:]) for found in shears], [[int(span > 127.25)] * 2 for span in spans])
