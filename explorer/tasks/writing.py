"""A form and its loads as a study, in the project's own format."""

from __future__ import annotations

from collections.abc import Sequence

from explorer.tasks.form import Bar, Form
from explorer.tasks.loads import Load

HEAD = """\
# A {kind}. Which members carry no force under this load?

title = "{title}"
units = "metric"

[joints]
{joints}

[supports]
{supports}

[materials.steel]
E = 210_000

[sections.tube]
area = 1_000

[groups.bars]
members = [
{members}
]
section = "tube"
material = "steel"

[cases.load]
joints = {{ {loads} }}
"""
A_LINE = 6
"""Members a line of the file."""


def write_study(title: str, form: Form, loads: dict[str, Load]) -> str:
    """Write the study as TOML: metric, one case of joint loads, no self weight."""
    return HEAD.format(
        kind=form.kind,
        title=title,
        joints="\n".join(f"{name} = {_vector(point)}" for name, point in form.joints.items()),
        supports="\n".join(f'{name} = "{held}"' for name, held in form.supports.items()),
        members="\n".join(_member_lines(form.bars)),
        loads=", ".join(f"{name} = {list(load)}" for name, load in loads.items()),
    )


def _vector(point: Sequence[int]) -> str:
    """Half metres as metres."""
    return "[" + ", ".join(f"{half / 2:g}" for half in point) + "]"


def _member_lines(bars: Sequence[Bar]) -> list[str]:
    names = [f'"{a}-{b}"' for a, b in bars]
    return [f"    {', '.join(names[i : i + A_LINE])}," for i in range(0, len(names), A_LINE)]
