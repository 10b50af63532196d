"""A girder of any length, as a study file."""

from __future__ import annotations


def girder(panels: int) -> str:
    """An X-braced girder of 5 members a panel and one more."""
    joints = "\n".join(f"L{i} = [{5 * i}, 0]\nU{i} = [{5 * i}, 6]" for i in range(panels + 1))
    lower = ", ".join(f'"L{i}"' for i in range(panels + 1))
    upper = lower.replace("L", "U")
    posts = ", ".join(f'"L{i}-U{i}"' for i in range(panels + 1))
    braces = ", ".join(f'"L{i}-U{i + 1}", "U{i}-L{i + 1}"' for i in range(panels))
    same = 'section = "bar"\nmaterial = "steel"\n'
    return (
        f'title = "Girder of {panels} panels"\nunits = "metric"\n[joints]\n{joints}\n'
        f'[supports]\nL0 = "xy"\nL{panels} = "y"\n'
        "[materials.steel]\nE = 210_000\n[sections.bar]\narea = 5000\n"
        f"[groups.bottom]\nalong = [{lower}]\n{same}[groups.top]\nalong = [{upper}]\n{same}"
        f"[groups.posts]\nmembers = [{posts}]\n{same}[groups.braces]\nmembers = [{braces}]\n{same}"
        f"[chords.deck]\njoints = [{lower}]\n[trains.lorry]\naxles = [[0, 30], [3.8, 55]]\n"
        '[crossings.run]\ntrain = "lorry"\nchord = "deck"\n'
    )


def space_girder(panels: int) -> str:
    """A girder in space of triangular section; a cart travels along one of its two lower chords."""
    joints = "\n".join(
        f"A{i} = [{4 * i}, -1.5, 0]\nB{i} = [{4 * i}, 1.5, 0]\nT{i} = [{4 * i}, 0, 2.5]"
        for i in range(panels + 1)
    )
    chords = {row: ", ".join(f'"{row}{i}"' for i in range(panels + 1)) for row in "ABT"}
    rungs = [pair for i in range(panels + 1) for pair in (f"A{i}-B{i}", f"A{i}-T{i}", f"B{i}-T{i}")]
    braces = [pair for i in range(panels) for pair in (f"A{i}-T{i + 1}", f"B{i}-T{i + 1}", f"A{i}-B{i + 1}")]
    web = ", ".join(f'"{name}"' for name in (*rungs, *braces))
    same = 'section = "bar"\nmaterial = "steel"\n'
    along = "".join(f"[groups.{row}]\nalong = [{names}]\n{same}" for row, names in chords.items())
    return (
        f'title = "Space girder of {panels} panels"\nunits = "metric"\n[joints]\n{joints}\n'
        f'[supports]\nA0 = "xyz"\nB0 = "xz"\nA{panels} = "yz"\nB{panels} = "z"\n'
        "[materials.steel]\nE = 210_000\n[sections.bar]\narea = 2000\n"
        f"{along}[groups.web]\nmembers = [{web}]\n{same}"
        f"[chords.deck]\njoints = [{chords['A']}]\n[cases.push]\njoints = {{ T1 = [0, 3, -5] }}\n"
        "[trains.cart]\naxles = [[0, 20], [2.5, 30]]\n"
        '[crossings.run]\ntrain = "cart"\nchord = "deck"\n'
    )


def pratt(panels: int) -> str:
    """A girder with one diagonal a panel, 4 members a panel and one more, under two equal loads."""
    text = girder(panels)
    both = ", ".join(f'"L{i}-U{i + 1}", "U{i}-L{i + 1}"' for i in range(panels))
    one = ", ".join(f'"U{i}-L{i + 1}"' if 2 * i < panels else f'"L{i}-U{i + 1}"' for i in range(panels))
    quarter = panels // 4
    loads = f"[cases.pair]\njoints = {{ L{quarter} = [0, -10], L{panels - quarter} = [0, -10] }}\n"
    return text.replace(both, one).replace("[trains.lorry]", f"{loads}[trains.lorry]")
