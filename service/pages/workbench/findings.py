"""What the screen found of one product, for reading."""

from __future__ import annotations

import re
from dataclasses import dataclass

from service.domain.screening_answers import Finding, ScreenAnswer
from service.pages.wording import sentence_case, words

# A person reads the grave ones and knows how many more there are; all of them stand in the answer for programs.
_MOST_SHOWN = 8
# Each product is screened alone here, so its id after a name says nothing.
_PLACE = re.compile(r" \(product:p[0-9]+\)")


@dataclass(frozen=True, slots=True)
class FindingView:
    """One finding: its level, what it is about, what can happen, what to do."""

    id: str
    level: str
    subjects: str
    effect: str
    action: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScreenView:
    """The screen of one product."""

    product_id: str
    name: str
    verdict: str
    findings: tuple[FindingView, ...]
    further: int
    unrecognised: tuple[str, ...]
    not_assessed: int
    taken_as: tuple[str, ...]


def present_screen(product_id: str, name: str, answer: ScreenAnswer) -> ScreenView:
    """Arrange a screen for reading.

    Parameters
    ----------
    product_id, name
        The product.
    answer
        Its screen.

    Returns
    -------
    ScreenView
        Findings of ``note`` are only counted.
    """
    told = [finding for finding in answer.findings if finding.level != "note"]
    return ScreenView(
        product_id=product_id,
        name=name,
        verdict=answer.verdict,
        findings=tuple(
            _finding(finding, f"{product_id}-found-{index}") for index, finding in enumerate(told[:_MOST_SHOWN])
        ),
        further=len(answer.findings) - len(told[:_MOST_SHOWN]),
        unrecognised=tuple(dict.fromkeys(one.text for one in answer.unrecognised)),
        not_assessed=len(answer.not_assessed),
        taken_as=tuple(f"{one.text}: {one.name}" for one in answer.taken_as if one.basis != "name"),
    )


def _finding(finding: Finding, id_: str) -> FindingView:
    return FindingView(
        id=id_,
        level=finding.level,
        subjects=", ".join(words(subject.replace("-", "_")) for subject in finding.subjects),
        effect=sentence_case(_PLACE.sub("", finding.effect)),
        action=sentence_case(finding.action),
        origin=finding.origin,
        source_ids=finding.source_ids,
    )
