"""What to know of the medicines themselves: some of them are recorded hazards."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from service.domain.common import Animal, Caution
from service.domain.resolving import resolver_for
from service.domain.screening_answers import Finding
from service.domain.screening_hazards import conflicts_for
from service.domain.screening_names import MEDICATIONS
from service.domain.screening_subjects import Subjects
from service.domain.screening_tiers import kind_for, primary_rows
from service.reference.records import Hazard, Medication
from service.reference.release import Reference

# Only these are medicines in their own right; a bromide or an iodide is no dose of potassium or iodine.
_GROUP = "drug"
_NOT_COMPARED = Caution(
    "medicines_not_compared",
    "caution",
    "The medicines were not checked against each other here: ask the veterinarian or pharmacist who supplies them.",
)
_GENERIC_NAME = Caution(
    "medicine_not_recognised",
    "warning",
    "A medicine was not recognised and nothing was checked against it: give its generic name, as printed on the pack.",
)


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
        evidence=None,
        evidence_species=None,
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
    if len(subjects.medications) + len(subjects.drug_classes) > 1:
        found.append(_NOT_COMPARED)
    return found
