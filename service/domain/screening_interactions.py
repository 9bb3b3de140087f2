"""Which interaction records speak of a request, and which pairs no record speaks of.

Matching follows the rules stated with the records: a record matches directly, through a group of ingredients or
through a class of medicines; for one pair and topic the most specific record wins and among equals the highest
level; what does not win is listed as overruled; different topics never hide each other; a record that does not name
the species says nothing about it. A medicine on a list of ingredients is matched as a medicine too.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from types import MappingProxyType

from service.domain.screening_answers import Finding, NotAssessed, Overruled, rank
from service.domain.screening_classes import implied_classes, narrower_members
from service.domain.screening_listed_medicines import listed_medicines
from service.domain.screening_name_only import is_name_only, name_only_gaps
from service.domain.screening_subjects import Mention, Subjects
from service.reference.records import Interaction
from service.reference.release import Reference

_ANY_ORAL = "any-oral"
# How closely a token names a side. A named pair outweighs every class, a class outweighs a group, and "any medicine
# given by mouth" is the widest class of all. What something is screened as is a little less than itself.
_NAMED, _SCREENED_AS, _CLASS, _GROUP, _WIDEST = 8, 7, 2, 1, 0
_FAVOURABLE = ("helpful", "studied_none_found", "no_signal")
MEDICINE_NOT_NAMED = "medicine_not_named"
_DUPLICATION = "duplication"
_NOT_PAIRED = "excipient"
# Nobody named this trait, so that nothing pairs with it is no gap of the request.
_TRAIT_OF_SPECIES = "species-cat"

Token = tuple[str, str]
# How closely both sides are named, then the level.
_Strength = tuple[int, int]
Spot = tuple[str, int, str]


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a pair: under which tokens records know it, and how closely each names it.

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
    overruled: tuple[Overruled, ...]


@dataclass(slots=True)
class _Notes:
    """What is gathered pair by pair."""

    findings: list[Finding]
    gaps: list[NotAssessed]
    overruled: list[Overruled]


@dataclass(frozen=True, slots=True)
class _Beaten:
    """A record, the one that it lost to, and why."""

    row: Interaction
    by: Interaction
    reason: str


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
    classes = [_class_side(reference, id_) for id_ in subjects.drug_classes]
    conditions = [
        _Side(id_, {("condition", id_): _NAMED}, id_ != _TRAIT_OF_SPECIES)
        for id_ in (*subjects.conditions, *subjects.implied_conditions)
    ]
    notes = _Notes([], [], [])
    for first, second in _pairs(ingredients, [*medicines, *classes], conditions):
        _note(first, second, *_rows_for(reference, first, second, species), notes)
    for twice in twice_given(reference, present):
        side = next(side for side in ingredients if side.id == twice)
        notes.findings += [_finding(row, (twice, twice)) for row in _self_rows(reference, side, side, species)]
    notes.gaps += _unnamed_medicines(reference, ingredients, classes, species)
    others = (side.id for side in (*medicines, *classes, *conditions) if side.paired)
    gaps = (*notes.gaps, *name_only_gaps(present, others))
    return Matched(tuple(notes.findings), gaps, tuple(notes.overruled))


def _pairs(ingredients: list[_Side], medicines: list[_Side], conditions: list[_Side]) -> Iterable[tuple[_Side, _Side]]:
    yield from ((ingredient, other) for ingredient in ingredients for other in (*medicines, *conditions))
    for first, second in combinations(ingredients, 2):
        # Two meanings of one name are one material and no pair.
        if len(first.spots | second.spots) > 1:
            yield first, second


def _note(first: _Side, second: _Side, rows: list[Interaction], beaten: list[_Beaten], notes: _Notes) -> None:
    pair = (first.id, second.id)
    notes.findings += [_finding(row, pair) for row in rows]
    notes.overruled += [_overruled(one, pair) for one in beaten]
    if not first.paired or not second.paired:
        return
    if not rows and not _shared(first, second):
        notes.gaps.append(NotAssessed(*pair, "no_record"))
    elif rows and all(row.origin == "memory" for row in rows):
        notes.gaps.append(NotAssessed(*pair, "unsourced_record_only"))


def _unnamed_medicines(
    reference: Reference, ingredients: list[_Side], classes: list[_Side], species: str
) -> list[NotAssessed]:
    """List records on single medicines, or narrower classes, of a class that was given without saying which."""
    found: dict[NotAssessed, None] = {}
    index = _by_tokens(reference)
    for side in classes:
        for ingredient in ingredients:
            told = {row.topic for row in _rows_for(reference, ingredient, side, species)[0]}
            for token in narrower_members(reference, side.id):
                rows = (row for own in ingredient.tokens for row in index.get((own, token), ()))
                if any(_is_untold(row, told, species) for row in rows):
                    found[NotAssessed(ingredient.id, token[1], MEDICINE_NOT_NAMED)] = None
    return list(found)


def _is_untold(row: Interaction, told: set[str], species: str) -> bool:
    """Say whether a record warns of a topic that no record of the class itself speaks of."""
    return species in row.species and row.finding not in _FAVOURABLE and row.topic not in told and row.level != "note"


def _ingredient_sides(reference: Reference, mentions: list[Mention]) -> list[_Side]:
    spots: dict[str, set[Spot]] = {}
    actives: dict[Spot, set[str]] = {}
    medicines = listed_medicines(reference, mentions)
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
        tokens = {**_ingredient_tokens(reference, id_), **_medicine_tokens(reference, medicines.get(id_))}
        sides.append(_Side(id_, tokens, paired, frozenset(own)))
    return sides


@lru_cache(maxsize=4096)
def _ingredient_tokens(reference: Reference, id_: str) -> Mapping[Token, int]:
    row = reference.ingredients[id_]
    tokens: dict[Token, int] = {("ingredient", id_): _NAMED}
    groups = [*row.group_ids]
    for screened_as in row.screened_as_ids:
        tokens["ingredient", screened_as] = _SCREENED_AS
        groups += reference.ingredients[screened_as].group_ids
    tokens.update({("ingredient_group", group): _GROUP for group in groups})
    return MappingProxyType(tokens)


def _medicine_side(reference: Reference, id_: str) -> _Side:
    return _Side(id_, _medicine_tokens(reference, id_), True)


def _medicine_tokens(reference: Reference, id_: str | None) -> dict[Token, int]:
    if id_ is None:
        return {}
    row = reference.medications[id_]
    tokens: dict[Token, int] = {("medication", id_): _NAMED}
    tokens.update({("drug_class", class_): _CLASS for class_ in row.class_ids})
    if row.given_by_mouth:
        tokens["drug_class", _ANY_ORAL] = _WIDEST
    return tokens


def _class_side(reference: Reference, id_: str) -> _Side:
    """Make a side of a class given without a name: what holds for every medicine of it holds for the class."""
    tokens: dict[Token, int] = {("drug_class", id_): _NAMED}
    tokens.update({("drug_class", wider): _CLASS for wider in implied_classes(reference, id_)})
    return _Side(id_, tokens, True)


def _shared(first: _Side, second: _Side) -> list[Token]:
    """List what both are screened as: fish oil and its EPA are one thing and no pair."""
    close = (token for token, closeness in first.tokens.items() if closeness >= _SCREENED_AS)
    return [token for token in close if second.tokens.get(token, 0) >= _SCREENED_AS]


def _rows_for(
    reference: Reference, first: _Side, second: _Side, species: str
) -> tuple[list[Interaction], list[_Beaten]]:
    """Find the records to show for a pair, one for each topic, and those that they overrule."""
    if _shared(first, second):
        return _self_rows(reference, first, second, species), []
    found: dict[str, dict[str, tuple[_Strength, Interaction]]] = {}
    index = _by_tokens(reference)
    for token_a, close_a in first.tokens.items():
        for token_b, close_b in second.tokens.items():
            for row in index.get((token_a, token_b), ()):
                if species in row.species and not (row.topic == _DUPLICATION and _one_line(first, second)):
                    strength = (close_a + close_b, rank(row.level))
                    of_topic = found.setdefault(row.topic, {})
                    # One record can match in two ways: through the thing itself and through what it is screened as.
                    of_topic[row.id] = max(of_topic.get(row.id, (strength, row)), (strength, row), key=_by_strength)
    shown, beaten = [], []
    for candidates in found.values():
        best, lost = _to_show(list(candidates.values()))
        shown.append(best)
        beaten += lost
    return shown, beaten


def _one_line(first: _Side, second: _Side) -> bool:
    """Say whether both are named in one line only: an oil that states its vitamin is no second source of it."""
    return len({(where, item) for where, item, _ in first.spots | second.spots}) == 1


def _by_strength(one: tuple[_Strength, Interaction]) -> _Strength:
    return one[0]


def _to_show(candidates: list[tuple[_Strength, Interaction]]) -> tuple[Interaction, list[_Beaten]]:
    """Pick the strongest record of a pair and topic."""
    strength, best = max(candidates, key=_by_strength)
    beaten = [
        _Beaten(row, best, "less_specific" if closeness < strength[0] else "not_higher")
        for (closeness, _), row in candidates
        if row is not best
    ]
    return best, beaten


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
        direction=row.direction,
        favourable=row.finding in _FAVOURABLE,
    )


def _overruled(one: _Beaten, subjects: tuple[str, str]) -> Overruled:
    row = one.row
    return Overruled(
        record_id=row.id,
        by=one.by.id,
        reason=one.reason,
        subjects=subjects,
        topic=row.topic,
        level=row.level,
        finding=row.finding,
        direction=row.direction,
        effect=row.effect,
        evidence=row.evidence,
        evidence_species=row.evidence_species,
        origin=row.origin,
        source_ids=row.source_ids,
    )
