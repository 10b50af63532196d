"""Load Model 71, SW/0 and SW/2 on simple spans.

EN 1991-2:2003, 6.3.2 and 6.3.3. No published span table was found: the numbers are worked out on a beam.
"""

from __future__ import annotations

import numpy as np

from explorer.document.trains import bundled_trains
from tests.published.record import agree_as_printed, agree_exactly, agree_relatively, published, read
from tests.published.simple_spans import Span, cross

TABLE = read("lm71_spans")
LONG = [row[0] for row in TABLE["spans"] if row[0] >= 8]


def spanned(name: str, span: float) -> Span:
    return cross(float(span), tuple(bundled_trains()[name]))


@published("en_1991_2_rail", "LM71: moment at midspan and absolute, shear, spans of 2 to 100 m")
def test_load_model_71_gives_the_moments_and_shears_worked_out() -> None:
    spans = [(row, spanned("lm71", row[0])) for row in TABLE["spans"]]
    agree_as_printed([span.moment_at(row[0] / 2) / 1e3 for row, span in spans], [row[1] for row, _ in spans])
    agree_as_printed([span.moment / 1e3 for _, span in spans], [row[2] for row, _ in spans])
    agree_as_printed([span.shear / 1e3 for _, span in spans], [row[3] for row, _ in spans])


@published("en_1991_2_rail", "LM71 from 8 m on: 10 L^2 + 122 L - 364.8 and 40 L + 552 - 1145.6 / L")
def test_load_model_71_follows_its_closed_forms() -> None:
    moments = [spanned("lm71", span).moment_at(span / 2) / 1e3 for span in LONG]
    agree_relatively(moments, [10 * span**2 + 122 * span - 364.8 for span in LONG], 1e-9)
    shears = [spanned("lm71", span).shear / 1e3 for span in LONG]
    agree_relatively(shears, [40 * span + 552 - 1145.6 / span for span in LONG], 1e-9)


@published("en_1991_2_rail", "SW/0 and SW/2: moment at midspan and shear, spans of 2 to 100 m")
def test_the_strips_of_sw_0_and_sw_2_give_the_moments_and_shears_worked_out() -> None:
    for name, column in (("sw0", 4), ("sw2", 6)):
        spans = [(row, spanned(name, row[0])) for row in TABLE["spans"]]
        middles = [span.moment_at(row[0] / 2) / 1e3 for row, span in spans]
        agree_as_printed(middles, [row[column] for row, _ in spans])
        agree_as_printed([span.shear / 1e3 for _, span in spans], [row[column + 1] for row, _ in spans])


@published("en_1991_2_rail", "which of LM71 and SW/0 governs the moment at midspan, spans of 12 to 25 m")
def test_the_set_takes_sw_0_where_its_moment_at_midspan_is_larger() -> None:
    spans = [(row, spanned("lm71_or_sw0", row[0])) for row in TABLE["spans"] if 12 <= row[0] <= 25]
    larger = [max(row[1], row[4], key=float) for row, _ in spans]
    agree_as_printed([span.moment_at(row[0] / 2) / 1e3 for row, span in spans], larger)
    # the strips bring more at 15 and 20 m only
    agree_exactly([_governing_at_midspan(span) for _, span in spans], [0, 1, 1, 0])


def _governing_at_midspan(span: Span) -> int:
    """Which train of the set makes the moment at midspan largest, by the top chord that pushes there."""
    truss, compression = span.answers.study.truss, span.answers.forces.compression
    middle = int(np.abs(np.array(span.points) - span.points[-1] / 2).argmin())
    return int(compression.trains[truss.member_index(f"U{middle - 1}-U{middle}")])
