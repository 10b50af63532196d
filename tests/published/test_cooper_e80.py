"""Cooper E80 and the alternative axles on simple spans, for one rail.

AREMA, Manual for Railway Engineering, chapter 15, part 1, table of maximum moments and shears; from memory,
recomputed. Up to 180 ft the printed moment is the absolute maximum, from 200 ft on that at midspan.
"""

from __future__ import annotations

from fractions import Fraction

from explorer.document.trains import bundled_trains
from tests.published.forms import FOOT, KIP, half_unit
from tests.published.lines_in_fractions import axles_on, largest, line, passing
from tests.published.record import agree_as_printed, agree_relatively, agree_within, published, read
from tests.published.simple_spans import Factors, Span, beam_moment, cross, worst_section

TABLE = read("cooper_spans")
RAIL = Factors(share=0.5)
MOMENT = KIP * float(FOOT)
SHORT = [row for row in TABLE["spans"] if row[0] <= TABLE["absolute_up_to"]]
LONG = [row for row in TABLE["spans"] if row[0] > TABLE["absolute_up_to"]]


def spanned(name: str, span: float) -> Span:
    return cross(float(span * FOOT), tuple(bundled_trains()[name]), RAIL)


def absolute(span: int) -> float:
    """The largest moment at any section [kip-ft]."""
    return spanned("cooper_e80", span).moment / MOMENT


def at_midspan(span: int) -> float:
    """The largest moment at midspan [kip-ft]."""
    return spanned("cooper_e80", span).moment_at(float(span * FOOT) / 2) / MOMENT


def midspan_in_fractions(span: int) -> Fraction:
    """The largest moment at midspan of one rail [kip-ft]: half the track's load on a triangle L / 4 high."""
    triangle = line([0, Fraction(span, 2), span], [0, Fraction(span, 4), 0])
    axles = [(Fraction(distance), Fraction(load, 2)) for distance, load in TABLE["axles"]]
    strip, start = Fraction(TABLE["strip"], 2), TABLE["strip_from"]

    def moment(front: Fraction) -> Fraction:
        return axles_on(triangle, axles, front) + strip * triangle.area(Fraction(0), front - start)

    distances = [distance for distance, _ in axles] + [Fraction(start)]
    return largest(moment, passing(triangle, distances))


@published("arema", "largest moment of E80 on simple spans of 5 to 180 ft")
def test_the_absolute_moment_is_the_printed_one_up_to_180_ft() -> None:
    rounded = TABLE["moment_rounded"]
    plain = [row for row in SHORT if row[0] not in rounded]
    agree_as_printed([absolute(row[0]) for row in plain], [row[1] for row in plain])
    rest = [(absolute(row[0]), float(row[1])) for row in SHORT if row[0] in rounded]
    bounds = [TABLE["moment_share"] * printed for _, printed in rest]
    agree_within([found for found, _ in rest], [printed for _, printed in rest], bounds)


@published("beam_search", "largest moment of E80 to two decimals, spans of 5 to 400 ft")
def test_the_absolute_moment_is_that_recomputed() -> None:
    agree_as_printed([absolute(row[0]) for row in TABLE["spans"]], [row[2] for row in TABLE["spans"]])


@published("beam_search", "largest moment of E80, spans of 5 to 400 ft")
def test_the_absolute_moment_is_that_of_a_plain_beam() -> None:
    (train,) = bundled_trains()["cooper_e80"]
    for row in TABLE["spans"]:
        length = float(row[0] * FOOT)
        beam = beam_moment(train, length, worst_section(train, length, RAIL), RAIL)
        agree_relatively(absolute(row[0]), beam / MOMENT, 1e-11)


@published("arema", "moment of E80 at midspan, spans of 200 to 400 ft")
def test_the_moment_at_midspan_is_the_printed_one_from_200_ft_on() -> None:
    below = [float(row[0] in TABLE["one_below_midspan"]) for row in LONG]
    found = [at_midspan(row[0]) - less for row, less in zip(LONG, below, strict=True)]
    agree_as_printed(found, [row[1] for row in LONG])


@published("beam_search", "moment of E80 at midspan to two decimals, spans of 5 to 400 ft")
def test_the_moment_at_midspan_is_that_recomputed() -> None:
    agree_as_printed([at_midspan(row[0]) for row in TABLE["spans"]], [row[3] for row in TABLE["spans"]])


@published("beam_search", "moment of E80 at midspan in fractions, spans of 5 to 400 ft")
def test_the_moment_at_midspan_is_that_in_fractions() -> None:
    for row in TABLE["spans"]:
        agree_relatively(at_midspan(row[0]), float(midspan_in_fractions(row[0])), 1e-11)


@published("arema", "largest end shear of E80 on simple spans of 5 to 400 ft")
def test_the_end_reaction_is_the_printed_shear() -> None:
    rows = [row for row in TABLE["spans"] if row[0] not in TABLE["shear_wrong"]]
    printed = [float(row[4]) for row in rows]
    bounds = [
        TABLE["shear_within"] if row[0] in TABLE["shear_rounded"] else half_unit(row[4]) for row in rows
    ]
    agree_within([spanned("cooper_e80", row[0]).shear / KIP for row in rows], printed, bounds)


@published("beam_search", "largest end shear of E80 to two decimals, spans of 5 to 400 ft")
def test_the_end_reaction_is_the_shear_recomputed() -> None:
    found = [spanned("cooper_e80", row[0]).shear / KIP for row in TABLE["spans"]]
    agree_as_printed(found, [row[5] for row in TABLE["spans"]])


@published("arema_alternative", "largest moment and end shear of four axles of 100 kip, spans of 5 to 55 ft")
def test_the_alternative_axles_give_the_moments_and_shears_worked_out() -> None:
    spans = [(row, spanned("cooper_alternative", row[0])) for row in TABLE["alternative"]]
    agree_as_printed([span.moment / MOMENT for _, span in spans], [row[1] for row, _ in spans])
    agree_as_printed([span.shear / KIP for _, span in spans], [row[2] for row, _ in spans])


@published("arema_alternative", "up to which span the alternative axles govern")
def test_the_set_takes_the_alternative_axles_below_53_8_ft_and_the_engines_above() -> None:
    for span, governing in ((53.5, 1), (54.1, 0)):
        answers = spanned("cooper", span).answers
        worst = int(answers.forces.tension.values.argmax())
        agree_within(answers.forces.tension.trains[worst], governing, 0)
