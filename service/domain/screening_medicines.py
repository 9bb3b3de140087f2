"""What to know of the medicines themselves: some of them are recorded hazards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from service.domain.common import Animal, Caution
from service.domain.resolving import resolver_for
from service.domain.screening_answers import Finding, NotAssessed, Unrecognised
from service.domain.screening_classes import narrower_members
from service.domain.screening_hazards import conflicts_for
from service.domain.screening_interactions import MEDICINE_NOT_NAMED
from service.domain.screening_medicine_names import ADVICE
from service.domain.screening_names import MEDICATIONS
from service.domain.screening_subjects import Subjects
from service.domain.screening_tiers import kind_for, primary_rows
from service.reference.records import Hazard, Medication
from service.reference.release import Reference

# Only these are medicines in their own right; a bromide or an iodide is no dose of potassium or iodine.
_GROUP = "drug"
_MOST_NAMED = 5
_NOT_COMPARED = Caution(
    "medicines_not_compared",
    "caution",
    "The medicines were not checked against each other here: ask the veterinarian or pharmacist who supplies them.",
)
_NOT_COMPARED_WITH_CONDITIONS = Caution(
    "medicines_not_compared_with_conditions",
    "caution",
    "Supplements were screened against medicines and conditions; whether a medicine suits a condition was not checked.",
)
_GENERIC_NAME = Caution(
    "medicine_not_recognised",
    "warning",
    "A medicine was not recognised and nothing was checked against it: give the generic name, the active substance "
    "printed on the pack.",
)
_NO_TEST = Caution(
    "breed_is_no_test",
    "caution",
    "A breed in which the MDR1 mutation is common was screened as if the animal had it: only a gene test tells.",
)


@dataclass(frozen=True, slots=True)
class _Handling:
    """Medicines that animals with a trait are known to handle differently."""

    classes: frozenset[str]
    medicines: frozenset[str]
    why: str
    source_ids: tuple[str, ...]


# Sources mealey2016 (MDR1) and court1999, martinez2020 (sighthounds), as recorded with the two traits.
_HANDLED_DIFFERENTLY = {
    "mdr1-mutation": _Handling(
        frozenset({"pgp-substrate"}),
        frozenset({"acepromazine"}),
        "an animal with the MDR1 mutation clears it poorly from body and brain",
        ("mealey2016",),
    ),
    "sighthound": _Handling(
        frozenset({"injectable-anaesthetic", "cyp2b11-substrate"}),
        frozenset({"chloramphenicol"}),
        "sighthounds break some anaesthetics down slowly, and more slowly still with what blocks it",
        ("court1999", "martinez2020"),
    ),
}


def medicine_findings(reference: Reference, medications: Iterable[str], species: str) -> tuple[Finding, ...]:
    """Find medicines that are themselves recorded hazards for the species.

    Parameters
    ----------
    reference
        The release to answer from.
    medications
        Ids of the medicines given.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of Finding
        ``avoid`` where no amount is known to be harmless, else ``veterinarian``.
    """
    found = []
    for id_ in medications:
        hazard = _hazard_of(reference, id_)
        if hazard is not None and kind_for(hazard, species) not in ("benign", "nuisance"):
            found.append(_finding(reference, reference.medications[id_], hazard, species))
    return tuple(found)


@lru_cache(maxsize=1024)
def _hazard_of(reference: Reference, medication_id: str) -> Hazard | None:
    name = reference.medications[medication_id].name
    resolution = resolver_for(reference).resolve(name, suggest=False)
    hazard = reference.hazards.get(resolution.hazard or "")
    if hazard is None or resolution.not_understood or hazard.group != _GROUP:
        return None
    return hazard


def _finding(reference: Reference, medicine: Medication, hazard: Hazard, species: str) -> Finding:
    rows = primary_rows(reference, (hazard.id,), species)
    if kind_for(hazard, species) == "toxic_any_amount":
        level, action = "avoid", "Do not give. If it was given, contact a veterinarian or an animal poison line now."
        words = f"no amount is known to be harmless for a {species}"
        rows = [row for row in rows if row.severity == "any_exposure"]
    else:
        level, action = "veterinarian", "Give it only as a veterinarian prescribed it for this animal."
        words, rows = f"harmful amounts are published for a {species}", []
    sources = dict.fromkeys(id_ for row in (*rows[:1], hazard) for id_ in row.source_ids)
    return Finding(
        kind="hazard",
        level=level,
        subjects=tuple(dict.fromkeys((hazard.id, medicine.id))),
        topic=None,
        finding=None,
        effect=f"{medicine.name[:1].upper()}{medicine.name[1:]} is itself a recorded hazard: {words}.",
        action=action,
        evidence=(rows[0].grade if rows else None) or "recorded hazard",
        evidence_species=species,
        limit_or_conflict=conflicts_for(hazard, species),
        match="exact",
        origin=rows[0].origin if rows else hazard.origin,
        record_ids=(hazard.id, *(row.id for row in rows[:1])),
        source_ids=tuple(sources),
    )


def medicine_cautions(reference: Reference, subjects: Subjects, animal: Animal) -> list[Caution]:
    """Cautions about the medicines: not for the species, not recognised, not compared with each other.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        Everything that was understood.
    animal
        The animal.

    Returns
    -------
    list of Caution
        Empty where no medicine is given.
    """
    found = []
    for id_ in subjects.medications:
        medicine = reference.medications[id_]
        if animal.species not in medicine.species.split(";"):
            note = f" {medicine.note}." if medicine.note else ""
            text = f"This release does not list {medicine.name} as a medicine for a {animal.species}.{note}"
            found.append(Caution("medicine_not_listed_for_species", "warning", text))
    if any(one.where == MEDICATIONS for one in subjects.unrecognised):
        found.append(_GENERIC_NAME)
    if subjects.drug_classes:
        found.append(_class_only(reference, subjects.drug_classes))
    if len(subjects.medications) + len(subjects.drug_classes) > 1:
        found.append(_NOT_COMPARED)
    if (subjects.medications or subjects.drug_classes) and subjects.conditions:
        found.append(_NOT_COMPARED_WITH_CONDITIONS)
    return [*found, *_handled_differently(reference, subjects)]


def _class_only(reference: Reference, classes: Iterable[str]) -> Caution:
    named = ", ".join(reference.drug_classes[id_].name for id_ in classes)
    text = (
        f"Only a class of medicines was given ({named}): give the generic name, what is known of each was not applied."
    )
    return Caution("medicine_not_named", "warning", text)


def _handled_differently(reference: Reference, subjects: Subjects) -> list[Caution]:
    found = []
    for handling in _handlings(subjects):
        medicines = [reference.medications[id_] for id_ in subjects.medications]
        names = [
            row.name
            for row in medicines
            if row.id in handling.medicines or not handling.classes.isdisjoint(row.class_ids)
        ]
        names += [reference.drug_classes[id_].name for id_ in subjects.drug_classes if id_ in handling.classes]
        if names:
            text = f"{', '.join(names)}: {handling.why}. Tell the veterinarian before any is given."
            found.append(Caution("medicine_handled_differently", "warning", text))
    return found


def _handlings(subjects: Subjects) -> list[_Handling]:
    conditions = (*subjects.conditions, *subjects.implied_conditions)
    return [_HANDLED_DIFFERENTLY[id_] for id_ in conditions if id_ in _HANDLED_DIFFERENTLY]


def handling_sources(subjects: Subjects) -> tuple[str, ...]:
    """List the sources on how the animal handles its medicines.

    Parameters
    ----------
    subjects
        Everything that was understood.

    Returns
    -------
    tuple of str
        Ids; empty where it has no such trait or no medicine is given.
    """
    if not subjects.medications and not subjects.drug_classes:
        return ()
    return tuple(id_ for handling in _handlings(subjects) for id_ in handling.source_ids)


def not_named(reference: Reference, subjects: Subjects, gaps: Iterable[NotAssessed]) -> tuple[Unrecognised, ...]:
    """List the classes given as medicines of which a record speaks of some and not of others.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        Everything that was understood.
    gaps
        What was not assessed.

    Returns
    -------
    tuple of Unrecognised
        The text as given, with the medicines or classes that it may be: which it is has to be said.
    """
    open_ids = [gap.b for gap in gaps if gap.reason == MEDICINE_NOT_NAMED]
    found = []
    for one in subjects.recognised:
        if one.kind != "drug_class":
            continue
        inside = {id_ for _, id_ in narrower_members(reference, one.id or "")}
        which = dict.fromkeys(_name(reference, id_) for id_ in open_ids if id_ in inside)
        if which:
            found.append(Unrecognised(one.text, one.where, tuple(which)[:_MOST_NAMED], ADVICE))
    return tuple(found)


def _name(reference: Reference, id_: str) -> str:
    row = reference.medications.get(id_) or reference.drug_classes[id_]
    return row.name


def name_cautions(subjects: Subjects) -> list[Caution]:
    """Cautions about what words were taken as: a breed for a mutation, one word for several conditions.

    Parameters
    ----------
    subjects
        Everything that was understood.

    Returns
    -------
    list of Caution
        Empty where every word has one plain meaning.
    """
    found = [_NO_TEST] if any(one.basis == "breed" for one in subjects.taken_as) else []
    several: dict[str, list[str]] = {}
    for one in subjects.taken_as:
        if one.basis == "several":
            several.setdefault(one.text, []).append(one.name)
    for text, names in several.items():
        words = f'"{text}" can mean each of these, and all were screened: {", ".join(names)}. Say which it is.'
        found.append(Caution("taken_as_several", "caution", words))
    return found
