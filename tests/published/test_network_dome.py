"""Network domes: three rings of n joints over a fixed ring, each joint tied to its ring and to two below.

A. Föppl, Das Fachwerk im Raume, 1892 (from memory): 9 n members for 9 n directions, and yet critical where
n is even and sound where n is odd. Corners of a regular polygon are irrational, so the exact test is put
to them in a finite field in which their cosines and sines exist: for a prime p with p - 1 a multiple of
both 2 n and 4, a power z of a generator of order 2 n stands for the turn by half a step, and cos and sin of
the k-th turn are (z^k + z^-k) / 2 and (z^k - z^-k) / (2 i).
"""

from __future__ import annotations

from math import cos, lcm, pi, sin
from typing import Any

import numpy as np
import pytest
import sympy  # type: ignore[import-untyped]

from solver.answers import answer
from solver.errors import MechanismError, UntrustworthyError
from solver.exact import Columns, eliminate
from solver.statics import examine
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_exactly, published

RADII = (9, 8, 6, 3)
HEIGHTS = (0, 3, 5, 6)
Joint = tuple[int, int]


def members(n: int, rings: int) -> list[tuple[Joint, Joint]]:
    """Joint j of ring r stands at 2 j + (r odd) half steps; below it are the two nearest of ring r - 1."""
    found = []
    for ring in range(1, rings + 1):
        for j in range(n):
            left = j if ring % 2 else (j - 1) % n
            below = [(ring - 1, left), (ring - 1, (left + 1) % n)]
            found += [((ring, j), other) for other in ((ring, (j + 1) % n), *below)]
    return found


def prime_with_roots(order: int, number: int) -> int:
    """The largest primes below 2**31 that leave 1 when divided by `order`, by number."""
    candidates = (p for p in range(2**31 - 2**31 % order + 1 - order, 2, -order) if sympy.isprime(p))
    return next(p for place, p in enumerate(candidates) if place == number)


def turns(order: int, prime: int) -> list[int]:
    """All powers of an element of exactly this order modulo the prime."""
    root = pow(int(sympy.primitive_root(prime)), (prime - 1) // order, prime)
    return [pow(root, k, prime) for k in range(order)]


def columns_in_a_field(n: int, number: int, rings: int = 3) -> Columns:
    """The members of a dome over a regular polygon of n corners, exact in a finite field."""
    order = lcm(4, 2 * n)
    prime = prime_with_roots(order, number)
    roots = turns(order, prime)
    half, imaginary = pow(2, -1, prime), roots[order // 4]

    def place(joint: Joint) -> list[int]:
        ring, j = joint
        k = (2 * j + ring % 2) * (order // (2 * n)) % order
        cosine, sine = (
            (roots[k] + roots[-k]) * half,
            (roots[k] - roots[-k]) * half * pow(imaginary, -1, prime),
        )
        return [RADII[ring] * cosine % prime, RADII[ring] * sine % prime, HEIGHTS[ring]]

    rows, values = [], []
    for ends in members(n, rings):
        vector = [(b - a) % prime for a, b in zip(place(ends[0]), place(ends[1]), strict=True)]
        signs = [(-1 if end == 0 else 1) if ends[end][0] else 0 for end in range(2)]
        free = [max(ends[end][0] - 1, 0) * n + ends[end][1] for end in range(2)]
        rows.append([3 * joint + axis for joint in free for axis in range(3)])
        values.append([sign * component % prime for sign in signs for component in vector])
    return Columns(np.array(rows, dtype=np.int64), np.array(values, dtype=np.int64), 3 * rings * n, prime)


def dome(points: list[list[tuple[Any, Any]]]) -> Truss:
    """A dome through written points, ring by ring; the lowest ring is held."""
    n, rings = len(points[0]), len(points) - 1
    names = {(ring, j): f"{ring}{'abcdefghi'[j]}" for ring in range(rings + 1) for j in range(n)}
    joints = {name: (*points[ring][j], HEIGHTS[ring]) for (ring, j), name in names.items()}
    bars = [f"{names[first]}-{names[second]}" for first, second in members(n, rings)]
    return build_truss(joints, bars, {name: "xyz" for name in joints if name[0] == "0"})


def regular(n: int, digits: int, rings: int = 3) -> Truss:
    """A dome over a regular polygon, its coordinates written with so many decimals."""

    def corner(ring: int, j: int) -> tuple[str, str]:
        angle = (2 * j + ring % 2) * pi / n + 0.1
        return f"{RADII[ring] * cos(angle):.{digits}f}", f"{RADII[ring] * sin(angle):.{digits}f}"

    return dome([[corner(ring, j) for j in range(n)] for ring in range(rings + 1)])


def square() -> Truss:
    """Rings of four, corners (r, r) and (r, 0) by turns, all whole numbers."""
    corners = [(1, 1), (-1, 1), (-1, -1), (1, -1)]
    # half a step past the corner (1, 1) stands (0, 1)
    sides = [(0, 1), (-1, 0), (0, -1), (1, 0)]
    rings = [corners, sides, corners, sides]
    return dome([[(r * x, r * y) for x, y in ring] for r, ring in zip(RADII, rings, strict=True)])


@published("network_dome", "even rings of 4, 6, 8, 10: one below full rank, in two finite fields each")
@pytest.mark.parametrize("n", [4, 6, 8, 10])
@pytest.mark.parametrize("number", [0, 1])
def test_an_even_network_dome_is_critical(n: int, number: int) -> None:
    elimination = eliminate(columns_in_a_field(n, number), np.random.default_rng(number))
    agree_exactly((len(elimination.weights), elimination.rank), (9 * n, 9 * n - 1))


@published("network_dome", "one even ring over a fixed one: one below full rank; odd: full rank")
@pytest.mark.parametrize("n", [4, 5, 8, 9])
def test_a_single_even_ring_is_critical_already(n: int) -> None:
    elimination = eliminate(columns_in_a_field(n, 0, rings=1), np.random.default_rng(0))
    agree_exactly(elimination.rank, 3 * n - 1 + n % 2)


@published("network_dome", "odd rings of 3, 5, 7, 9: full rank")
@pytest.mark.parametrize("n", [3, 5, 7, 9])
def test_an_odd_network_dome_has_full_rank(n: int) -> None:
    elimination = eliminate(columns_in_a_field(n, 0), np.random.default_rng(0))
    agree_exactly((len(elimination.weights), elimination.rank), (9 * n, 9 * n))


@published("network_dome", "rings of four at whole numbers: critical, told by the joints that move")
def test_a_dome_of_square_rings_at_whole_numbers_is_critical() -> None:
    truss = square()
    statics = examine(truss)
    agree_exactly((statics.static_indeterminacy, statics.rank, statics.mechanisms), (0, 47, 1))
    with pytest.raises(MechanismError, match="enough in number") as caught:
        answer(build_study(truss, [load_case(truss, **{"3a": (0, 0, -1)})]))
    # the top ring over a ring at rest is a critical form of its own, and its movement is the only one
    agree_exactly(caught.value.culprits, ("3a", "3b", "3c", "3d"))


@published("critical_in_decimals", "ring of nine in decimals: full rank by proof, sound")
def test_an_odd_dome_in_decimals_is_sound() -> None:
    truss = regular(9, 15)
    answers = answer(build_study(truss, [load_case(truss, **{"3a": (0, 0, -1)})]))
    agree_exactly((answers.statics.rank, answers.sensitivity.near_critical), (81 + 27, False))


@published("critical_in_decimals", "rings of eight in decimals: full rank, and yet no answer is trusted")
@pytest.mark.parametrize("digits", [15, 9, 6, 3])
def test_an_even_dome_in_decimals_has_full_rank_and_is_not_trusted(digits: int) -> None:
    truss = regular(8, digits)
    agree_exactly(examine(truss).rank, 72 + 24)
    with pytest.raises(UntrustworthyError):
        answer(build_study(truss, [load_case(truss, **{"3a": (0, 0, -1)})]))
