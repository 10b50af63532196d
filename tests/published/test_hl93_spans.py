"""HL-93 on simple spans: truck, tandem and lane apart and together, and the fatigue truck.

AASHTO, LRFD Bridge Design Specifications, 9th ed., 2020, articles 3.6.1.2, 3.6.1.4 and 3.6.2.1, loads from
memory. The largest moment is that of truck or tandem and lane at the same section, as a sweep gives it;
hand tables often take midspan, or add separate maxima.
"""

from __future__ import annotations

from dataclasses import replace

from explorer.document.trains import bundled_trains
from solver.trains import Train
from tests.published.forms import FOOT, KIP
from tests.published.record import agree_as_printed, agree_within, published, read
from tests.published.simple_spans import Factors, Span, cross

TABLE = read("hl93_spans")
MOMENT = KIP * float(FOOT)
PLAIN, IMPACT = Factors(), Factors(impact=0.33)


def train(name: str) -> Train:
    return bundled_trains()[name][0]


def bare(name: str) -> Train:
    """A truck or tandem without its lane."""
    return replace(train(name), lane=None)


def spanned(trains: tuple[Train, ...], span: float, factors: Factors = PLAIN) -> Span:
    return cross(float(span * FOOT), trains, factors)


BOTH = (train("hl93_truck"), train("hl93_tandem"))


@published("hl93_spans", "moment and shear of design truck and tandem alone, spans of 10 to 300 ft")
def test_truck_and_tandem_alone_give_the_moments_and_shears_worked_out() -> None:
    for name, column in (("hl93_truck", 1), ("hl93_tandem", 3)):
        spans = [(row, spanned((bare(name),), row[0])) for row in TABLE["spans"]]
        agree_as_printed([span.moment / MOMENT for _, span in spans], [row[column] for row, _ in spans])
        agree_as_printed([span.shear / KIP for _, span in spans], [row[column + 1] for row, _ in spans])


@published("hl93_spans", "shear of the set without impact, spans of 10 to 300 ft")
def test_the_end_reaction_of_the_set_is_the_larger_of_truck_and_tandem_with_the_lane() -> None:
    found = [spanned(BOTH, row[0]).shear / KIP for row in TABLE["spans"]]
    agree_as_printed(found, [row[7] for row in TABLE["spans"]])


@published(
    "khan_2010", "shear of HL-93 without impact, spans of 70 to 180 ft, recomputed to 0.007 kip of the print"
)
def test_shears_of_70_to_180_ft_are_those_recomputed_from_the_print() -> None:
    rows = [row for row in TABLE["spans"] if 70 <= row[0] <= 180]
    agree_within([spanned(BOTH, row[0]).shear / KIP for row in rows], [float(row[7]) for row in rows], 0.007)


@published("hl93_spans", "largest moment with 33 % on truck and tandem, at the same section and at midspan")
def test_the_largest_moment_is_that_of_axles_and_lane_at_the_same_section() -> None:
    spans = [(row, spanned(BOTH, row[0], IMPACT)) for row in TABLE["spans"]]
    agree_as_printed([span.moment / MOMENT for _, span in spans], [row[9] for row, _ in spans])
    middles = [span.moment_at(float(row[0] * FOOT) / 2) / MOMENT for row, span in spans]
    agree_as_printed(middles, [row[8] for row, _ in spans])
    agree_as_printed([span.shear / KIP for _, span in spans], [row[10] for row, _ in spans])


@published("barker_puckett", "midspan moment of 35 ft with impact")
def test_the_example_of_35_ft_has_613_4_kip_ft_at_midspan() -> None:
    agree_as_printed(spanned(BOTH, 35, IMPACT).moment_at(35 * float(FOOT) / 2) / MOMENT, "613.4")


@published("hl93_spans", "moment and shear of the fatigue truck, spans of 40 to 200 ft")
def test_the_fatigue_truck_gives_the_moments_and_shears_worked_out() -> None:
    spans = [(row, spanned((train("hl93_fatigue"),), row[0])) for row in TABLE["fatigue"]]
    agree_as_printed([span.moment / MOMENT for _, span in spans], [row[1] for row, _ in spans])
    agree_as_printed([span.shear / KIP for _, span in spans], [row[2] for row, _ in spans])


@published("hl93_spans", "moment and shear of the lane alone, spans of 10 to 300 ft")
def test_the_lane_brings_w_l_squared_over_8_and_w_l_over_2() -> None:
    lane = replace(train("hl93_truck"), axles=())
    spans = [(row, spanned((lane,), row[0])) for row in TABLE["spans"]]
    agree_as_printed([span.moment / MOMENT for _, span in spans], [row[5] for row, _ in spans])
    agree_as_printed([span.shear / KIP for _, span in spans], [row[6] for row, _ in spans])
