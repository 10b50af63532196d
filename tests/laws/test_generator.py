"""The generator's own histogram: every kind of truss that the laws are meant for does come up."""

from __future__ import annotations

from collections import Counter

from tests.laws.random_trusses import draw_study, draw_truss


def test_every_kind_of_truss_comes_up_often_enough() -> None:
    drawn = [draw_truss(seed) for seed in range(300)]
    kinds: Counter[object] = Counter()
    for one in drawn:
        members = len(one.truss.members)
        kinds.update(
            [
                f"dimension {one.truss.dimension}",
                f"extra {one.extra}",
                f"spread {one.spread}",
                f"sloped {one.sloped}",
                "small" if members <= 15 else "middling" if members <= 35 else "large",
            ]
        )
        assert 4 <= members <= 60
    assert min(kinds["dimension 2"], kinds["dimension 3"]) >= 60, kinds
    assert min(kinds[f"extra {count}"] for count in range(7)) >= 15, kinds
    assert min(kinds[f"spread {decades}"] for decades in (0, 3, 6)) >= 60, kinds
    assert min(kinds["sloped True"], kinds["sloped False"]) >= 40, kinds
    assert min(kinds["small"], kinds["middling"], kinds["large"]) >= 20, kinds


def test_chords_overhang_and_run_both_ways() -> None:
    studies = [draw_study(seed) for seed in range(60)]
    jumps = ways = 0
    for study in studies:
        chord = study.chords["deck"]
        held = {support.joint for support in study.truss.supports}
        jumps += chord.joints[0] not in held or chord.joints[-1] not in held
        ways += chord.vectors[0][0] < 0
    assert jumps >= 40
    assert 5 <= ways <= 40
