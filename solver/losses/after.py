"""Rows of results after a loss: any few of them, each for a loss of its own, ready to be swept together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.equilibrium import imbalance_of
from solver.errors import UntrustworthyError
from solver.losses.releases import Releases, release
from solver.losses.without import without
from solver.progress import silent
from solver.response import Responses, Rows, respond
from solver.stiffness import Stiffness
from solver.study import Study
from solver.tolerances import IMBALANCE

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
Kind = Literal["forces", "reactions", "deflections"]
KINDS: tuple[Kind, ...] = ("forces", "reactions", "deflections")


@dataclass(frozen=True)
class Pairs:
    """Rows (indices of one kind) each under a loss (places among those of a block), (pairs,) both."""

    rows: Indices
    losses: Indices

    @classmethod
    def all_of(cls, rows: int, losses: int) -> Pairs:
        """Every row under every loss, row by row."""
        first, second = np.indices((rows, losses))
        return cls(first.ravel(), second.ravel())


@dataclass(frozen=True)
class After:
    """A block of losses and what rows become under each.

    own: by kind what each lost member's own weight brings, (rows, c), zero where no weight is asked for;
    self_weights (cases,): factors of own weight; anew: responses of the truss worked out without the
    member, for the losses (places) whose release is not sound, or all.
    """

    responses: Responses
    releases: Releases
    own: Mapping[Kind, Array]
    self_weights: Array
    anew: Mapping[int, Responses]

    def rows_of(self, kind: Kind) -> Rows:
        """Rows of a kind as they were before any loss."""
        return {
            "forces": self.responses.forces,
            "reactions": self.responses.reactions,
            "deflections": self.responses.deflections,
        }[kind]

    def changes(self, kind: Kind) -> Array:
        """What a newton that each lost member bore becomes in every row, (rows, c)."""
        releases = self.releases
        return {
            "forces": releases.forces,
            "reactions": releases.reactions,
            "deflections": releases.deflections,
        }[kind]

    def shifts(self, kind: Kind) -> Array:
        """What taking a member's own weight away adds to every row after its loss, (rows, c)."""
        columns = np.arange(len(self.releases.members))
        own = self.own["forces"][self.releases.members, columns]
        return -(self.own[kind] + self.changes(kind) * own)

    def rows(self, kind: Kind, pairs: Pairs) -> Rows:
        """Return chosen rows after chosen losses, one row a pair."""
        rows, lost = self.rows_of(kind), self.responses.forces
        members = self.releases.members[pairs.losses]
        change = self.changes(kind)[pairs.rows, pairs.losses][:, None]
        cases = rows.cases[pairs.rows] + change * lost.cases[members]
        if self.self_weights.any():
            cases += np.outer(self.shifts(kind)[pairs.rows, pairs.losses], self.self_weights)
        influence = {
            chord: part[pairs.rows] + change * lost.influence[chord][members]
            for chord, part in rows.influence.items()
        }
        for place, responses in self.anew.items():
            self._put_anew(kind, pairs, (place, responses), (cases, influence))
        return Rows(cases, influence, rows.sizes)

    def _put_anew(
        self,
        kind: Kind,
        pairs: Pairs,
        worked: tuple[int, Responses],
        into: tuple[Array, dict[str, Array]],
    ) -> None:
        place, responses = worked
        lost = int(self.releases.members[place])
        chosen = pairs.losses == place
        if kind == "forces":
            # The lost member has no row there, and what the update says of it is exact: nothing is left.
            chosen = chosen & (pairs.rows != lost)
        rows = {"forces": responses.forces, "reactions": responses.reactions}.get(kind, responses.deflections)
        wanted = pairs.rows[chosen]
        if kind == "forces":
            wanted = wanted - (wanted > lost)
        into[0][chosen] = rows.cases[wanted]
        for chord, part in rows.influence.items():
            into[1][chord][chosen] = part[wanted]


def look_after(
    study: Study, stiffness: Stiffness, responses: Responses, members: Indices, anew: bool = False
) -> After:
    """Look at the losses of some members (indices) that a truss stands without, each alone.

    `anew`: work every one of them out afresh, from the truss without the member, the slow way that all
    others are held against.
    """
    releases = release(stiffness, members)
    chosen = np.flatnonzero(~releases.sound | anew)
    return After(
        responses,
        releases,
        own_weights(study, stiffness, members),
        np.array([case.self_weight for case in study.cases.values()]),
        {int(place): _anew(study, int(members[place])) for place in chosen},
    )


def own_weights(study: Study, stiffness: Stiffness, members: Indices) -> dict[Kind, Array]:
    """What each member's own weight brings to every row, by kind, (rows, c); zero where none is asked for."""
    truss = study.truss
    loads = np.zeros((truss.freedoms, len(members)))
    if any(case.self_weight for case in study.cases.values()):
        up = truss.dimension - 1
        for end in range(2):
            loads[truss.ends[members, end] * truss.dimension + up, np.arange(len(members))] -= (
                truss.weights[members] / 2
            )
    answer = stiffness.respond(loads)
    return {"forces": answer.forces, "reactions": answer.reactions, "deflections": answer.movements}


def _anew(study: Study, member: int) -> Responses:
    """Work out the truss without a member; raises UntrustworthyError where its joints do not balance."""
    left = without(study, member)
    responses = respond(left, Stiffness(left.truss), silent)
    imbalance = imbalance_of(responses)
    if not imbalance <= IMBALANCE:
        name = study.truss.members[member].name
        raise UntrustworthyError(
            f"without {name} the joints do not balance: {imbalance:.2g} of the scale is missing at one, "
            f"at most {IMBALANCE:g} is accepted; what remains is too near a mechanism"
        )
    return responses
