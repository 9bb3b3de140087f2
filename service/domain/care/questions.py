"""Questions for the veterinarian that follow from a care note by rule, gravest first, then the carer's own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.domain.care.answer import (
    AmountRow,
    CareEvidence,
    CareScreen,
    GivenLine,
    GivenProduct,
    GuidanceBeside,
    Question,
    Reassessment,
)
from service.domain.care.naming import name_of
from service.domain.care.wording import in_a_sentence, in_short, listed, milligrams, short_name
from service.domain.common import Animal
from service.domain.screening_unlimited import HIDDEN
from service.reference.release import Reference

_COMMON_PRACTICE = ("common-practice",)
_GROWN_UP_YEARS = 1
# The earliest age that the size-based list of source insur calls senior (dogs over 90 lb); in cats common practice.
_SENIOR_FROM_YEARS = {"dog": (6, ("insur",)), "cat": (10, _COMMON_PRACTICE)}
# What these supplements are given for; that a pair with it has no record is no gap to ask about.
_REASONS_TO_GIVE = frozenset({"osteoarthritis", "hip-dysplasia", "cruciate-disease"})
_FORM_FLAGS = frozenset(
    (
        "form_not_stated",
        "form_open",
        "salt_or_base_ambiguous",
        "stabiliser_not_stated",
        "mixed_salts_split_unknown",
        "ester_or_acid_ambiguous",
        "epa_dha_not_stated",
    )
)
_VERDICTS = {
    "against": "the evidence is against {names}",
    "weak": "the evidence for {names} is weak",
    "untested": "{names} was not tested alone",
}
_KINDS_TOLD = {"medications": "medicine", "conditions": "condition", "traits": "trait"}


@dataclass(frozen=True, slots=True)
class Grounds:
    """Everything in a note that a question can follow from."""

    animal: Animal
    given: tuple[GivenProduct, ...]
    amounts: tuple[AmountRow, ...]
    evidence: tuple[CareEvidence, ...]
    screen: CareScreen
    reassessments: tuple[Reassessment, ...]


def questions_for(reference: Reference, grounds: Grounds, own: Sequence[str]) -> tuple[Question, ...]:
    """Ask everything that the note leaves open.

    Parameters
    ----------
    reference
        The release to answer from.
    grounds
        The note so far.
    own
        The carer's own questions.

    Returns
    -------
    tuple of Question
        Each once. By rule: what must not or may not be given, what was not understood, hidden or open, amounts above
        guidance, ages, evidence, and pairs that no record speaks of. Then the carer's.
    """
    rules = (
        *_of_findings(grounds.screen),
        *_of_texts(reference, grounds.screen, grounds.given),
        *_of_hidden_amounts(reference, grounds),
        *_of_open_forms(grounds.given),
        *_of_missing_figures(grounds),
        *_of_amounts(grounds.amounts),
        *_of_age(grounds.animal),
        *_of_evidence(reference, grounds),
        *_of_unknown_amounts(reference, grounds),
        *_of_unrecorded_pairs(reference, grounds),
    )
    return (*dict.fromkeys(rules), *(Question("own", "carer", text, (), ()) for text in own))


def _rule(code: str, text: str, subjects: Iterable[str] = (), source_ids: Iterable[str] = ()) -> Question:
    return Question(code, "rule", text, tuple(dict.fromkeys(subjects)), tuple(dict.fromkeys(source_ids)))


def _of_findings(screen: CareScreen) -> Iterator[Question]:
    for finding in screen.findings:
        if finding.level == "avoid":
            text = f"Must it be stopped? {in_short(finding)}"
        elif finding.level == "veterinarian" and finding.kind == "over_limit":
            text = f"Is this amount meant? {in_short(finding)}"
        elif finding.level == "veterinarian":
            text = f"May it be given, and on what terms? {in_short(finding)}"
        else:
            continue
        yield _rule(f"finding_{finding.level}", text, finding.subjects, finding.source_ids)


def _of_texts(reference: Reference, screen: CareScreen, given: Sequence[GivenProduct]) -> Iterator[Question]:
    names = {product.product_id: product.name or product.product_id for product in given}
    by_place: dict[str, list[str]] = {}
    for one in screen.unrecognised:
        by_place.setdefault(one.where, []).append(f"\u201c{one.text}\u201d")
    for place, texts in by_place.items():
        named = listed(list(dict.fromkeys(texts)))
        kind = _KINDS_TOLD.get(place)
        if kind is not None:
            text = f"Not understood as a {kind}: {named}. What is it, and does it change what may be given?"
        else:
            product = place.partition(":")[2]
            text = f"Not understood on the label of {names.get(product, product)}: {named}. Can it harm this animal?"
        yield _rule("not_understood", text)


def _of_hidden_amounts(reference: Reference, grounds: Grounds) -> Iterator[Question]:
    hidden: dict[str, list[str]] = {}
    for gap in grounds.screen.not_assessed:
        if gap.reason == HIDDEN:
            hidden.setdefault(gap.a, []).append(gap.b)
    names = {product.product_id: product.name or product.product_id for product in grounds.given}
    for product, members in hidden.items():
        named = _names(reference, members)
        text = f"How much {named} is in {names.get(product, product)}? A blend on its label hides the amounts."
        yield _rule("amount_hidden", text, members)


def _of_open_forms(given: Sequence[GivenProduct]) -> Iterator[Question]:
    for product in given:
        for line in product.lines:
            if _FORM_FLAGS & {*line.flags}:
                yield _rule("form_open", _form_question(product, line), [line.ingredient] if line.ingredient else [])


def _form_question(product: GivenProduct, line: GivenLine) -> str:
    name = product.name or product.product_id
    low, high = line.moiety_low_mg_per_unit, line.moiety_high_mg_per_unit
    if low is None or high is None or low == high:
        return f"Which form of {line.ingredient_name or line.name} is in {name}? The label does not say."
    held = f"{milligrams(low, high)} of {line.moiety}"
    return (
        f"Which form of {line.ingredient_name or line.name} is in {name}? Its label leaves {held} per {product.unit}."
    )


def _of_missing_figures(grounds: Grounds) -> Iterator[Question]:
    for product in grounds.given:
        if any(phase.units_per_day is None for phase in product.phases):
            name = product.name or product.product_id
            yield _rule("units_not_told", f"How much of {name} is to be given a day? Its carer has not said.")
    if grounds.animal.weight_kg is None:
        yield _rule("weight_not_told", "What does the animal weigh? Without it no amount was held against a range.")


def _of_amounts(rows: Sequence[AmountRow]) -> Iterator[Question]:
    """Ask once for each ingredient, with every amount of it that is too high."""
    above: dict[str, list[tuple[AmountRow, GuidanceBeside]]] = {}
    for row in rows:
        if row.position == "above" and row.guidance is not None:
            above.setdefault(row.ingredient, []).append((row, row.guidance))
    for ingredient, found in above.items():
        first = found[0][0]
        amounts = ", then ".join(_above(row, wanted) for row, wanted in found)
        ending = "; no end is told" if found[-1][0].to_day is None else ""
        counted = in_a_sentence(first.counted_as)
        text = f"Is so much {short_name(first.name)} meant? A day, counted as {counted}: {amounts}{ending}."
        yield _rule("above_guidance", text, [ingredient], (id_ for _, wanted in found for id_ in wanted.source_ids))


def _above(row: AmountRow, wanted: GuidanceBeside) -> str:
    low, high = row.low_mg or Decimal(0), row.high_mg or Decimal(0)
    held = f"at least {milligrams(low, low)}" if row.at_least else milligrams(low, high)
    return f"{held}, above {milligrams(wanted.low_mg, wanted.high_mg)} ({wanted.phase})"


def _of_age(animal: Animal) -> Iterator[Question]:
    if animal.age_years is None:
        yield _rule("age_not_told", "How old is it? The amounts are for adults.")
        return
    years, sources = _SENIOR_FROM_YEARS[animal.species]
    if animal.age_years < _GROWN_UP_YEARS:
        text = "It still grows, and no study of these amounts in growing animals was found: should it get any of this?"
        yield _rule("young_animal", text)
    elif animal.age_years >= years:
        text = "At its age: when were kidney and liver values last checked, and when are they to be checked again?"
        yield _rule("senior_animal", text, (), sources)


def _given_for_an_effect(reference: Reference, ingredient: str) -> bool:
    """Leave out what keeps an oil fresh and the like."""
    return reference.ingredients[ingredient].kind == "active"


def _of_evidence(reference: Reference, grounds: Grounds) -> Iterator[Question]:
    doubtful = [
        one for one in grounds.evidence if one.verdict in _VERDICTS and _given_for_an_effect(reference, one.ingredient)
    ]
    if not doubtful:
        return
    parts = [
        words.format(names=listed([short_name(one.name) for one in doubtful if one.verdict == verdict]))
        for verdict, words in _VERDICTS.items()
        if any(one.verdict == verdict for one in doubtful)
    ]
    text = f"Is it worth going on with, and by what is that to be judged? On record, {'; '.join(parts)}."
    sources = (id_ for one in doubtful for id_ in one.source_ids)
    yield _rule("evidence", text, (one.ingredient for one in doubtful), sources)


def _of_unknown_amounts(reference: Reference, grounds: Grounds) -> Iterator[Question]:
    rows = {
        row.ingredient: row
        for row in grounds.amounts
        if row.position == "no_guidance" and _given_for_an_effect(reference, row.ingredient)
    }
    if rows and grounds.animal.weight_kg is not None:
        named = listed([short_name(row.name) for row in rows.values()])
        text = f"Which amount is right? This release holds none for this animal of {named}."
        yield _rule("no_guidance", text, rows)
    if grounds.given and not grounds.reassessments:
        text = "When is it to be judged whether this helps? No published time was found for what is given."
        yield _rule("no_reassessment", text)


def _of_unrecorded_pairs(reference: Reference, grounds: Grounds) -> Iterator[Question]:
    told = {**reference.medications, **reference.drug_classes, **reference.conditions}
    partners: dict[str, dict[str, None]] = {}
    for gap in grounds.screen.not_assessed:
        if gap.b in told and gap.a in reference.ingredients and gap.b not in _REASONS_TO_GIVE:
            partners.setdefault(gap.a, {})[gap.b] = None
    if not partners:
        return
    # What is alike in this is said together: "glucosamine and MSM with carprofen and kidney disease".
    alike: dict[tuple[str, ...], list[str]] = {}
    for id_, others in partners.items():
        alike.setdefault(tuple(others), []).append(id_)
    named = [f"{_names(reference, ids)} with {_names(reference, others)}" for others, ids in alike.items()]
    text = f"Is anything known against these? No record of this release speaks of {'; '.join(named)}."
    yield _rule("no_record", text, [*partners, *(id_ for others in alike for id_ in others)])


def _names(reference: Reference, ids: Sequence[str]) -> str:
    return listed([short_name(name_of(reference, id_)) for id_ in ids])
