"""A still picture of one state: the truss with its train, standing alone as a file, with its own style."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.bars import paint_force
from explorer.drawing.loads import (
    AxleMarks,
    JointLoads,
    Reaction,
    draw_joint_loads,
    draw_reactions,
    draw_train,
)
from explorer.drawing.plate import WIDTH, Plate, lay_plate, road
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.track import Track, draw_track, track_height
from explorer.drawing.view import Direction
from explorer.markup import Markup, element
from explorer.wording.asked import Asked
from solver.crossings import Crossing
from solver.passage import follow
from solver.placement import Standing
from solver.state import joint_loads_of

Array = NDArray[np.float64]
ASSETS = Path(__file__).resolve().parents[1] / "assets"
STYLES = ("10-tokens.css", "20-drawing.css")


def draw_still(asked: Asked) -> Markup:
    """Draw the truss in the state asked about, and under it the track of the member asked about."""
    plate = lay_plate(asked.answers.study, Direction())
    height = plate.frame.height
    content = [_style(), element("rect", attributes={"width": "100%", "height": "100%", "class": "ground"})]
    content += _draw_truss(asked, plate)
    if asked.combination.crossing and asked.standing:
        passages = follow(asked.answers.forces, asked.member, asked.column)
        chord = asked.answers.study.chords[asked.answers.study.crossings[asked.combination.crossing].chord]
        axis = plate.axes[asked.combination.crossing]
        track = draw_track(Track(passages, axis, chord.positions, WIDTH, asked.teller))
        content.append(element("g", [track], {"transform": f"translate(0,{height:g})"}))
        height += track_height(len(passages))
    attributes = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {WIDTH:g} {height:g}",
        "class": "truss",
        "role": "img",
        "aria-label": f"{asked.answers.study.title}: forces under {asked.load_label}, tension positive",
    }
    return element("svg", content, attributes)


def _style() -> Markup:
    text = "".join((ASSETS / name).read_text(encoding="utf-8") for name in STYLES)
    # A style sheet knows no escapes; ours are our own files, and hold no markup.
    return Markup(f"<style>{text}.ground{{fill:var(--paper)}}</style>")


def _draw_truss(asked: Asked, plate: Plate) -> list[Markup]:
    truss, forces = asked.answers.study.truss, asked.state.forces
    swept = asked.answers.forces.sweep
    largest = float(
        np.maximum(np.abs(swept.smallest[:, asked.column]), np.abs(swept.largest[:, asked.column])).max()
    )
    paints = [paint_force(float(force), asked.band, largest) for force in forces]
    values = [_value(asked, float(force)) for force in forces]
    scene = Scene(truss, plate.frame, plate.direction, paints, values, max(map(len, values)))
    supports, bars, joints, letters = draw_scene(scene)
    acting = [draw_reactions(truss, scene.pixels, plate.direction, _reactions(asked))]
    if asked.combination.cases:
        loads = joint_loads_of(asked.answers.study, asked.answers.responses, asked.combination)
        told = JointLoads(truss, loads, plate.direction, asked.teller.load)
        acting.append(draw_joint_loads(told, scene.pixels))
    if asked.combination.crossing and asked.standing:
        acting.append(_draw_train(asked, plate, asked.standing))
    return [supports, bars, joints, *acting, letters]


def _value(asked: Asked, force: float) -> str:
    if abs(force) <= asked.band:
        return "0"
    return f"{'T' if force > 0 else 'C'} {asked.teller.brief(force)}"


def _reactions(asked: Asked) -> list[Reaction]:
    """What each held direction gives in this state."""
    responses, load = asked.answers.responses, asked.combination
    factors = np.array([load.cases.get(name, 0.0) for name in responses.case_names])
    values = responses.reactions.cases @ factors
    if load.crossing and asked.standing:
        for chord, weights in asked.state.weights.items():
            values = values + responses.reactions.influence[chord] @ weights
    return [Reaction(asked.teller.load(float(v)), bool(v < 0), bool(abs(v) > asked.band)) for v in values]


def _crossing(asked: Asked) -> Crossing:
    return asked.answers.study.crossings[asked.combination.crossing or ""]


def _draw_train(asked: Asked, plate: Plate, standing: Standing) -> Markup:
    crossing = _crossing(asked)
    sign = 1.0 if standing.direction == "forward" else -1.0
    marks = mark_axles(asked, plate, standing.number)
    places = np.array([standing.position - sign * d for d in marks.distances])
    return draw_train(marks, road(asked.answers.study, crossing.name, plate, places))


def mark_axles(asked: Asked, plate: Plate, number: int = 0) -> AxleMarks:
    """The axles of a train (of a set the one `number`) of the crossing asked about, as they act here."""
    crossing = _crossing(asked)
    train = crossing.trains[number]
    factor = crossing.moving_factor * asked.combination.crossing_factor
    following = train.second.axles if train.second else ()
    return AxleMarks(
        crossing=crossing.name,
        distances=tuple(axle.distance for axle in train.axles),
        loads=tuple(factor * axle.load for axle in train.axles),
        radius=float(np.clip(0.5 * plate.frame.scale, 4.0, 13.0)),
        scale=abs(plate.axes[crossing.name].scale),
        tell=asked.teller.load,
        seconds=tuple((axle.distance, factor * axle.load) for axle in following),
    )
