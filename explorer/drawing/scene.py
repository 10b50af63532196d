"""The truss as a picture: supports, bars, joints and lettering on one plate.

The same function draws for the page, for a report and for the README. Everything in it hangs on joints
(data-j), on shares of members (data-m, data-t) or stretches between joints (data-i), and says so in its
attributes, so that a page can zoom, pan and turn it by moving what hangs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.bars import PLAIN, Paint, draw_bar
from explorer.drawing.labels import LINE, Ground, Label, Placed, place_labels, text_width
from explorer.drawing.lettering import letter_joints, letter_members
from explorer.drawing.symbols import draw_joint, draw_support, hang, hang_from_above
from explorer.drawing.view import Direction, Frame, look
from explorer.markup import Markup, element
from solver.truss import Truss

Array = NDArray[np.float64]
LETTERED_AT_MOST = 3000
"""Beyond this many members values stand in the schedule only: a drawing has no room for them."""


@dataclass(frozen=True)
class Scene:
    """A truss in a frame, seen from a direction, each member painted and, if wanted, with its value.

    values: texts as `T 149`, `C 77`, `0`; empty where none is known. letters: how many letters a value
    may come to have, where a page will write others later. zoom: labels are shown as at this zoom.
    """

    truss: Truss
    frame: Frame
    direction: Direction
    paints: Sequence[Paint] = ()
    values: Sequence[str] = ()
    letters: int = 7
    zoom: float = 1.0

    @property
    def pixels(self) -> Array:
        """Joints on the plate, (joints, 2) [px]."""
        return self.frame.place(look(self.truss.joint_coordinates, self.direction))


def draw_scene(scene: Scene, lettered: bool = True) -> list[Markup]:
    """Draw the groups of a truss, from the back to the front; `lettered`: with names and values."""
    pixels, truss = scene.pixels, scene.truss
    paints = scene.paints or [Paint(PLAIN)] * len(truss.members)
    bars = [
        draw_bar(member.name, pixels[[member.first, member.second]], paint, index)
        for index, (member, paint) in enumerate(zip(truss.members, paints, strict=True))
    ]
    hanging = hang_from_above(truss, pixels)
    supports = [
        draw_support(s.joint, pixels[s.joint], look(held, scene.direction), s.joint in hanging)
        for s in truss.supports
        for held in [np.array([[float(c) for c in d] for d in s.directions])]
    ]
    joints = [draw_joint(index, at) for index, at in enumerate(pixels)]
    groups = [
        element("g", supports, {"class": "supports"}),
        element("g", bars, {"class": "bars"}),
        element("g", joints, {"class": "joints"}),
    ]
    return [*groups, _draw_letters(scene, pixels)] if lettered else groups


def _draw_letters(scene: Scene, pixels: Array) -> Markup:
    truss = scene.truss
    names = letter_joints(truss, pixels)
    lettered = len(truss.members) <= LETTERED_AT_MOST
    values = letter_members(truss, pixels, text_width("0" * scene.letters)) if lettered else []
    hanging = hang_from_above(truss, pixels)
    feet = tuple((s.joint, -1.0 if s.joint in hanging else 1.0) for s in truss.supports)
    ground = Ground(pixels, truss.ends, feet)
    order = _by_importance(truss, names, values)
    labels = [*names, *values]
    placed = dict(zip(order, place_labels(ground, [labels[i] for i in order]), strict=True))
    texts: list[Markup] = []
    for index, name in enumerate(truss.joint_names):
        texts.append(_letter(scene, placed[index], labels[index], pixels, (name, {"data-j": index})))
    for index in range(len(values)):
        text = scene.values[index] if scene.values else ""
        number = len(names) + index
        texts.append(_letter(scene, placed[number], labels[number], pixels, (text, {"data-m": index})))
    return element("g", texts, {"class": "letters"})


def _by_importance(truss: Truss, names: list[Label], values: list[Label]) -> list[int]:
    """Names of supported joints first, then the longest members' values, then the other names.

    Long members have room for a value when names of close joints have none yet.
    """
    supported = [support.joint for support in truss.supports]
    others = [joint for joint in range(len(names)) if joint not in set(supported)]
    longest = np.argsort(-truss.lengths, kind="stable")[: len(values)]
    return [*supported, *others, *(len(names) + int(i) for i in longest)]


def _letter(
    scene: Scene, placed: Placed, label: Label, pixels: Array, what: tuple[str, dict[str, object]]
) -> Markup:
    """One label: its text, with a gap behind it where it stands in a bar."""
    text, owner = what
    place = placed.place
    at = (1 - place.share) * pixels[place.first] + place.share * pixels[place.second]
    at = at + np.array([place.right, place.down])
    known: dict[str, object] = {
        "data-a": place.first,
        "data-b": place.second,
        "data-t": place.share,
        "data-dx": place.right,
        "data-dy": place.down,
        "data-from": "never" if placed.zoom is None else round(placed.zoom, 4),
    }
    hidden = placed.zoom is None or placed.zoom > scene.zoom
    kind = "name" if "data-j" in owner else "value"
    letter = {"T": "t", "C": "c", "0": "z"}.get(text[:1], "") if kind == "value" else ""
    parts = [write_value(text) if kind == "value" else element("text", text, {"y": 4})]
    if label.gap:
        width = text_width(text) if text else label.width
        gap = {"class": "gap", "x": -width / 2, "y": -LINE / 2, "width": width, "height": LINE}
        parts.insert(0, element("rect", attributes={**gap}))
    cls = f"{kind} {letter}".strip() + (" off" if hidden else "")
    return hang(parts, at, {"class": cls, **owner, **known})


def write_value(text: str) -> Markup:
    """Write a value as `T 149`: the letter bold, the number plain."""
    letter, _, rest = text.partition(" ")
    inside = [element("tspan", letter, {"class": "letter"}), f" {rest}"] if rest else [text]
    return element("text", inside, {"y": 4})
