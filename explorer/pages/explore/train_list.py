"""The trains to choose from: one at a time, drawn to scale, with its source and what it leaves out."""

from __future__ import annotations

import tomllib
from math import isfinite

from explorer.bundled import list_bundled
from explorer.document.trains import bundled_trains
from explorer.drawing.figures import Following, TrainPicture, draw_train_picture
from explorer.markup import Markup, element, join
from explorer.store import Worked
from explorer.wording.numbers import Teller
from explorer.wording.trains import tell_train, train_name
from solver.answers import Answers
from solver.trains import Strip, Train

FACTS = (
    ("source", "source"),
    ("certainty", "how sure"),
    ("covers", "covers"),
    ("not_covered", "not covered"),
    ("impact", "impact"),
)


def list_trains(answers: Answers) -> dict[str, tuple[Train, ...]]:
    """Trains by name: those that cross in the study first, then the bundled ones."""
    own = {crossing.called: crossing.trains for crossing in answers.study.crossings.values()}
    return {**own, **{name: trains for name, trains in bundled_trains().items() if name not in own}}


def show_train(worked: Worked, name: str, teller: Teller) -> Markup:
    """Draw the trains of a name to scale, one under the other, and tell what is known of them."""
    trains = list_trains(worked.answers).get(name, ())
    pictures = [
        element("figure", [_draw(train, teller), element("figcaption", _caption(train, teller))])
        for train in trains
    ]
    return join([*pictures, _facts(worked, name)])


def choose_train(answers: Answers) -> Markup:
    """Draw the list of trains, and the chords that one can be let across."""
    names = list_trains(answers)
    options = [element("option", train_name(name), {"value": name}) for name in names]
    chords = [element("option", name, {"value": name}) for name in answers.study.chords]
    return join(
        [
            element("label", "train", {"for": "train-pick"}),
            element("select", options, {"id": "train-pick"}),
            element("label", "across", {"for": "train-chord"}),
            element("select", chords, {"id": "train-chord"}),
        ]
    )


def _caption(train: Train, teller: Teller) -> str:
    return f"{train_name(train.name)}: {tell_train(train, teller)}"


def _draw(train: Train, teller: Teller) -> Markup:
    second = None
    if train.second is not None:
        axles = tuple((axle.distance, axle.load) for axle in train.second.axles)
        second = Following(axles, _strips(train.second.strips), train.second.gap)
    return draw_train_picture(
        TrainPicture(
            label=_caption(train, teller),
            tell_load=lambda load: teller.tell("force", load),
            tell_uniform=lambda load: teller.tell("line_load", load),
            tell_length=teller.position,
            axles=tuple((axle.distance, axle.load) for axle in train.axles),
            strips=_strips(train.strips),
            lane=train.lane.load if train.lane else None,
            clear=train.lane.clear if train.lane else None,
            second=second,
        )
    )


def _strips(strips: tuple[Strip, ...]) -> tuple[tuple[float, float | None, float], ...]:
    return tuple((s.start, s.end if isfinite(s.end) else None, s.load) for s in strips)


def _facts(worked: Worked, name: str) -> Markup:
    """What the bundled file says of a train; of a study's own that it is the study's own."""
    bundled = {item.name: item for item in list_bundled("train")}
    trains = list_trains(worked.answers).get(name)
    if name not in bundled or trains != bundled_trains()[name]:
        return element("p", "The study's own train: its source is the study's.", {"class": "note"})
    told = tomllib.loads(bundled[name].text())
    rows = [element("div", [element("dt", label), element("dd", told[key])]) for key, label in FACTS]
    return element("dl", rows, {"class": "train-facts"})
