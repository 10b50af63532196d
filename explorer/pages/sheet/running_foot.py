"""What stands at the foot of every printed page of a calculation sheet: whose it is, and which page."""

from __future__ import annotations

from collections.abc import Sequence


def write_running_foot(parts: Sequence[str]) -> str:
    """Write the style of the foot of every printed page: `parts` on the left, page and pages on the right.

    Nothing in the parts can end the string, the rule or the style sheet: all but letters and digits of ASCII
    are written as escapes.
    """
    told = _escaped(" · ".join(parts))
    left = f'@bottom-left{{content:"{told}"}}'
    right = '@bottom-right{content:"page " counter(page) " of " counter(pages)}'
    return f"@page member-sheet{{{left}{right}}}"


def _escaped(text: str) -> str:
    r"""Text inside a string of a style sheet.

    >>> print(_escaped('a"</b>').replace(" ", "_"))
    a\22_\3c_\2f_b\3e_
    """
    return "".join(char if char.isascii() and char.isalnum() else f"\\{ord(char):x} " for char in text)
