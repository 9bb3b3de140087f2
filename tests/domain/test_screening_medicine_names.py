"""Names of medicines: international and national generic spellings, prescriptions, several in one text, and none."""

from __future__ import annotations

import pytest

from service.domain.screening_medicine_names import ADVICE, read_medicines
from service.reference.records import Medication
from service.reference.release import Reference
from service.reference.releases import load_working_tables
from tests.domain.screening_requests import ask

MEDICATIONS = tuple(load_working_tables().medications.values())


def _ids(reference: Reference, text: str) -> list[str | None]:
    return [one.id for one in read_medicines(reference, text).recognised]


@pytest.mark.parametrize("row", MEDICATIONS, ids=lambda row: row.id)
def test_every_spelling_leads_to_its_medicine(reference: Reference, row: Medication) -> None:
    for name in (row.id, row.name, *row.variants):
        for text in (name, name.upper(), f"  {name} 50 mg tablets twice daily "):
            assert _ids(reference, text) == [row.id], text


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # International name, then the United States or older British one (from memory).
        ("paracetamol", "acetaminophen"),
        ("furosemide", "frusemide"),
        ("phenobarbital", "phenobarbitone"),
        ("ciclosporin", "cyclosporine"),
        ("salbutamol", "albuterol"),
        ("levothyroxine", "L-thyroxine"),
        ("adrenaline", "epinephrine"),
        ("lidocaine", "lignocaine"),
        ("pethidine", "meperidine"),
        ("torasemide", "torsemide"),
        ("thiamazole", "methimazole"),
        ("amoxicillin", "amoxycillin"),
        ("cefalexin", "cephalexin"),
        ("chlorphenamine", "chlorpheniramine"),
        ("thiopental", "thiopentone"),
        ("sulfasalazine", "sulphasalazine"),
        ("ursodeoxycholic acid", "ursodiol"),
        ("glyceryl trinitrate", "nitroglycerin"),
        ("rifampicin", "rifampin"),
        ("mesalazine", "mesalamine"),
        ("metamizole", "dipyrone"),
        ("aciclovir", "acyclovir"),
        ("indometacin", "indomethacin"),
        ("estriol", "oestriol"),
        ("sirolimus", "rapamycin"),
        # German, French, Spanish (from memory).
        ("prednisolone", "Prednisolon"),
        ("acetylsalicylic acid", "Acetylsalicyls\u00e4ure"),
        ("ketoprofen", "k\u00e9toprof\u00e8ne"),
        ("phenobarbital", "fenobarbital"),
        ("levothyroxine", "levotiroxina"),
        ("tranexamic acid", "\u00e1cido tranex\u00e1mico"),
        ("marbofloxacin", "marbofloxacine"),
    ],
)
def test_spellings_of_other_countries(reference: Reference, one: str, other: str) -> None:
    assert _ids(reference, one) == _ids(reference, other) != []


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("prednisolone acetate 1% eye drops", ["prednisolone"]),
        ("tramadol HCl 50mg q8h PRN", ["tramadol"]),
        ("sodium warfarin", ["warfarin"]),
        ("amlodipine besylate", ["amlodipine"]),
        ("chlorhydrate de tramadol", ["tramadol"]),
        ("\u00bd tablet carprofen 100mg", ["carprofen"]),
        ("1/2 tab of phenobarbital 30mg twice a day", ["phenobarbital"]),
        ("Pimobendan 5mg 2x t\u00e4glich", ["pimobendan"]),
        ("gabapentin 100 mg for pain", ["gabapentin"]),
        ("fluoxetine for anxiety since 2023", ["fluoxetine"]),
        ("amoxicillin/clavulanic acid 250 mg", ["amoxicillin-clavulanate"]),
        ("trimethoprim + sulfadiazine", ["sulfadiazine-trimethoprim"]),
        ("amoxicillin 250 mg with clavulanic acid 62.5 mg", ["amoxicillin-clavulanate"]),
        ("carprofen and gabapentin", ["carprofen", "gabapentin"]),
        ("carprofen 50 mg + omeprazole 10 mg", ["carprofen", "omeprazole"]),
        ("insulin glargine 4 IU twice daily", ["insulin"]),
    ],
)
def test_a_prescription_as_written(reference: Reference, text: str, ids: list[str]) -> None:
    read = read_medicines(reference, text)
    assert [one.id for one in read.recognised] == ids
    assert read.unrecognised == ()
    assert [one.id for one in read.taken_as] == ids


@pytest.mark.parametrize(
    "text",
    [
        "zzcoxib",
        "inventazole 50 mg",
        "invencillin",
        "carpro",
        "aspirin-like thing",
        "aspirin-free",
        "stopped carprofen last week",
        "instead of meloxicam",
        "allergic to penicillin",
        "water tablets",
        "painkiller",
        "medicine",
        "i",
        "131",
    ],
)
def test_nothing_is_guessed(reference: Reference, text: str) -> None:
    answer = ask(reference, "glucosamine", medications=(text,))
    assert answer.verdict == "incomplete"
    (unknown,) = answer.unrecognised
    assert (unknown.text, unknown.advice) == (text, ADVICE)
    assert "generic name" in ADVICE
    assert [one for one in answer.recognised if one.where == "medications"] == []
    assert any("give the generic name" in caution.text for caution in answer.cautions)


def test_what_is_not_understood_beside_a_name_is_listed(reference: Reference) -> None:
    read = read_medicines(reference, "carprofen, moonflower drops")
    assert [one.id for one in read.recognised] == ["carprofen"]
    assert [one.text for one in read.unrecognised] == ["moonflower drops"]


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("acetominophen", "acetaminophen"),
        ("phenobarbitol 30 mg", "phenobarbital"),
        ("stopped carprofen last week", "carprofen"),
        ("dog aspirin", "aspirin"),
    ],
)
def test_suggestions_are_generic_names(reference: Reference, text: str, first: str) -> None:
    (unknown,) = read_medicines(reference, text).unrecognised
    assert unknown.nearest[0] == first


def test_one_suggestion_for_each_medicine(reference: Reference) -> None:
    (unknown,) = read_medicines(reference, "carprofene x").unrecognised
    assert len({_ids(reference, name)[0] for name in unknown.nearest}) == len(unknown.nearest)


@pytest.mark.parametrize(
    ("text", "negates"),
    [
        ("no carprofen", ("carprofen",)),
        ("sans aspirine", ("aspirin",)),
        ("none at present", ()),
        ("not on any meds", ()),
    ],
)
def test_what_is_denied_is_a_statement(reference: Reference, text: str, negates: tuple[str, ...]) -> None:
    read = read_medicines(reference, text)
    assert (read.recognised, read.unrecognised) == ((), ())
    assert [one.negates for one in read.statements] == [negates]


def test_no_two_medicines_share_a_spelling(reference: Reference) -> None:
    seen: dict[str, str] = {}
    for row in reference.medications.values():
        for name in (row.name, *row.variants):
            assert seen.setdefault(name.casefold(), row.id) == row.id, name


def test_every_class_is_known_by_its_names(reference: Reference) -> None:
    medicines = {
        name.casefold() for row in reference.medications.values() for name in (row.id, row.name, *row.variants)
    }
    for row in reference.drug_classes.values():
        for name in (row.id, row.name, *row.variants):
            if name.casefold() not in medicines:
                assert _ids(reference, name) == [row.id], name


def test_how_a_breed_handles_a_medicine_is_said(reference: Reference) -> None:
    def said(medicine: str, *traits: str) -> list[str]:
        answer = ask(reference, "glucosamine", medications=(medicine,), traits=traits)
        return [caution.text for caution in answer.cautions if caution.code == "medicine_handled_differently"]

    assert "ivermectin" in said("ivermectin", "Collie cross")[0]
    assert "acepromazine" in said("ACP", "MDR1")[0]
    assert "thiopental" in said("thiopentone", "greyhound")[0]
    assert said("carprofen", "greyhound") == []
    assert said("ivermectin") == []


def test_a_supplement_among_medicines_is_sent_where_it_belongs(reference: Reference) -> None:
    (unknown,) = read_medicines(reference, "melatonin 3 mg").unrecognised
    assert "other_supplements" in (unknown.advice or "")
    assert "generic name" in (unknown.advice or "")
