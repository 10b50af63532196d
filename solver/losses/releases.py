"""Releases: what changes in a truss when a member lets go of the force that it bears.

A member that is gone is one that has been made longer until it bears nothing. A misfit of 1 on member r
leaves the forces -k_i R_ir (von Scheven, Ramm & Bischoff, Int. J. Solids Struct. 213, 41-49, 2021); over
the own one, -k_r R_rr, they are what each newton given up by r puts into the others. The loss of r
changes every row of results by its column times the row of r's own force: the formula of Sherman & Morrison
(Ann. Math. Stat. 21, 124-127, 1950, from memory), worked with forces and not with the matrix.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.stiffness import Stiffness
from solver.tolerances import RELEASED

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Releases:
    """For some members (indices, (c,)) what one newton that each gives up does, a column each.

    forces (members, c) [N/N], -1 in the member itself; reactions (held, c) [N/N]; deflections
    (joints x dimension, c) [m/N]; shares (c,): redundancy shares. `sound` (c,): joints balance and bars fit
    to within RELEASED; where not, the truss must be worked out anew without the member.
    """

    members: Indices
    shares: Array
    forces: Array
    reactions: Array
    deflections: Array
    sound: NDArray[np.bool_]


def release(stiffness: Stiffness, members: Indices) -> Releases:
    """Release members, each alone, of a truss that stands without any one of them."""
    truss = stiffness.truss
    columns = np.arange(len(members))
    longer = np.zeros((len(truss.members), len(members)))
    longer[members, columns] = 1.0
    answer = stiffness.respond(np.zeros((truss.freedoms, len(members))), elongations=longer)
    own = answer.forces[members, columns]
    shares = -own / truss.axial_stiffness[members]
    given_up = np.where(own < 0, -own, np.inf)
    forces = answer.forces / given_up
    # Each must bear exactly nothing once its own force is added.
    forces[members, columns] = -1.0
    deflections = answer.movements / given_up
    lacking = np.abs(answer.imbalance).max(axis=0, initial=0.0) / given_up
    gaps = (
        answer.forces / truss.axial_stiffness[:, None] - stiffness.equilibrium.T @ answer.movements + longer
    )
    # What does not fit counts as the force that it would take to make it fit.
    unfit = np.abs(gaps * np.minimum(truss.axial_stiffness[:, None], truss.axial_stiffness[members])).max(
        axis=0, initial=0.0
    )
    largest = np.abs(forces).max(axis=0, initial=1.0)
    sound = (lacking <= RELEASED * largest) & (unfit / given_up <= RELEASED * largest)
    return Releases(members, shares, forces, answer.reactions / given_up, deflections, sound)
