"""Sentences whose member names do not break at their hyphens."""

from __future__ import annotations

from explorer.markup import Markup, element


def keep_names(sentence: str) -> list[Markup | str]:
    """Return a sentence as parts in which every word with a hyphen stays on one line.

    >>> [str(part) for part in keep_names("So L1-U1 is zero.")]
    ['So ', '<span class="name">L1-U1</span>', ' is zero.']
    """
    parts: list[Markup | str] = []
    plain = ""
    for number, word in enumerate(sentence.split(" ")):
        plain += " " if number else ""
        core = word.rstrip(".,:;)?")
        if "-" in core.strip("-"):
            parts += [plain] if plain else []
            parts.append(element("span", core, {"class": "name"}))
            plain = word[len(core) :]
        else:
            plain += word
    return [*parts, plain] if plain else parts
