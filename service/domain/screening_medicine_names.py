"""Names of medicines, looked up exactly: what a prescription says besides the name is left out, nothing is guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType

from service.domain.resolving import resolver_for
from service.domain.screening_answers import Recognised, Statement, TakenAs, Unrecognised
from service.domain.screening_names import (
    MEDICATIONS,
    NamesRead,
    denied,
    key_of,
    longest_name,
    name_words,
    nearest_names,
    parts_of,
    says_nothing,
    to_suggest,
    together,
)
from service.reference.release import Reference

ADVICE = "Give the generic name: the active substance printed on the pack."
_SUPPLEMENT = (
    "This is known as an ingredient: give it in ingredients_text, or as a product in other_supplements. If a medicine "
    "is meant, give the generic name."
)
# Group of hazards that are medicines: aspirin on a label is one, melatonin is not.
_MEDICINES = "drug"
_AMOUNT = re.compile(
    r"[0-9]{1,9}(?:[.,][0-9]{1,6})?(?:mg|mcg|\u00b5g|\u03bcg|ug|g|kg|ml|cc|l|iu|ie|ui|%|x|h|hr|hrs|d)?|[qx][0-9]{1,3}h?"
    r"|[0-9]{1,3}x[0-9]{1,3}"
)
# What a prescription says besides the name: strength, shape, route, how often. None of them is part of a name here.
_BESIDES = frozenset(
    "some any with mit avec con baby children childrens mg mcg \u00b5g \u03bcg ug g kg ml cc l iu ie ui unit "
    "units % per of about approx tablet tablets tab tabs tablette tabletten comprime comprimes comprimido "
    "comprimidos pill pills capsule capsules cap caps kapsel kapseln gelule gelules capsula capsulas chew "
    "chews chewable chewables suspension solution solucion losung liquid syrup sirup sirop jarabe saft drop "
    "drops tropfen gouttes gotas injection injections injectable injektion inyeccion spritze shot shots jab "
    "paste powder pulver poudre polvo ointment salbe pommade cream creme crema gel patch patches spray "
    "inhaler film coated enteric slow sustained extended release modified sr xr er mr oral orally by mouth "
    "po os iv im sc subcutaneous intravenous topical topically transdermal eye ear eyedrops drug medicine "
    "medication vet veterinary generic strength low high dose doses dosage half quarter daily once twice "
    "thrice one two three time times a an day days week weeks weekly month monthly months every other each "
    "hour hours hourly morning mornings evening evenings night nights nightly noon am pm at bid sid tid qid "
    "qd od bd eod prn as needed required when in the into food meal meals breakfast dinner full empty "
    "stomach on is he she it takes take taking gets getting given currently still now receives receiving "
    "long term short course started start ago taglich tgl morgens abends mittags nachts einmal zweimal "
    "dreimal pro tag alle stunden eine ein jeden jour jours par fois une un deux trois matin soir toutes les "
    "heures le la dia dias cada horas hora vez veces por al dos tres una manana noche de del d".split()
)
# Salts and waters of crystallisation: the medicine is the same.
_SALTS = frozenset(
    "acetate acetonide phosphate sodium disodium potassium calcium magnesium hydrochloride hcl dihydrochloride "
    "hydrobromide hbr sulfate sulphate maleate fumarate tartrate bitartrate citrate besylate besilate mesylate "
    "mesilate tosylate tosilate monohydrate dihydrate trihydrate hemihydrate hydrate anhydrous hyclate hyclat "
    "succinate benzoate furoate pivalate palmitate lactate gluconate nitrate nitrite meglumine arginine base "
    "phosphat natrium kalium calciumsalz hydrochlorid acetat azetat sulfat maleat fumarat tartrat citrat besilat "
    "mesilat succinat chlorhydrate sodique potassique acetato clorhidrato hidrocloruro sodico potasico sulfato "
    "maleato fumarato tartrato citrato fosfato succinato besilato".split()
)
# From here on a text says what for, since when or how, and names no medicine that is given.
_FROM_HERE_ON = frozenset(
    "for since until till because due after before fur gegen wegen seit bis nach vor pour contre depuis jusqua "
    "apres avant para contra desde hasta despues antes".split()
)
_NONE = frozenset({"no", "none", "not", "nil", "nothing"})
_ANYTHING = frozenset(
    {"any", "at", "present", "current", "meds", "med", "medications", "medicines", "drugs", "regular"}
)
_SHORTEST_BARE = 3
# Below this a suggestion is another medicine that happens to share letters.
_LEAST_LIKENESS = 80


def read_medicines(reference: Reference, text: str) -> NamesRead:
    """Look medicines up by generic name, variant or class.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written: one medicine, or several ("carprofen and gabapentin"). Strength, shape, salt, route, frequency and
        purpose beside a name are left out; the rest has to be a known name as a whole. Nothing is guessed from a part
        of a word.

    Returns
    -------
    NamesRead
        Kind ``medication`` or ``drug_class``; what is left is not recognised, with the nearest generic names, which
        are never taken as meant, and the advice to give the generic name. "None" and "no carprofen" are statements.
    """
    if says_nothing(text) or _none_given(text):
        return NamesRead(statements=(Statement(text, MEDICATIONS, ()),))
    if found := _look_up(reference, text):
        return _as_read(reference, text, *found)
    rest = denied(text)
    if rest is not None and (found := _look_up(reference, rest)):
        return NamesRead(statements=(Statement(text, MEDICATIONS, (found[1],)),))
    parts = [part for part in parts_of(text) if _without(name_words(part), _BESIDES)]
    if any(_look_up(reference, part) for part in parts):
        return together(_part(reference, part) for part in parts)
    return NamesRead(unrecognised=(_not_known(reference, text),))


def _none_given(text: str) -> bool:
    left = set(_without(name_words(text), _BESIDES))
    return bool(left & _NONE) and left <= _NONE | _ANYTHING


def _part(reference: Reference, part: str) -> NamesRead:
    if found := _look_up(reference, part):
        return _as_read(reference, part, *found)
    return NamesRead(unrecognised=(_not_known(reference, part),))


def _as_read(reference: Reference, text: str, kind: str, id_: str, basis: str) -> NamesRead:
    row = reference.medications[id_] if kind == "medication" else reference.drug_classes[id_]
    return NamesRead(
        recognised=(Recognised(text, MEDICATIONS, kind, id_),),
        taken_as=(TakenAs(text, MEDICATIONS, kind, id_, row.name, basis, row.note),),
    )


def _not_known(reference: Reference, text: str) -> Unrecognised:
    words = _without(name_words(text), _BESIDES | _SALTS)
    # "Stopped carprofen last week": the name is there, what is said of it is not understood.
    within = tuple(dict.fromkeys(word for word in words if word in _names(reference)))
    nearest = nearest_names(" ".join(words), _generic_names(reference), _LEAST_LIKENESS)
    return Unrecognised(
        text, MEDICATIONS, within or nearest, _SUPPLEMENT if _is_ingredient(reference, text) else ADVICE
    )


def _is_ingredient(reference: Reference, text: str) -> bool:
    """Say whether a text is wholly known as an ingredient that is no medicine."""
    resolution = resolver_for(reference).resolve(text, suggest=False)
    hazards = (reference.hazards.get(meaning.hazard or "") for meaning in resolution.meanings)
    medicine = any(hazard is not None and hazard.group == _MEDICINES for hazard in hazards)
    understood = resolution.match == "exact" and bool(resolution.meanings) and not resolution.not_understood
    return understood and not medicine and not resolution.negated


def _look_up(reference: Reference, text: str) -> tuple[str, str, str] | None:
    """Find kind, id and basis: the text as it stands, then without what a prescription says besides the name."""
    names = _names(reference)
    words = name_words(text)
    if found := names.get(key_of(words)):
        return (*found, "name")
    for bare in (words, _before_purpose(words)):
        if found := longest_name(names, bare, _says_no_name):
            return (*found, "wording")
        for besides in (_BESIDES, _BESIDES | _SALTS):
            if found := names.get(key_of(_without(bare, besides))):
                return (*found, "wording")
    return None


def _says_no_name(word: str) -> bool:
    return word in _BESIDES or word in _SALTS or _AMOUNT.fullmatch(word) is not None


def _before_purpose(words: tuple[str, ...]) -> tuple[str, ...]:
    for at, word in enumerate(words):
        if word in _FROM_HERE_ON:
            return words[:at]
    return words


def _without(words: Iterable[str], besides: frozenset[str]) -> tuple[str, ...]:
    return tuple(word for word in words if word not in besides and not _AMOUNT.fullmatch(word))


@lru_cache(maxsize=8)
def _names(reference: Reference) -> Mapping[str, tuple[str, str]]:
    """Index names as written, then those of medicines without the words that are left out of a request too."""
    medicines = [
        (name_words(name), ("medication", row.id))
        for row in reference.medications.values()
        for name in (row.id, row.name, *row.variants)
    ]
    classes = [
        (name_words(name), ("drug_class", row.id))
        for row in reference.drug_classes.values()
        for name in (row.id, row.name, *row.variants)
    ]
    names: dict[str, tuple[str, str]] = {}
    # A word that is both one medicine and a class ("tetracycline") means the medicine: that is the narrower claim.
    for words, target in (*medicines, *classes):
        names.setdefault(key_of(words), target)
    for words, target in medicines:
        key = key_of(_without(words, _BESIDES))
        # What is left of "I-131" without its number is no name any more.
        if len(key) >= _SHORTEST_BARE:
            names.setdefault(key, target)
    return MappingProxyType(names)


@lru_cache(maxsize=8)
def _generic_names(reference: Reference) -> Mapping[str, tuple[str, str]]:
    classes = ((name, row.id) for row in reference.drug_classes.values() for name in (row.name, *row.variants))
    medicines = ((name, row.id) for row in reference.medications.values() for name in (row.name, *row.variants))
    return to_suggest((*classes, *medicines))
