"""Markup for pages, pictures and reports: elements written from text that is escaped once, here.

Names come from files of strangers, so nothing reaches a page but through `element`: text becomes
`Markup` by escaping, and only `Markup` is taken as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from html import escape

EMPTY = frozenset({"line", "circle", "rect", "path", "polygon", "polyline", "br", "hr", "input", "use"})
"""Elements that hold nothing here."""


class Markup(str):
    """Text that is markup already: made by `element` and `join` only."""

    __slots__ = ()


def element(
    tag: str, content: str | Iterable[str] = (), attributes: Mapping[str, object] | None = None
) -> Markup:
    """Write one element; plain text in `content` is escaped, and so is every attribute.

    Attributes that are None or False are left out, True stands alone; numbers are written short.

    >>> element("p", "1 < 2", {"class": "note", "hidden": False})
    '<p class="note">1 &lt; 2</p>'
    >>> element("line", attributes={"x1": 0.1 + 0.2, "y1": 4.0})
    '<line x1="0.3" y1="4"/>'
    """
    written = "".join(_attribute(name, value) for name, value in (attributes or {}).items())
    inside = join([content] if isinstance(content, str) else content)
    if tag in EMPTY and not inside:
        return Markup(f"<{tag}{written}/>")
    return Markup(f"<{tag}{written}>{inside}</{tag}>")


def join(parts: Iterable[str], between: str = "") -> Markup:
    """Put pieces together; plain text among them is escaped.

    >>> join(["a & b", element("b", "c")])
    'a &amp; b<b>c</b>'
    """
    return Markup(between.join(part if isinstance(part, Markup) else escape(part) for part in parts))


def number(value: float) -> str:
    """Write a coordinate: two decimals are a hundredth of a pixel.

    >>> number(12.0), number(0.126), number(-0.001)
    ('12', '0.13', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _attribute(name: str, value: object) -> str:
    if value is None or value is False:
        return ""
    if value is True:
        return f" {name}"
    text = number(value) if isinstance(value, float) else str(value)
    return f' {name}="{escape(text, quote=True)}"'
