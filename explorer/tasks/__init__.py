"""Practice tasks without end: which members of this truss carry no force under this load?

A task is drawn from its seed, level and dimension alone and is the same on every machine. Levels:

1. 7 to 15 members. Every zero shows at a joint, in at most two steps; at least two, at most a third.
2. 11 to 25 members, 3 to 10 zeros, all shown at joints: by a chain of three steps or more, or by a load
   in line with other members, or by a support that stands in for one. A trap stands beside them: a joint
   of three members, two of them in line, that is loaded, so that its third member works.
3. 13 to 35 members. At least one zero shows at a joint and at least one at none: a known reaction or a
   cut shows it. Often two members mirror one another and one alone is zero. At times a panel with two
   diagonals, or overhanging ends.

In space there are 6 to 15, 9 to 24 and 12 to 36 members, and the trap is a loaded joint all but one of
whose members lie in a plane. No zero hangs on the stiffness of members, and no force is nearly zero.
"""

from explorer.tasks.levels import LEVEL_WORDS, LEVELS
from explorer.tasks.task import LAST_SEED, Task, make_task

__all__ = ["LAST_SEED", "LEVELS", "LEVEL_WORDS", "Task", "make_task"]
