"""Virtual work: without a member that the truss needs it moves in one way; what do the loads do in it?

The member's force times what its length changes is minus the work of the loads (any statics text): no
work, no force. The movement is found as fractions, verified member by member, wherever it can be.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, isqrt

import numpy as np
from numpy.typing import NDArray

from solver.exact import PRIMES
from solver.exact_algebra import dot
from solver.removal import movement_without
from solver.state import State
from solver.statics import Statics, movement_modulo
from solver.stiffness import Stiffness
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]
MOST_PRIMES = 24
"""Fractions of up to some 360 binary digits above and below are found with so many."""

LARGEST_EXACT = 400
"""Members up to which a movement is looked for in fractions: each prime costs an elimination."""


@dataclass(frozen=True)
class Work:
    """The work of the load on one joint (index) in the movement [N x movement], and that movement there."""

    joint: int
    load: Array
    movement: Array
    work: float


@dataclass(frozen=True)
class VirtualWork:
    """A movement without the member, (joints, dimension), the largest joint moves by 1; and what loads do.

    exact: the same in fractions of the written coordinates, where looked for and found; every other member
    keeps its length in it and every support holds, exactly. works: one a loaded joint that moves.
    elongation: by how much the member's place grows.
    """

    movement: Array
    exact: tuple[ExactVector, ...] | None
    works: tuple[Work, ...]
    elongation: float

    @property
    def total(self) -> float:
        """The work of all loads."""
        return sum(work.work for work in self.works)


def examine_virtual_work(
    stiffness: Stiffness, statics: Statics, state: State, member: int, moves: tuple[int, ...]
) -> VirtualWork:
    """Return the movement that losing a needed `member` (index) leaves, and the work of a state's loads."""
    truss = stiffness.truss
    movement = movement_without(stiffness, member, moves)
    exact = exact_movement(statics, member) if len(truss.members) <= LARGEST_EXACT else None
    if exact is not None:
        fractions = np.array([[float(c) for c in vector] for vector in exact])
        sense = np.sign((fractions * movement).sum())
        movement = sense * fractions / np.linalg.norm(fractions, axis=1).max()
    loads = state.joint_loads
    works = tuple(
        Work(int(joint), loads[joint], movement[joint], float(loads[joint] @ movement[joint]))
        for joint in np.flatnonzero(loads.any(axis=1) & movement.any(axis=1))
    )
    first, second = truss.ends[member]
    elongation = float(truss.directions[member] @ (movement[second] - movement[first]))
    return VirtualWork(movement, exact, works, elongation)


def exact_movement(statics: Statics, member: int) -> tuple[ExactVector, ...] | None:
    """Return the movement without a needed member as fractions, one vector a joint, or None.

    None where it takes numbers too long. What is returned has been verified: no other member changes its
    length, no held direction gives way, and the member's own place changes.
    """
    truss = statics.truss
    residue: list[int] = []
    modulus = 1
    for prime in _primes(MOST_PRIMES):
        vector = movement_modulo(statics, member, prime)
        if vector is None:
            continue
        now = [int(value) for value in vector]
        residue = _combine(residue, modulus, now, prime) if residue else now
        modulus *= prime
        found = [_fraction(value, modulus) for value in residue]
        if None not in found:
            flat = [value for value in found if value is not None]
            step = truss.dimension
            movement = tuple(tuple(flat[i : i + step]) for i in range(0, len(flat), step))
            if is_movement_without(truss, member, movement):
                return movement
    return None


def is_movement_without(truss: Truss, member: int, movement: tuple[ExactVector, ...]) -> bool:
    """Whether every member but one keeps its length in a movement and every support holds, exactly."""
    for index, (bar, vector) in enumerate(zip(truss.members, truss.exact_vectors, strict=True)):
        first, second = movement[bar.first], movement[bar.second]
        change = dot(vector, tuple(b - a for a, b in zip(first, second, strict=True)))
        if (change == 0) == (index == member):
            return False
    return not any(
        dot(direction, movement[support.joint])
        for support in truss.supports
        for direction in support.directions
    )


def _combine(residue: list[int], modulus: int, other: list[int], prime: int) -> list[int]:
    """The numbers below modulus x prime that leave both remainders (Chinese remainders)."""
    inverse = pow(modulus, -1, prime)
    return [a + modulus * ((b - a) * inverse % prime) for a, b in zip(residue, other, strict=True)]


def _fraction(residue: int, modulus: int) -> Fraction | None:
    """The fraction with small numbers that leaves a remainder (Wang's rational reconstruction, 1981)."""
    bound = isqrt(modulus // 2)
    a, b, s, t = modulus, residue, 0, 1
    while b > bound:
        quotient = a // b
        a, b, s, t = b, a - quotient * b, t, s - quotient * t
    if abs(t) > bound or gcd(b, t) != 1:
        return None
    return Fraction(b, t)


def _primes(count: int) -> Iterator[int]:
    """Primes below 2**31, the largest first."""
    candidate, found = max(PRIMES), 0
    while found < count:
        if _is_prime(candidate):
            found += 1
            yield candidate
        candidate -= 2


def _is_prime(number: int) -> bool:
    """Whether an odd number below 3.2e9 is prime (Miller & Rabin with bases 2, 3, 5, 7: Jaeschke, 1993)."""
    odd, twos = number - 1, 0
    while odd % 2 == 0:
        odd, twos = odd // 2, twos + 1
    for base in (2, 3, 5, 7):
        power = pow(base, odd, number)
        if power in (1, number - 1):
            continue
        for _ in range(twos - 1):
            power = power * power % number
            if power == number - 1:
                break
        else:
            return False
    return True
