"""How what is on a chord stands in a state that is not the worst of any member, in words."""

from __future__ import annotations

from explorer.wording.asked import Asked, begin
from explorer.wording.trains import called, train_name


def tell_standing(asked: Asked) -> str:
    """Tell what of the trains and lanes of a load is on the chord, where that is not plain."""
    return " ".join([*_lanes(asked), *_train(asked)])


def _lanes(asked: Asked) -> list[str]:
    crossings = asked.answers.study.crossings
    placed = {part.crossing for part in asked.state.parts if part.placed}
    return [
        f"{begin(called(crossings[name], 0))} "
        + ("lies over the whole chord here." if name in placed else "is left out here.")
        for name in asked.combination.lanes
    ]


def _train(asked: Asked) -> list[str]:
    if asked.standing is None or not asked.combination.crossing:
        return []
    crossing = asked.answers.study.crossings[asked.combination.crossing]
    train = crossing.trains[asked.standing.number]
    told = []
    if len(crossing.trains) > 1:
        told.append(f"of {train_name(crossing.called)} it is {train_name(train.name)}")
    if train.lane:
        told.append("its lane is left out")
    if train.relieving_left_out:
        told.append("all axles count")
    if train.second:
        told.append("its second train follows at the least distance")
    return [f"The train as it stands: {', '.join(told)}."] if told else []
