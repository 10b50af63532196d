"""The sentence over the drawing, and what each load to choose is called."""

from __future__ import annotations

from explorer.wording.asked import begin, words
from explorer.wording.numbers import WORDS, Teller
from explorer.wording.trains import tell_crossing
from solver.answers import Answers
from solver.combining import Combination

FEW = (
    "Hardly anything is zero under permanent load: a member is zero only where all that acts on it cancels. "
    "Choose a crossing alone to see members wake and fall still."
)


def sentences(answers: Answers, teller: Teller) -> dict[str, object]:
    """Return the sentences that a page fills in as the train moves; {Number} stands for how many are zero."""
    study = answers.study
    return {
        "none": "Every member works just now.",
        "one": "One member carries no force just now.",
        "some": "{Number} members carry no force just now.",
        "all": "No member carries force just now.",
        "numbers": list(WORDS),
        "unders": [
            {
                "told": tell_load(answers, load, teller),
                "few": FEW if _permanent(answers, load) else "",
                "train": words(study.crossings[load.crossing].called) if load.crossing else "",
            }
            for load in answers.combinations
        ],
    }


def tell_load(answers: Answers, load: Combination, teller: Teller) -> str:
    """Tell what acts under a load: a train by its axles, a case by its name, a combination by its terms."""
    study = answers.study
    if load.crossing and not load.cases:
        return begin(tell_crossing(study.crossings[load.crossing], 0, teller))
    if load.lanes and not load.cases and len(load.lanes) == 1:
        return begin(tell_crossing(study.crossings[next(iter(load.lanes))], 0, teller))
    if load in study.alone:
        return f"Load case {words(load.name)}"
    terms = [(factor, words(name)) for name, factor in load.cases.items()]
    terms += [(factor, words(name)) for name, factor in load.lanes.items()]
    if load.crossing:
        terms.append((load.crossing_factor, words(load.crossing)))
    return begin(f"{words(load.name)} = {' + '.join(f'{factor:g} {name}' for factor, name in terms)}")


def _permanent(answers: Answers, load: Combination) -> bool:
    """Whether more than a train alone or a single joint load acts: a sum in which zeros are rare."""
    return len(load.cases) + (load.crossing is not None) > 1 or load.name in _self_weights(answers)


def _self_weights(answers: Answers) -> set[str]:
    return {name for name, case in answers.study.cases.items() if case.self_weight}
