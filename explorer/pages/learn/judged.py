"""What is said of a prediction: right, missed, wrong, and the slips that have names."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.pages.learn.setting import Setting
from explorer.pages.proofs.names import keep_names
from explorer.wording.judging import Judgement, Verdict, judge_needed, judge_zeros

SECTION_TITLES = (("right", "Right"), ("missed", "Missed"), ("wrong", "Wrong"))


def show_judged(setting: Setting, marked: frozenset[int], second_round: bool) -> dict[str, object]:
    """Return the verdicts as markup, and by kind the members (indices) that the drawing shows."""
    judge = judge_needed if second_round else judge_zeros
    judgement = judge(setting.told, setting.reasons, marked)
    return {
        "key": setting.worked.key,
        "markup": _draw(judgement),
        "summary": judgement.summary,
        **{name: [verdict.member for verdict in getattr(judgement, name)] for name, _ in SECTION_TITLES},
    }


def _draw(judgement: Judgement) -> Markup:
    parts = [element("p", judgement.summary, {"class": "say"})]
    for name, title in SECTION_TITLES:
        verdicts: tuple[Verdict, ...] = getattr(judgement, name)
        if verdicts:
            rows = [_draw_verdict(verdict) for verdict in verdicts]
            parts += [element("h3", title), element("ul", rows, {"class": f"reasons {name}"})]
    return join(parts)


def _draw_verdict(verdict: Verdict) -> Markup:
    inside = [element("b", verdict.name), element("span", keep_names(verdict.sentence))]
    if verdict.slip:
        inside.append(element("em", keep_names(verdict.slip)))
    return element("li", inside)
