"""Angles, single and in pairs back to back."""

from __future__ import annotations

from dataclasses import dataclass

from solver.profiles.label import Label, need, need_positive
from solver.profiles.moments import rectangle, spandrel
from solver.profiles.profile import Profile


@dataclass(frozen=True)
class Angle:
    """One angle: the leg `depth` stands in the plane of the truss, the leg `width` lies across it.

    Lengths [m], area [m²], second moments [m⁴] as of `Profile`. centre_across: from the back of the standing
    leg to the centroid; centre_in_plane: from the back of the other leg.
    """

    depth: float
    width: float
    thickness: float
    area: float
    second_moment: float
    across: float
    least: float
    centre_in_plane: float
    centre_across: float

    def turned(self) -> Angle:
        """The same angle with its other leg in the plane of the truss."""
        return Angle(
            depth=self.width,
            width=self.depth,
            thickness=self.thickness,
            area=self.area,
            second_moment=self.across,
            across=self.second_moment,
            least=self.least,
            centre_in_plane=self.centre_across,
            centre_across=self.centre_in_plane,
        )


def rolled_angle(depth: float, width: float, thickness: float, root: float) -> Angle:
    """An angle [m] as EN 10056-1 rolls it: root radius `root`, both toes rounded on the inside by half of it.

    Raises InputError where the legs are too short for thickness and radii.

    >>> angle = rolled_angle(0.080, 0.080, 0.008, 0.010)
    >>> round(angle.area * 1e4, 1), round(angle.centre_across * 1e2, 2)
    (12.3, 2.26)
    """
    need_positive(depth=depth, width=width, thickness=thickness)
    toe = root / 2
    need(root >= 0, "root_radius", "must not be negative")
    need(thickness < min(depth, width), "thickness", "must be less than either leg")
    need(toe <= thickness, "root_radius", "must be at most twice the thickness: toes have half of it")
    need(thickness + root + toe <= min(depth, width), "root_radius", "leaves no straight leg")
    legs = rectangle(thickness, depth) + rectangle(width - thickness, thickness).moved(thickness, 0)
    inside = spandrel(root).moved(thickness, thickness)
    ends = spandrel(toe).turned_half()
    whole = legs + inside - ends.moved(thickness, depth) - ends.moved(width, thickness)
    middle = whole.about_centre()
    return Angle(
        depth=depth,
        width=width,
        thickness=thickness,
        area=whole.area,
        second_moment=middle.square_y,
        across=middle.square_x,
        least=middle.least,
        centre_in_plane=whole.centre[1],
        centre_across=whole.centre[0],
    )


def single(label: Label, angle: Angle, stored: tuple[str, ...] = ()) -> Profile:
    """A single angle as a profile; second moments about axes parallel to its legs, `least` the minor one."""
    return Profile(
        label.size,
        label.table,
        "angle",
        label.making,
        depth=angle.depth,
        width=angle.width,
        thickness=angle.thickness,
        area=angle.area,
        second_moment=angle.second_moment,
        across=angle.across,
        least=angle.least,
        stored=stored,
    )


def pair(label: Label, angle: Angle, gap: float, stored: tuple[str, ...] = ()) -> Profile:
    """Two angles with their standing legs back to back, `gap` [m] between the backs.

    They act as one across the truss only where fillers join them: across holds for that, and what a
    standard asks of the fillers is the standard's. `width` is the whole, over both legs and the gap.
    Raises InputError for a gap below 0.

    >>> two = pair(Label("2L", "angles", "rolled"), rolled_angle(0.08, 0.08, 0.008, 0.01), 0.0)
    >>> round(two.radius * 1e2, 2), round(two.radius_across * 1e2, 2)
    (2.43, 3.31)
    """
    need(gap >= 0, "gap", "must not be negative")
    arm = angle.centre_across + gap / 2
    in_plane = 2 * angle.second_moment
    across = 2 * (angle.across + angle.area * arm**2)
    return Profile(
        label.size,
        label.table,
        "paired angles",
        label.making,
        depth=angle.depth,
        width=2 * angle.width + gap,
        thickness=angle.thickness,
        area=2 * angle.area,
        second_moment=in_plane,
        across=across,
        least=min(in_plane, across),
        gap=gap,
        stored=stored,
    )
