"""Descending: sections follow the forces, are stiffened until all holds, then taken down where they can."""

from __future__ import annotations

from solver.progress import Progress, silent
from solver.sizing.choice import Choice, Sizes
from solver.sizing.sound import find_sound
from solver.sizing.trial import Bench, Trial

SMALLER, LARGER = range(1, 5), range(1, 3)
"""By how many sizes one group shrinks, and another one grows in exchange, in a step."""

ROUNDS = 30
"""Forces settle within a few rounds; after so many they have no end."""

Ladders = tuple[tuple[int, ...], ...]
"""Of each group sections to step on, the lightest first."""

MEMBERS_TRIED, FEWEST = 60_000, 60
"""So many members are worked out altogether, in as many trials as that makes but in FEWEST at least."""


def descend(bench: Bench, progress: Progress = silent) -> Trial | None:
    """Find a light choice that holds, None where none was met; it need not be the lightest."""
    trial = _grow(bench, settle(bench, progress), progress)
    while trial is not None:
        lighter = _one_lighter(bench, trial, progress)
        if lighter is None:
            return trial
        trial = lighter
    return None


def _most_trials(bench: Bench) -> int:
    """After so many trials what was found stands: it holds, and is not proven least."""
    return max(MEMBERS_TRIED // len(bench.sizes.study.truss.members), FEWEST)


def settle(bench: Bench, progress: Progress = silent) -> Trial:
    """Give each group the lightest section for the forces of the trial before, until these no longer change.

    Where they go round in circles, or have no end, the heaviest of each group that was met stands.
    """
    sizes = bench.sizes
    trial = bench.try_out(tuple(len(family) - 1 for family in sizes.families))
    met: list[Choice] = []
    for round_ in range(ROUNDS):
        progress("lighter sections", 0.3 * round_ / ROUNDS)
        choice = tuple(ladder[0] for ladder in _ladders(bench, _sound(bench, trial)))
        if choice == trial.choice:
            return trial
        if choice in met:
            circle = (*met[met.index(choice) :], trial.choice)
            return bench.try_out(_heaviest(sizes, circle))
        met.append(choice)
        trial = bench.try_out(choice)
    return trial


def _heaviest(sizes: Sizes, choices: tuple[Choice, ...]) -> Choice:
    """Of each group the heaviest section among some choices."""
    found = []
    for place in range(len(sizes.groups)):
        weighed = [(sizes.weight_of(place, choice[place]), choice[place]) for choice in choices]
        found.append(max(weighed)[1])
    return tuple(found)


def _sound(bench: Bench, trial: Trial) -> Ladders:
    """Of each group the sections that bear its forces, the lightest first."""
    return tuple(find_sound(bench.sizes, trial, place) for place in range(len(bench.sizes.groups)))


def _ladders(bench: Bench, sound: Ladders) -> Ladders:
    """The rungs to step on: of each group the sections that bear its forces; the heaviest where none does."""
    return tuple(one or (bench.sizes.options(place)[-1],) for place, one in enumerate(sound))


def _grow(bench: Bench, trial: Trial, progress: Progress) -> Trial | None:
    """Grow what fails; where the truss as a whole fails, what brings most for its weight. Nothing shrinks."""
    steps = 0
    while not trial.holds:
        progress("lighter sections", 0.3 + 0.2 * min(steps / ROUNDS, 1.0))
        steps += 1
        sound = _sound(bench, trial)
        if bench.determinate and not all(sound):
            # Forces move with own weight alone, and what grows adds to it.
            return None
        ladders, choice = _ladders(bench, sound), trial.choice
        failing = [place for place in range(len(ladders)) if _fails(trial, place)]
        for place in failing:
            choice = _step(bench.sizes, ladders, (choice, place), 1) or choice
        if choice == trial.choice:
            choice = _stiffer(bench, trial, ladders) or choice
        if choice == trial.choice or bench.tried >= _most_trials(bench):
            return None
        trial = bench.try_out(choice)
    return trial


def _stiffer(bench: Bench, trial: Trial, ladders: Ladders) -> Choice | None:
    """Of all choices with one group a size larger, that which brings most for what it weighs."""
    steps = [_step(bench.sizes, ladders, (trial.choice, place), 1) for place in range(len(ladders))]
    worth = {step: _gain(bench.try_out(step), trial) for step in steps if step}
    return max(worth, key=lambda step: worth[step], default=None)


def _gain(larger: Trial, trial: Trial) -> float:
    """By how much less is exceeded per weight added."""
    return (trial.exceeded - larger.exceeded) / max(larger.weight - trial.weight, 1e-12)


def _fails(trial: Trial, place: int) -> bool:
    return not all(check.holds for check in trial.groups[place])


def _step(sizes: Sizes, ladders: Ladders, at: tuple[Choice, int], by: int) -> Choice | None:
    """The choice with one group some rungs up or down its ladder, None where there is no such rung."""
    choice, place = at
    now = sizes.weight_of(place, choice[place])
    others = [one for one in ladders[place] if one != choice[place]]
    above = [one for one in others if (sizes.weight_of(place, one) > now) == (by > 0)]
    rungs = above if by > 0 else above[::-1]
    return (*choice[:place], rungs[abs(by) - 1], *choice[place + 1 :]) if len(rungs) >= abs(by) else None


def _one_lighter(bench: Bench, trial: Trial, progress: Progress) -> Trial | None:
    """The lightest choice that holds with one group smaller, or one smaller and another larger."""
    sizes, left = bench.sizes, _most_trials(bench) - bench.tried
    lighter = _lighter(sizes, trial, tuple(sizes.options(place) for place in range(len(sizes.groups))))
    if len(lighter) > left:
        # Too many to try: only sections that bear the forces of now, though these would move.
        lighter = _lighter(sizes, trial, _ladders(bench, _sound(bench, trial)))[:left]
    for done, step in enumerate(lighter):
        progress("lighter sections", 0.5 + 0.5 * done / len(lighter))
        found = bench.try_out(step)
        if found.holds:
            return found
    return None


def _lighter(sizes: Sizes, trial: Trial, ladders: Ladders) -> list[Choice]:
    """Lighter choices a few rungs away, the lightest first."""
    choice, places = trial.choice, range(len(trial.choice))
    smaller = [_step(sizes, ladders, (choice, place), -by) for place in places for by in SMALLER]
    steps = {step for step in smaller if step}
    for step in tuple(steps):
        larger = [_step(sizes, ladders, (step, place), by) for place in places for by in LARGER]
        steps |= {one for one in larger if one}
    return sorted((step for step in steps if sizes.weight(step) < trial.weight), key=sizes.weight)
