"""Time the sweep of a long bridge against sampling, best of several, alternately in one process."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from solver.answers import answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.peaks import sweep_forces
from solver.response import Responses, respond
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import lay_ways
from tests.benchmarks.timing import best
from tests.building import build_study, build_truss, standing_loads

PANELS, PANEL = 100, Fraction("5.37")
GAPS = [1.2, 1.37, 3.11, 1.2, 1.43, 2.2, 1.1, 1.9, 4.3, 1.2, 1.21, 1.24, 2.9, 1.1, 1.7, 1.9, 2.1]
PER_PANEL = 100


def long_bridge() -> Study:
    """100 X-braced panels, 18 uneven axles both ways, 4 cases, 20 combinations."""
    joints = {
        f"{row}{i}": (PANEL * i, height) for row, height in (("L", 0), ("U", 6)) for i in range(PANELS + 1)
    }
    members = []
    for i in range(PANELS):
        j = i + 1
        members += [f"L{i}-L{j}", f"U{i}-U{j}", f"U{i}-L{j}", f"L{i}-U{j}"]
    members += [f"L{i}-U{i}" for i in range(PANELS + 1)]
    truss = build_truss(joints, members, {"L0": "xy", f"L{PANELS}": "y"}, areas=0.01, modulus=2.1e11)
    deck = [f"L{i}" for i in range(PANELS + 1)]
    cases = [
        LoadCase(f"c{k}", joints={i: (0.0, -1e3 * (i % (k + 2))) for i in range(PANELS + 1)})
        for k in range(4)
    ]
    combinations = [
        Combination(f"k{n}", {f"c{n % 4}": 1 + n / 10, f"c{(n + 1) % 4}": 0.3}, "train", 1.5)
        for n in range(20)
    ]
    distances = np.concatenate([[0.0], np.cumsum(GAPS)])
    axles = [(round(float(d), 2), 10e3 + k) for k, d in enumerate(distances)]
    return build_study(truss, cases, chord=deck, axles=axles, combinations=combinations)


def sampled(study: Study, responses: Responses) -> tuple[np.ndarray, np.ndarray]:
    """The plain way: member forces at positions 1/100 of a panel apart, both ways, extremes of each."""
    crossing, chord = study.crossings["train"], study.chords["deck"]
    length = chord.length + crossing.trains[0].axles[-1].distance
    step = float(PANEL) / PER_PANEL
    influence = responses.forces.influence["deck"]
    low, high = np.zeros(len(influence)), np.zeros(len(influence))
    for direction, start in (("forward", 0.0), ("backward", chord.length - length)):
        positions = start + np.arange(int(length / step) + 1) * step
        placed = np.stack([standing_loads(crossing, chord, direction, s) for s in positions], axis=1)
        forces = influence @ placed
        low, high = np.minimum(low, forces.min(axis=1)), np.maximum(high, forces.max(axis=1))
    return low, high


def main() -> None:
    """Print seconds and ratios."""
    study = long_bridge()

    def rows_and_sweep() -> object:
        responses = respond(study, Stiffness(study.truss))
        return sweep_forces(lay_ways(study), responses)

    responses = respond(study, Stiffness(study.truss))
    exact = best(rows_and_sweep, 7)
    plain = best(lambda: sampled(study, responses), 2)
    whole = best(lambda: answer(study), 3)
    _, high = sampled(study, responses)
    forces = sweep_forces(lay_ways(study), responses).sweep
    alone = len(study.cases)
    missed = np.max((forces.largest[:, alone] - high) / np.abs(forces.largest[:, alone]).max())
    print(f"{len(study.truss.members)} members, {PANELS} panels, 18 axles both ways, 20 combinations")
    print(f"rows, peaks and zero shares, exact: {exact * 1e3:.0f} ms")
    print(f"extremes sampled at 1/{PER_PANEL} panel, position by position, rows given: {plain * 1e3:.0f} ms")
    print(f"ratio: {plain / exact:.1f}")
    print(f"largest peak missed by sampling: {missed:.1e} of the largest force")
    print(f"all answers: {whole:.2f} s")


if __name__ == "__main__":
    main()
