"""What is asked: one member, under one load, with the train at one place; and an answer in words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from explorer.wording.numbers import Teller
from explorer.wording.reasons import Reasoning
from solver.answers import Answers
from solver.checks.check import Check
from solver.combining import Combination
from solver.placement import Arrangement, Standing
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import Reason
from solver.state import State, take_state
from solver.sweep import Governing
from solver.tolerances import zero_band

QUESTIONS = (
    "When is it zero?",
    "How hard does it work?",
    "Why is it zero?",
    "What if it were gone?",
    "What stops it being lighter?",
)
WAYS = ("forward", "backward")


@dataclass(frozen=True)
class Told:
    """One answer: a few words, sentences with the numbers, a caution that belongs to it, a proof by rows.

    question: where the question itself must be put otherwise.
    """

    answer: str
    sentences: tuple[str, ...]
    caution: str = ""
    proof_title: str = ""
    proof: tuple[tuple[str, ...], ...] = ()
    question: str = ""


@dataclass(frozen=True)
class Asked:
    """A member (index), a load (column of `answers.combinations`), where its train stands, units.

    `arrangement`: for what its lanes are placed, if for anything; the standing has it too.
    """

    answers: Answers
    teller: Teller
    member: int
    column: int
    standing: Standing | None
    arrangement: Arrangement | None = None

    @property
    def name(self) -> str:
        """The member's name."""
        return self.answers.study.truss.members[self.member].name

    @property
    def combination(self) -> Combination:
        """The load chosen."""
        return self.answers.combinations[self.column]

    @property
    def checks(self) -> tuple[Check, ...]:
        """The member's checks, in the order of the ladder."""
        return self.answers.checks.each[self.member]

    @property
    def load_label(self) -> str:
        """The load as words."""
        return words(self.combination.name)

    @cached_property
    def state(self) -> State:
        """Everything that acts in this state."""
        study, responses = self.answers.study, self.answers.responses
        return take_state(study, responses, self.combination, self.standing, self.arrangement)

    @cached_property
    def band(self) -> float:
        """What counts as zero under this load [N]."""
        scales = self.answers.forces.scales[self.column : self.column + 1]
        return float(zero_band(scales, self.answers.study.zero_limit)[0])

    @property
    def force(self) -> float:
        """The member's force in this state [N], 0 where zero."""
        force = float(self.state.forces[self.member])
        return 0.0 if abs(force) <= self.band else force

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What joint inspection finds in this state."""
        rule = self.answers.reasoner.joint_rule
        return rule.inspect(self.state.joint_loads, self.state.largest_contribution)

    @cached_property
    def reason(self) -> Reason:
        """Why the member bears what it bears in this state; the study's own limit of zero stays aside."""
        scale = float(self.answers.forces.scales[self.column])
        return self.answers.reasoner.explain_member(self.state, scale, self.member)

    @property
    def told(self) -> Reasoning:
        """What sentences about reasons speak of."""
        return Reasoning(self.answers, self.teller, self.state, self.band)

    def joint(self, index: int) -> str:
        """Name of a joint."""
        return self.answers.study.truss.joint_names[index]

    def member_names(self, members: tuple[int, ...]) -> list[str]:
        """Names of members."""
        return [self.answers.study.truss.members[member].name for member in members]

    def place(self, governing: Governing) -> str:
        """Under what and where an extreme of this member occurs, as words."""
        load = self.answers.combinations[int(governing.combinations[self.member])]
        name = words(load.name)
        way = int(governing.directions[self.member])
        if way < 0:
            return f"under {name}"
        return f"under {name}, {self.front(load, way, float(governing.positions[self.member]))}"

    def front(self, load: Combination, way: int, position: float, others: tuple[int, ...] = ()) -> str:
        """Where the front of a load's train stands [m], as words; no place where the force knows of none.

        way: 0 forward, 1 backward; others: members (indices) whose forces take part in the force told of.
        """
        if is_untouched(self.answers, load, (self.member, *others)):
            return "at every position"
        return f"front at {self.teller.position(position)} {WAYS[way]}"


def is_untouched(answers: Answers, load: Combination, members: tuple[int, ...]) -> bool:
    """Whether the train of a load brings nothing to members (indices), wherever along its way it stands.

    Their influence lines are zero along all of its chord, so that any position named would be arbitrary.
    """
    if load.crossing is None:
        return False
    lines = answers.responses.forces.influence[answers.study.crossings[load.crossing].chord]
    return not load.crossing_factor or not lines[list(members)].any()


def words(name: str) -> str:
    """Write the name of a load as words.

    >>> words("lorry_crossing")
    'lorry crossing'
    """
    return name.replace("_", " ")


def begin(sentence: str) -> str:
    """Begin a sentence with a capital letter and leave the rest as it is.

    >>> begin("lorry of 30 kN")
    'Lorry of 30 kN'
    """
    return sentence[:1].upper() + sentence[1:]
