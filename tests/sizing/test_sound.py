"""Looking at the members of which most is asked decides as looking at all of them does."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from explorer.bundled import find_bundled
from explorer.document import read_study
from solver.answers import answer
from solver.checks.check import Check
from solver.sizing import sound
from solver.sizing.choice import find_sizes
from solver.sizing.sound import check_section
from solver.sizing.trial import Bench

Decided = dict[tuple[int, int], bool]


def decide(bench: Bench) -> tuple[Decided, dict[tuple[int, int], float]]:
    """Of every group and option whether all checks hold as it is now, and the largest utilisation known."""
    sizes, trial = bench.sizes, bench.try_out(bench.sizes.now)
    holds: Decided = {}
    most: dict[tuple[int, int], float] = {}
    for place in range(len(sizes.groups)):
        for chosen in sizes.options(place):
            checks: list[Check] = [check for _, check in check_section(sizes, trial, (place, chosen))]
            holds[place, chosen] = all(check.holds for check in checks)
            known = [check.utilisation for check in checks if check.utilisation == check.utilisation]
            most[place, chosen] = max(known, default=0.0)
    return holds, most


@pytest.mark.parametrize("name", ["avocet_bridge", "bittern_roof", "egret_span"])
def test_of_members_alike_those_of_which_most_is_asked_decide_for_all(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = answer(read_study(find_bundled(name).path).study)
    bench = Bench(find_sizes(answers.study), (answers.statics, answers.removals))
    few = decide(bench)
    monkeypatch.setattr(sound, "_telling", lambda trial, members: tuple(members))
    every = decide(bench)
    assert few[0] == every[0]
    assert few[1] == pytest.approx(every[1], rel=1e-12)
    assert any(few[0].values()) and not all(few[0].values())


def test_of_members_alike_the_one_with_most_as_a_prop_is_looked_at_for_tension_too() -> None:
    """Pulled by 11 and 10, holding with 1 and 6: 12 beside 16; the third is pushed and holds as well."""
    bar = SimpleNamespace(length=1.0, in_plane=1.0, across=1.0)
    pulls, pushes = np.array([11.0, 10.0, 0.0]), np.array([0.0, 0.0, 20.0])
    before = SimpleNamespace(
        demands=(pulls, pushes), borne=(pulls, pushes), resisting=SimpleNamespace(bars=(bar,) * 3)
    )
    each = tuple((Check("prop force", "rule", held, 1.0, held),) for held in (1.0, 6.0, 6.0))
    trial = SimpleNamespace(before=before, checks=SimpleNamespace(each=each))
    assert sound._telling(trial, (0, 1, 2)) == (0, 1, 2)  # type: ignore[arg-type]
    none = SimpleNamespace(before=before, checks=SimpleNamespace(each=((), (), ())))
    assert sound._telling(none, (0, 1, 2)) == (0, 2)  # type: ignore[arg-type]
