"""How load cases act together."""

from solver.combining.combination import Combination

__all__ = ["Combination"]
