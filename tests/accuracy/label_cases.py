"""Compares the reading of invented label strings with the reading that the rules of the field give.

``tests/data/label_cases.csv`` holds one string a row with its reading as JSON: amounts at 0.1 % tolerance, molar masses
by two outside packages, bounds of blends by an outside linear programme. Names there are words, not ids.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from service.domain.labels.answer import Blend, Fact, LabelAnswer
from service.domain.labels.assembling import read_label
from service.reference.release import Reference

CASES = Path(__file__).parent.parent / "data" / "label_cases.csv"
TOLERANCE = 0.001
Expected = dict[str, Any]

# Units and forms are ids here and abbreviations in the cases.
_UNITS = {
    "mg": "milligram",
    "g": "gram",
    "mcg": "microgram",
    "IU": "international-unit",
    "%": "percent",
    "ppm": "part-per-million",
    "mg/kg": "milligram-per-kilogram", "IU/lb": "international-unit-per-pound", "CFU": "colony-forming-unit",
    "mcg RAE": "retinol-activity-equivalent",
    "soft chew": "chew",
    "treat": "chew",
    "mg/ml": "milligram-per-millilitre",
    "IU/kg": "international-unit-per-kilogram", "g/kg": "gram-per-kilogram", "mg/lb": "milligram-per-pound",
}  # fmt: skip
_FORMS = {
    "glucosamine_hcl": "glucosamine-hydrochloride", "glucosamine_sulfate_2kcl": "glucosamine-sulfate-2kcl",
    "glucosamine_sulfate_2nacl": "glucosamine-sulfate-2nacl", "nag": "n-acetylglucosamine", "msm": "msm",
    "same_tosylate_disulfate": "same-tosylate-disulfate", "vitd3": "cholecalciferol", "epa_ee": "epa-ethyl-ester",
    "dha_ee": "dha-ethyl-ester",
    "vitc_ascorbic_acid": "ascorbic-acid",
    "vitc_sodium_ascorbate": "sodium-ascorbate",
    "mn_ascorbate": "manganese-ascorbate",
}  # fmt: skip
# What a flag of the cases is called here. A trap is only passed when the reader says that it saw it.
FLAGS = {
    "stabiliser_unstated": "stabiliser_not_stated", "salt_or_base_ambiguous": "salt_or_base_ambiguous",
    "mixed_salts_split_unknown": "mixed_salts_split_unknown",
    "unit_missing": "unit_missing",
    "no_serving_mass": "no_serving_mass",
    "hydration_unstated": "hydration_not_stated",
    "no_fixed_formula": "no_fixed_formula",
    "label_inconsistent": "label_inconsistent",
    "two_vitamin_e_bases": "two_vitamin_e_bases",
    "activity_unit": "activity_unit",
    "ester_or_acid_ambiguous": "ester_or_acid_ambiguous",
    "separator_ambiguous": "separator_ambiguous",
    "household_measure": "household_measure",
    "mass_unknown": "mass_unknown",
    "amounts_undisclosed": "amounts_undisclosed",
    "partly_disclosed": "partly_disclosed",
    "descending_order": "descending_order",
    "no_iu_for_substance": "no_iu_factor",
    "promo_inside_count": "promo_inside_count",
    "not_an_ingredient": "not_an_ingredient",
    "amount_in_footnote": "amount_in_footnote",
    "salt_unstated": "form_not_stated",
    "symbol_ambiguous": "currency_sign_shared",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Verdict:
    """How one string was read. ``wrong`` lists what differs; ``flagged`` says that the reader warned of something."""

    case_id: str
    category: str
    text: str
    wrong: tuple[str, ...]
    flagged: bool


def cases(path: Path = CASES) -> list[dict[str, str]]:
    """Read the cases."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def judge(reference: Reference, case: dict[str, str]) -> Verdict:
    """Read one string and compare."""
    answer = read_label(reference, case["text"])
    expected = json.loads(case["expected_json"])
    wrong = tuple(_differences(expected, answer))
    return Verdict(case["id"], case["category"], case["text"], wrong, bool(answer.flags or answer.unread))


def _differences(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    yield from _flags(expected, answer)
    for key, check in _CHECKS.items():
        if expected.get(key):
            yield from check(expected, answer)
    if expected["kind"] == "price":
        yield from _differ("price", float(expected["price"]["amount"]), answer.price and answer.price.amount)
        yield from _differ("currency", expected["price"]["currency"], answer.price and answer.price.currency)
    if expected["kind"] == "footnote":
        found = [one.meaning for one in answer.statements if one.kind == "footnote"]
        if expected["meaning"] not in found:
            yield f"footnote: {expected['meaning']} not in {found}"
    if expected["kind"] == "product_type":
        yield from _differ("type", expected["type"], answer.product_type)
    if expected["kind"] == "calories":
        for name in ("kcal_per_kg", "kcal_per_unit"):
            yield from _differ(name, expected.get(name), answer.energy and getattr(answer.energy, name))


def _flags(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    wanted = [flag for flag in expected.get("flags", []) if flag in FLAGS]
    wanted += [flag for item in expected.get("items", []) for flag in item.get("flags", []) if flag in FLAGS]
    for flag in wanted:
        if FLAGS[flag] not in answer.flags:
            yield f"flag {FLAGS[flag]} is missing"


def _differ(what: str, expected: object, found: object) -> Iterator[str]:
    if isinstance(expected, int | float) and isinstance(found, Decimal | int | float):
        if abs(float(found) - expected) > TOLERANCE * max(abs(expected), 1e-9):
            yield f"{what}: {found} instead of {expected}"
    elif expected is not None and expected != found:
        yield f"{what}: {found!r} instead of {expected!r}"


def _serving(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    wanted, found = expected["serving"], answer.serving
    if found is None:
        yield "no serving"
        return
    yield from _differ("serving.units", wanted.get("count"), found.units)
    yield from _differ("serving.unit", _unit(wanted.get("unit")), found.unit)
    yield from _differ("serving.mass_g", wanted.get("mass_g"), found.mass_g)
    yield from _differ("serving.volume_ml", wanted.get("volume_ml"), found.volume_ml)
    yield from _differ("serving.per_day", wanted.get("per_day"), found.per_day)


def _unit(word: str | None) -> str | None:
    return _UNITS.get(word, word) if word else None


def _container(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    wanted, found = expected["container"], answer.container
    if found is None:
        yield "no container"
        return
    for theirs, ours in (
        ("count", "unit_count"),
        ("servings", "servings"),
        ("unit_mass_g", "unit_mass_g"),
        ("net_g", "net_g"),
        ("net_ml", "net_ml"),
        ("packs", "packs"),
    ):
        yield from _differ(f"container.{ours}", wanted.get(theirs), getattr(found, ours))
    yield from _differ("container.unit", _unit(wanted.get("unit")), found.unit)


def _every_fact(answer: LabelAnswer) -> list[Fact]:
    return [one for fact in answer.facts for one in (fact, *fact.constituents)]


def _items(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    if expected["kind"] in ("ingredient", "ingredient_list"):
        found = [one.text.casefold() for one in answer.other_ingredients]
        for item in expected["items"]:
            if not any(item["name"].casefold() in text for text in found):
                yield f"{item['name']} is not among {found}"
        return
    if expected["kind"] == "claim":
        values = [one.value for one in answer.statements if one.kind == "claim"]
        yield from _differ("claim", expected["items"][0]["mg"], values[0] if values else None)
        return
    facts = _every_fact(answer) if any("parent" in item for item in expected["items"]) else list(answer.facts)
    if len(facts) != len(expected["items"]):
        yield f"{len(facts)} facts instead of {len(expected['items'])}: {[fact.name for fact in facts]}"
        return
    for item, fact in zip(expected["items"], facts, strict=True):
        yield from _item(item, fact)


def _item(item: Expected, fact: Fact) -> Iterator[str]:
    name = item["name"]
    yield from _differ(f"{name}.value", item.get("value"), fact.value)
    if item.get("unit") and item["unit"] in _UNITS and fact.unit is not None:
        yield from _differ(
            f"{name}.unit",
            _UNITS[item["unit"]],
            fact.unit.replace("-per-gram", "") if item["unit"] == "CFU" else fact.unit,
        )
    per_kg = fact.mg_per_kg is not None
    mg = item.get("mg_per_kg") or (item.get("mg") if item.get("unit") not in ("mg/kg", "mcg RAE") else None)
    yield from _differ(f"{name}.mg", mg, fact.mg_per_kg if per_kg else fact.mg)
    yield from _differ(f"{name}.bound", item.get("bound"), fact.bound)
    if item.get("form_id") in _FORMS:
        yield from _differ(f"{name}.form", _FORMS[item["form_id"]], fact.form)
    if not per_kg:
        if not _is_open_hydration(item, fact):
            yield from _differ(
                f"{name}.moiety_mg",
                item.get("moiety_mg"),
                fact.moiety_mg if item.get("stereo") != "dl" else fact.moiety_low_mg,
            )
        yield from _differ(f"{name}.moiety_low", item.get("moiety_mg_low"), fact.moiety_low_mg)
        yield from _differ(f"{name}.moiety_high", item.get("moiety_mg_high"), fact.moiety_high_mg)
    yield from _differ(f"{name}.low", item.get("low"), fact.value_low)
    yield from _differ(f"{name}.high", item.get("high"), fact.value_high)
    for told in ("herb_equivalent_mg", "fresh_equivalent_mg"):
        if item.get(told) is not None and item[told] not in [float(one.mg) for one in fact.second_figures if one.mg]:
            yield f"{name}.{told}: not among the second figures"
    for part in item.get("constituents") or []:
        yield from _part(name, part, fact)


def _is_open_hydration(item: Expected, fact: Fact) -> bool:
    """Accept one expected amount between two readings, where the reader says that the label leaves the water open."""
    wanted, low, high = item.get("moiety_mg"), fact.moiety_low_mg, fact.moiety_high_mg
    if wanted is None or low is None or high is None or "hydration_not_stated" not in fact.flags:
        return False
    return bool(float(low) * (1 - TOLERANCE) <= wanted <= float(high) * (1 + TOLERANCE))


def _part(name: str, part: Expected, fact: Fact) -> Iterator[str]:
    found = [
        one
        for one in fact.constituents
        if part["name"].split()[0].casefold()[:4] in one.name.casefold() or len(fact.constituents) == 1
    ]
    if not found:
        yield f"{name}: constituent {part['name']} is missing"
        return
    if part.get("mg") is not None and not any(not tuple(_differ("", part["mg"], one.mg)) for one in found):
        yield f"{name}: {part['name']} {[one.mg for one in found]} instead of {part['mg']} mg"


def _blend(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    if not answer.blends:
        yield "no blend"
        return
    wanted, found = expected["blend"], answer.blends[0]
    yield from _differ("blend.mg", wanted.get("mg"), found.mg)
    yield from _members(wanted["members"], found)


def _members(wanted: list[Expected], found: Blend) -> Iterator[str]:
    if len(wanted) != len(found.members):
        yield f"{len(found.members)} members instead of {len(wanted)}: {[one.name for one in found.members]}"
        return
    for member, one in zip(wanted, found.members, strict=True):
        yield from _differ(f"{member['name']}.mg", member.get("mg"), one.mg)
        yield from _differ(f"{member['name']}.mg_low", member.get("mg_low"), one.mg_low)
        yield from _differ(f"{member['name']}.mg_high", member.get("mg_high"), one.mg_high)


def _allergens(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    found = {one.allergen for one in answer.allergens}
    for allergen in expected["allergens"]:
        if allergen not in found:
            yield f"allergen {allergen} is not among {found}"


def _hazards(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    found = {one.hazard for one in answer.hazards}
    for hazard in expected["hazards"]:
        if not any(hazard.split("_")[0][:6] in one for one in found) and not (
            hazard == "methylxanthines" and "cocoa" in found
        ):
            yield f"hazard {hazard} is not among {found}"


def _bands(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    found = [band for one in answer.directions for band in one.bands]
    for band in expected["bands"]:
        edges = (band.get("kg_min"), band.get("kg_max"))
        if not any(
            not tuple(_differ("", edges[0], one.from_kg))
            and (edges[1] is None or not tuple(_differ("", edges[1], one.to_kg)))
            for one in found
        ):
            yield f"band {edges} is not among {[(one.from_kg, one.to_kg) for one in found]}"


def _body_mass(expected: Expected, answer: LabelAnswer) -> Iterator[str]:
    wanted = expected["body_mass_kg"]
    found = [band for one in answer.directions for band in one.bands]
    low = wanted.get("min", wanted.get("min_exclusive"))
    if not any(
        not tuple(_differ("", low, band.from_kg))
        and (wanted.get("max") is None or not tuple(_differ("", wanted["max"], band.to_kg)))
        for band in found
    ):
        yield f"body weight {wanted} is not among {[(one.from_kg, one.to_kg) for one in found]}"


_CHECKS = {
    "serving": _serving, "container": _container, "items": _items, "blend": _blend, "allergens": _allergens,
    "hazards": _hazards, "bands": _bands, "body_mass_kg": _body_mass,
}  # fmt: skip


def report(reference: Reference, path: Path = CASES) -> str:
    """Say how many strings were read right, and name those that were not."""
    verdicts = [judge(reference, case) for case in cases(path)]
    wrong = [one for one in verdicts if one.wrong]
    silent = [one for one in wrong if not one.flagged]
    lines = [
        f"label strings read right: {len(verdicts) - len(wrong)} of {len(verdicts)}, "
        f"wrong without a flag: {len(silent)}"
    ]
    lines += [f"  {one.case_id} {one.text[:70]!r}: {'; '.join(one.wrong)}" for one in wrong]
    return "\n".join(lines)
