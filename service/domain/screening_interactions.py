"""Which interaction records speak of a request, and which pairs no record speaks of.

Matching follows the rules stated with the records: a record matches directly, through a group of ingredients or
through a class of medicines; for one pair and topic the most specific record wins and among equals the highest
level, but one that was only recalled hides no sourced one of a higher level; different
topics never hide each other; a record that does not name the species says nothing about it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from types import MappingProxyType

from service.domain.screening_answers import Finding, NotAssessed, rank
from service.domain.screening_name_only import is_name_only, name_only_gaps
from service.domain.screening_subjects import Mention, Subjects
from service.reference.records import Interaction
from service.reference.release import Reference

_ANY_ORAL = "any-oral"
_NOT_PAIRED = "excipient"
# Nobody named this trait, so that nothing pairs with it is no gap of the request.
_TRAIT_OF_SPECIES = "species-cat"

Token = tuple[str, str]
Spot = tuple[str, int, str]


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a pair: under which tokens records know it, and whether each names it (1) or its group (0).

    ``paired``: whether a pair without a record is worth listing. ``spots``: where it is named.
    """

    id: str
    tokens: Mapping[Token, int]
    paired: bool
    spots: frozenset[Spot] = frozenset()


@dataclass(frozen=True, slots=True)
class Matched:
    """What the records say about a request."""

    findings: tuple[Finding, ...]
    not_assessed: tuple[NotAssessed, ...]


def match_interactions(reference: Reference, subjects: Subjects, species: str) -> Matched:
    """Match all pairs of a request with the interaction records.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        What the request names; traces are left out.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    Matched
        Findings name the ingredient that stands on the label. A pair of recognised ingredients (additives apart),
        medicines and conditions without any record is not assessed (``no_record``); one whose records were all
        recalled without a source is shown and not assessed (``unsourced_record_only``). A plant known by name only is
        not assessed under its printed name (``recognised_by_name_only``).
    """
    present = [mention for mention in subjects.mentions if not mention.trace]
    ingredients = _ingredient_sides(reference, present)
    medicines = [_medicine_side(reference, id_) for id_ in subjects.medications]
    medicines += [_Side(id_, {("drug_class", id_): 0}, True) for id_ in subjects.drug_classes]
    conditions = [
        _Side(id_, {("condition", id_): 1}, id_ != _TRAIT_OF_SPECIES)
        for id_ in (*subjects.conditions, *subjects.implied_conditions)
    ]
    findings: list[Finding] = []
    gaps: list[NotAssessed] = []
    for first, second in _pairs(ingredients, medicines, conditions):
        rows = _rows_for(reference, first, second, species)
        _note(first, second, rows, findings, gaps)
    for twice in twice_given(reference, present):
        side = next(side for side in ingredients if side.id == twice)
        findings += [_finding(row, (twice, twice)) for row in _self_rows(reference, side, side, species)]
    others = (side.id for side in (*medicines, *conditions) if side.paired)
    return Matched(tuple(findings), (*gaps, *name_only_gaps(present, others)))


def _pairs(ingredients: list[_Side], medicines: list[_Side], conditions: list[_Side]) -> Iterable[tuple[_Side, _Side]]:
    yield from ((ingredient, other) for ingredient in ingredients for other in (*medicines, *conditions))
    for first, second in combinations(ingredients, 2):
        # Two meanings of one name are one material and no pair.
        if len(first.spots | second.spots) > 1:
            yield first, second


def _note(
    first: _Side, second: _Side, rows: list[Interaction], findings: list[Finding], gaps: list[NotAssessed]
) -> None:
    findings += [_finding(row, (first.id, second.id)) for row in rows]
    if not first.paired or not second.paired:
        return
    if not rows and not _shared(first, second):
        gaps.append(NotAssessed(first.id, second.id, "no_record"))
    elif rows and all(row.origin == "memory" for row in rows):
        gaps.append(NotAssessed(first.id, second.id, "unsourced_record_only"))


def _ingredient_sides(reference: Reference, mentions: list[Mention]) -> list[_Side]:
    spots: dict[str, set[Spot]] = {}
    actives: dict[Spot, set[str]] = {}
    speaks_for_itself = {one.ingredient for one in mentions if not one.carried and not is_name_only(one)}
    for mention in mentions:
        spot = (mention.where, mention.item, mention.name)
        spots.setdefault(mention.ingredient, set()).add(spot)
        if reference.ingredients[mention.ingredient].kind == "active":
            actives.setdefault(spot, set()).add(mention.ingredient)
    sides = []
    for id_, own in spots.items():
        # What only ever stands for a part of an active (the shell in a mussel powder) is paired with it, not beside it.
        is_part = all(actives.get(spot, set()) - {id_} for spot in own)
        kind = reference.ingredients[id_].kind
        paired = kind == "active" or (kind != _NOT_PAIRED and not is_part)
        paired = paired and id_ in speaks_for_itself
        sides.append(_Side(id_, _ingredient_tokens(reference, id_), paired, frozenset(own)))
    return sides


@lru_cache(maxsize=4096)
def _ingredient_tokens(reference: Reference, id_: str) -> Mapping[Token, int]:
    row = reference.ingredients[id_]
    tokens: dict[Token, int] = {("ingredient", id_): 1}
    groups = [*row.group_ids]
    for screened_as in row.screened_as_ids:
        tokens["ingredient", screened_as] = 1
        groups += reference.ingredients[screened_as].group_ids
    tokens.update({("ingredient_group", group): 0 for group in groups})
    return MappingProxyType(tokens)


def _medicine_side(reference: Reference, id_: str) -> _Side:
    row = reference.medications[id_]
    classes = (*row.class_ids, *((_ANY_ORAL,) if row.given_by_mouth else ()))
    return _Side(id_, {("medication", id_): 1, **{("drug_class", class_): 0 for class_ in classes}}, True)


def _shared(first: _Side, second: _Side) -> list[Token]:
    """List what both are screened as: fish oil and its EPA are one thing and no pair."""
    return [token for token, specific in first.tokens.items() if specific and second.tokens.get(token)]


def _rows_for(reference: Reference, first: _Side, second: _Side, species: str) -> list[Interaction]:
    if _shared(first, second):
        return _self_rows(reference, first, second, species)
    found: dict[str, list[tuple[tuple[int, int], Interaction]]] = {}
    index = _by_tokens(reference)
    for token_a, specific_a in first.tokens.items():
        for token_b, specific_b in second.tokens.items():
            for row in index.get((token_a, token_b), ()):
                if species in row.species:
                    strength = (specific_a + specific_b, rank(row.level))
                    found.setdefault(row.topic, []).append((strength, row))
    return [row for candidates in found.values() for row in _to_show(candidates)]


def _to_show(candidates: list[tuple[tuple[int, int], Interaction]]) -> list[Interaction]:
    """Pick the strongest record of a pair and topic, and a sourced one that a recalled one would hide."""
    best = max(candidates, key=lambda one: one[0])[1]
    if best.origin != "memory":
        return [best]
    hidden = [one for one in candidates if one[1].origin != "memory" and rank(one[1].level) > rank(best.level)]
    return [best, *([max(hidden, key=lambda one: one[0])[1]] if hidden else [])]


def _self_rows(reference: Reference, first: _Side, second: _Side, species: str) -> list[Interaction]:
    """Find records of an ingredient with itself: given under two names it adds up."""
    index = _by_tokens(reference)
    return [row for token in _shared(first, second) for row in index.get((token, token), ()) if species in row.species]


@lru_cache(maxsize=8)
def _by_tokens(reference: Reference) -> Mapping[tuple[Token, Token], tuple[Interaction, ...]]:
    """Index the records by both sides, in both orders."""
    index: dict[tuple[Token, Token], list[Interaction]] = {}
    for row in reference.interactions:
        first, second = (row.a_kind, row.a_id), (row.b_kind, row.b_id)
        for key in dict.fromkeys(((first, second), (second, first))):
            index.setdefault(key, []).append(row)
    return MappingProxyType({key: tuple(rows) for key, rows in index.items()})


def twice_given(reference: Reference, mentions: Sequence[Mention]) -> tuple[str, ...]:
    """List the ingredients that are given twice.

    Parameters
    ----------
    reference
        The release to answer from.
    mentions
        What is present.

    Returns
    -------
    tuple of str
        Ingredient ids that stand in two lists, or twice in one list or facts panel with the same moiety. EPA and
        DHA on two lines are parts of one thing; a facts line and the same name in the list below it are one too.
    """
    counted: Counter[str] = Counter()
    for where in {mention.where: None for mention in mentions}:
        here = [mention for mention in mentions if mention.where == where]
        panel = [mention for mention in here if mention.fact is not None]
        for ingredient in dict.fromkeys(mention.ingredient for mention in here):
            lines = [mention for mention in (panel or here) if mention.ingredient == ingredient]
            counted[ingredient] += most_lines_of_one_moiety(reference, lines) or 1
    return tuple(ingredient for ingredient, times in counted.items() if times > 1)


def most_lines_of_one_moiety(reference: Reference, mentions: Iterable[Mention]) -> int:
    """Count the lines that name the same moiety, for the moiety named most often.

    Parameters
    ----------
    reference
        The release to answer from.
    mentions
        Places where labels name an ingredient.

    Returns
    -------
    int
        0 where nothing is named.
    """
    lines = {(mention.item, _moiety(reference, mention)) for mention in mentions}
    return max(Counter(moiety for _, moiety in lines).values(), default=0)


def _moiety(reference: Reference, mention: Mention) -> str | None:
    if mention.form is not None:
        return reference.forms[mention.form].moiety
    return reference.ingredients[mention.ingredient].moiety


def _finding(row: Interaction, subjects: tuple[str, str]) -> Finding:
    return Finding(
        kind="condition" if row.b_kind == "condition" else "interaction",
        level=row.level,
        subjects=subjects,
        topic=row.topic,
        finding=row.finding,
        effect=row.effect,
        action=row.action,
        evidence=row.evidence,
        evidence_species=row.evidence_species,
        limit_or_conflict=row.limit_or_conflict,
        match="exact",
        origin=row.origin,
        record_ids=(row.id,),
        source_ids=row.source_ids,
    )
