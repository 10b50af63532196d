"""Rank, dependence and null vectors of rational matrices, decided exactly by arithmetic modulo a prime.

For columns c_1..c_q of a rational matrix C and random weights w, the matrix G = sum w_i c_i c_i^T over
the integers modulo a prime p has the rank of C except with a probability of about (rows / p), and never
a larger one (Schwartz-Zippel; DeMillo & Lipton, Inf. Process. Lett. 7(4), 193-195, 1978). Full rank
modulo p therefore proves full rank; a deficiency is confirmed with a second prime and other weights.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

import numpy as np
from numpy.lib.stride_tricks import as_strided
from numpy.typing import NDArray

PRIMES = (2**31 - 1, 2**31 - 19)
"""Products of two residues stay below 2**62, so that 64-bit integers hold them."""

Integers = NDArray[np.int64]


def residues(vector: Sequence[Fraction], prime: int) -> list[int]:
    """Return the vector, scaled by a common denominator to integers, modulo `prime`.

    >>> residues([Fraction(1, 2), Fraction(-1, 3)], 101)
    [3, 99]
    """
    common = lcm(*(value.denominator for value in vector))
    return [value.numerator * (common // value.denominator) % prime for value in vector]


@dataclass(frozen=True)
class Columns:
    """A sparse integer matrix modulo `prime`: column i has `values[i]` at the rows `rows[i]`.

    rows, values (columns, w); unused places hold the value 0. `height` is the number of rows.
    """

    rows: Integers
    values: Integers
    height: int
    prime: int

    @property
    def bandwidth(self) -> int:
        """The largest distance between two rows of one column."""
        used_low = np.where(self.values != 0, self.rows, self.height).min(axis=1)
        used_high = np.where(self.values != 0, self.rows, -1).max(axis=1)
        return int(np.maximum(used_high - used_low, 0).max(initial=0))

    def times(self, factors: Integers) -> Integers:
        """Return C @ factors modulo the prime; factors (columns, k), result (height, k)."""
        product = np.zeros((self.height, factors.shape[1]), dtype=np.int64)
        for place in range(self.rows.shape[1]):
            terms = self.values[:, place, None] * factors % self.prime
            np.add.at(product, self.rows[:, place], terms)
        return product % self.prime

    def transposed_times(self, vectors: Integers) -> Integers:
        """Return C^T @ vectors modulo the prime; vectors (height, k), result (columns, k)."""
        product = np.zeros((len(self.rows), vectors.shape[1]), dtype=np.int64)
        for place in range(self.rows.shape[1]):
            product += self.values[:, place, None] * vectors[self.rows[:, place]] % self.prime
        return product % self.prime


@dataclass(frozen=True)
class Elimination:
    """G = L D L^T modulo the prime in banded form, with the rows found dependent on earlier ones.

    multipliers (height, band + 1): multipliers[i, k] is L[i + k, i], k > 0; pivots (height,) hold D,
    0 where the row depends on earlier rows.
    """

    columns: Columns
    weights: Integers
    multipliers: Integers
    pivots: Integers

    @property
    def rank(self) -> int:
        """The rank of C (certain from below, as good as certain from above)."""
        return int(np.count_nonzero(self.pivots))

    def solve(self, right: Integers) -> Integers:
        """Return x with G x = right modulo the prime; right (height, k). G must have full rank."""
        prime, height = self.columns.prime, self.columns.height
        x = right % prime
        for i in range(height):
            below = slice(i + 1, min(height, i + self.multipliers.shape[1]))
            x[below] -= self._column(i)[:, None] * x[i] % prime
            x[below] %= prime
        inverses = np.array([pow(int(pivot), -1, prime) for pivot in self.pivots], dtype=np.int64)
        return self._back(x * inverses[:, None] % prime)

    def null_vectors(self, count: int, random: np.random.Generator) -> Integers:
        """Return `count` random vectors z with C^T z = 0 modulo the prime, (height, count)."""
        start = np.zeros((self.columns.height, count), dtype=np.int64)
        free = np.flatnonzero(self.pivots == 0)
        start[free] = random.integers(1, self.columns.prime, (len(free), count))
        return self._back(start)

    def dependency(self, random: np.random.Generator) -> Integers:
        """Return a random s with C s = 0 modulo the prime, (columns,): a random state of self-stress."""
        return self.dependencies(1, random)[:, 0]

    def dependencies(self, count: int, random: np.random.Generator) -> Integers:
        """Return random s with C s = 0 modulo the prime, (columns, count); G must have full rank."""
        prime = self.columns.prime
        guess = random.integers(1, prime, (len(self.weights), count))
        answer = self.solve(self.columns.times(guess))
        back = self.columns.transposed_times(answer) * self.weights[:, None] % prime
        return (guess - back) % prime

    def _column(self, i: int) -> Integers:
        return self.multipliers[i, 1 : self.columns.height - i]

    def _back(self, x: Integers) -> Integers:
        """Solve L^T z = x in place, last row first."""
        prime, height = self.columns.prime, self.columns.height
        for i in range(height - 1, -1, -1):
            below = slice(i + 1, min(height, i + self.multipliers.shape[1]))
            terms = self._column(i)[:, None] * x[below] % prime
            x[i] = (x[i] - terms.sum(axis=0)) % prime
        return x


def eliminate(columns: Columns, random: np.random.Generator) -> Elimination:
    """Eliminate G = C diag(w) C^T with random weights w, row by row within its band."""
    prime = columns.prime
    weights = random.integers(1, prime, len(columns.rows))
    band = columns.bandwidth
    stored = _weighted_gram(columns, weights, band)
    multipliers = np.zeros((columns.height, band + 1), dtype=np.int64)
    pivots = np.zeros(columns.height, dtype=np.int64)
    for i in range(columns.height):
        row = stored[i, band:]
        pivots[i] = row[0]
        if not row[0]:
            continue
        multipliers[i] = row * pow(int(row[0]), -1, prime) % prime
        window = as_strided(stored[i:, band:], (band + 1, band + 1), (stored.strides[0] - 8, 8))
        window[1:, 1:] -= multipliers[i, 1:, None] * row[1:] % prime
        window[1:, 1:] %= prime
    return Elimination(columns, weights, multipliers, pivots)


def _weighted_gram(columns: Columns, weights: Integers, band: int) -> Integers:
    """G in full banded storage: entry (i, j) stands at [i, band + j - i]; `band` spare rows below."""
    stored = np.zeros((columns.height + band + 1, 2 * band + 1), dtype=np.int64)
    width = columns.rows.shape[1]
    for a in range(width):
        weighted = columns.values[:, a] * weights % columns.prime
        for b in range(width):
            used = (columns.values[:, a] != 0) & (columns.values[:, b] != 0)
            rows = columns.rows[used, a]
            terms = weighted[used] * columns.values[used, b] % columns.prime
            np.add.at(stored, (rows, band + columns.rows[used, b] - rows), terms)
    return stored % columns.prime
