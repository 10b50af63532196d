"""A part cut free: its members, the members cut, the loads on it, and the point or direction that decides."""

from __future__ import annotations

from dataclasses import replace

from explorer.drawing.figures.arms import draw_push
from explorer.drawing.figures.part_layout import (
    CENTRE,
    CutArm,
    Laid,
    Line,
    PartPicture,
    as_push,
    lay_deciding,
    lay_out,
    other_pointers,
)
from explorer.drawing.figures.part_lettering import Lettering, is_clear, letter, write_below
from explorer.drawing.figures.strokes import WIDTH, draw_arrow, draw_line, draw_lines, draw_ring, draw_sheet
from explorer.drawing.figures.words import draw_word
from explorer.markup import Markup, element

TALL = 0.72
"""Height of the picture as a part of its width."""


def draw_part(picture: PartPicture, width: float = WIDTH) -> Markup:
    """Draw the part; a label that finds no room at its own line or joint stands in a list beneath.

    `width` [px]: a larger picture has the same lettering.
    """
    laid = lay_out(picture, (width, TALL * width))
    deciding = lay_deciding(picture, laid)
    laid, lettering = _letter(picture, laid, deciding)
    below, bottom = write_below(lettering.left_over, laid.size)
    strokes = [
        *draw_lines("thin", laid.lines),
        *draw_lines("axis", deciding),
        *[_draw_arm(arm, line) for arm, line in laid.arms],
        *[draw_push(as_push(push), spoke, inwards) for push, spoke, inwards in laid.pushes],
        *_draw_centre(laid),
        *[draw_ring("joint", at, laid.ring) for at in laid.joints if laid.ring],
    ]
    words = map(draw_word, [*lettering.words, *below])
    return draw_sheet("part", picture.label, [*strokes, *words], bottom, width)


def _letter(picture: PartPicture, laid: Laid, deciding: list[Line]) -> tuple[Laid, Lettering]:
    """Letter everything; the arrow to a far centre goes where its own words find room beside it."""
    for pointer in other_pointers(laid):
        moved = replace(laid, pointer=pointer)
        if is_clear(moved, deciding):
            lettering = letter(picture, moved, deciding)
            if lettering.centre_named:
                return moved, lettering
    return laid, letter(picture, laid, deciding)


def _draw_arm(arm: CutArm, line: Line) -> Markup:
    look = "z" if arm.known_zero else "plain"
    cls = f"arm {look} asked" if arm.asked else f"arm {look}"
    return element("g", [draw_line("line", *line)], {"class": cls})


def _draw_centre(laid: Laid) -> list[Markup]:
    if laid.pointer:
        return [element("g", [draw_arrow(*laid.pointer)], {"class": "pointer"})]
    return [draw_ring("frame", laid.centre, CENTRE)] if laid.centre else []
