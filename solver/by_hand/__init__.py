"""By hand: joint after joint, a cut where no joint opens, in the order in which a student goes."""

from solver.by_hand.order import HandOrder, Step, solve_by_hand
from solver.by_hand.sums import Equation, Found, Load, Term

__all__ = ["Equation", "Found", "HandOrder", "Load", "Step", "Term", "solve_by_hand"]
