"""Conditions and traits in plain words: looked up exactly once the words around them are left out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

from service.domain.screening_allergy_names import allergy_to
from service.domain.screening_answers import Recognised, Statement, TakenAs, Unrecognised
from service.domain.screening_medicine_names import read_medicines
from service.domain.screening_names import (
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
from service.reference.records import Condition
from service.reference.release import Reference

ADVICE = "Say it in other words, or give the id of a condition of this release."
_MEDICINE = "This is a medicine: give it under medications."
GROWTH = "growth"
# A breed in which a trait is common stands for the trait: no test is known of.
CARRIER_BREED = "mdr1-breed"
CARRIER_OF = "mdr1-mutation"
_STANDS_FOR = {CARRIER_BREED: CARRIER_OF}
_TRAIT = "trait"
# Said of the past, these are over; a disease of the past is still one to know of.
_PASSING = ("state", "life_stage")
_PAST = frozenset("had ago last previous previously past former formerly after post recovered was been".split())
# What a record says besides the name: course, stage, certainty, time, whose it is. In four languages.
_AROUND = frozenset(
    "since recovering recovered from chronic acute recurrent recurring previous previously past history of "
    "known suspected possible possibly probable probably diagnosed confirmed mild slight moderate severe "
    "serious bad early late advanced end stage grade iris i ii iii iv a an the with has have had having been "
    "is was are be being got gets getting bitch dog dogs cat cats animal patient pet in on for remission "
    "controlled managed treated treatment medication stable old currently now still again sometimes "
    "occasional occasionally often prone to tends suffers suffering shows showing signs sign due booked "
    "scheduled awaiting waiting upcoming soon next this week month tomorrow today tonight monday tuesday "
    "wednesday thursday friday saturday sunday at by vet he she it his her very quite rather little some "
    "slightly my our ago last year years and also under over chronisch chronische chronischer akut akute "
    "leichte leichter schwere schwerer hat ist der die das des eine ein seit und bekannte chronique "
    "chroniques aigu aigue leger legere atteint atteinte souffre de du d la le les l un une au aux est avec "
    "et grave cronica cronico aguda agudo leve tiene es el los las y con del una".split()
)
# "Kidney trouble", "bad liver", "problèmes cardiaques": the organ says which.
_TROUBLE = frozenset(
    "trouble troubles problem problems issue issues disease diseases disorder disorders condition conditions "
    "complaint complaints failure failing insufficiency dysfunction bad weak weakness poor sick ill damaged "
    "damage impaired impairment dodgy diseased inflamed inflammation sore illness erkrankung krankheit probleme "
    "schwache leiden krank kranke schwaches schwach problemes maladie maladies faible faiblesse insuffisance "
    "malade malades problema problemas enfermedad enfermedades debil insuficiencia trastorno enfermo enferma".split()
)
_SEX = frozenset("male female boy girl bitch rude hundin femelle macho hembra and und et y".split())
_MIXED_BREED = frozenset(
    "cross crosses crossbreed crossbred mix mixed mixes x type breed breeds bred purebred pedigree mischling "
    "croise cruce mestizo".split()
)
_UNREMARKABLE = frozenset(
    "well;fit;fit and well;fit and healthy;good health;in good health;neutered;spayed;castrated;entire;intact;"
    "vaccinated;microchipped;wormed;gesund;kastriert;sterilisiert;sain;en bonne sante;castre;sterilise;sano;sana;"
    "castrado;castrada;esterilizada".split(";")
)
# Neutering that is still to come is a planned operation; "spayed" alone is over.
_FIXED = frozenset(
    """spayed neutered castrated sterilised sterilized desexed kastriert sterilisiert castre castree sterilise
    sterilisee castrado castrada esterilizado esterilizada""".split()
)
_COMING = frozenset(
    """being be tomorrow today tonight soon due booked scheduled awaiting waiting upcoming next getting gets planned
    will going about monday tuesday wednesday thursday friday saturday sunday wird werden morgen bald geplant nachste
    nachsten va sera demain bientot prochaine prochain prevu prevue manana pronto proxima proximo""".split()
)
_PLANNED_SURGERY = "planned-surgery"
_STATE = "state"
_ASK_WHICH = "ask which"
_CLEAR = ("+/+", " n/n", " clear", " negative", " neg", " normal", " negativ", " n\u00e9gatif", " negativo")
_AGE = re.compile(
    r"(?P<number>[0-9]{1,3}(?:[.,][0-9]{1,2})?) ?(?P<unit>days?|weeks?|wks?|w|months?|mths?|mos?|years?|yrs?|yo|y|"
    r"tage?|wochen?|monate?n?|jahre?|jours?|semaines?|mois|ans?|dias?|semanas?|mes(?:es)?|anos?)"
)
_YEARS = {"d": "0.0027", "t": "0.0027", "j": "0.0027", "w": "0.0192", "s": "0.0192", "m": "0.0833", "y": "1", "a": "1"}
_LONGEST_AGE_TEXT = 60
_LEAST_LIKENESS = 74


def read_conditions(reference: Reference, text: str, species: str, where: str) -> NamesRead:
    """Look conditions and traits up by id, name or synonym.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written: one condition or several. Words on course, stage, time and certainty are left out, then those that
        only say that something is wrong; the rest has to be a known name as a whole.
    species
        A name for several conditions means those of this species; a trait of the other species is not understood.
    where
        ``conditions`` or ``traits``.

    Returns
    -------
    NamesRead
        Kind ``condition``; else the nearest names. "None", "no fits" and what is no illness are statements.
    """
    whole = _read_whole(reference, text, species, where)
    if whole is not None:
        return whole
    read = [read_conditions(reference, part, species, where) for part in parts_of(text)]
    if any(one.recognised for one in read) or (read and not any(one.unrecognised for one in read)):
        return together(read)
    if (allergy := allergy_to(reference, text)) is not None:
        return _as_read(reference, text, where, (allergy,), "wording")
    advice = _MEDICINE if read_medicines(reference, text).recognised else ADVICE
    return NamesRead(unrecognised=(Unrecognised(text, where, _nearest(reference, text, species), advice),))


def _read_whole(reference: Reference, text: str, species: str, where: str) -> NamesRead | None:
    """Read a text as one condition, one denial or nothing at all."""
    words = name_words(text)
    if says_nothing(text) or " ".join(words) in _UNREMARKABLE:
        return _said(text, where)
    cleared = _tested_clear(text)
    if cleared is not None and (found := _look_up(reference, cleared, species)):
        return _said(text, where, found[0])
    if found := _look_up(reference, text, species):
        return _as_read(reference, text, where, *found)
    if not _FIXED.isdisjoint(words) and not _COMING.isdisjoint(words) and not _past(words):
        return _as_read(reference, text, where, (_PLANNED_SURGERY,), "wording")
    if " ".join(_without(words, _AROUND | _SEX)) in _UNREMARKABLE:
        return _said(text, where)
    age = _age_years(text)
    if age is not None:
        return _said(text, where) if age >= 1 else _as_read(reference, text, where, (GROWTH,), "wording")
    rest = denied(text)
    if rest is not None and (found := _look_up(reference, rest, species)):
        return _said(text, where, found[0])
    return None


def _said(text: str, where: str, denied_ids: tuple[str, ...] = ()) -> NamesRead:
    negates = tuple(_STANDS_FOR.get(id_, id_) for id_ in denied_ids)
    return NamesRead(statements=(Statement(text, where, negates),))


def _tested_clear(text: str) -> str | None:
    """Give what a text says was tested for and not found: "MDR1 +/+", "FIV negative"."""
    stripped = text.strip().rstrip(".")
    for ending in _CLEAR:
        if stripped.casefold().endswith(ending) and len(stripped) > len(ending):
            return stripped[: -len(ending)]
    return None


def _nearest(reference: Reference, text: str, species: str) -> tuple[str, ...]:
    """Suggest nothing for what is known and cannot be: a dog is no cat."""
    if key_of(name_words(text)) in _names(reference):
        return ()
    return nearest_names(text, _names_to_suggest(reference, species), _LEAST_LIKENESS)


def left_open(reference: Reference, taken_as: Iterable[TakenAs]) -> tuple[Unrecognised, ...]:
    """List words for a sign that leave open which disease it comes from: "heart murmur".

    Parameters
    ----------
    reference
        The release to answer from.
    taken_as
        What the words were taken as.

    Returns
    -------
    tuple of Unrecognised
        With what to ask.
    """
    return tuple(
        Unrecognised(one.text, one.where, (), one.note)
        for one in taken_as
        if one.kind == _STATE and _ASK_WHICH in (reference.conditions[one.id].note or "")
    )


def without_cleared(read: NamesRead) -> NamesRead:
    """Leave out what follows from a breed alone where a test of this animal says otherwise.

    Parameters
    ----------
    read
        All conditions and traits of one animal.

    Returns
    -------
    NamesRead
        A Collie that tested clear of the mutation is no carrier of it; one that also tested positive is.
    """
    denied_ids = {id_ for statement in read.statements for id_ in statement.negates}
    by_breed = {(one.text, one.where, one.id) for one in read.taken_as if one.basis == "breed" and one.id in denied_ids}
    return replace(
        read,
        recognised=tuple(one for one in read.recognised if (one.text, one.where, one.id) not in by_breed),
        taken_as=tuple(one for one in read.taken_as if (one.text, one.where, one.id) not in by_breed),
        statements=(*read.statements, *(Statement(text, where, (id_,)) for text, where, id_ in sorted(by_breed))),
    )


def _as_read(reference: Reference, text: str, where: str, ids: tuple[str, ...], basis: str) -> NamesRead:
    recognised, taken_as = [], []
    for id_ in ids:
        meant = _STANDS_FOR.get(id_, id_)
        row = reference.conditions[id_]
        recognised.append(Recognised(text, where, "condition", meant))
        how = "breed" if meant != id_ else "several" if len(ids) > 1 and row.kind != _TRAIT else basis
        taken_as.append(TakenAs(text, where, row.kind, meant, reference.conditions[meant].name, how, row.note))
    return NamesRead(recognised=tuple(recognised), taken_as=tuple(taken_as))


def _look_up(reference: Reference, text: str, species: str) -> tuple[tuple[str, ...], str] | None:
    """Find ids and basis: the text, the longest name in it, then what is left of it without words around a name."""
    words = name_words(text)
    names = _names(reference)
    around = _without(words, _AROUND)
    tries = (around, _without(around, _MIXED_BREED), _without(around, _TROUBLE), _without(words, _AROUND | _TROUBLE))
    found = (
        names.get(key_of(words)),
        longest_name(names, words, _says_no_name),
        *(names.get(key_of(t)) for t in tries),
    )
    for number, ids in enumerate(found):
        fitting = _for_species(reference, ids or (), species)
        meant = tuple(id_ for id_ in fitting if not (_past(words) and reference.conditions[id_].kind in _PASSING))
        if meant:
            return meant, "wording" if number else "name"
    return None


def _says_no_name(word: str) -> bool:
    return word in _AROUND or word in _MIXED_BREED or word.isdigit()


def _past(words: tuple[str, ...]) -> bool:
    return not _PAST.isdisjoint(words)


def _for_species(reference: Reference, ids: tuple[str, ...], species: str) -> tuple[str, ...]:
    """Keep what the species can have, where a name leaves a choice; a trait of the other species never."""
    rows = [reference.conditions[id_] for id_ in ids]
    fitting = [row for row in rows if species in row.species]
    return tuple(row.id for row in fitting or [row for row in rows if row.kind != _TRAIT])


def _without(words: Iterable[str], besides: frozenset[str]) -> tuple[str, ...]:
    return tuple(word for word in words if word not in besides and not word.isdigit())


def _age_years(text: str) -> Decimal | None:
    """Read an age such as "10 weeks old"; nothing else may stand beside it."""
    words = _without_age_words(name_words(text))
    match = _AGE.fullmatch(" ".join(words)[:_LONGEST_AGE_TEXT])
    if match is None:
        return None
    unit = "t" if match["unit"].startswith("ta") else match["unit"][0]
    unit = "m" if match["unit"].startswith("mo") or match["unit"].startswith("me") else unit
    return Decimal(match["number"].replace(",", ".")) * Decimal(_YEARS[unit])


def _without_age_words(words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(word for word in words if word not in ("old", "of", "age", "aged", "alt", "is", "about", "approx"))


@lru_cache(maxsize=8)
def _names(reference: Reference) -> Mapping[str, tuple[str, ...]]:
    """Index names as written, then without words around them, then without those that only say something is wrong."""
    names: dict[str, tuple[str, ...]] = {"": ()}
    spelled = [(name, row) for row in reference.conditions.values() for name in (row.id, row.name, *row.synonyms)]
    for bare in (_as_written, _without_around, _without_trouble):
        level: dict[str, tuple[str, ...]] = {}
        for name, row in spelled:
            key = key_of(bare(name_words(name)))
            level[key] = tuple(dict.fromkeys((*level.get(key, ()), row.id)))
        for key, ids in level.items():
            # Only names as they are written may be shared: what is left of two others is a coincidence.
            if key not in _UNREMARKABLE and (bare is _as_written or len(ids) == 1):
                names.setdefault(key, ids)
    return MappingProxyType(names)


def _as_written(words: tuple[str, ...]) -> tuple[str, ...]:
    return words


def _without_around(words: tuple[str, ...]) -> tuple[str, ...]:
    return _without(words, _AROUND)


def _without_trouble(words: tuple[str, ...]) -> tuple[str, ...]:
    return _without(words, _AROUND | _TROUBLE)


@lru_cache(maxsize=16)
def _names_to_suggest(reference: Reference, species: str) -> Mapping[str, tuple[str, str]]:
    fitting: list[Condition] = [row for row in reference.conditions.values() if species in row.species]
    return to_suggest((name, row.id) for row in fitting for name in (row.name, *row.synonyms))
