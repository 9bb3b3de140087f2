"""Hazards: what is unknown, what an amount reaches, what is only a trace, a claim or a slip."""

from __future__ import annotations

import re

import pytest

from service.reference.release import Reference
from tests.domain.screening_requests import ask, hazards, of_kind, product


@pytest.mark.parametrize(
    ("text", "species", "expected"),
    [
        # No harmless amount for the species.
        ("xylitol", "dog", {"xylitol": "avoid"}),
        ("raisins", "dog", {"grape-raisin": "avoid"}),
        ("alpha-lipoic acid", "cat", {"alpha-lipoic-acid": "avoid"}),
        ("propylene glycol", "cat", {"propylene-glycol": "avoid"}),
        # The same substances where the other species is judged differently.
        ("xylitol", "cat", {"xylitol": "veterinarian"}),
        ("raisins", "cat", {"grape-raisin": "veterinarian"}),
        # A life-threatening tier makes an unknown amount unacceptable, also through the tiers it delegates to.
        ("alpha-lipoic acid", "dog", {"alpha-lipoic-acid": "avoid"}),
        ("caffeine", "cat", {"caffeine": "avoid"}),
        ("kola nut", "cat", {"kola": "avoid"}),
        # No such tier: by the recorded action.
        ("caffeine", "dog", {"caffeine": "veterinarian"}),
        ("kola nut", "dog", {"kola": "veterinarian"}),
        ("cocoa powder", "dog", {"cocoa": "veterinarian"}),
        ("comfrey root", "dog", {"comfrey": "avoid"}),
        # An LD50 alone limits nothing.
        ("propylene glycol", "dog", {"propylene-glycol": "note"}),
        # Mild, harmless for the species, or an ordinary nutrient.
        ("sorbitol", "dog", {"sorbitol": "note"}),
        ("macadamia", "cat", {}),
        ("sucralose", "dog", {}),
        ("vitamin D3", "dog", {"vitamin-d3": "note"}),
        ("ferrous fumarate", "dog", {"iron": "note"}),
        ("salt", "dog", {"salt": "note"}),
    ],
)
def test_an_unknown_amount(reference: Reference, text: str, species: str, expected: dict[str, str]) -> None:
    assert hazards(ask(reference, text, species=species)) == expected


@pytest.mark.parametrize(
    ("name", "amount", "species", "expected"),
    [
        # Dog of 10 kg; caffeine: mild from 20 mg/kg, severe from 40 mg/kg as one of the methylxanthines.
        ("Caffeine", "199 mg", "dog", "note"),
        ("Caffeine", "200 mg", "dog", "veterinarian"),
        ("Caffeine", "399 mg", "dog", "veterinarian"),
        ("Caffeine", "400 mg", "dog", "avoid"),
        # Alpha-lipoic acid in dogs: above 50 mg/kg mild, from 100 mg/kg life-threatening.
        ("Alpha-lipoic acid", "500 mg", "dog", "note"),
        ("Alpha-lipoic acid", "501 mg", "dog", "veterinarian"),
        ("Alpha-lipoic acid", "1000 mg", "dog", "avoid"),
        # Any amount where none is harmless.
        ("Alpha-lipoic acid", "1 mg", "cat", "avoid"),
        ("Xylitol", "1 mg", "dog", "avoid"),
        # Elemental iron 20 mg/kg: 325 mg of fumarate hold 107 mg, 650 mg hold 214 mg.
        ("Ferrous fumarate", "325 mg", "dog", "note"),
        ("Ferrous fumarate", "650 mg", "dog", "veterinarian"),
        # Vitamin D3 0.1 mg/kg is 4,000 IU/kg.
        ("Vitamin D3", "39999 IU", "dog", "note"),
        ("Vitamin D3", "40000 IU", "dog", "veterinarian"),
        ("Vitamin D3", "200000 IU", "dog", "avoid"),
        # At an LD50 there is nothing left to weigh (propylene glycol 9 mL/kg is 9,324 mg/kg).
        ("Propylene glycol", "93.24 g", "dog", "avoid"),
    ],
)
def test_a_known_amount(reference: Reference, name: str, amount: str, species: str, expected: str) -> None:
    answer = ask(reference, None, product("p", (name, amount)), species=species)
    assert list(hazards(answer).values()) == [expected]


def test_amounts_below_all_tiers_are_never_called_safe(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Caffeine", "10 mg")))
    finding = of_kind(answer, "hazard")[0]
    assert "below the published thresholds in this release" in finding.effect
    assert not any("safe" in f"{f.effect} {f.action}".casefold() for f in answer.findings)


def test_amounts_count_per_day_and_over_products(reference: Reference) -> None:
    one = product("one", ("Caffeine", "60 mg"), units_per_day="2")
    other = product("other", ("Caffeine", "80 mg"))
    assert hazards(ask(reference, None, one)) == {"caffeine": "note"}
    assert hazards(ask(reference, None, one, supplements=(other,))) == {"caffeine": "veterinarian"}


def test_without_a_weight_an_amount_counts_as_unknown(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Alpha-lipoic acid", "1 mg")), kg=None)
    assert hazards(answer) == {"alpha-lipoic-acid": "avoid"}
    assert "body weight is not stated" in of_kind(answer, "hazard")[0].effect
    assert "weight_not_given" in {caution.code for caution in answer.cautions}


def test_cocoa_is_converted_with_its_content_factor(reference: Reference) -> None:
    # 28.5 mg/g: 7.1 g hold 202 mg, above 20 mg/kg for 10 kg; milk chocolate holds 2.3 mg/g.
    assert hazards(ask(reference, None, product("p", ("Cocoa powder", "7.1 g")))) == {"cocoa": "veterinarian"}
    assert hazards(ask(reference, None, product("p", ("Cocoa powder", "6.9 g")))) == {"cocoa": "note"}
    assert hazards(ask(reference, None, product("p", ("Milk chocolate", "80 g")))) == {"cocoa": "note"}


def test_caffeine_and_theobromine_add_up(reference: Reference) -> None:
    alone = ask(reference, None, product("p", ("Theobromine", "150 mg")))
    assert hazards(alone) == {"theobromine": "note"}
    both = ask(reference, None, product("p", ("Theobromine", "150 mg"), ("Caffeine", "60 mg")))
    assert hazards(both) == {"theobromine": "veterinarian", "caffeine": "veterinarian"}


def test_caffeine_of_several_plants_adds_up(reference: Reference) -> None:
    # Kola nut 2.2 %, tea leaf 4.1 %: 5 g and 2.5 g hold 110 and 102.5 mg.
    facts = (("Kola nut", "5 g"), ("Green tea leaf", "2.5 g"))
    assert hazards(ask(reference, None, product("p", facts[0])))["kola"] == "note"
    assert hazards(ask(reference, None, product("p", *facts)))["kola"] == "veterinarian"


def test_an_extract_of_a_plant_may_hold_more_than_the_plant(reference: Reference) -> None:
    plant = ask(reference, None, product("p", ("Kola nut", "100 mg")))
    extract = ask(reference, None, product("p", ("Kola nut extract", "100 mg")))
    assert hazards(plant) == {"kola": "note"}
    assert hazards(extract) == {"kola": "veterinarian"}


def test_dried_garlic_is_judged_as_fresh(reference: Reference) -> None:
    # 5 g fresh per kg; powder counts ten times (drying ratio of onion).
    below = ask(reference, None, product("p", ("Garlic powder", "4.9 g")))
    assert "garlic-dog-risk-threshold" in of_kind(below, "hazard")[0].record_ids
    reached = ask(reference, None, product("p", ("Garlic powder", "5 g")))
    assert "garlic-dog-signs-mild-1" in of_kind(reached, "hazard")[0].record_ids


@pytest.mark.parametrize(
    ("name", "amount", "level"),
    [
        # 15 mg/kg of dried garlic a day: 150 mg for 10 kg; of fresh garlic ten times as much.
        ("Dried garlic", "149 mg", "note"),
        ("Dried garlic", "150 mg", "veterinarian"),
        ("Fresh garlic", "1490 mg", "note"),
        ("Fresh garlic", "1500 mg", "veterinarian"),
    ],
)
def test_a_limit_that_marks_a_risk_is_a_threshold(reference: Reference, name: str, amount: str, level: str) -> None:
    answer = ask(reference, None, product("p", (name, amount)))
    assert hazards(answer) == {"garlic": level}
    finding = of_kind(answer, "hazard")[0]
    assert ("below the published thresholds in this release" in finding.effect) == (level == "note")
    assert ("garlic-dog-risk-threshold" in finding.record_ids) == (level == "veterinarian")


@pytest.mark.parametrize(
    ("name", "species"),
    [
        ("Ibuprofen", "dog"),
        ("Naproxen", "dog"),
        ("Paracetamol", "dog"),
        ("5-HTP", "dog"),
        ("Pseudoephedrine", "dog"),
        ("Pseudoephedrine", "cat"),
        ("Nicotine", "dog"),
        ("Aspirin", "dog"),
    ],
)
def test_a_drop_of_poison_still_needs_a_veterinarian(reference: Reference, name: str, species: str) -> None:
    answer = ask(reference, None, product("p", (name, "0.01 mg")), species=species)
    finding = of_kind(answer, "hazard")[0]
    assert finding.level == "veterinarian"
    assert finding.action == "Ask a veterinarian before giving it."
    assert answer.verdict == "ask_veterinarian"


def test_what_is_toxic_in_any_amount_is_avoided(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Aspirin", "0.01 mg")), species="cat")
    assert hazards(answer) == {"aspirin": "avoid"}


def test_only_what_is_added_up_is_told_to_be_counted(reference: Reference) -> None:
    for row in reference.hazards.values():
        for species in ("dog", "cat"):
            answer = ask(reference, None, product("p", (row.name, "1 ug")), species=species)
            for finding in of_kind(answer, "hazard"):
                hazard = reference.hazards[finding.subjects[0]]
                action = hazard.unquantified_dog if species == "dog" else hazard.unquantified_cat
                if action in ("contact_now", "avoid") or hazard.group == "drug":
                    assert finding.level in ("veterinarian", "avoid"), row.id
                    assert "Count it" not in finding.action


@pytest.mark.parametrize("species", ["dog", "cat"])
@pytest.mark.parametrize("name", ["calcifediol", "25-hydroxyvitamin D3", "calcitriol", "calcipotriene"])
def test_an_analogue_is_not_judged_as_vitamin_d3(reference: Reference, name: str, species: str) -> None:
    answer = ask(reference, None, product("p", (name, "0.001 mg")), species=species)
    assert hazards(answer) == {"vitamin-d-analogues": "avoid"}
    assert "vitamin-d" not in {total.ingredient for total in answer.totals}
    assert answer.verdict == "stop"


@pytest.mark.parametrize(
    ("medicine", "species", "level"),
    [
        ("paracetamol", "cat", "avoid"),
        ("ibuprofen", "cat", "avoid"),
        ("naproxen", "cat", "avoid"),
        ("aspirin", "cat", "avoid"),
        ("paracetamol", "dog", "veterinarian"),
        ("ibuprofen", "dog", "veterinarian"),
    ],
)
def test_a_medicine_can_be_the_hazard(reference: Reference, medicine: str, species: str, level: str) -> None:
    answer = ask(reference, "MSM", medications=(medicine,), species=species)
    found = [finding for finding in of_kind(answer, "hazard") if medicine in finding.subjects]
    assert [finding.level for finding in found] == [level]
    assert set(found[0].source_ids) <= set(reference.sources)


def test_a_salt_of_a_nutrient_is_no_hazard_as_a_medicine(reference: Reference) -> None:
    for medicine in ("potassium bromide", "insulin", "carprofen", "radioiodine"):
        assert of_kind(ask(reference, "MSM", medications=(medicine,)), "hazard") == []


def test_the_other_species_is_left_out_of_a_conflict(reference: Reference) -> None:
    dog, cat = (of_kind(ask(reference, "xylitol", species=species), "hazard")[0] for species in ("dog", "cat"))
    assert "series of 8 dogs" in (dog.limit_or_conflict or "")
    assert "series of 8 dogs" not in (cat.limit_or_conflict or "")
    assert "cats may be affected" in (cat.limit_or_conflict or "")
    assert "Dog:" not in (dog.limit_or_conflict or "")


def test_texts_of_hazards_hold_no_working_notes(reference: Reference) -> None:
    codes = {id_ for id_ in reference.sources if re.search("[0-9]", id_) and "-" in id_}
    working = re.compile(r"unit error|screen on|screening tool|design rule|do not use|moiety trap", re.IGNORECASE)
    for row in reference.hazards.values():
        for text in filter(None, (row.description, row.conflicts, row.gaps)):
            assert not working.search(text), (row.id, text)
            assert not codes & set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)+", text.casefold())), (row.id, text)


def test_kelp_is_judged_by_the_iodine_it_can_hold(reference: Reference) -> None:
    # 4.5 mg/g at most; 0.775 mg iodine per kg a day: 1.73 g for 10 kg.
    assert hazards(ask(reference, None, product("p", ("Kelp", "1.7 g")))) == {"iodine": "note"}
    assert hazards(ask(reference, None, product("p", ("Kelp", "1.8 g")))) == {"iodine": "veterinarian"}


def test_caution_means_that_no_amount_settles_it(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Green tea extract", "100 mg")))
    assert hazards(answer) == {"green-tea-extract": "veterinarian"}
    assert "No amount is known from which harm begins" in of_kind(answer, "hazard")[0].effect


def test_an_ingredient_list_below_a_stated_amount_adds_no_doubt(reference: Reference) -> None:
    stated = product("p", ("Alpha-lipoic acid", "10 mg"), other="alpha-lipoic acid, cellulose")
    assert hazards(ask(reference, None, stated)) == {"alpha-lipoic-acid": "note"}
    elsewhere = product("q", ("MSM", "10 mg"), other="alpha-lipoic acid")
    assert hazards(ask(reference, None, stated, elsewhere)) == {"alpha-lipoic-acid": "avoid"}


def test_an_amount_hidden_in_a_blend_is_unknown(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Calm blend (hops, valerian)", "100 mg")))
    assert hazards(answer)["hops"] == "avoid"


def test_stimulants_together_count_one_tier_higher(reference: Reference) -> None:
    assert hazards(ask(reference, "cocoa powder, synephrine")) == {"cocoa": "avoid", "synephrine": "avoid"}


def test_a_trace_is_noted(reference: Reference) -> None:
    answer = ask(reference, "cellulose, may contain traces of macadamia")
    assert hazards(answer) == {"macadamia": "note"}
    assert answer.verdict == "nothing_found"
    assert next(one for one in answer.recognised if one.hazard == "macadamia").trace


def test_a_negated_hazard_is_a_statement(reference: Reference) -> None:
    answer = ask(reference, "glycerin, contains no xylitol")
    assert hazards(answer) == {}
    assert [statement.negates for statement in answer.statements] == [("xylitol",)]
    assert answer.verdict == "nothing_found"


def test_a_hazard_inside_a_longer_phrase_is_found(reference: Reference) -> None:
    assert hazards(ask(reference, "glycerin, natural sweetener (birch sugar), cellulose")) == {"xylitol": "avoid"}


def test_a_near_miss_is_possible_and_unrecognised(reference: Reference) -> None:
    answer = ask(reference, "cellulose, xylitoll")
    finding = of_kind(answer, "hazard")[0]
    assert (finding.subjects, finding.level, finding.match) == (("xylitol",), "veterinarian", "possible")
    assert [one.text for one in answer.unrecognised] == ["xylitoll"]
    assert answer.verdict == "ask_veterinarian"


def test_a_near_miss_of_what_harms_only_the_other_species_is_just_unknown(reference: Reference) -> None:
    answer = ask(reference, "macadamja", species="cat")
    assert of_kind(answer, "hazard") == []
    assert answer.verdict == "incomplete"


def test_a_named_sweetener_answers_for_an_unnamed_one(reference: Reference) -> None:
    assert hazards(ask(reference, "natural sweeteners")) == {"unspecified-sweetener": "veterinarian"}
    assert hazards(ask(reference, "natural sweeteners, isomalt")) == {"isomalt": "note"}
    two = ask(reference, None, product("p", other="natural sweeteners"), product("q", other="isomalt"))
    assert hazards(two) == {"unspecified-sweetener": "veterinarian", "isomalt": "note"}


def test_a_finding_names_its_rows_sources_and_places(reference: Reference) -> None:
    finding = of_kind(ask(reference, "raisins"), "hazard")[0]
    assert finding.record_ids[0] == "grape-raisin"
    assert set(finding.source_ids) <= set(reference.sources)
    assert "raisins (ingredients_text)" in finding.effect
    assert "poison line" in finding.action


def test_a_name_that_leaves_open_what_is_meant_is_possible(reference: Reference) -> None:
    answer = ask(reference, "birch extract")
    (finding,) = of_kind(answer, "hazard")
    assert (finding.match, finding.level, finding.subjects) == ("possible", "veterinarian", ("xylitol",))
    assert "leaves open what of it is meant" in finding.effect
    assert answer.verdict == "ask_veterinarian"
