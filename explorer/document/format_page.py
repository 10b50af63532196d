"""The format page, made from its prose and the attribute list, so that the two cannot disagree.

`python -m explorer.document.format_page` writes it anew; a test holds the file against this.
"""

from __future__ import annotations

from pathlib import Path

from explorer.document.attributes import ATTRIBUTES, LATER, NO_CASE_NAMES, Attribute
from explorer.document.units import METRIC, US
from solver.reasons.joint_rule import RULES

FOLDER = Path(__file__).resolve().parent
PAGE, PROSE = FOLDER / "format.md", FOLDER / "format_prose.md"
HEADINGS = {
    "": "At the top",
    "materials": "`[materials.NAME]`",
    "sections": "`[sections.NAME]`",
    "families": "`[families.NAME]`",
    "groups": "`[groups.NAME]`",
    "pieces": "`[pieces.NAME]`",
    "chords": "`[chords.NAME]`",
    "cases": "`[cases.NAME]`",
    "lines": "`lines` of a case, each",
    "trains": "`[trains.NAME]`",
    "strips": "`strips` of a train, each",
    "second": "`second` of a train",
    "crossings": "`[crossings.NAME]`",
    "combinations": "`[combinations.NAME]`, beside its factors",
    "standards": "`[standards]`",
    "limits": "`[limits]`",
}
KINDS = {"any": "see above", "pairs": "list of pairs", "names": "list", "flag": "true or false"}
QUANTITIES = {
    "length": "coordinates, lengths, positions",
    "force": "forces",
    "line_load": "line loads",
    "area": "area",
    "second_moment": "second moment of area",
    "radius": "radius of gyration",
    "stress": "E, strengths",
    "unit_weight": "unit weight",
    "small_length": "settlement, misfit, deflection",
    "temperature": "temperature change",
    "expansion": "expansion",
}


def make_page() -> str:
    """Return the text of the format page."""
    page = PROSE.read_text(encoding="utf-8")
    parts = {
        "ATTRIBUTES": _attribute_tables(),
        "UNITS": _unit_table(),
        "LATER": _later(),
        "NO_CASE_NAMES": ", ".join(f"`{name}`" for name in NO_CASE_NAMES),
        "RULES": "\n".join(f"- {rule}" for rule in RULES),
    }
    for name, part in parts.items():
        page = page.replace(f"<!-- {name} -->", part)
    return page


def _attribute_tables() -> str:
    blocks = []
    for table, heading in HEADINGS.items():
        rows = [_row(attribute) for attribute in ATTRIBUTES if attribute.table == table]
        head = "| key | kind | unit | default | meaning |\n| --- | --- | --- | --- | --- |"
        blocks.append("\n".join([f"#### {heading}\n", head, *rows]))
    return "\n\n".join(blocks)


def _row(attribute: Attribute) -> str:
    kind = KINDS.get(attribute.kind, attribute.kind)
    metric, us = METRIC.label(attribute.quantity), US.label(attribute.quantity)
    unit = metric if metric == us else f"{metric}; {us}"
    default = "required" if attribute.required else _default(attribute.default)
    return f"| `{attribute.key}` | {kind} | {unit} | {default} | {attribute.meaning} |"


def _default(value: object) -> str:
    return "" if value is None else str(value).lower() if isinstance(value, bool) else str(value)


def _unit_table() -> str:
    rows = [f"| {what} | {METRIC.label(kind)} | {US.label(kind)} |" for kind, what in QUANTITIES.items()]
    return "\n".join(["| quantity | metric | US |", "| --- | --- | --- |", *rows])


def _later() -> str:
    return "\n".join(
        f"- {HEADINGS[table].partition(',')[0]}: {', '.join(f'`{key}`' for key in keys)}"
        for table, keys in LATER.items()
    )


if __name__ == "__main__":
    PAGE.write_text(make_page(), encoding="utf-8")
