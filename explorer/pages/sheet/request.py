"""What an address asks of a calculation sheet, and the addresses that ask for one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from urllib.parse import urlencode

from explorer.bundled import list_bundled
from explorer.document.units import SYSTEMS
from explorer.markup import Markup, element
from explorer.store import Results, Worked, content_key
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller

ADDRESS = "/sheet/"
KEY = re.compile("[0-9a-f]{64}")


class NoSheetError(ValueError):
    """An address that no sheet answers: what is wrong and what would be right."""


def draw_way_to_sheet(worked: Worked, asked: Asked) -> Markup:
    """Draw the words that lead to the sheet of a member, in the units shown."""
    attributes = {"href": write_address(worked, asked), "target": "_blank", "rel": "noopener"}
    return element("a", "calculation sheet", {**attributes, "class": "to-sheet"})


def draw_way_to_lighter(worked: Worked, asked: Asked) -> Markup:
    """Draw the words that lead to lighter sections; nothing where the member's group names no family."""
    if asked.answers.study.truss.members[asked.member].group.making.family is None:
        return Markup("")
    query = _query(worked, asked)
    # A study of one's own goes with its tab, as from page to page.
    if worked.key == query["study"]:
        del query["study"]
    attributes = {"href": f"/lighter/?{urlencode(query)}", "class": "to-lighter"}
    return element("a", "in Lighter: which section stops it", attributes)


def write_address(worked: Worked, asked: Asked) -> str:
    """Write the address of a member's sheet: a bundled study by its name, another by its key."""
    return f"{ADDRESS}?{urlencode(_query(worked, asked))}"


def read_address(query: Mapping[str, str], results: Results) -> tuple[Worked, Asked]:
    """Find what an address asks for. Raises NoSheetError with what is wrong and what would be right.

    `study` is the name of a bundled study, which is worked through if need be, or the key of one that is
    open; `member` a name, its joints in either order; `units` of a system, else those of the study.
    """
    worked = _find_study(query.get("study", ""), results)
    units = query.get("units", worked.document.units.name)
    if units not in SYSTEMS:
        raise NoSheetError(f"units are not one of {', '.join(SYSTEMS)}")
    member = _find_member(query.get("member", ""), worked)
    return worked, Asked(worked.answers, Teller(SYSTEMS[units]), member, 0, None)


def _query(worked: Worked, asked: Asked) -> dict[str, str]:
    """Study, member, and the units where others than the study's are shown."""
    query = {"study": _called(worked.key), "member": asked.name}
    if asked.teller.units.name != worked.document.units.name:
        query["units"] = asked.teller.units.name
    return query


def _called(key: str) -> str:
    """The name of the bundled study of this text, else its key."""
    named = (item.name for item in list_bundled("study") if content_key(item.text()) == key)
    return next(named, key)


def _find_study(study: str, results: Results) -> Worked:
    bundled = {item.name: item for item in list_bundled("study")}
    if study in bundled:
        return results.work(bundled[study].text(), bundled[study].path.name)
    if not KEY.fullmatch(study):
        raise NoSheetError(f"study is neither the key of an open study nor one of {', '.join(bundled)}")
    worked = results.find(study)
    if worked is None:
        raise NoSheetError("the study is not known any more: open it in Explore again and ask from there")
    return worked


def _find_member(name: str, worked: Worked) -> int:
    members = [member.name for member in worked.answers.study.truss.members]
    wanted = name if name in members else "-".join(reversed(name.split("-")))
    if wanted not in members:
        raise NoSheetError(f"member is none of {_some(members)}")
    return members.index(wanted)


def _some(names: list[str], most: int = 12) -> str:
    return ", ".join(names[:most]) + (f" and {len(names) - most} more" if len(names) > most else "")
