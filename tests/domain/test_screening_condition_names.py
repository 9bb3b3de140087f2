"""Conditions and traits in plain words, in four languages, and what each was taken as."""

from __future__ import annotations

import pytest

from service.domain.screening_condition_names import read_conditions
from service.reference.records import Condition
from service.reference.release import Reference
from service.reference.releases import load_working_tables
from tests.domain.screening_requests import ask

CONDITIONS = tuple(load_working_tables().conditions.values())


def _ids(reference: Reference, text: str, species: str = "dog") -> list[str | None]:
    return [one.id for one in read_conditions(reference, text, species, "conditions").recognised]


@pytest.mark.parametrize("row", CONDITIONS, ids=lambda row: row.id)
def test_every_synonym_leads_to_its_row(reference: Reference, row: Condition) -> None:
    meant = {"mdr1-breed": "mdr1-mutation"}.get(row.id, row.id)
    for name in (row.id, row.name, *row.synonyms):
        for text in (name, name.upper(), f" {name} (known) "):
            assert meant in _ids(reference, text, row.species[0]), text


def test_only_these_names_are_shared(reference: Reference) -> None:
    seen: dict[str, list[str]] = {}
    for row in reference.conditions.values():
        for name in {one.casefold() for one in (row.name, *row.synonyms)}:
            seen.setdefault(name, []).append(row.id)
    shared = {tuple(ids) for ids in seen.values() if len(ids) > 1}
    assert shared == {
        ("hypothyroidism", "hyperthyroidism"),
        ("calcium-oxalate-stones", "struvite-stones", "cystine-stones"),
        ("sighthound", "mdr1-breed"),
    }


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("sugar diabetes", ["diabetes-mellitus"]),
        ("has had fits since 2022", ["epilepsy"]),
        ("kidney trouble", ["kidney-disease"]),
        ("IRIS stage 3 kidney disease", ["kidney-disease"]),
        ("weak heart", ["heart-failure"]),
        ("bad liver", ["liver-disease"]),
        ("bleeds easily", ["bleeding-disorder"]),
        ("in whelp", ["pregnancy"]),
        ("nursing litter of 5", ["lactation"]),
        ("due for surgery next week", ["planned-surgery"]),
        ("to be spayed tomorrow", ["planned-surgery"]),
        ("being spayed", ["planned-surgery"]),
        ("neutered tomorrow", ["planned-surgery"]),
        ("wird morgen kastriert", ["planned-surgery"]),
        ("spay", ["planned-surgery"]),
        ("dental booked for Friday", ["planned-surgery"]),
        ("pancreas", ["pancreatitis"]),
        ("itchy skin/allergy to fish", ["atopic-dermatitis", "fish-allergy"]),
        ("allergic to chicken and fish", ["food-allergy", "fish-allergy"]),
        ("needs to lose weight", ["obesity"]),
        ("Cushing's", ["hyperadrenocorticism"]),
        ("puppy with fits", ["growth", "epilepsy"]),
        ("10 weeks old", ["growth"]),
        ("8 Monate alt", ["growth"]),
        ("kidney disease and a weak heart", ["kidney-disease", "heart-failure"]),
        ("recovering from pancreatitis", ["pancreatitis"]),
        ("Nierenprobleme", ["kidney-disease"]),
        ("schwaches Herz", ["heart-failure"]),
        ("Zuckerkrankheit", ["diabetes-mellitus"]),
        ("probl\u00e8mes cardiaques", ["heart-failure"]),
        ("insuffisance r\u00e9nale chronique", ["kidney-disease"]),
        ("coraz\u00f3n d\u00e9bil", ["heart-failure"]),
        ("h\u00edgado", ["liver-disease"]),
        ("tr\u00e4chtig", ["pregnancy"]),
    ],
)
def test_plain_words(reference: Reference, text: str, ids: list[str]) -> None:
    read = read_conditions(reference, text, "dog", "conditions")
    assert [one.id for one in read.recognised] == ids
    assert read.unrecognised == ()
    assert [one.id for one in read.taken_as] == ids


def test_the_species_decides_which_thyroid(reference: Reference) -> None:
    assert _ids(reference, "thyroid problem", "dog") == ["hypothyroidism"]
    assert _ids(reference, "thyroid problem", "cat") == ["hyperthyroidism"]


def test_one_word_for_several_is_all_of_them(reference: Reference) -> None:
    answer = ask(reference, "vitamin C", conditions=("bladder stones",))
    assert {(one.id, one.basis) for one in answer.taken_as} == {
        ("calcium-oxalate-stones", "several"),
        ("struvite-stones", "several"),
        ("cystine-stones", "several"),
    }
    assert answer.verdict == "stop"
    assert "taken_as_several" in {caution.code for caution in answer.cautions}


def test_what_a_word_was_taken_as_is_listed(reference: Reference) -> None:
    answer = ask(
        reference, "MSM", species="cat", age_years="0.5", conditions=("sugar diabetes", "chronic kidney trouble")
    )
    listed = {(one.text, one.where, one.id, one.name, one.basis) for one in answer.taken_as}
    assert listed == {
        ("sugar diabetes", "conditions", "diabetes-mellitus", "diabetes mellitus", "name"),
        ("chronic kidney trouble", "conditions", "kidney-disease", "chronic kidney disease", "wording"),
        ("species: cat", "animal", "species-cat", "cat (species trait)", "animal"),
        ("age under one year", "animal", "growth", "growth (puppy or kitten)", "animal"),
    }


@pytest.mark.parametrize(
    "text",
    ["zzyzx syndrome", "heartworm", "growth on leg", "unknown", "surgery last year", "too thin", "old dog", "fluffy"],
)
def test_what_is_not_known_is_not_taken_as_anything(reference: Reference, text: str) -> None:
    answer = ask(reference, "MSM", conditions=(text,))
    assert [one.text for one in answer.unrecognised] == [text]
    assert answer.unrecognised[0].advice
    assert answer.taken_as == ()
    assert answer.verdict == "incomplete"


@pytest.mark.parametrize(
    ("text", "negates"),
    [
        ("no heart problems", ("heart-failure",)),
        ("not pregnant", ("pregnancy",)),
        ("keine Epilepsie", ("epilepsy",)),
        ("neutered male", ()),
        ("has been spayed", ()),
        ("fit and healthy", ()),
        ("5 years old", ()),
    ],
)
def test_what_is_no_illness_is_a_statement(reference: Reference, text: str, negates: tuple[str, ...]) -> None:
    read = read_conditions(reference, text, "dog", "conditions")
    assert (read.recognised, read.unrecognised) == ((), ())
    assert [one.negates for one in read.statements] == [negates]


def test_suggestions_come_from_the_names(reference: Reference) -> None:
    (unknown,) = read_conditions(reference, "kidny disease", "dog", "conditions").unrecognised
    assert unknown.nearest[0] == "kidney disease"


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("Greyhound", ["sighthound"]),
        ("retired greyhound", ["sighthound"]),
        ("whippet mix", ["sighthound"]),
        ("Windhund", ["sighthound"]),
        ("collie cross", ["mdr1-mutation"]),
        ("Aussie", ["mdr1-mutation"]),
        ("Deutscher Sch\u00e4ferhund", ["mdr1-mutation"]),
        ("MDR1 +/-", ["mdr1-mutation"]),
        ("long-haired whippet", ["sighthound", "mdr1-mutation"]),
    ],
)
def test_traits_by_breed(reference: Reference, text: str, ids: list[str]) -> None:
    answer = ask(reference, "curcumin", traits=(text,))
    assert [(one.where, one.id) for one in answer.recognised if one.where == "traits"] == [
        ("traits", id_) for id_ in ids
    ]
    assert ("curcumin", ids[-1]) in {finding.subjects for finding in answer.findings}


def test_a_breed_is_no_test(reference: Reference) -> None:
    def codes(trait: str) -> set[str]:
        return {caution.code for caution in ask(reference, "MSM", traits=(trait,)).cautions}

    assert "breed_is_no_test" in codes("Collie")
    assert "breed_is_no_test" not in codes("MDR1 mutation")
    assert [one.basis for one in ask(reference, "MSM", traits=("Collie",)).taken_as] == ["breed"]


def test_a_trait_of_dogs_is_none_of_cats(reference: Reference) -> None:
    assert _ids(reference, "Greyhound", "cat") == []
    assert _ids(reference, "cat", "dog") == []


def test_a_trait_and_a_condition_are_read_alike(reference: Reference) -> None:
    by_trait = ask(reference, "fish oil", traits=("Whippet",))
    by_condition = ask(reference, "fish oil", conditions=("Whippet",))
    assert by_trait.findings == by_condition.findings


def test_a_medicine_among_conditions_is_sent_where_it_belongs(reference: Reference) -> None:
    (unknown,) = read_conditions(reference, "on phenobarbital", "dog", "conditions").unrecognised
    assert "under medications" in (unknown.advice or "")


@pytest.mark.parametrize("text", ["MDR1 +/+", "MDR1 clear", "MDR1 negative", "mdr1 n/n", "no MDR1 mutation"])
def test_tested_clear_is_not_had(reference: Reference, text: str) -> None:
    read = read_conditions(reference, text, "dog", "traits")
    assert (read.recognised, read.unrecognised) == ((), ())
    assert [one.negates for one in read.statements] == [("mdr1-mutation",)]


def test_a_test_counts_more_than_a_breed(reference: Reference) -> None:
    tested = ask(reference, "curcumin", traits=("Collie", "MDR1 +/+"))
    assert tested.findings == ask(reference, "curcumin").findings
    assert tested.taken_as == ()
    assert {one.text for one in tested.statements} == {"Collie", "MDR1 +/+"}
    assert ask(reference, "curcumin", traits=("Collie",)).findings != tested.findings


def test_a_name_that_ends_like_a_result_is_no_result(reference: Reference) -> None:
    assert _ids(reference, "normal") == []
    assert _ids(reference, "low T4") == ["hypothyroidism"]


def test_free_of_seizures_is_not_free_of_epilepsy(reference: Reference) -> None:
    read = read_conditions(reference, "seizure free", "dog", "conditions")
    assert read.statements == ()
    assert [one.text for one in read.unrecognised] == ["seizure free"]


def test_several_that_are_no_illness_are_statements(reference: Reference) -> None:
    read = read_conditions(reference, "healthy, no fits", "dog", "conditions")
    assert (read.recognised, read.unrecognised) == ((), ())
    assert len(read.statements) == 2


@pytest.mark.parametrize("text", ["spayed", "was spayed", "neutered male", "has been neutered", "kastriert"])
def test_an_operation_of_the_past_is_over(reference: Reference, text: str) -> None:
    assert _ids(reference, text) == []


def test_a_sign_that_leaves_its_disease_open_is_asked_about(reference: Reference) -> None:
    answer = ask(reference, "cellulose", conditions=("heart murmur",))
    assert [(one.text, "ask which" in (one.advice or "")) for one in answer.unrecognised] == [("heart murmur", True)]
    assert answer.verdict == "incomplete"
