"""By what a calculation sheet's strengths are worked out, and with which combinations they are compared."""

from __future__ import annotations

from explorer.document.standards import note_standard
from explorer.wording.asked import Asked, begin
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.given import GIVES_LESS
from solver.resistance.standard import Standard


def list_basis(asked: Asked) -> list[str]:
    """List the standard, the partial factors used where it has such, and what it is compared with.

    A standard that no resistance of the member comes from is named as one that is not asked.
    """
    study = asked.answers.study
    standard, group = study.rules.standard, study.truss.members[asked.member].group
    if standard is None:
        return ["Strength by no standard; resistances as given alone."]
    if group.tension is not None and group.compression is not None:
        less = any(GIVES_LESS in text for check in asked.checks for text in check.unchecked)
        beside = ", though it gives less for its section" if less else ""
        return [f"Strength as given with the group; {standard.name} is not asked{beside}."]
    notes = note_standard(standard, study.combinations)
    return [f"Strength by {standard.name}{_factors(standard)}.", *(f"{begin(note)}." for note in notes)]


def _factors(standard: Standard) -> str:
    """The partial factors, where the standard divides by such; what is given outright has its own in it."""
    if not isinstance(standard, En1993):
        return ""
    factors = enumerate((standard.gamma_m0, standard.gamma_m1, standard.gamma_m2))
    # At least two decimals, as standards print them, and all that the study gives.
    told = ", ".join(f"γ_M{number} = {max(f'{each:.2f}', f'{each:g}', key=len)}" for number, each in factors)
    return (
        f", partial factors used: {told}; resistances as given contain whatever factors they were given with"
    )
