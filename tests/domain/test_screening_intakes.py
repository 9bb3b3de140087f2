"""Invented intake records of a shelter, in messy words: what each must say, and what it must not pass over.

All animals, products and amounts are invented. ``says`` holds subjects and level of findings that have to be there,
``taken`` what words for medicines, conditions and traits have to be taken as, ``open`` what has to stay not understood.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import pytest

from service.domain.screening import ScreenAnswer
from service.reference.release import Reference
from tests.domain.screening_requests import ask, product


@dataclass(frozen=True)
class Record:
    """One record with what has to come of it."""

    id: str
    asked: dict[str, Any]
    verdict: str
    says: set[tuple[str, str, str]] = field(default_factory=set)
    taken: set[str] = field(default_factory=set)
    open: tuple[str, ...] = ()
    cautions: set[str] = field(default_factory=set)


def _given(text: str | None = None, *products: Any, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - what ask takes
    return {"text": text, "products": products, **more}


JOINT = product("joint", ("Glucosamine HCl", "500 mg"), ("Chondroitin sulfate", "400 mg"), ("MSM", "250 mg"))

RECORDS = (
    Record(
        "class-word-for-a-painkiller",
        _given("white willow bark", medications=("some NSAID",), conditions=("stiff hips",)),
        "stop",
        {("willow-bark", "nsaid", "avoid")},
        {"nsaid"},
        open=("stiff hips",),
    ),
    Record(
        "willow-and-carprofen",
        _given("white willow bark", medications=("carprofen 100 mg 2x daily with food for arthritis",)),
        "stop",
        {("willow-bark", "carprofen", "avoid")},
        {"carprofen"},
    ),
    Record(
        "cat-willow",
        _given("Salix alba extract", species="cat", kg="4"),
        "stop",
        {("willow-bark", "species-cat", "avoid")},
    ),
    Record(
        "class-of-antidepressants",
        _given("5-HTP", medications=("an SSRI",)),
        "stop",
        {("five-htp", "ssri", "avoid")},
        {"ssri"},
        cautions={"medicine_not_named"},
    ),
    Record(
        "antibiotics-not-named",
        _given("calcium carbonate", medications=("antibiotics",)),
        "incomplete",
        open=("antibiotics",),
        cautions={"medicine_not_named"},
    ),
    Record(
        "two-painkillers-in-one-line",
        _given("glucosamine", medications=("meloxicam and gabapentin",)),
        "nothing_found",
        taken={"meloxicam", "gabapentin"},
        cautions={"medicines_not_compared"},
    ),
    Record(
        "brand-not-known",
        _given("glucosamine", medications=("Zorbivex 50 mg",)),
        "incomplete",
        open=("Zorbivex 50 mg",),
        cautions={"medicine_not_recognised"},
    ),
    Record(
        "stopped-is-not-given",
        _given("ginkgo", medications=("stopped warfarin last week",)),
        "incomplete",
        open=("stopped warfarin last week",),
    ),
    Record(
        "kidney-cat-with-potassium-salt",
        _given(
            None,
            product("a", ("Glucosamine sulfate 2KCl", "250 mg")),
            species="cat",
            kg="4",
            conditions=("kidneys not good", "early kidney failure"),
        ),
        "ask_veterinarian",
        {("potassium", "kidney-disease", "veterinarian")},
        {"kidney-disease"},
        open=("kidneys not good",),
    ),
    Record(
        "sodium-salt-and-heart",
        _given(None, product("a", ("Glucosamine sulphate 2NaCl", "500 mg")), conditions=("weak heart",)),
        "stop",
        {("sodium", "heart-failure", "avoid")},
        {"heart-failure"},
    ),
    Record(
        "vitamin-that-is-a-sodium-salt",
        _given(None, product("a", ("Vitamin C (as sodium ascorbate)", "500 mg")), conditions=("heart problem",)),
        "stop",
        {("sodium", "heart-failure", "avoid")},
    ),
    Record(
        "trace-element-salts-in-a-kidney-patient",
        _given(
            None,
            product("a", ("Potassium iodide", "0.1 mg"), ("Selenium (as sodium selenite)", "20 mcg")),
            conditions=("CKD",),
        ),
        "nothing_found",
    ),
    Record(
        "bromide-and-salt",
        _given("salt, glucosamine HCl", medications=("KBr 500mg",), conditions=("fits",)),
        "ask_veterinarian",
        {("sodium-chloride", "potassium-bromide", "veterinarian"), ("glucosamine", "potassium-bromide", "note")},
        {"potassium-bromide", "epilepsy"},
    ),
    Record(
        "thyroid-cat-with-kelp",
        _given("kelp", species="cat", kg="4", medications=("methimazole 2.5mg gel",), conditions=("thyroid problem",)),
        "stop",
        {("kelp", "hyperthyroidism", "avoid"), ("kelp", "methimazole", "avoid")},
        {"hyperthyroidism", "methimazole"},
    ),
    Record(
        "thyroid-dog-with-iron",
        _given("ferrous fumarate", medications=("L-thyroxine 0.3mg twice a day",), conditions=("thyroid problem",)),
        "nothing_found",
        {("iron", "levothyroxine", "watch")},
        {"hypothyroidism", "levothyroxine"},
    ),
    Record(
        "collie-cross-with-ivermectin",
        _given("quercetin", medications=("ivermectin",), traits=("Collie cross",)),
        "nothing_found",
        {("quercetin", "mdr1-mutation", "watch")},
        {"mdr1-mutation", "ivermectin"},
        cautions={"breed_is_no_test", "medicine_handled_differently"},
    ),
    Record(
        "greyhound-before-a-dental",
        _given(
            "fish oil, ginkgo",
            medications=("propofol",),
            conditions=("dental on Friday",),
            traits=("retired greyhound",),
        ),
        "ask_veterinarian",
        {("ginkgo", "planned-surgery", "veterinarian"), ("fish-oil", "sighthound", "note")},
        {"planned-surgery", "sighthound"},
        cautions={"medicine_handled_differently"},
    ),
    Record(
        "herbs-in-whelp",
        _given("devil's claw, alfalfa", conditions=("in whelp",)),
        "stop",
        {("devils-claw", "pregnancy", "avoid"), ("alfalfa", "pregnancy", "veterinarian")},
        {"pregnancy"},
    ),
    Record(
        "nursing-bitch-and-calcium",
        _given("calcium citrate", conditions=("nursing a litter of 6",)),
        "ask_veterinarian",
        {("calcium", "lactation", "veterinarian")},
        {"lactation"},
    ),
    Record(
        "puppy-by-age-in-words",
        _given("eggshell powder", conditions=("12 weeks old",)),
        "stop",
        {("calcium", "growth", "avoid")},
        {"growth"},
    ),
    Record(
        "stones-not-named",
        _given("vitamin C, DL-methionine", conditions=("bladder stones",)),
        "stop",
        {("vitamin-c", "calcium-oxalate-stones", "avoid"), ("methionine", "cystine-stones", "avoid")},
        {"calcium-oxalate-stones", "struvite-stones", "cystine-stones"},
        cautions={"taken_as_several"},
    ),
    Record(
        "oil-for-a-fat-dog-with-a-bad-pancreas",
        _given("salmon oil", conditions=("overweight", "bad pancreas")),
        "ask_veterinarian",
        {("fish-oil", "pancreatitis", "veterinarian"), ("fish-oil", "obesity", "watch")},
        {"obesity", "pancreatitis"},
    ),
    Record(
        "live-germs-and-steroids",
        _given(
            "Saccharomyces boulardii",
            medications=("pred tabs", "prednisolone 5mg eod"),
            conditions=("low white cells",),
        ),
        "stop",
        {("s-boulardii", "immunosuppressed", "avoid")},
        {"prednisolone", "immunosuppressed"},
        open=("pred tabs",),
    ),
    Record(
        "charcoal-and-seizure-tablets",
        _given("activated charcoal", medications=("phenobarbitone 30 mg bid",)),
        "stop",
        {("activated-charcoal", "phenobarbital", "avoid")},
        {"phenobarbital"},
    ),
    Record(
        "cannabidiol-and-liver",
        _given("CBD oil", medications=("phenobarb", "KBr"), conditions=("fits", "bad liver")),
        "ask_veterinarian",
        {("cannabidiol", "liver-disease", "veterinarian"), ("cannabidiol", "phenobarbital", "note")},
        {"phenobarbital", "potassium-bromide", "liver-disease", "epilepsy"},
    ),
    Record(
        "helpful-is-shown-as-helpful",
        _given("milk thistle", conditions=("liver trouble",)),
        "nothing_found",
        {("milk-thistle", "liver-disease", "note")},
    ),
    Record(
        "garlic-for-an-anaemic-cat",
        _given("garlic powder", species="cat", kg="3", conditions=("anaemic",)),
        "stop",
        {("garlic", "anaemia", "avoid"), ("garlic", "species-cat", "avoid")},
    ),
    Record(
        "allergies-in-one-line",
        _given("green-lipped mussel, collagen", conditions=("itchy skin/allergy to fish and shellfish",)),
        "stop",
        {("green-lipped-mussel", "shellfish-allergy", "avoid"), ("collagen", "fish-allergy", "avoid")},
        {"atopic-dermatitis", "fish-allergy", "shellfish-allergy"},
    ),
    Record(
        "german-record",
        _given(
            "Teufelskralle, MSM", medications=("Carprofen 50mg 1x t\u00e4glich",), conditions=("Magengeschw\u00fcr",)
        ),
        "stop",
        {("devils-claw", "gi-ulcer", "avoid"), ("devils-claw", "carprofen", "veterinarian")},
        {"carprofen", "gi-ulcer"},
    ),
    Record(
        "french-record",
        _given(
            "griffe du diable",
            medications=("acide ac\u00e9tylsalicylique 100 mg",),
            conditions=("insuffisance cardiaque",),
        ),
        "ask_veterinarian",
        {("devils-claw", "aspirin", "veterinarian")},
        {"aspirin", "heart-failure"},
    ),
    Record(
        "spanish-record",
        _given("c\u00farcuma", medications=("warfarina", "fenobarbital"), conditions=("epilepsia", "h\u00edgado")),
        "ask_veterinarian",
        {("turmeric", "warfarin", "veterinarian"), ("turmeric", "liver-disease", "veterinarian")},
        {"warfarin", "phenobarbital", "epilepsy", "liver-disease"},
    ),
    Record(
        "minerals-and-antibiotics",
        _given("magnesium citrate, zinc", medications=("doxycycline hyclate 100 mg", "enrofloxacin")),
        "nothing_found",
        {("magnesium", "doxycycline", "watch"), ("zinc", "enrofloxacin", "watch")},
    ),
    Record(
        "two-joint-products",
        _given(None, JOINT, supplements=(product("more", ("Glucosamine sulfate 2KCl", "500 mg")),)),
        "nothing_found",
        {("glucosamine", "glucosamine", "watch")},
    ),
    Record(
        "two-oils",
        _given(None, product("a", ("Fish oil", "1000 mg")), supplements=(product("b", ("Krill oil", "500 mg")),)),
        "nothing_found",
        {("fish-oil", "krill-oil", "watch")},
        cautions={"limit_not_tested"},
    ),
    Record(
        "childs-vitamin-drops-for-a-small-dog",
        _given(None, product("a", ("Vitamin D3", "1000 IU"), unit="drop"), kg="5"),
        "ask_veterinarian",
        {("vitamin-d", "", "veterinarian")},
    ),
    Record(
        "zinc-past-a-whole-days-food",
        _given(None, product("a", ("Zinc gluconate", "200 mg"), ("Zinc oxide", "50 mg")), kg="4"),
        "ask_veterinarian",
        {("zinc", "", "veterinarian")},
    ),
    Record(
        "oil-whose-vitamin-stands-in-brackets",
        _given(None, product("a", ("Cod liver oil (providing vitamin D 1000 IU)", "1000 mg")), kg="3"),
        "ask_veterinarian",
        {("vitamin-d", "", "veterinarian")},
    ),
    Record(
        "liver-shunt-and-manganese",
        _given(None, product("a", ("Manganese ascorbate", "76 mg")), conditions=("liver shunt",)),
        "ask_veterinarian",
        {("manganese", "portosystemic-shunt", "veterinarian")},
    ),
    Record(
        "herding-dog-but-no-cat",
        _given("curcumin", species="cat", kg="4", traits=("Collie",)),
        "incomplete",
        open=("Collie",),
    ),
    Record(
        "nothing-to-say",
        _given("MSM", medications=("none at present",), conditions=("neutered male", "5 years old", "healthy")),
        "nothing_found",
    ),
    Record("denied-is-not-had", _given("ginkgo", conditions=("no fits", "not pregnant")), "nothing_found"),
    Record(
        "surgery-is-over",
        _given("ginkgo", conditions=("surgery last year",)),
        "incomplete",
        open=("surgery last year",),
    ),
    Record(
        "heartworm-is-no-heart-disease",
        _given("salt", conditions=("heartworm",)),
        "incomplete",
        open=("heartworm",),
    ),
    Record(
        "painkiller-and-kidneys",
        _given("glucosamine", medications=("meloxicam",), conditions=("kidney failure",)),
        "nothing_found",
        cautions={"medicines_not_compared_with_conditions"},
    ),
    Record(
        "blend-with-a-blood-thinner",
        _given(
            None, product("a", ("Joint blend (glucosamine HCl, MSM, turmeric)", "2000 mg")), medications=("warfarin",)
        ),
        "ask_veterinarian",
        {("turmeric", "warfarin", "veterinarian"), ("glucosamine", "warfarin", "veterinarian")},
    ),
    Record(
        "three-serotonin-raisers",
        _given("St John's wort, SAMe", medications=("tramadol HCl 50 mg", "selegiline")),
        "stop",
        {("st-johns-wort", "tramadol", "avoid"), ("s-adenosylmethionine", "selegiline", "watch")},
        {"tramadol", "selegiline"},
    ),
    Record(
        "diabetic-cat",
        _given(
            "omega-3",
            species="cat",
            kg="5",
            medications=("insulin glargine 1 unit bid",),
            conditions=("sugar diabetes",),
        ),
        "nothing_found",
        {("epa-dha", "insulin", "watch"), ("epa-dha", "diabetes-mellitus", "watch")},
        {"insulin", "diabetes-mellitus"},
    ),
)


def _screen(reference: Reference, record: Record) -> ScreenAnswer:
    asked = dict(record.asked)
    return ask(reference, asked.pop("text"), *asked.pop("products"), **asked)


def _says(answer: ScreenAnswer) -> set[tuple[str, str, str]]:
    found = set()
    for finding in answer.findings:
        first, *others = finding.subjects
        found |= {(first, other, finding.level) for other in others or [""]}
    return found


def test_there_are_enough_of_them() -> None:
    assert len(RECORDS) >= 40
    assert len({record.id for record in RECORDS}) == len(RECORDS)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
def test_the_verdict(reference: Reference, record: Record) -> None:
    assert _screen(reference, record).verdict == record.verdict


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
def test_what_it_says(reference: Reference, record: Record) -> None:
    answer = _screen(reference, record)
    assert record.says <= _says(answer)
    assert record.cautions <= {caution.code for caution in answer.cautions}


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
def test_what_words_were_taken_as(reference: Reference, record: Record) -> None:
    answer = _screen(reference, record)
    assert record.taken <= {one.id for one in answer.taken_as}
    assert [one.text for one in answer.unrecognised] == list(record.open)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
def test_evidence_is_always_visible(reference: Reference, record: Record) -> None:
    answer = _screen(reference, record)
    for finding in answer.findings:
        if finding.kind in ("interaction", "condition", "duplicate", "over_limit"):
            assert finding.evidence, finding
    assert all(one.evidence for one in answer.overruled)
