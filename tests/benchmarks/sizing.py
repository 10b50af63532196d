"""Lighter sections of an X-braced viaduct under 200 combinations, and a trial against answering it anew.

Run with `python -m tests.benchmarks.sizing [panels]`. The plain way of trying a choice is to answer the study
with its sections from the beginning, as a run does; a search tries hundreds.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from fractions import Fraction

from explorer.sections.catalogue import list_profiles
from solver.answers import answer
from solver.profiles.profile import Profile
from solver.resistance.en_1993_1_1 import En1993
from solver.rules import Limits, Rules
from solver.sizing.candidates import Candidates, find_candidates
from solver.sizing.choice import find_sizes
from solver.sizing.trial import Bench
from solver.study import Study
from solver.truss import Making, Section, Support
from tests.benchmarks.losses import bridge
from tests.benchmarks.timing import best

SPAN, LARGER = 10, 40
"""Panels between supports, and how many sizes stand above those of the table, each a little larger."""
ROUNDS = 3


def sections() -> tuple[Section, ...]:
    """Square hollow sections of EN 10210-2, and then larger ones of the same shape."""
    profiles = list(list_profiles("EN 10210-2 SHS"))
    profiles += [_scaled(profiles[-1], 1 + 0.12 * step) for step in range(1, LARGER + 1)]
    return tuple(
        Section(profile.size, profile.area, profile.second_moment, profile.radius, profile)
        for profile in profiles
    )


def _scaled(profile: Profile, times: float) -> Profile:
    """A profile with all its lengths so many times as large."""
    lengths = {name: getattr(profile, name) * times for name in ("depth", "width", "thickness")}
    seconds = {name: getattr(profile, name) * times**4 for name in ("second_moment", "across", "least")}
    area = profile.area * times**2
    return replace(profile, size=f"{profile.size} times {times:.2f}", area=area, **lengths, **seconds)


def viaduct(panels: int) -> Study:
    """The bridge of the losses on a support at every tenth panel, its groups made of one family."""
    study = bridge(panels)
    truss = study.truss
    steel = replace(truss.members[0].group.material, yield_strength=355e6, ultimate_strength=490e6)
    made = {"material": steel, "making": Making(family="square")}
    members = tuple(replace(m, group=replace(m.group, **made)) for m in truss.members)
    middle = [truss.joint_names.index(f"L{panel}") for panel in range(SPAN, panels, SPAN)]
    supports = (*truss.supports, *(Support(joint, ((Fraction(0), Fraction(1)),), ("y",)) for joint in middle))
    rules = Rules(En1993(curve="a"), (), Limits(), {"square": sections()})
    return replace(study, truss=replace(truss, members=members, supports=supports), rules=rules)


def main(panels: int = 100) -> None:
    """Print how long sizing takes, what it found, and the ratio of the two ways of trying a choice."""
    study = viaduct(panels)
    answers = answer(study)
    geometry = (answers.statics, answers.removals)
    start = time.perf_counter()
    found: Candidates = find_candidates(study, geometry)
    took = time.perf_counter() - start
    assert found.then is not None and found.then.holds
    choice = found.then.choice
    lighter = found.sizes.study_with(choice)
    slow = best(lambda: answer(lighter), 1)
    fast = best(lambda: Bench(find_sizes(study), geometry).try_out(choice), ROUNDS)
    print(f"{len(study.truss.members)} members, {len(study.asked)} combinations, {found.tried} choices tried")
    proven = "proven least" if found.proven else "not proven least"
    print(f"  sizing {took:.1f} s, {proven}; {found.then.weight / 1e3:.0f} kN")
    print(f"  a trial {fast:.2f} s, answering anew {slow:.2f} s: {slow / fast:.0f} times")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
