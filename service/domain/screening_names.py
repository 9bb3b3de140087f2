"""Names of medicines and conditions, looked up exactly."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType

from service.domain.screening_answers import Recognised, Statement, Unrecognised
from service.domain.suggesting import nearest_ids
from service.reference.release import Reference

MEDICATIONS, CONDITIONS = "medications", "conditions"
_TRAIT = "trait"
_NOTHING = frozenset(
    "none;no;nil;null;nothing;n/a;na;n.a.;not applicable;no medication;no medications;no medicine;no medicines;"
    "no condition;no conditions;none known;healthy;keine;keines;nichts;aucun;aucune;rien;ninguno;ninguna;nada"
    "".split(";")
)
_AMOUNT = re.compile(r"\d+(?:[.,]\d+)?(?:mg|mcg|\u00b5g|\u03bcg|ug|g|kg|ml|l|iu|ie|%|x|h|hr|hrs)?|[qx]\d+h?|\d+x\d+")
# What a prescription says besides the name: strength, shape, route, how often. None of them is part of a name here.
_BESIDES = frozenset(
    "mg mcg \u00b5g \u03bcg ug g kg ml l iu ie unit units % per "
    "tablet tablets tab tabs tablette tabletten comprim\u00e9 comprimes comprim\u00e9s comprimido comprimidos capsule "
    "capsules cap caps kapsel kapseln gelule gelules chew chews chewable chewables suspension solution liquid syrup "
    "drop drops injection injections injectable paste powder ointment cream gel patch spray film coated enteric slow "
    "sustained extended release sr xr er oral orally by mouth po iv im sc subcutaneous topical topically transdermal "
    "low high dose doses dosage half quarter daily once twice thrice one two three time times a an day days week "
    "weekly month monthly every other each hour hours morning evening night at bid sid tid qid qd eod prn as needed in "
    "the hcl hydrochloride maleate besylate succinate".split()
)
# What a record says besides the name of a disease: its course, stage, certainty, whose it is.
_COURSE = frozenset(
    "chronic acute recurrent recurring previous past history of known suspected possible probable diagnosed confirmed "
    "mild moderate severe early late advanced end stage grade iris i ii iii iv a the with has had bitch dog cat puppy "
    "kitten animal patient in remission controlled treated stable old chronisch chronische akut akute chronique aigu "
    "aigue cronica cronico aguda agudo".split()
)
_FEWEST_LETTERS_TO_SUGGEST = 3


def fold_name(text: str) -> str:
    """Make the name of a medicine or condition comparable: case, blanks, accents, apostrophes; never endings.

    Parameters
    ----------
    text
        As printed or written.

    Returns
    -------
    str
        For comparing only.
    """
    spaced = re.sub(r"[-_\u2010-\u2015]", " ", text.replace("\u2019", "'").replace("'", ""))
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", spaced) if not unicodedata.combining(sign))
    return " ".join(plain.casefold().split())


def read_medicine(reference: Reference, text: str) -> Recognised | Unrecognised | Statement:
    """Look a medicine up by generic name, variant or class.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written. Strength, shape, route and frequency beside the name are left out; the rest has to be a known name
        as a whole. Nothing is guessed from a part of a word.

    Returns
    -------
    Recognised, Unrecognised or Statement
        Kind ``medication`` or ``drug_class``; else the nearest generic names, which are never taken as meant. "None"
        and the like are statements.
    """
    if _says_nothing(text):
        return Statement(text, MEDICATIONS, ())
    names = _medicine_names(reference)
    bare = _without_prescription(text)
    kind, id_ = names.get(fold_name(text)) or names.get(bare) or ("", "")
    if id_:
        return Recognised(text, MEDICATIONS, kind, id_)
    medicines, classes = reference.medications.values(), reference.drug_classes.values()
    generic = (*(row.name for row in medicines), *(row.name for row in classes))
    return Unrecognised(text, MEDICATIONS, _nearest(bare, generic))


def read_condition(reference: Reference, text: str, species: str) -> Recognised | Unrecognised | Statement:
    """Look a condition or trait up by id, name or synonym.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written. Words on course, stage and certainty are left out; the rest has to be a known name as a whole.
    species
        A trait of the other species ("cat" for a dog) is not understood.

    Returns
    -------
    Recognised, Unrecognised or Statement
        Kind ``condition``; else the nearest names. "None" and the like are statements.
    """
    if _says_nothing(text):
        return Statement(text, CONDITIONS, ())
    names_of = _condition_names(reference)
    id_ = names_of.get(fold_name(text)) or names_of.get(_without_course(text))
    if id_ is None:
        names = (row.name for row in reference.conditions.values() if species in row.species)
        return Unrecognised(text, CONDITIONS, _nearest(fold_name(text), names))
    row = reference.conditions[id_]
    if row.kind == _TRAIT and species not in row.species:
        return Unrecognised(text, CONDITIONS, ())
    return Recognised(text, CONDITIONS, "condition", id_)


def _says_nothing(text: str) -> bool:
    return not any(sign.isalnum() for sign in text) or text.strip().casefold() in _NOTHING


def _without_course(text: str) -> str:
    words = (word.strip(".") for word in re.split(r"[\s()\[\],;:/]+", fold_name(text)))
    return " ".join(word for word in words if word and word not in _COURSE and not word.isdigit())


def _without_prescription(text: str) -> str:
    words = [word.strip(".") for word in re.split(r"[\s()\[\],;:/+*]+", fold_name(text))]
    kept = (word for word in words if word and word not in _BESIDES and not _AMOUNT.fullmatch(word))
    return " ".join(kept)


def _nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Suggest nothing for a scrap: everything comes close to two letters."""
    if sum(sign.isalpha() for sign in name) < _FEWEST_LETTERS_TO_SUGGEST:
        return ()
    return nearest_ids(name, known)


@lru_cache(maxsize=8)
def _medicine_names(reference: Reference) -> Mapping[str, tuple[str, str]]:
    names: dict[str, tuple[str, str]] = {}
    # A word that is both one medicine and a class ("tetracycline") means the medicine: that is the narrower claim.
    for medicine in reference.medications.values():
        for name in (medicine.id, medicine.name, *medicine.variants):
            names.setdefault(fold_name(name), ("medication", medicine.id))
    for drug_class in reference.drug_classes.values():
        for name in (drug_class.id, drug_class.name, *drug_class.variants):
            names.setdefault(fold_name(name), ("drug_class", drug_class.id))
    return MappingProxyType(names)


@lru_cache(maxsize=8)
def _condition_names(reference: Reference) -> Mapping[str, str]:
    names: dict[str, str] = {}
    for row in reference.conditions.values():
        for name in (row.id, row.name, *row.synonyms):
            names.setdefault(fold_name(name), row.id)
    return MappingProxyType(names)
