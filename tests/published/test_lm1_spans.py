"""Load Model 1, lane 1, on simple spans: the tandem alone, and with its uniform load.

EN 1991-2:2003, 4.3.2 and table 4.2; the numbers are worked out on a beam.
"""

from __future__ import annotations

from dataclasses import replace

from explorer.document.trains import bundled_trains
from tests.published.record import agree_as_printed, published, read
from tests.published.simple_spans import cross

TABLE = read("lm1_spans")
WHOLE = bundled_trains()["lm1_lane_1"][0]


@published("en_1991_2_road", "tandem of lane 1: absolute moment and shear, spans of 5 to 100 m")
def test_the_tandem_alone_gives_the_moments_and_shears_worked_out() -> None:
    spans = [(row, cross(float(row[0]), (replace(WHOLE, lane=None),))) for row in TABLE["spans"]]
    agree_as_printed([span.moment / 1e3 for _, span in spans], [row[1] for row, _ in spans])
    agree_as_printed([span.shear / 1e3 for _, span in spans], [row[2] for row, _ in spans])


@published("en_1991_2_road", "tandem with 27 kN/m: moment at midspan and shear, spans of 5 to 100 m")
def test_tandem_and_uniform_load_together_give_the_moments_and_shears_worked_out() -> None:
    spans = [(row, cross(float(row[0]), (WHOLE,))) for row in TABLE["spans"]]
    agree_as_printed([span.moment_at(row[0] / 2) / 1e3 for row, span in spans], [row[3] for row, _ in spans])
    agree_as_printed([span.shear / 1e3 for _, span in spans], [row[4] for row, _ in spans])
