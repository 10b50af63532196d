"""Question 2: how hard does it work?"""

from __future__ import annotations

from explorer.wording.asked import Asked, Told, words


def tell_how_hard(asked: Asked) -> Told:
    """Tell the peaks over the combinations, where and under what."""
    forces = asked.answers.forces
    tension = float(forces.tension.values[asked.member])
    compression = float(forces.compression.values[asked.member])
    sentences = []
    if tension:
        sentences.append(f"Tension up to {asked.teller.force(tension)} {asked.place(forces.tension)}.")
    if compression:
        sentences.append(
            f"Compression up to {asked.teller.force(compression)} {asked.place(forces.compression)}."
        )
    if not tension and not compression:
        sentences.append("No combination of this study puts any force into it.")
    elif not (tension and compression):
        sentences.append("Never compression." if tension else "Never tension.")
    else:
        sentences.append("It reverses.")
    largest = tension if tension >= compression else -compression
    rows = (("load alone", "largest", "smallest"), *_rows(asked))
    answer = asked.teller.member_force(largest) if largest else "No force at all"
    return Told(answer, tuple(sentences), "", "every load alone", rows)


def _rows(asked: Asked) -> list[tuple[str, ...]]:
    swept = asked.answers.forces.sweep
    band = 1e-12 * asked.answers.forces.scales
    rows = []
    for column, load in enumerate(asked.answers.study.alone):
        ends = [float(part[asked.member, column]) for part in (swept.largest, swept.smallest)]
        told = [asked.teller.member_force(end if abs(end) > band[column] else 0.0) for end in ends]
        rows.append((words(load.name), *told))
    return rows
