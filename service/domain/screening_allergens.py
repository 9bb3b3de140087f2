"""What an animal is said to be allergic to, found on the label: by entry, or by the word that both texts share.

The interaction records speak of joint ingredients (collagen, fish oil, glucosamine). Fish meal, shrimp powder or
chicken liver are food: no record is needed to say that an animal with that allergy should not have them.
"""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.common import Caution
from service.domain.screening_allergy_names import ANY_FOOD, ENTRY_OF, FISH, foods_said, singular
from service.domain.screening_answers import Finding, NotAssessed, TakenAs
from service.domain.screening_names import name_words
from service.domain.screening_subjects import Mention, Subjects
from service.reference.release import Reference

_COMMON_PRACTICE = "common-practice"
SOURCE_NOT_STATED = "source_not_stated"
# Made from animals, and a label that does not say which leaves the allergy open.
_FROM_SOME_ANIMAL = frozenset({"gelatin", "collagen", "collagen-cartilage"})
_ANIMALS = {
    "fish": frozenset(
        "fish cod salmon tuna shark skate ray tilapia marine pollock poisson pescado fisch hai vis".split()
    ),
    "beef": frozenset("bovine beef cow cattle veal ox calf rind rinder boeuf bovin bovino res rund".split()),
    "pork": frozenset("porcine pork pig swine schwein porc porcin cerdo porcino varken".split()),
    "poultry": frozenset("chicken avian poultry turkey duck sternum sternal rooster huhn poulet pollo kip".split()),
    "sheep": frozenset("sheep lamb ovine mutton goat agneau cordero lam".split()),
    "plant": frozenset("vegetable vegetarian vegan plant algae algal fungal eggshell egg".split()),
}
_ALLERGEN_NOT_NAMED = Caution(
    "allergen_not_named",
    "caution",
    "A food allergy was given without the food: say which, so that it can be looked for on the label.",
)


def allergen_findings(reference: Reference, subjects: Subjects, told: Iterable[Finding]) -> tuple[Finding, ...]:
    """Find foods on the label that the animal is said to be allergic to.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        What is named, and what the words for conditions were taken as.
    told
        Findings from records: what they speak of is not said twice.

    Returns
    -------
    tuple of Finding
        ``avoid``; ``veterinarian`` where the label declares traces only.
    """
    spoken_of = {finding.subjects for finding in told}
    in_item: dict[tuple[str, int], set[str]] = {}
    for mention in subjects.mentions:
        in_item.setdefault((mention.where, mention.item), set()).add(mention.ingredient)
    found: dict[tuple[str, str, str], Finding] = {}
    for allergy in subjects.taken_as:
        if allergy.id not in (*ENTRY_OF, ANY_FOOD):
            continue
        said, meant = foods_said(allergy.text), _words_for(reference, ENTRY_OF.get(allergy.id))
        for mention in subjects.mentions:
            if any((ingredient, allergy.id) in spoken_of for ingredient in in_item[mention.where, mention.item]):
                continue
            on_label = singular(name_words(mention.text))
            # "Fish oil" is not every oil: of what is said all words have to stand there.
            by_word = not meant.isdisjoint(on_label) or (said and said <= on_label)
            by_word = by_word or (mention.ingredient in _FROM_SOME_ANIMAL and _is_of(allergy, said, on_label))
            if mention.ingredient == ENTRY_OF.get(allergy.id) or by_word:
                found.setdefault((mention.text, mention.where, allergy.id), _finding(mention, allergy))
    return tuple(found.values())


def sources_not_stated(subjects: Subjects, told: Iterable[Finding]) -> tuple[NotAssessed, ...]:
    """List what is made from some animal and does not say from which, where an allergy is to an animal.

    Parameters
    ----------
    subjects
        What is named, and what the words for conditions were taken as.
    told
        Findings from records: what they speak of is judged already.

    Returns
    -------
    tuple of NotAssessed
        ``a`` is the ingredient, ``b`` the allergy.
    """
    spoken_of = {finding.subjects for finding in told}
    found = {}
    for allergy in subjects.taken_as:
        if not _animals_meant(allergy, foods_said(allergy.text)):
            continue
        for mention in subjects.mentions:
            pair = (mention.ingredient, allergy.id)
            if mention.trace or mention.ingredient not in _FROM_SOME_ANIMAL or pair in spoken_of:
                continue
            if not any(words & singular(name_words(mention.text)) for words in _ANIMALS.values()):
                found[pair] = NotAssessed(*pair, SOURCE_NOT_STATED)
    return tuple(found.values())


def _animals_meant(allergy: TakenAs, said: frozenset[str]) -> set[str]:
    """Give the animals that an allergy is to."""
    if allergy.id == FISH:
        return {"fish"}
    return {animal for animal, words in _ANIMALS.items() if words & said} if allergy.id == ANY_FOOD else set()


def _is_of(allergy: TakenAs, said: frozenset[str], on_label: frozenset[str]) -> bool:
    return any(_ANIMALS[animal] & on_label for animal in _animals_meant(allergy, said))


def allergen_cautions(subjects: Subjects) -> tuple[Caution, ...]:
    """Ask for the food where an allergy was given without it.

    Parameters
    ----------
    subjects
        What the words for conditions were taken as.

    Returns
    -------
    tuple of Caution
        One, or none.
    """
    unnamed = any(one.id == ANY_FOOD and not foods_said(one.text) for one in subjects.taken_as)
    return (_ALLERGEN_NOT_NAMED,) if unnamed else ()


def _words_for(reference: Reference, entry: str | None) -> frozenset[str]:
    """List the single words that mean an entry: fish, salmon, tuna."""
    names = (name_words(name) for name in reference.names_by_ingredient.get(entry or "", ()))
    return singular(words[0] for words in names if len(words) == 1)


def _finding(mention: Mention, allergy: TakenAs) -> Finding:
    level = "veterinarian" if mention.trace else "avoid"
    says = "declares traces" if mention.trace else "names it"
    return Finding(
        kind="condition",
        level=level,
        subjects=(mention.ingredient, allergy.id),
        topic="allergy",
        finding=None,
        effect=f"The animal is said to have: {allergy.text}. The label {says}: {mention.text} ({mention.where}).",
        action="Ask a veterinarian before giving it." if mention.trace else "Do not give it.",
        evidence="named on the label",
        evidence_species=None,
        limit_or_conflict=None,
        match="exact",
        origin="common_practice",
        record_ids=(),
        source_ids=(_COMMON_PRACTICE,),
    )
