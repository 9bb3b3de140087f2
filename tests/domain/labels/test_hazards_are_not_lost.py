"""A hazard that the label names anywhere reaches the screen; one that it denies does not. All labels are invented."""

from __future__ import annotations

import pytest

from service.domain.common import Animal
from service.domain.labels.answer import LabelAnswer
from service.domain.labels.assembling import read_label
from service.domain.products import LabelFact, Product
from service.domain.screening import screen
from service.domain.screening_answers import ScreenRequest
from service.reference.release import Reference


def _product(answer: LabelAnswer) -> Product:
    given = answer.product
    facts = tuple(LabelFact(fact.name, fact.amount) for fact in given.facts)
    return Product(id="p", unit=given.unit, facts=facts, other_ingredients=given.other_ingredients)


def _screened(reference: Reference, text: str) -> tuple[str, set[str]]:
    """Read a label, screen its product for a dog, and give the verdict and the hazards found."""
    wanted = ScreenRequest(animal=Animal("dog"), products=(_product(read_label(reference, text)),))
    answer = screen(reference, wanted)
    return answer.verdict, {subject for one in answer.findings if one.kind == "hazard" for subject in one.subjects}


@pytest.mark.parametrize(
    ("line", "hazard"),
    [
        ("* Sweetened with xylitol", "xylitol"),
        ("Warning: contains xylitol.", "xylitol"),
        ("Lot 12345 contains xylitol", "xylitol"),
        ("Directions: give 1 chew daily.\nSweetened with xylitol.", "xylitol"),
        ("Xylitol 2 g ± 10%", "xylitol"),
        ("The filling contains xylitol (2 g).", "xylitol"),
        ("Sweet coating with xylitol 500 mg", "xylitol"),
        ("Our chew contains garlic 50 mg.", "garlic"),
        ("Sweetening blend 50 mg (stevia, xylitol)", "xylitol"),
        ("Other ingredients: cellulose, birch\nsugar", "xylitol"),
        ("Inactive ingredients: xylotol, cellulose", "xylitol"),
        ("Peanut butter flavor [peanuts, sweetener (birch xylitol)]", "xylitol"),
        ("No added sugar - sweetened with birch sugar", "xylitol"),
        ("Ohne Zuckerzusatz, mit Xylit", "xylitol"),
        ("Sin gluten. Contiene uvas pasas.", "grape-raisin"),
        ("Not free from xylitol", "xylitol"),
    ],
)
def test_a_hazard_reaches_the_screen(reference: Reference, line: str, hazard: str) -> None:
    verdict, hazards = _screened(reference, f"MSM 500 mg\n{line}")
    assert hazard in hazards
    assert verdict != "nothing_found"


@pytest.mark.parametrize(
    "line", ["Made in a facility that also processes xylitol", "May contain xylitol", "Kann Spuren von Xylit enthalten"]
)
def test_a_hazard_that_may_be_inside_is_noted(reference: Reference, line: str) -> None:
    product = _product(read_label(reference, f"MSM 500 mg\n{line}"))
    answer = screen(reference, ScreenRequest(animal=Animal("dog"), products=(product,)))
    (noted,) = (one for one in answer.findings if one.kind == "hazard")
    assert (noted.subjects, noted.level) == (("xylitol",), "note")


@pytest.mark.parametrize(
    "line",
    [
        *("Free from wheat, corn, soy and xylitol.", "Xylitol free? Yes.", "Zero xylitol", "No xylitol, no chocolate"),
        *("Does not contain: xylitol; chocolate; garlic", "Frei von Xylit und Schokolade", "Sans xylitol"),
        *("For dogs over 12 weeks", "The coating is natural", "Carob instead of chocolate"),
        "Contains no chocolate, no raisins, and no artificial flavors",
    ],
)
def test_what_is_denied_or_merely_said_is_no_hazard(reference: Reference, line: str) -> None:
    _verdict, hazards = _screened(reference, f"MSM 500 mg\n{line}")
    assert hazards == set()
