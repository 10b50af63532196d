"""Single values of a study: numbers, texts, names, vectors; each checked, each fault told at its key."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

from explorer.document.attributes import LATER, Attribute, attributes_of
from explorer.document.faults import Faults
from explorer.document.units import UnitSystem

LARGEST, SMALLEST = Decimal("1e30"), Decimal("1e-30")
"""Numbers beyond these are slips of the pen; exact arithmetic on 1e999999 would never end."""

MOST_BITS, MOST_DIGITS = 128, 100
"""A whole number of more bits is beyond LARGEST; more digits mean nothing and cost exact arithmetic dear."""

SUGGESTED = 100
"""Beyond so many faults no nearest names are looked for: in a large study that takes minutes."""

FEW = 8
"""So many choices at most are all told."""

BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
LONG_KEY = 80

EXPECTED = {
    "number": "write a number",
    "positive": "write a number above 0",
    "not negative": "write 0 or a number above it",
}


@dataclass(frozen=True)
class Values:
    """Reads values of one study into SI, noting faults."""

    faults: Faults
    units: UnitSystem

    def table(self, raw: object, path: str, table: str) -> dict[str, Any] | None:
        """Read a table by the attribute list: simple kinds in SI, others as they are; None if no table."""
        if not isinstance(raw, dict):
            self.faults.add(path, f"{show(raw)} where a table belongs", f"write [{path}] and its keys")
            return None
        attributes = attributes_of(table)
        self.unknown_keys(raw, path, table, attributes)
        read: dict[str, Any] = {}
        for key, attribute in attributes.items():
            here = join(path, key)
            if key in raw:
                read[key] = self._value(raw[key], here, attribute)
            elif attribute.required:
                self.faults.add(here, "is missing", f"add it: {attribute.meaning}")
                read[key] = None
            else:
                default = attribute.default
                number = isinstance(default, int | Decimal) and not isinstance(default, bool)
                read[key] = Fraction(str(default)) if number else default
        return read

    def unknown_keys(self, raw: dict[str, Any], path: str, table: str, known: Collection[str]) -> None:
        """Note keys of later versions and unknown ones."""
        for key in raw:
            here = join(path, key)
            if key in LATER.get(table, ()):
                self.faults.add(here, f"not supported in this version: {key}", "leave it out")
            elif key not in known:
                self.faults.add(here, "unknown key", one_of(key, known))

    def number(self, raw: object, path: str, kind: str = "number", quantity: str = "none") -> Fraction | None:
        """Read a number into SI; None after a fault."""
        if isinstance(raw, bool) or not isinstance(raw, int | Decimal):
            self.faults.add(path, f"{show(raw)} where a number belongs", EXPECTED[kind])
            return None
        unfit = _out_of_bounds(raw)
        if unfit:
            self.faults.add(path, f"{show(raw)} {unfit[0]}", unfit[1] or EXPECTED[kind])
            return None
        if (kind == "positive" and raw <= 0) or (kind == "not negative" and raw < 0):
            word = "negative" if raw < 0 else "0"
            self.faults.add(path, f"{show(raw)} is {word}", EXPECTED[kind])
            return None
        return self.units.to_si(quantity, Fraction(raw))

    def vector(self, raw: object, path: str, length: int, quantity: str) -> tuple[Fraction, ...] | None:
        """Read a vector of `length` components into SI; None after a fault."""
        if not isinstance(raw, list):
            wrong = f"{show(raw)} where a vector belongs"
            self.faults.add(path, wrong, f"write {length} numbers in brackets")
            return None
        if len(raw) != length:
            self.faults.add(path, f"{len(raw)} components", f"write {length}, as many as joints have")
            return None
        parts = [self.number(part, f"{path}[{i}]", "number", quantity) for i, part in enumerate(raw)]
        return None if None in parts else tuple(part for part in parts if part is not None)

    def text(self, raw: object, path: str) -> str | None:
        """Read a text; None after a fault."""
        if isinstance(raw, str):
            return raw
        self.faults.add(path, f"{show(raw)} where a text belongs", 'write it in quotes, as "text"')
        return None

    def flag(self, raw: object, path: str) -> bool | None:
        """Read true or false; None after a fault."""
        if isinstance(raw, bool):
            return raw
        self.faults.add(path, f"{show(raw)} where true or false belongs", "write true or false")
        return None

    def texts(self, raw: object, path: str) -> list[str] | None:
        """Read a list of texts; None after a fault."""
        if not isinstance(raw, list):
            self.faults.add(path, f"{show(raw)} where a list belongs", 'write it as ["one", "two"]')
            return None
        read = [self.text(item, f"{path}[{i}]") for i, item in enumerate(raw)]
        return None if None in read else [item for item in read if item is not None]

    def named(self, name: str | None, path: str, what: str, known: Collection[str], hint: str = "") -> bool:
        """Tell whether `name` is known; note a fault if it is not (and nothing if it was not read)."""
        if name is None:
            return False
        if name in known:
            return True
        right = one_of(name, known) if len(self.faults.found) < SUGGESTED else "write a name that is there"
        self.faults.add(path, f"there is no {what} {show(name)}", f"{right} ({hint})" if hint else right)
        return False

    def choice(self, value: str | None, path: str, choices: Sequence[str]) -> str | None:
        """Return a text that must be one of `choices`; None after a fault."""
        if value is None or value in choices:
            return value
        right = one_of(value, choices)
        if right.endswith("?") and len(choices) <= FEW:
            # The nearest one need not be what was meant.
            right = f"{right} there are {', '.join(choices)}"
        self.faults.add(path, f"{show(value)} is none of the choices", right)
        return None

    def _value(self, raw: object, path: str, attribute: Attribute) -> Any:
        match attribute.kind:
            case "text" | "name":
                return self.text(raw, path)
            case "names":
                return self.texts(raw, path)
            case "flag":
                return self.flag(raw, path)
            case "number" | "positive" | "not negative":
                return self.number(raw, path, attribute.kind, attribute.quantity)
            case _:
                return raw


def optional(value: Fraction | None) -> float | None:
    """Return a number that was read as a float; None stays None."""
    return None if value is None else float(value)


def _out_of_bounds(raw: int | Decimal) -> tuple[str, str] | None:
    """Say why exact arithmetic takes a number not on, and what to write; None where it does."""
    # Whole numbers are judged by their bits, and signs taken off by copy: neither rounds nor overflows.
    if isinstance(raw, Decimal) and not raw.is_finite():
        return "is not finite", ""
    small = isinstance(raw, Decimal) or raw.bit_length() <= MOST_BITS
    if not small or (raw and not SMALLEST <= Decimal(raw).copy_abs() <= LARGEST):
        return "is out of range", "write a number between 1e-30 and 1e30"
    digits = len(Decimal(raw).as_tuple().digits)
    if digits > MOST_DIGITS:
        return f"has {digits} digits", f"write at most {MOST_DIGITS}"
    return None


def join(path: str, key: object) -> str:
    """Return a key path; a key that is not bare in TOML is quoted, nothing in it can move a cursor.

    >>> join("cases", "dead"), join("cases", "wind. left")
    ('cases.dead', 'cases."wind. left"')
    """
    name = str(key)
    if len(name) > LONG_KEY:
        name = f"{name[: LONG_KEY - 3]}..."
    if not BARE_KEY.fullmatch(name):
        name = json.dumps(name, ensure_ascii=not name.isprintable())
    return f"{path}.{name}" if path else name


def show(value: object) -> str:
    """Return a value for a message, shortened.

    >>> show(True), show("long " * 20)
    ('true', "'long long long long long long long l...'")
    """
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, int) and value.bit_length() > MOST_BITS:
        # Decimals of a very long whole number are refused by Python itself; it was written in hexadecimals.
        text = hex(value)
    else:
        text = str(value) if isinstance(value, int | Decimal) else repr(str(value))
    return text if len(text) <= 41 else f"{text[:37]}...{text[-1]}"


def printable(text: str) -> str:
    """Return a text made elsewhere for a message: nothing in it can move a cursor.

    >>> printable("a\\tb")
    'a\\\\tb'
    """
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


def one_of(value: str, known: Collection[str]) -> str:
    """Say which names there are: the nearest one, or the first few."""
    names = [str(name) for name in known]
    known_as = {name.casefold(): name for name in reversed(names[:2000])}
    near = get_close_matches(value.casefold(), list(known_as), n=1)
    near = near or [key for key in known_as if len(value) > 1 and key.startswith(value.casefold())][:1]
    if near:
        return f"did you mean {known_as[near[0]]}?"
    if not names:
        return "there are none"
    return f"write one of {', '.join(names[:FEW])}" + (", ..." if len(names) > FEW else "")
