"""Answers held against what they should be by the plain way; each check raises AssertionError.

Forces are compared relative to the scale of their combination, as the project defines it; movements
relative to the largest that anything in the study asks for.
"""

from __future__ import annotations

import numpy as np

from solver.answers import Answers
from solver.sweep import Governing
from tests.plain.direct import answer_loads, floats, zeros
from tests.plain.expected import Expected, Stretch

SOUND = 1e-10
"""A tenth of what the project promises of an answer's balance."""
TRUE_ZERO = 1e-12
"""What the project promises of forces that are zero on paper."""
NOTHING = 1e-30
"""Where 50 digits leave this little, there is nothing."""
TIE = 1e-9
PLACE = 1e-9


def near(found: np.ndarray, expected: np.ndarray, tolerance: np.ndarray | float) -> None:
    assert np.shape(found) == np.shape(expected)
    assert (np.abs(found - expected) <= tolerance).all(), np.abs(found - expected).max()


def check_columns(answers: Answers, expected: Expected) -> None:
    """Every case and every unit load at a chord joint: forces, reactions, movements; true zeros far below."""
    responses = answers.responses
    scales = expected.scales[: len(expected.study.cases)]
    near(responses.reactions.cases, expected.cases.reactions, SOUND * scales)
    near(responses.deflections.cases, expected.cases.movements, SOUND * expected.stir)
    _near_forces(responses.forces.cases, expected.cases.forces, scales)
    for name, columns in expected.chords.items():
        largest = np.maximum(1.0, np.abs(columns.forces).max(axis=0))
        _near_forces(responses.forces.influence[name], columns.forces, largest)
        near(responses.reactions.influence[name], columns.reactions, SOUND * largest)
        moved = max(np.abs(columns.movements).max(), 1 / float(expected.matrices.stiffness.max()))
        near(responses.deflections.influence[name], columns.movements, SOUND * moved)


def _near_forces(found: np.ndarray, expected: np.ndarray, scales: np.ndarray) -> None:
    zero = np.abs(expected) <= NOTHING * scales
    near(found, expected, np.where(zero, TRUE_ZERO, SOUND) * scales)


def check_peaks_and_scales(answers: Answers, expected: Expected) -> None:
    """Scale, smallest and largest force in every combination; no sample lies beyond them."""
    assert [c.name for c in answers.combinations] == [c.name for c in expected.combinations]
    swept = answers.forces.sweep
    near(answers.forces.scales, expected.scales, SOUND * expected.scales)
    for column, combination in enumerate(expected.combinations):
        tolerance = SOUND * expected.scales[column]
        smallest, largest = expected.extremes("forces", combination)
        near(swept.smallest[:, column], smallest, tolerance)
        near(swept.largest[:, column], largest, tolerance)
        for passage in expected.passages_of(combination):
            rows = combination.crossing_factor * expected.moving("forces", passage)
            values = expected.standing("forces", combination) + rows @ passage.samples
            assert (values.max(axis=1) <= swept.largest[:, column] + tolerance).all()
            assert (values.min(axis=1) >= swept.smallest[:, column] - tolerance).all()


def check_zero_shares(answers: Answers, expected: Expected) -> None:
    """Zero shares of every combination, by lengths and by counting samples; their means; still members."""
    forces, study = answers.forces, expected.study
    shares = np.stack([expected.shares(c) for c in range(len(expected.combinations))], axis=1)
    near(forces.shares, shares, 1e-9)
    for column, combination in enumerate(expected.combinations):
        if combination.crossing:
            counted, error = expected.sampled_shares(column)
            near(forces.shares[:, column], counted, error)
    counts = [case.counts for case in study.cases.values()]
    counts += [crossing.counts for crossing in study.crossings.values()]
    mean = np.average(shares[:, : len(counts)], axis=1, weights=counts)
    near(forces.zero_share, mean, 1e-9)
    combined = shares[:, len(counts) :].mean(axis=1) if study.combinations else mean
    near(forces.zero_share_combined, combined, 1e-9)
    ends = [np.abs(expected.extremes("forces", c)).max(axis=0) for c in expected.combinations]
    still = (np.array(ends) <= expected.bands[:, None]).all(axis=0)
    assert (forces.still == still).all()


def check_governing_forces(answers: Answers, expected: Expected) -> None:
    """Peaks over what is asked, 0 where zero, each with the first combination, way and position it has."""
    for governing, sign in ((answers.forces.tension, 1.0), (answers.forces.compression, -1.0)):
        states = []
        for column in expected.asked:
            history = list(expected.history("forces", expected.combinations[column]))
            peak = np.max([(sign * s.values).max(axis=1) for s in history], axis=0)
            asleep = peak <= expected.bands[column]
            states += [(column, s, np.where(asleep[:, None], -np.inf, sign * s.values)) for s in history]
        largest = np.max([values.max(axis=1) for _, _, values in states], axis=0)
        largest = np.where(largest > 0, largest, 0.0)
        noise = SOUND * expected.scales[list(expected.asked)].max()
        near(governing.values, largest, noise)
        assert (governing.values[largest == 0] == 0).all()
        _check_places(governing, governing.values, states, noise, np.flatnonzero(largest > 0))


def check_extremes(answers: Answers, expected: Expected) -> None:
    """Largest and smallest reactions and deflections with the first combination, way and position."""
    for kind, extremes in (("reactions", answers.reactions), ("movements", answers.deflections)):
        for governing, sign in ((extremes.largest, 1.0), (extremes.smallest, -1.0)):
            states = [
                (place, s, sign * s.values)
                for place, column in enumerate(expected.asked)
                for s in expected.history(kind, expected.combinations[column])
            ]
            largest = np.max([values.max(axis=1) for _, _, values in states], axis=0)
            noise = SOUND * (
                expected.stir if kind == "movements" else expected.scales[list(expected.asked)].max()
            )
            near(sign * governing.values, largest, noise)
            _check_places(governing, sign * governing.values, states, noise, np.arange(len(largest)))


def _check_places(
    governing: Governing,
    peaks: np.ndarray,
    states: list[tuple[int, Stretch, np.ndarray]],
    noise: float,
    rows: np.ndarray,
) -> None:
    """Each named state has the peak, and none before it in the order of the contract clearly has."""
    floor = peaks - TIE * np.abs(peaks)
    has_it = np.zeros(len(peaks), dtype=bool)
    clearly_before = np.zeros(len(peaks), dtype=bool)
    clear = floor + noise * TRUE_ZERO / SOUND
    for column, stretch, values in states:
        with_train = stretch.way >= 0
        same = (governing.combinations == column) & (governing.directions == stretch.way)
        place = np.where(np.isnan(governing.positions), 0.0, governing.positions)[:, None]
        at = np.where(with_train, stretch.positions, 0.0)[None, :]
        margin = PLACE * (1 + np.abs(at).max())
        here = same[:, None] & (np.abs(at - place) <= margin)
        has_it |= (here & (values >= floor[:, None] - noise)).any(axis=1)
        earlier = (column < governing.combinations) | (
            (column == governing.combinations) & (stretch.way < governing.directions)
        )
        sooner = earlier[:, None] | (same[:, None] & (at < place - margin))
        clearly_before |= (sooner & (values > clear[:, None])).any(axis=1)
    assert has_it[rows].all(), np.flatnonzero(~has_it)
    assert not clearly_before[rows].any(), np.flatnonzero(clearly_before)


def check_redundancy_and_waking(answers: Answers, expected: Expected) -> None:
    """The diagonal of I - A^T K^-1 A diag(k), and the largest force that any unit joint load gives."""
    matrices, truss = expected.matrices, expected.study.truss
    loads = zeros(len(matrices.held), len(matrices.held))
    loads[np.diag_indices(len(loads))] = 1
    forces = answer_loads(matrices, loads).forces
    shares = 1 - np.einsum("mf,fm->m", forces, floats(matrices.equilibrium))
    redundancy = answers.redundancy
    near(redundancy.shares, shares, SOUND * max(1.0, np.abs(forces).max()))
    sizes = np.linalg.norm(forces.reshape(len(truss.members), -1, truss.dimension), axis=2)
    near(redundancy.waking_forces, sizes.max(axis=1), SOUND * sizes.max())
    assert abs(redundancy.condition - sizes.max()) <= SOUND * sizes.max()
    for member, joint in enumerate(redundancy.waking_joints):
        peak = sizes[member].max()
        if joint < 0:
            assert peak <= SOUND
            continue
        clearly = sizes[member] > peak * (1 - TIE) + SOUND * sizes.max()
        assert sizes[member, joint] >= peak * (1 - TIE) - SOUND * sizes.max()
        assert not clearly[:joint].any()
        told = redundancy.waking_directions[member]
        d = truss.dimension
        assert abs(told @ forces[member, d * joint : d * joint + d] - peak) <= SOUND * sizes.max()
        assert abs(np.linalg.norm(told) - 1) <= SOUND


CHECKS = (
    check_columns,
    check_peaks_and_scales,
    check_zero_shares,
    check_governing_forces,
    check_extremes,
    check_redundancy_and_waking,
)
