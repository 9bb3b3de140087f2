"""What the resolver answers to a corpus of label phrases, against what is expected of it.

A list as printed goes through :meth:`service.domain.resolving.Resolver.resolve_list`, as it does in the service.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from service.domain.resolving import Meaning, Resolution, Resolver, resolver_for
from service.reference.release import Reference
from service.reference.releases import load_working_tables

CORPUS = Path(__file__).parent.parent / "data" / "name_corpus.csv"
CLASSES = ("hazard", "possible_hazard", "trace", "negated", "ingredient", "false_friend", "unknown")
# A phrase of these classes names nothing that harms: an alarm over it is a false one.
BENIGN = ("ingredient", "false_friend", "negated")
_GRAVE = {"contact_now", "avoid", "ask_veterinarian"}


@dataclass(frozen=True, slots=True)
class Case:
    """One phrase and what is expected. ``target`` is empty where any entry of the class will do."""

    phrase: str
    expected: str
    target: str
    species: str
    kind: str
    language: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What the resolver made of a phrase: ids by how they were named."""

    hazards: frozenset[str]
    possible: frozenset[str]
    traces: frozenset[str]
    denied: frozenset[str]
    ingredients: frozenset[str]
    alarming: frozenset[str]
    understood: bool
    anything_denied: bool


@dataclass(frozen=True, slots=True)
class Outcome:
    """A case, the answer, the class that the answer belongs to and whether it names the expected entry."""

    case: Case
    answer: Answer
    answered: str
    is_right: bool

    @property
    def is_alarm(self) -> bool:
        """Say whether the answer would make anyone stop or ask."""
        return bool(self.answer.alarming or self.answer.possible)


def cases() -> tuple[Case, ...]:
    """Read the corpus.

    Returns
    -------
    tuple of Case
        In the order of the file.
    """
    with CORPUS.open(encoding="utf-8", newline="") as file:
        return tuple(_case(row) for row in csv.DictReader(file))


def _case(row: Mapping[str, str]) -> Case:
    expected, _, target = row["expected"].partition(":")
    return Case(row["phrase"], expected, target, row["species"], row["kind"], row["language"])


def answer_to(resolver: Resolver, reference: Reference, case: Case) -> Answer:
    """Resolve a phrase as the list that a label prints.

    Parameters
    ----------
    resolver
        The resolver to try.
    reference
        Its release.
    case
        The phrase.

    Returns
    -------
    Answer
        All items together.
    """
    items = [item.resolution for item in resolver.resolve_list(case.phrase)]
    present = [one for found in items for one in found.meanings if not (one.negated or one.trace)]
    hazards = frozenset(one.hazard for one in present if one.hazard)
    return Answer(
        hazards=hazards,
        possible=frozenset(miss.hazard for found in items for miss in found.possible if miss.hazard),
        traces=frozenset(one.hazard for one in _meant(items) if one.hazard and one.trace and not one.negated),
        denied=frozenset(one.hazard for one in _meant(items) if one.hazard and one.negated),
        ingredients=frozenset(one.ingredient for one in present if one.ingredient),
        alarming=frozenset(id_ for id_ in hazards if _is_grave(reference, id_, case.species)),
        understood=all(found.match == "exact" for found in items),
        anything_denied=any(found.negated for found in items),
    )


def _meant(items: list[Resolution]) -> list[Meaning]:
    return [one for found in items for one in found.meanings]


def _is_grave(reference: Reference, hazard_id: str, species: str) -> bool:
    hazard = reference.hazards[hazard_id]
    actions = {"dog": hazard.unquantified_dog, "cat": hazard.unquantified_cat}
    return bool(_GRAVE & ({actions[species]} if species else set(actions.values())))


def _names(target: str, found: frozenset[str]) -> bool:
    return target in found if target else bool(found)


def _is_as_expected(case: Case, answer: Answer) -> bool:
    if case.expected == "hazard":
        return _names(case.target, answer.hazards)
    if case.expected == "possible_hazard":
        return _names(case.target, answer.possible) and case.target not in answer.hazards
    if case.expected == "trace":
        return _names(case.target, answer.traces) and not answer.alarming
    if answer.alarming or answer.possible:
        return False
    if case.expected == "unknown":
        return not answer.understood
    if case.expected == "negated":
        return answer.anything_denied and (not case.target or case.target in answer.denied)
    return answer.understood and (
        case.target in answer.ingredients if case.expected == "ingredient" and case.target else True
    )


def _class_of(answer: Answer) -> str:
    """Give the gravest class that an unexpected answer belongs to."""
    told = (
        ("hazard", bool(answer.alarming)),
        ("possible_hazard", bool(answer.possible)),
        ("trace", bool(answer.traces)),
        ("unknown", not answer.understood),
        ("negated", answer.anything_denied),
        ("ingredient", bool(answer.ingredients)),
    )
    return next((class_ for class_, holds in told if holds), "false_friend")


def outcome_of(resolver: Resolver, reference: Reference, case: Case) -> Outcome:
    """Try one phrase.

    Parameters
    ----------
    resolver
        The resolver to try.
    reference
        Its release.
    case
        The phrase.

    Returns
    -------
    Outcome
        Beside the case.
    """
    answer = answer_to(resolver, reference, case)
    right = _is_as_expected(case, answer)
    return Outcome(case, answer, case.expected if right else _class_of(answer), right)


@lru_cache(maxsize=1)
def outcomes() -> tuple[Outcome, ...]:
    """Try the whole corpus on the working tables, once.

    Returns
    -------
    tuple of Outcome
        In the order of the corpus.
    """
    reference = load_working_tables()
    resolver = resolver_for(reference)
    return tuple(outcome_of(resolver, reference, case) for case in cases())


def confusion() -> Counter[tuple[str, str]]:
    """Count the phrases by expected and answered class.

    Returns
    -------
    Counter
        Keys are pairs of classes.
    """
    return Counter((one.case.expected, one.answered) for one in outcomes())


def confusion_table() -> str:
    """Draw the confusion of the whole corpus.

    Returns
    -------
    str
        One row per expected class, one column per answered class.
    """
    counts = confusion()
    header = ["expected \\ answered", *(class_.replace("_", " ") for class_ in CLASSES), "phrases"]
    rows = [
        [expected.replace("_", " "), *(str(counts[expected, answered] or ".") for answered in CLASSES), str(total)]
        for expected in CLASSES
        if (total := sum(counts[expected, answered] for answered in CLASSES))
    ]
    widths = [max(len(row[at]) for row in (header, *rows)) for at in range(len(header))]
    lines = [
        "  ".join(
            cell.ljust(width) if not at else cell.rjust(width)
            for at, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in (header, *rows)
    ]
    return "\n".join(lines)


def share_of(part: int, whole: int) -> str:
    """Write a share with its counts: ``98.0 % (49 of 50)``.

    Parameters
    ----------
    part
        How many.
    whole
        Of how many.

    Returns
    -------
    str
        In per cent.
    """
    return f"{100 * part / whole:.1f} % ({part} of {whole})" if whole else "none asked"


def report() -> str:
    """Write the table and the figures that a release is held to.

    Returns
    -------
    str
        Several lines.
    """
    found = outcomes()
    spelt = [one for one in found if one.case.expected == "hazard"]
    slips = [one for one in found if one.case.expected == "possible_hazard"]
    benign = [one for one in found if one.case.expected in BENIGN]
    unknown = [one for one in found if one.case.expected == "unknown"]
    lines = [
        f"names: {len(found)} label phrases, expected against answered class",
        confusion_table(),
        f"hazards caught as spelt:            {share_of(sum(one.is_right for one in spelt), len(spelt))}",
        f"misspelt hazards told as possible:  {share_of(sum(one.is_right for one in slips), len(slips))}",
        f"false alarms over benign phrases:   {share_of(sum(one.is_alarm for one in benign), len(benign))}",
        f"false alarms over unknown names:    {share_of(sum(one.is_alarm for one in unknown), len(unknown))}",
        f"the expected entry named:           {share_of(sum(one.is_right for one in found), len(found))}",
    ]
    return "\n".join(lines)
