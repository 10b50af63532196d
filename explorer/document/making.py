"""What resistance rules ask of a group beside its section and material."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast, get_args

from explorer.document.values import Values, join, optional, show
from solver.truss import End, Fixing, Making, Section

ENDS = cast(tuple[str, ...], get_args(End))
FIXINGS = cast(tuple[str, ...], get_args(Fixing))
SNUG: Fixing = "snug"
BY_BOTH: End = "both legs"
Families = Mapping[str, object]


def read_making(
    values: Values, path: str, read: dict[str, Any], known: tuple[Section | None, Families]
) -> Making:
    """Read a group's connections, effective lengths and family.

    known: the group's section (None after a fault of its own) and the families there are.
    """
    section, families = known
    connected = values.choice(read["connected"], join(path, "connected"), ENDS)
    if connected not in (None, BY_BOTH):
        _need_single_angle(values, join(path, "connected"), section)
    _note_too_large(values, path, read, section)
    if read["family"] is not None:
        values.named(read["family"], join(path, "family"), "family", families)
    spacing, fixing = _connectors(values, read["connectors"], join(path, "connectors"), section)
    return Making(
        net_area=optional(read["net_area"]),
        shear_lag=optional(read["shear_lag"]),
        connected=cast(End, connected or BY_BOTH),
        effective=_effective(values, read["effective"], join(path, "effective")),
        family=read["family"],
        connector_spacing=spacing,
        connector_fixing=fixing,
        secondary=bool(read["secondary"]),
    )


def _connectors(
    values: Values, raw: object, path: str, section: Section | None
) -> tuple[float | None, Fixing]:
    """Read what joins two angles back to back: spacing [m], None without it, and how it is fixed."""
    if raw is None:
        return None, SNUG
    if not isinstance(raw, dict):
        wrong = f"{show(raw)} where spacing and fixing belong"
        values.faults.add(path, wrong, 'write { spacing = 0.6, fixed = "welded" }')
        return None, SNUG
    values.unknown_keys(raw, path, "connectors", ("spacing", "fixed"))
    _need_pair(values, path, section)
    for key in ("spacing", "fixed"):
        if key not in raw:
            values.faults.add(join(path, key), "is missing", "both spacing and fixed are needed")
    spacing, fixed = raw.get("spacing"), raw.get("fixed")
    apart = None if spacing is None else values.number(spacing, join(path, "spacing"), "positive", "length")
    told = None if fixed is None else values.text(fixed, join(path, "fixed"))
    return optional(apart), cast(Fixing, values.choice(told, join(path, "fixed"), FIXINGS) or SNUG)


def _need_pair(values: Values, path: str, section: Section | None) -> None:
    """Connectors join the two of a pair of angles, which only a size tells."""
    if section is None or (section.profile and section.profile.shape == "paired angles"):
        return
    what = f"is of the shape {section.profile.shape}" if section.profile else "has no size"
    values.faults.add(path, f"section {section.name} {what}", "they join paired angles: leave them out")


def _need_single_angle(values: Values, path: str, section: Section | None) -> None:
    """A connection by one leg is one of single angles, which only a size tells."""
    if section is None or (section.profile and section.profile.shape == "angle"):
        return
    what = f"is of the shape {section.profile.shape}" if section.profile else "has no size"
    wrong = f"section {section.name} {what}"
    values.faults.add(path, wrong, "one leg alone connects a single angle of a size: leave it out")


def _note_too_large(values: Values, path: str, read: dict[str, Any], section: Section | None) -> None:
    """Note a net area beyond the gross one, and a factor of shear lag beyond 1."""
    net, lag = read["net_area"], read["shear_lag"]
    # A net area as large as the gross one may come out a rounding larger.
    if net is not None and section is not None and float(net) > section.area * (1 + 1e-9):
        gross = f"{float(values.units.from_si('area', section.area)):.6g} {values.units.label('area')}"
        values.faults.add(join(path, "net_area"), "is larger than the whole area", f"at most {gross}")
    if lag is not None and lag > 1:
        values.faults.add(join(path, "shear_lag"), f"{float(lag):g} is more than 1", "above 0, at most 1")


def _effective(values: Values, raw: object, path: str) -> tuple[float, float]:
    if raw is None:
        return 1.0, 1.0
    if not isinstance(raw, list) or len(raw) != 2:
        wrong = f"{show(raw)} where two factors belong"
        values.faults.add(path, wrong, "write [in the plane of the truss, out of it]")
        return 1.0, 1.0
    factors = [values.number(factor, f"{path}[{i}]", "positive") for i, factor in enumerate(raw)]
    inner, across = (1.0 if factor is None else float(factor) for factor in factors)
    return inner, across
