"""Allergens of a label: stated, told as a source, brought by an ingredient, or named in an ingredient's own name."""

from __future__ import annotations

from collections.abc import Iterator

from service.domain.label_text import words
from service.domain.labels.allergen_words import ALLERGEN_WORDS, DENIES
from service.domain.labels.answer import Blend, Fact, LabelAllergen, OtherIngredient
from service.domain.labels.findings import Allergen, Findings
from service.domain.labels.lists import allergen_words
from service.domain.labels.plain_text import plain_text
from service.domain.labels.sheet import Span
from service.domain.labels.tokens import Token, tokenise

_FROM_FISH_OR_PLANTS = "epa-dha"
_NOT_OF_FISH = frozenset(
    """algal algae alga algas microalgae mikroalgen algen algenol algue algues microalgue schizochytrium flax flaxseed
    linseed leinsamen leinol lin lino linaza chia hemp perilla vegan plant plants pflanzlich vegetal vegetale""".split()
)
# Group of an ingredient to the allergen it brings; a glucosamine may as well come from a fungus, so it brings none.
_OF_INGREDIENT = {
    "green-lipped-mussel": "mollusc shellfish",
    "krill-oil": "crustacean shellfish",
    "shellfish-chitin": "shellfish",
}
_OF_GROUP = {"mollusc-source": "mollusc shellfish", "fish-source": "fish"}
_OF_LAW = frozenset(
    (
        *("crustacean shellfish", "mollusc shellfish", "shellfish", "fish", "milk", "egg", "soy", "wheat", "gluten"),
        *("peanut", "tree nut", "sesame", "celery", "mustard", "lupin", "sulphites"),
    )
)
_WORDS_OF_A_NAME = 6
_MADE_FROM_CHITIN = frozenset("glucosamine glucosamin chitosan glucosamina".split())
_SOURCE_ALLERGENS = frozenset(
    ("crustacean shellfish", "mollusc shellfish", "shellfish", "fish", "egg", "milk", "soy", "wheat")
)


def allergens_of(
    found: Findings, facts: tuple[Fact, ...], blends: tuple[Blend, ...], others: tuple[OtherIngredient, ...]
) -> tuple[LabelAllergen, ...]:
    """Collect the allergens of a label.

    Parameters
    ----------
    found
        What the lines said.
    facts, blends, others
        What was made of them.

    Returns
    -------
    tuple of LabelAllergen
        Each once: as the label states it, else as an ingredient brings it.
    """
    stated = [*found.allergens, *_told(found)]
    told = [LabelAllergen(one.allergen, one.text, one.stated, one.may_contain, one.span) for one in stated]
    for allergen, text, span in _brought(found, facts, blends, others):
        known = {one.allergen for one in told}
        if allergen not in known and not (allergen == "shellfish" and any("shellfish" in one for one in known)):
            told.append(LabelAllergen(allergen, text, False, False, span))
    seen = {one.allergen for one in told}
    named = [(one.text, one.trace, one.span) for one in others if not one.negated]
    named += [(fact.name, False, fact.name_span) for fact in facts]
    named += [(one.name, False, one.span) for blend in blends for one in blend.members]
    told += [
        LabelAllergen(allergen, text, False, trace, span)
        for text, trace, span in named
        for allergen in _named(text)
        if not any(allergen in other for other in seen)
    ]
    return tuple({one.allergen: one for one in reversed(told)}.values())[::-1]


def _brought(
    found: Findings, facts: tuple[Fact, ...], blends: tuple[Blend, ...], others: tuple[OtherIngredient, ...]
) -> Iterator[tuple[str, str, Span]]:
    sheet = found.sheet
    brought = [(fact.ingredient, fact.name, fact.name_span) for fact in facts]
    # A stated content can have taken the place of the material: krill oil counts as EPA and DHA, and is krill.
    by_name = [(sheet.exact(fact.name.partition(" (")[0]).ingredient, fact) for fact in facts]
    brought += [(ingredient, fact.name, fact.name_span) for ingredient, fact in by_name]
    brought += [(one.ingredient, one.name, one.span) for blend in blends for one in blend.members]
    brought += [(one.ingredient, one.text, one.span) for one in others if not one.negated]
    for ingredient, text, span in brought:
        groups = sheet.reference.ingredients[ingredient].group_ids if ingredient else ()
        allergen = allergen_of(ingredient, groups)
        if allergen is not None and not (ingredient == _FROM_FISH_OR_PLANTS and _names_no_fish(text)):
            yield allergen, text, span


def allergen_of(ingredient: str | None, groups: tuple[str, ...]) -> str | None:
    """Give the allergen that an ingredient brings.

    Parameters
    ----------
    ingredient
        Its id.
    groups
        Ids of its groups.

    Returns
    -------
    str or None
        ``None`` where none is recorded, which does not mean that there is none.
    """
    if ingredient in _OF_INGREDIENT:
        return _OF_INGREDIENT[ingredient]
    return next((_OF_GROUP[group] for group in groups if group in _OF_GROUP), None)


def _names_no_fish(text: str) -> bool:
    """Say whether a name of fatty acids tells that they come from algae or seeds."""
    return not _NOT_OF_FISH.isdisjoint(words(text))


def _named(text: str) -> tuple[str, ...]:
    """Find allergens in the name of an ingredient: ``soy lecithin``, ``whey protein``, ``wheat germ``."""
    tokens = tokenise(plain_text(text))
    found, at = [], 0
    while at < len(tokens):
        hit = ALLERGEN_WORDS.find(tokens, at, len(tokens))
        if hit is not None and hit.meaning in _OF_LAW and not _is_denied(tokens, at, hit.end):
            found.append(hit.meaning)
        at = hit.end if hit is not None else at + 1
    return tuple(dict.fromkeys(found))


def _is_denied(tokens: tuple[Token, ...], start: int, end: int) -> bool:
    """``non-shellfish``, ``shellfish-free``, ``from vegetarian, not shellfish``."""
    before = [at for at in (start - 1, start - 2) if at >= 0 and (at == start - 1 or tokens[start - 1].text == "-")]
    behind = [token.fold for token in tokens[end : end + 2] if token.text != "-"][:1]
    return behind == ["free"] or any(DENIES.find(tokens, at, start) for at in before)


def _told(found: Findings) -> list[Allergen]:
    """Find allergens that a bracket behind a name tells as its source: ``glucosamine HCl (shellfish)``."""
    # Shellfish that gives glucosamine is crustacean: its chitin is what the glucosamine is made from.
    sheet, told = found.sheet, dict[str, Allergen]()
    denied = [one.span for one in found.statements if one.kind == "negation"]
    for opened, closed in sheet.closing.items():
        place = sheet.span(opened, opened + 1).start
        if not found.covered[opened] or any(span.start <= place < span.end for span in denied):
            continue
        before = {token.fold for token in sheet.tokens[max(0, opened - _WORDS_OF_A_NAME) : opened]}
        for allergen, start, end in allergen_words(sheet, opened + 1, closed):
            if allergen in _SOURCE_ALLERGENS and not _is_denied(sheet.tokens, start, end):
                chitin = allergen == "shellfish" and before & _MADE_FROM_CHITIN
                name = "crustacean shellfish" if chitin else allergen
                told.setdefault(name, Allergen(name, sheet.text(start, end), True, False, sheet.span(start, end)))
    return list(told.values())
