"""What the guides on how it works ask: one dog, one amount, one purchase, followed from beginning to end."""

from __future__ import annotations

from typing import Any

from service.demo import animal, animal_body, care_note_body, compare_body, product, scenario, screen_body
from service.pages.amounts import rule_sentence
from service.pages.docs import words
from service.pages.wording import EVIDENCE_MEANING, ORIGIN_MEANING
from service.web.envelope import Envelope
from service.web.site.docs.asking import Exchange, get, post

# A weight that is not the one of the rule, so that the scaling shows.
_DOG = "sorrel"
_TABLET, _LARGE_PACK = "invented-tablet", "invented-tablet-large"
_SCREENED = (
    ("stop", "bramble", "invented-chew"),
    ("ask_veterinarian", "bramble", "invented-powder"),
    ("nothing_found", "bramble", "invented-tablet"),
)
_TARGETS = ("glucosamine", "chondroitin-sulfate", "epa-dha")
_ON_THE_SHELF = (
    "invented-tablet",
    "invented-complete",
    "invented-liquid",
    "invented-fish-oil",
    "invented-chew",
    "invented-powder",
)
_YEARS = 2
_PRICE_CHANGE = 0.03


def amounts(release: Envelope) -> dict[str, Any]:
    """Follow one amount from what was published to what it costs."""
    ingredient, tablet = scenario()["ingredient"], product(_TABLET)
    dose = get("/v1/dose", {**animal_body(animal(_DOG)), "ingredient": ingredient})
    known = get(f"/v1/ingredients/{ingredient}").members
    phase = dose.members["phases"][-1]
    compared = post("/v1/compare", compare_body(animal(_DOG), [tablet], ingredient))
    return {
        "animal": animal(_DOG),
        "product": tablet,
        "dose": dose,
        "phase": phase,
        "regimens": [one for one in known["regimens"] if one["id"] in phase["regimen_ids"]],
        "guidance": next(one for one in known["guidance"] if one["id"] == phase["guidance_id"]),
        "rule": rule_sentence(phase["rule"], phase["basis"]),
        "form": get(f"/v1/forms/{dose.members['form']}").members,
        "normalised": post("/v1/normalise", {"product": tablet}).members,
        "compared": compared,
        "row": compared.members["rows"][0],
        "target": compared.members["targets"][0],
        "sources": {one["id"]: one for one in dose.members["sources"]},
        "version": release.reference.stamp.version,
    }


def origin_and_evidence(release: Envelope) -> dict[str, Any]:
    """Show how one ingredient is known."""
    ingredient = scenario()["ingredient"]
    known = get(f"/v1/ingredients/{ingredient}").members
    return {
        "origins": ORIGIN_MEANING,
        "verdicts": EVIDENCE_MEANING,
        "known": known,
        "counts": _counts(release, "origin"),
        "dose": get("/v1/dose", {**animal_body(animal("bramble")), "ingredient": ingredient}),
    }


def verdicts(_: Envelope) -> dict[str, Any]:
    """Bring about each verdict."""
    found = {verdict: _screened(animal_id, product_id) for verdict, animal_id, product_id in _SCREENED}
    unknown = {"species": "dog", "weight": "18 kg", "ingredients_text": "glucosamine HCl, powdered thistlewort"}
    found["incomplete"] = get("/v1/screen", unknown)
    eaten = {"species": "dog", "weight": "10 kg", "substance": "milk chocolate", "amount": "100 g"}
    return {
        "meanings": words.VERDICTS,
        "levels": words.LEVELS,
        "kinds": words.KINDS,
        "tiers": words.TIERS,
        "not_assessed": words.NOT_ASSESSED,
        "matches": words.MATCHES,
        "screens": found,
        "eaten": get("/v1/exposure", eaten),
    }


def plans(_: Envelope) -> dict[str, Any]:
    """Plan one course with a small and with a large pack."""
    dog = animal("bramble")
    body = {
        "animal": animal_body(dog),
        "start_date": scenario()["course"]["start_date"],
        "horizon_years": _YEARS,
        "price_change_per_year": _PRICE_CHANGE,
        "ingredient": scenario()["ingredient"],
        "products": [product(_LARGE_PACK), product(_TABLET)],
    }
    plan = post("/v1/plan", body)
    courses = {one["product_id"]: one for one in plan.members["alternatives"]}
    return {
        "animal": dog,
        "plan": plan,
        "courses": courses,
        "course": courses[_TABLET],
        "product": product(_TABLET),
        "pair": plan.members["saving"]["pairs"][0],
        "small": courses[_TABLET],
        "large": courses[_LARGE_PACK],
        "change": _PRICE_CHANGE,
        "years": _YEARS,
        "calendar": post("/v1/plan.ics", body),
    }


def combinations(release: Envelope) -> dict[str, Any]:
    """Search the cheapest sets for three targets, and once with too few products allowed."""
    dog = animal("bramble")
    body = {
        "animal": animal_body(dog),
        "targets": [{"ingredient": ingredient} for ingredient in _TARGETS],
        "products": [product(product_id) for product_id in _ON_THE_SHELF],
        "medications": dog["medications"],
        "conditions": dog["conditions"],
    }
    return {
        "animal": dog,
        "found": post("/v1/combine", body),
        "blocked": post("/v1/combine", {**body, "most_products": 1}),
        "products": body["products"],
        "names": {id_: release.reference.ingredients[id_].name for id_ in _TARGETS},
        "statuses": words.STATUSES,
        "blocks": words.BLOCKS,
        "reasons": words.LEFT_OUT,
    }


def care_note(_: Envelope) -> dict[str, Any]:
    """Write the invented shelter's note."""
    body = care_note_body()
    return {"note": post("/v1/care-note", body), "text": post("/v1/care-note.txt", body)}


def _screened(animal_id: str, product_id: str) -> Exchange:
    return post("/v1/screen", screen_body(animal(animal_id), product(product_id)))


def _counts(release: Envelope, column: str) -> dict[str, int]:
    """Count the published amounts of the release by one column."""
    found: dict[str, int] = {}
    for row in release.reference.tables["regimens"]:
        found[getattr(row, column)] = found.get(getattr(row, column), 0) + 1
    return found
