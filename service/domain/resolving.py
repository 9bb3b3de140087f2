"""What a name on a label means: one resolver for single names and for ingredient lists.

It never accepts a near miss by itself. Longest spelling wins, so a recorded false friend
("grape seed oil") hides the shorter name inside it ("grape").
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from service.domain.common import Caution, origin_cautions
from service.domain.errors import InvalidInput, Issue
from service.domain.label_text import fold, split_list, words
from service.domain.name_index import Hit, NameIndex
from service.domain.near_misses import NearMiss, NearMissFinder
from service.reference.records import Name
from service.reference.release import Reference

MOST_ITEMS = 300
# Suggestions help a person with a slip; a long list of unknown words needs no more than this.
_MOST_SUGGESTED = 10
_NEGATIONS = {
    *("no", "not", "without", "zero", "non", "nor", "never", "neither"),
    *(
        "sans",
        "sin",
        "ohne",
        "senza",
        "sem",
        "zonder",
        "kein",
        "keine",
        "keinen",
        "pas",
        "bez",
        "utan",
        "uden",
        "ilman",
    ),
}
_NEGATING_PAIRS = {
    ("free", "from"),
    ("free", "of"),
    ("frei", "von"),
    ("libre", "de"),
    ("exempt", "de"),
    ("exento", "de"),
}
_FREE_AFTER = {"free", "frei", "vrij", "fri"}
_TRACE_PHRASES = (
    ("may", "contain"),
    ("traces", "of"),
    ("trace", "of"),
    ("facility",),
    ("spuren",),
    ("traces", "de"),
    ("trazas",),
    ("peut", "contenir"),
    ("puede", "contener"),
)
_FLAVOR_WORDS = {"flavor", "flavors", "flavored", "flavoring", "flavorings", "aroma", "geschmack", "taste", "type"}
# Words that describe an item without changing which substance it is. "oil" and "essential" are left out on
# purpose: an oil of a harmless herb can be a different and harmful substance.
_QUALIFIERS = frozenset(
    """a an the of and or with from in as for to by per plus added contains containing source sources based organic
    natural naturally derived pure purified refined raw fresh dried dry dehydrated freeze frozen cooked roasted
    ground milled whole powder powdered granules granulated extract extracts concentrate concentrated
    concentrates standardized standardised root roots leaf leaves bark stem stems rhizome herb flower flowers
    aerial parts part seed seeds fruit fruits berry berries bean beans peel rind pulp flesh resin gum blend
    complex grade food feed pharmaceutical premium quality fine micro micronized ultra certified sustainable
    wild caught farmed pasture raised free range human non gmo vegan vegetarian vegetable plant animal
    artificial synthetic identical nature ingredient ingredients additive additives minimum min max not less
    than sodium potassium dihydrate monohydrate anhydrous usp bp ep ph eur fcc active total approx about ca ci d
    dl l e ins preservative preservatives antioxidant antioxidants color colors colorant sweetener sweeteners
    emulsifier emulsifiers stabilizer stabilizers thickener thickeners acidity regulator regulators humectant
    anticaking agent agents binder binders filler fillers coating coatings capsule capsules shell lubricant
    carrier glazing flavor flavors flavoring preserved stabilized mg g kg mcg ug iu ml l percent ppm cfu billion
    million x und mit aus oder der die das getrocknet gemahlen pulver extrakt bio naturlich et avec de du des la
    le les en poudre extrait sec seche bio naturel naturelle y con del los las el polvo extracto seco natural""".split()
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
class ListItem:
    """One item of an ingredient list and what it means."""

    text: str
    resolution: Resolution


class Resolver:
    """Looks names up in one release. Build it once; it holds only immutable indexes."""

    def __init__(self, reference: Reference) -> None:
        self._reference = reference
        self._index = NameIndex(reference.names)
        self._near = NearMissFinder(reference, self._index.known_words | _QUALIFIERS)

    def resolve(self, name: str, carried_negation: bool = False, suggest: bool = True) -> Resolution:
        """Say what one name means.

        Parameters
        ----------
        name
            As printed, for example ``Sweetener (E967)``.
        carried_negation
            True where an earlier "contains no" of the same list reaches this name.
        suggest
            False spares the search for names a person might have meant.

        Returns
        -------
        Resolution
            ``match`` is ``exact`` where a known spelling covers the name or a hazard stands inside it, ``possible``
            where only a part is known or a spelling comes close, else ``none``.
        """
        tokens = words(name)
        hits = self._index.scan(tokens)
        wording = _wording(tokens)
        meanings = [
            meaning for hit in hits if (meaning := self._meaning(hit, tokens, wording, carried_negation)) is not None
        ]
        covered = {position for hit in hits for position in range(hit.start, hit.end)}
        left_over = tuple(
            word for at, word in enumerate(tokens) if at not in covered and not _ignorable(word, self._index)
        )
        possible = self._near.find(tokens, covered) if not meanings or left_over else ()
        found = self._assemble(name, hits, meanings, left_over, possible)
        return self._with_suggestions(found) if suggest else found

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
        items = split_list(text)
        if len(items) > MOST_ITEMS:
            raise InvalidInput(Issue(where, f"has {len(items)} items; send at most {MOST_ITEMS} at a time"))
        known: dict[tuple[str, bool], Resolution] = {}
        suggestions_left = _MOST_SUGGESTED
        for item in items:
            key = (item.text, item.carried_negation)
            if key not in known:
                found = self.resolve(item.text, item.carried_negation, suggest=suggestions_left > 0)
                suggestions_left -= found.match != "exact"
                known[key] = found
        return tuple(ListItem(item.text, known[item.text, item.carried_negation]) for item in items)

    def _with_suggestions(self, found: Resolution) -> Resolution:
        if found.match == "exact" or found.negated or found.possible:
            return found
        return replace(found, nearest=self._near.nearest(found.name))

    def _meaning(self, hit: Hit, tokens: tuple[str, ...], wording: _Wording, carried_negation: bool) -> Meaning | None:
        row = hit.row
        if row.target_id is None or (self._is_hazard(row) and _only_a_flavor(hit, tokens)):
            return None
        form = row.target_id if row.target_kind == "form" else None
        ingredient = self._reference.owner_of(row)
        return Meaning(
            ingredient=ingredient,
            form=form,
            hazard=self._hazard_of(row, ingredient),
            matched_name=row.name,
            negated=carried_negation or _negated(hit, tokens, wording),
            trace=wording.traced_from < hit.start,
            origin=row.origin,
            source_ids=row.source_ids,
        )

    def _is_hazard(self, row: Name) -> bool:
        return self._hazard_of(row, self._reference.owner_of(row)) is not None

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

    def _assemble(
        self,
        name: str,
        hits: tuple[Hit, ...],
        meanings: list[Meaning],
        left_over: tuple[str, ...],
        possible: tuple[NearMiss, ...],
    ) -> Resolution:
        meanings = list({(m.ingredient, m.form, m.hazard, m.negated): m for m in reversed(meanings)}.values())[::-1]
        # A hazard that is present comes first, then anything present, then what is only negated.
        meanings.sort(key=lambda found: (found.negated, found.hazard is None))
        negated = bool(meanings) and all(found.negated for found in meanings)
        # What is only negated ("no xylitol") is a statement: it stands in ``meanings`` and names nothing as present.
        present = [] if negated else [found for found in meanings if not found.negated]
        first = _leading(present)
        friend = next((hit.row.false_friend_of for hit in hits if hit.row.false_friend_of), None)
        dangerous = any(found.hazard for found in present)
        match = "exact" if negated or dangerous else _match_word(first, hits, left_over, possible)
        origins = {found.origin for found in meanings}
        return Resolution(
            name=name,
            match=match,
            ingredient=first.ingredient if first else None,
            form=first.form if first else None,
            hazard=next((found.hazard for found in present if found.hazard), None),
            matched_name=first.matched_name if first else None,
            negated=negated,
            trace=bool(first and first.trace),
            false_friend_of=friend,
            meanings=tuple(meanings),
            possible=possible,
            nearest=tuple(miss.name for miss in possible),
            not_understood=left_over,
            cautions=origin_cautions(origins),
            source_ids=tuple(dict.fromkeys(id_ for found in meanings for id_ in found.source_ids)),
        )


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
    if hits and not left_over:
        return "exact"
    return "possible" if possible or first is not None else "none"


_IGNORED_WORDS = _QUALIFIERS | _NEGATIONS | _FREE_AFTER | {word for phrase in _TRACE_PHRASES for word in phrase}


def _ignorable(word: str, index: NameIndex) -> bool:
    return word.isdigit() or word in _IGNORED_WORDS or index.is_unit_like(word)


@dataclass(frozen=True, slots=True)
class _Wording:
    """Where an item begins to negate and to speak of traces; found once, so that long items stay linear."""

    negated_from: int
    negated_singly: frozenset[int]
    traced_from: int


def _wording(tokens: tuple[str, ...]) -> _Wording:
    end = len(tokens)
    negated_from, traced_from = end, end
    singly = set()
    for at in range(end - 1):
        word, following = tokens[at], tokens[at + 1]
        if word == "non":
            singly.add(at + 1)
        # "No. 40" numbers a colour and negates nothing.
        elif (word, following) in _NEGATING_PAIRS or (word in _NEGATIONS and not following.isdigit()):
            negated_from = min(negated_from, at)
        if any(tokens[at : at + len(phrase)] == phrase for phrase in _TRACE_PHRASES):
            traced_from = min(traced_from, at)
    return _Wording(negated_from, frozenset(singly), traced_from)


def _negated(hit: Hit, tokens: tuple[str, ...], wording: _Wording) -> bool:
    if hit.end < len(tokens) and tokens[hit.end] in _FREE_AFTER:
        return True
    return wording.negated_from < hit.start or hit.start in wording.negated_singly


def _only_a_flavor(hit: Hit, tokens: tuple[str, ...]) -> bool:
    """``chocolate flavor`` names a taste; ``natural chocolate flavor`` may hold the plant and stays a hazard."""
    if hit.end >= len(tokens) or tokens[hit.end] not in _FLAVOR_WORDS:
        return False
    return "natural" not in tokens[: hit.start] or "artificial" in tokens


@lru_cache(maxsize=8)
def resolver_for(reference: Reference) -> Resolver:
    """Give the resolver of a release, built once."""
    return Resolver(reference)
