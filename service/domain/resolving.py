"""What a name on a label means: one resolver for single names and for ingredient lists.

It never accepts a near miss by itself. Longest spelling wins, so a recorded false friend
("grape seed oil") hides the shorter name inside it ("grape").
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from service.domain.additive_codes import bare_codes, names_additive_class
from service.domain.bracket_reading import read_brackets
from service.domain.common import Caution, origin_cautions
from service.domain.denial_spellings import with_zero_as_denial
from service.domain.denial_words import BEGINNINGS
from service.domain.denied_lists import denied_over_commas, with_denied_lists
from service.domain.errors import InvalidInput, Issue
from service.domain.label_text import clean, fold, words_and_breaks
from service.domain.label_wording import IGNORED_WORDS, QUALIFIERS, Wording, only_a_flavor, wording_of
from service.domain.line_wraps import unwrapped
from service.domain.list_splitting import Item, split_list
from service.domain.name_index import Hit, NameIndex
from service.domain.near_misses import NearMiss, NearMissFinder, grave_hazard_of
from service.domain.nearest_names import NearestNames
from service.domain.negating import Span, is_free_claim, is_negated
from service.reference.records import Name
from service.reference.release import Reference

MOST_ITEMS = 300
# Suggestions help a person with a slip; a long list of unknown words needs no more than this.
_MOST_SUGGESTED = 10
# A class word ("sweetener") gives way to the sweetener that the same item names.
_DIGITS_OF_A_CODE = (3, 4)
_CLASS_WORD_GROUP, _SWEETENER_GROUP = "screening_rule", "sweetener"
# Their register number is of one substance in the plant, oil or drink that a taste is of.
_GROUPS_OF_PLANTS = frozenset({"food", "herb", "plant", "essential_oil", "solvent"})


# A list that names one of these is of what is in it.
_WHAT_TABLETS_ARE_MADE_OF = frozenset(
    """magnesium-stearate stearic-acid silicon-dioxide cellulose gelatin glycerin maltodextrin rice-flour film-coating
    mixed-tocopherols citric-acid brewers-yeast water broth liver-flavor""".split()
)
_HIDDEN, _FALSE_FRIEND, _FLAVOURING = "hidden_name", "false_friend", "flavouring"
_AS_LIKELY_AS_NOT = Decimal("0.5")
_PARTS_OF_A_TREE = frozenset(
    """bark leaf leaves bud buds wood charcoal tar polypore rinde blatt blatter knospen kohle ecorce feuille feuilles
    corteza hoja hojas corteccia foglia foglie schors blad bladeren""".split()
)


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing a name on a label means."""

    ingredient: str | None
    form: str | None
    hazard: str | None
    matched_name: str
    negated: bool
    trace: bool
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Resolution:
    """What one name means; field names are the wire names of ``GET /v1/resolve``."""

    name: str
    match: str
    ingredient: str | None
    form: str | None
    hazard: str | None
    matched_name: str | None
    negated: bool
    trace: bool
    false_friend_of: str | None
    meanings: tuple[Meaning, ...]
    possible: tuple[NearMiss, ...]
    nearest: tuple[str, ...]
    not_understood: tuple[str, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Reading:
    """What exact spellings, brackets and denials say, before any slip is looked for."""

    tokens: tuple[str, ...]
    hits: tuple[Hit, ...]
    meanings: tuple[Meaning, ...]
    understood: frozenset[int]
    left_over: tuple[str, ...]
    settled: bool
    only_denied: bool


@dataclass(frozen=True, slots=True)
class ListItem:
    """One item of an ingredient list and what it means."""

    text: str
    resolution: Resolution


class Resolver:
    """Looks names up in one release. Build it once; it holds only immutable indexes."""

    def __init__(self, reference: Reference) -> None:
        self._reference = reference
        self._index = NameIndex(reference.names, IGNORED_WORDS)
        self._near = NearMissFinder(reference, self._index.known_words | QUALIFIERS)
        self._nearest = NearestNames(reference.names)

    def resolve(
        self, name: str, carried_negation: bool = False, suggest: bool = True, carried_trace: bool = False
    ) -> Resolution:
        """Say what one name means.

        Parameters
        ----------
        name
            As printed, for example ``Sweetener (E967)``. Of several names with commas between them a denial reaches
            as far as it does in an ingredient list.
        carried_negation, carried_trace
            True where an earlier "contains no", or an earlier "may contain:", of the same list reaches this name.
        suggest
            False spares the search for names a person might have meant.

        Returns
        -------
        Resolution
            ``match`` is ``exact`` where a known spelling covers the name or a hazard stands inside it, ``possible``
            where only a part is known or a spelling comes close, else ``none``.
        """
        reading = self._read(name, carried_negation, carried_trace)
        possible = () if reading.settled else self._near.find(reading.tokens, reading.understood)
        named = {one.hazard for one in reading.meanings if not (one.negated or one.trace)}
        possible = (*self._left_open(reading), *(miss for miss in possible if miss.hazard not in named))
        found = self._assemble(name, reading, possible)
        return self._with_suggestions(found) if suggest else found

    def _left_open(self, reading: _Reading) -> tuple[NearMiss, ...]:
        """Find hazards that a name may hide which is not wholly another thing: "birch", with no part of it named."""
        if not _PARTS_OF_A_TREE.isdisjoint(reading.tokens) or any(
            one.negated or one.hazard for one in reading.meanings
        ):
            return ()
        hidden = dict.fromkeys(
            hit.row.false_friend_of
            for hit in reading.hits
            if hit.row.type == _HIDDEN and hit.row.target_kind == "ingredient" and hit.row.false_friend_of is not None
        )
        rows = [self._reference.hazards[id_] for id_ in hidden if id_]
        return tuple(NearMiss(row.name, row.ingredient_id, row.id, _AS_LIKELY_AS_NOT) for row in rows)

    def exact(self, name: str, carried_negation: bool = False) -> Resolution:
        """Say what one name means without looking for slips: the cheap question of a reader of whole labels.

        Parameters
        ----------
        name
            As printed.
        carried_negation
            True where an earlier "contains no" of the same list reaches this name.

        Returns
        -------
        Resolution
            As :meth:`resolve`, except that ``possible`` and ``nearest`` stay empty. A hazard may hide behind a
            ``match`` other than ``exact``: ask :meth:`resolve` before anything is said about such a name.
        """
        return self._assemble(name, self._read(name, carried_negation), ())

    def _read(self, printed: str, carried_negation: bool, carried_trace: bool = False) -> _Reading:
        name = with_zero_as_denial(bare_codes(fold(clean(printed)), class_before=False) or printed)
        tokens, breaks = words_and_breaks(name)
        hits = self._index.scan(tokens)
        brackets = read_brackets(self._reference, self._index, name, tokens, hits)
        if brackets.hits:
            hits = tuple(sorted((*hits, *brackets.hits), key=lambda hit: hit.start))
        wording = wording_of(tokens, [Span(hit.start, hit.end) for hit in hits], breaks)
        carried = range(len(tokens)) if carried_negation else self._denied_over_commas(name, tokens)
        if carried_trace:
            wording = replace(wording, traced_from=-1)
        meanings = [meaning for hit in hits if (meaning := self._meaning(hit, tokens, wording, carried)) is not None]
        covered = {position for hit in hits for position in range(hit.start, hit.end)} | brackets.understood
        unknown = [at for at in range(len(tokens)) if at not in covered and not _ignorable(tokens, at, self._index)]
        # "No hormones" denies something unknown: nothing is there to be understood, and nothing to be a slip of.
        denied = {
            at
            for at, word in enumerate(tokens)
            if at not in covered
            and not self._index.is_unit_like(word)
            and (at in carried or at in wording.negated or is_free_claim(tokens, at))
        }
        left_over = tuple(tokens[at] for at in unknown if at not in denied)
        return _Reading(
            tokens=tokens,
            hits=hits,
            meanings=tuple(meanings),
            understood=frozenset(range(len(tokens))) - frozenset(unknown) | denied,
            left_over=left_over,
            settled=bool(meanings) and (not left_over or all(found.negated for found in meanings)),
            only_denied=bool(denied) and not (meanings or left_over),
        )

    def resolve_list(self, text: str, where: str = "ingredients_text") -> tuple[ListItem, ...]:
        """Split an ingredient list and resolve each item, in printed order.

        Parameters
        ----------
        text
            A list as printed; commas, semicolons, bullets and line breaks separate.
        where
            Name of the field, for the error.

        Returns
        -------
        tuple of ListItem
            One per item; unknown items are kept. Only the first unknown items carry suggestions.

        Raises
        ------
        InvalidInput
            If the list has more than 300 items.
        """
        items = self._with_denied_lists(split_list(unwrapped(text, self._index, self._is_grave)))
        if len(items) > MOST_ITEMS:
            raise InvalidInput(Issue(where, f"has {len(items)} items; send at most {MOST_ITEMS} at a time"))
        known: dict[tuple[str, bool, bool], Resolution] = {}
        suggestions_left = _MOST_SUGGESTED
        for item in items:
            key = (item.text, item.carried_negation, item.carried_trace)
            if key not in known:
                suggest = suggestions_left > 0
                known[key] = found = self.resolve(item.text, item.carried_negation, suggest, item.carried_trace)
                suggestions_left -= found.match != "exact"
        return tuple(ListItem(item.text, known[item.text, item.carried_negation, item.carried_trace]) for item in items)

    def _denied_over_commas(self, name: str, tokens: tuple[str, ...]) -> frozenset[int]:
        if "," not in name or BEGINNINGS.isdisjoint(tokens):
            return frozenset()
        return denied_over_commas(name, len(tokens), self._with_denied_lists)

    def _with_denied_lists(self, items: Sequence[Item]) -> tuple[Item, ...]:
        return with_denied_lists(items, self._index, self._is_grave, self._is_of_a_recipe)

    def _with_suggestions(self, found: Resolution) -> Resolution:
        if found.match == "exact" or found.possible:
            return found
        return replace(found, nearest=self._nearest.nearest(found.name))

    def _meaning(self, hit: Hit, tokens: tuple[str, ...], wording: Wording, carried: Collection[int]) -> Meaning | None:
        row = self._flavoured_with(hit, tokens)
        if row.target_id is None or self._is_only_a_taste(hit, tokens):
            return None
        form = row.target_id if row.target_kind == "form" else None
        ingredient = self._reference.owner_of(row)
        return Meaning(
            ingredient=ingredient,
            form=form,
            hazard=self._hazard_of(row, ingredient),
            matched_name=row.name,
            negated=hit.start in carried or is_negated(tokens, Span(hit.start, hit.end), wording.negated),
            trace=wording.traced_from < hit.start or hit.start in wording.traced,
            origin=row.origin,
            source_ids=row.source_ids,
        )

    def _is_grave(self, row: Name) -> bool:
        return grave_hazard_of(self._reference, row) is not None

    def _is_of_a_recipe(self, row: Name) -> bool:
        ingredient = self._reference.ingredients.get(self._reference.owner_of(row) or "")
        if ingredient is None or self._is_grave(row):
            return False
        return ingredient.kind == "active" or ingredient.id in _WHAT_TABLETS_ARE_MADE_OF

    def _flavoured_with(self, hit: Hit, tokens: tuple[str, ...]) -> Name:
        """Give the row of a hit, or the plant's where the taste is natural: "natural smoky garlic flavor"."""
        row = hit.row
        is_taste = row.type == _FALSE_FRIEND and row.target_id == _FLAVOURING and row.false_friend_of is not None
        if not is_taste or hit.end + 1 < len(tokens) or "artificial" in tokens:
            return row
        if "natural" not in (*tokens[: hit.start], *tokens[hit.end : hit.end + 1]):
            return row
        return replace(row, type=_HIDDEN, target_kind="hazard", target_id=row.false_friend_of, false_friend_of=None)

    def _is_only_a_taste(self, hit: Hit, tokens: tuple[str, ...]) -> bool:
        hazard = self._hazard_of(hit.row, self._reference.owner_of(hit.row))
        if hazard is None:
            return False
        row = self._reference.hazards[hazard]
        is_plant = row.cas is None or row.group in _GROUPS_OF_PLANTS
        return only_a_flavor(hit.start, hit.end, tokens, is_plant=is_plant)

    def _hazard_of(self, row: Name, ingredient: str | None) -> str | None:
        if row.target_kind == "hazard":
            return row.target_id
        found = [
            hazard
            for hazard in self._reference.hazards_of.get(ingredient or "", ())
            if {hazard.kind_dog, hazard.kind_cat} != {"benign"}
        ]
        if row.target_kind == "form" and len(found) > 1:
            # Vitamin D2 and D3 are hazards of their own: the form tells which.
            form = fold(row.target_id or "")
            found = [hazard for hazard in found if form in fold(hazard.name)] or found
        return found[0].id if found else None

    def _without_answered_class(self, meanings: list[Meaning]) -> list[Meaning]:
        if len(meanings) < 2:
            return meanings

        def _groups(meaning: Meaning) -> set[str]:
            return {hazard.group for hazard in self._reference.hazards_of.get(meaning.ingredient or "", ())}

        if not any(_SWEETENER_GROUP in _groups(meaning) and not meaning.negated for meaning in meanings):
            return meanings
        return [meaning for meaning in meanings if _CLASS_WORD_GROUP not in _groups(meaning)]

    def _assemble(self, name: str, reading: _Reading, possible: tuple[NearMiss, ...]) -> Resolution:
        hits, left_over = reading.hits, reading.left_over
        once = {(one.ingredient, one.form, one.hazard, one.negated): one for one in reversed(reading.meanings)}
        meanings = list(once.values())[::-1]
        meanings = self._without_answered_class(_without_vaguer(meanings))
        as_printed = [found for found in meanings if not found.negated]
        # A hazard that is present comes first, then anything present, then what is only negated.
        meanings.sort(key=lambda found: (found.negated, found.hazard is None))
        negated = bool(meanings) and all(found.negated for found in meanings)
        # What is only negated ("no xylitol") is a statement: it stands in ``meanings`` and names nothing as present.
        present = [] if negated else [found for found in meanings if not found.negated]
        first = _leading(as_printed)
        friend = next((hit.row.false_friend_of for hit in hits if hit.row.false_friend_of), None)
        friend = None if friend in {found.hazard for found in present} else friend
        dangerous = any(found.hazard for found in present)
        # "No hormones" denies something unknown: that is understood as far as it goes.
        only_denied = reading.only_denied and not possible
        plain = negated or dangerous or only_denied
        match = "exact" if plain else _match_word(first, hits, left_over, possible)
        origins = {found.origin for found in meanings}
        return Resolution(
            name=name,
            match=match,
            ingredient=first.ingredient if first else None,
            form=first.form if first else None,
            hazard=next((found.hazard for found in present if found.hazard), None),
            matched_name=first.matched_name if first else None,
            negated=negated or only_denied,
            trace=bool(first and first.trace),
            false_friend_of=friend,
            meanings=tuple(meanings),
            possible=possible,
            nearest=tuple(miss.name for miss in possible),
            not_understood=left_over,
            cautions=origin_cautions(origins),
            source_ids=tuple(dict.fromkeys(id_ for found in meanings for id_ in found.source_ids)),
        )


def _without_vaguer(meanings: list[Meaning]) -> list[Meaning]:
    """Leave out a meaning where the same spelling also leads to a form of the same thing: "zinc" is the element."""
    told = {(one.matched_name, one.ingredient, one.hazard, one.negated) for one in meanings if one.form is not None}
    return [
        one for one in meanings if one.form or (one.matched_name, one.ingredient, one.hazard, one.negated) not in told
    ]


def _leading(present: list[Meaning]) -> Meaning | None:
    """Pick what a name is first of all.

    "Green-lipped mussel" is the mussel before it is a shellfish allergen: where one spelling has several meanings,
    the one that is not only the hazard leads.
    """
    if not present:
        return None
    same = [found for found in present if found.matched_name == present[0].matched_name]
    return next((found for found in same if found.hazard is None), present[0])


def _match_word(
    first: Meaning | None, hits: tuple[Hit, ...], left_over: tuple[str, ...], possible: tuple[NearMiss, ...]
) -> str:
    if hits and not left_over and not possible:
        return "exact"
    return "possible" if possible or first is not None else "none"


def _ignorable(tokens: tuple[str, ...], at: int, index: NameIndex) -> bool:
    word = tokens[at]
    if at and word.isdigit() and len(word) in _DIGITS_OF_A_CODE and names_additive_class(tokens[at - 1]):
        # "Sweetener 967 syrup": the number may be a code, unless a unit follows.
        return at + 1 < len(tokens) and index.is_unit_like(tokens[at + 1])
    return word.isdigit() or word in IGNORED_WORDS or index.is_unit_like(word)


@lru_cache(maxsize=8)
def resolver_for(reference: Reference) -> Resolver:
    """Give the resolver of a release, built once.

    Parameters
    ----------
    reference
        The release to answer from.

    Returns
    -------
    Resolver
        The same one for the same release.
    """
    return Resolver(reference)
