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
