"""Question 2: how hard does it work?"""

from __future__ import annotations

from explorer.wording.asked import Asked, Told, words


def tell_how_hard(asked: Asked) -> Told:
    """Tell the peaks over the combinations, where and under what."""
    forces = asked.answers.forces
    tension = float(forces.tension.values[asked.member])
    compression = float(forces.compression.values[asked.member])
    scope = "Over the combinations" if asked.answers.study.combinations else "Over the load cases"
    peaks = []
    if tension:
        peaks.append(f"tension up to {asked.teller.force(tension)} {asked.place(forces.tension)}")
    if compression:
        peaks.append(f"compression up to {asked.teller.force(compression)} {asked.place(forces.compression)}")
    if not peaks:
        peaks.append("no force at all")
    elif len(peaks) == 1:
        peaks.append("never compression" if tension else "never tension")
    sentences = [f"{scope} {'; '.join(peaks)}."]
    if tension and compression:
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
