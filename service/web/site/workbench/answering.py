"""What the domain says of a workbench: comparison, screens, course. Each part stands even where another cannot."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from service.domain.common import Animal
from service.domain.compare_answer import CompareAnswer
from service.domain.comparing import CompareRequest, compare
from service.domain.course.answer import PlanAnswer
from service.domain.course.planning import plan
from service.domain.course.request import Pack, PlanRequest
from service.domain.errors import DomainError, InvalidInput, NoGuidance
from service.domain.normalising import NormaliseAnswer, normalise
from service.domain.products import Product
from service.domain.screening import screen
from service.domain.screening_answers import ScreenAnswer, ScreenRequest
from service.domain.targets import Target
from service.reference.release import Reference
from service.web.site.workbench.reading import Reading, ReadLabel, faults

# The course of ten products side by side is what POST /v1/plan takes.
_MOST_COURSES = 10


@dataclass(frozen=True, slots=True)
class Bench:
    """Everything that could be answered. ``no_guidance`` says why there is no comparison where none is published."""

    reading: Reading
    ingredients: tuple[str, ...]
    chosen_by_label: bool
    contents: dict[int, NormaliseAnswer]
    comparison: CompareAnswer | None
    screens: dict[int, ScreenAnswer]
    course: PlanAnswer | None
    no_guidance: str
    errors: dict[str, str]

    @property
    def source_ids(self) -> tuple[str, ...]:
        """Ids of all sources, each once."""
        answers = (self.comparison, self.course, *self.screens.values(), *self.contents.values())
        return tuple(dict.fromkeys(id_ for answer in answers if answer is not None for id_ in answer.source_ids))


def answer(reference: Reference, reading: Reading) -> Bench:
    """Answer a workbench.

    Parameters
    ----------
    reference
        The release to answer from.
    reading
        What was typed, read.

    Returns
    -------
    Bench
        With the faults of the domain as errors of fields.
    """
    errors = dict(reading.errors)
    contents = _contents(reference, reading.labels, errors)
    usable = tuple(label for label in reading.labels if label.number in contents and label.text)
    ingredients = reading.ingredients or _on_the_labels(reference, reading.species, usable)
    comparison, no_guidance = None, ""
    course = None
    if reading.animal is not None and usable and ingredients:
        comparison, no_guidance = _compare(reference, reading, reading.animal, usable, ingredients, errors)
    if comparison is not None and reading.animal is not None:
        course = _course(reference, reading, reading.animal, usable, ingredients[0], errors)
    elif usable and not ingredients and "ingredients" not in errors:
        no_guidance = f"No label names an ingredient of which an amount for a {reading.species} is published."
    units = {row.product_id: row.units_per_day for row in comparison.rows} if comparison else {}
    screens = {}
    for label in usable:
        product = replace(label.product, units_per_day=units.get(label.product.id))
        screens[label.number] = screen(reference, _question(reading, product))
    return Bench(
        reading, ingredients, not reading.ingredients, contents, comparison, screens, course, no_guidance, errors
    )


def _contents(
    reference: Reference, labels: tuple[ReadLabel, ...], errors: dict[str, str]
) -> dict[int, NormaliseAnswer]:
    found = {}
    for label in labels:
        try:
            found[label.number] = normalise(reference, label.product, f"products/{label.number - 1}")
        except InvalidInput as error:
            errors.update(faults([error]))
    return found


def _on_the_labels(reference: Reference, species: str, labels: tuple[ReadLabel, ...]) -> tuple[str, ...]:
    """Choose the ingredient with published amounts that most labels name, the first of them on a tie."""
    named: Counter[str] = Counter()
    for label in labels:
        facts = [fact.ingredient for fact in label.label.facts if fact.mg_high is not None]
        named.update(list(dict.fromkeys(one for one in facts if one and (one, species) in reference.guidance_of)))
    return tuple(one for one, _ in named.most_common(1))


def _compare(
    reference: Reference,
    reading: Reading,
    animal: Animal,
    labels: tuple[ReadLabel, ...],
    ingredients: tuple[str, ...],
    errors: dict[str, str],
) -> tuple[CompareAnswer | None, str]:
    request = CompareRequest(
        animal=animal,
        targets=tuple(Target(ingredient) for ingredient in ingredients),
        products=tuple(label.product for label in labels),
        aim=reading.aim,
    )
    try:
        return compare(reference, request), ""
    except NoGuidance as error:
        return None, str(error)
    except InvalidInput as error:
        errors.update(faults([error]))
        return None, ""


def _course(
    reference: Reference,
    reading: Reading,
    animal: Animal,
    labels: tuple[ReadLabel, ...],
    ingredient: str,
    errors: dict[str, str],
) -> PlanAnswer | None:
    request = PlanRequest(
        animal=animal,
        packs=tuple(Pack(label.product, f"products/{label.number - 1}") for label in labels[:_MOST_COURSES]),
        ingredient=ingredient,
        aim=reading.aim,
        horizon_years=reading.years,
        medications=reading.medications,
        conditions=reading.conditions,
    )
    try:
        return plan(reference, request)
    except InvalidInput as error:
        errors.update(faults([error]))
    except DomainError:
        # What the comparison can do with one ingredient the course can too; anything else has been said there.
        return None
    return None


def _question(reading: Reading, product: Product) -> ScreenRequest:
    animal = reading.animal or Animal(reading.species)
    return ScreenRequest(
        animal=animal,
        products=(product,),
        medications=reading.medications,
        conditions=reading.conditions,
    )
