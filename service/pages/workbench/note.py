"""What a care note is asked for one product of the workbench, in the members of ``POST /v1/care-note``."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from service.domain.common import Animal
from service.domain.course.answer import Course
from service.domain.products import Product

Member = str | Decimal | int | list["Member"] | dict[str, "Member"] | None


def note_document(
    animal: Animal,
    product: Product,
    course: Course | None,
    units_per_day: Decimal | None,
    told: Mapping[str, tuple[str, ...]],
) -> dict[str, Member]:
    """Write the request for a care note.

    Parameters
    ----------
    animal
        The animal; its weight in kg is known.
    product
        What it is to be given.
    course
        Its course, whose phases the note takes over; the last one stays open.
    units_per_day
        What is given a day where there is no course.
    told
        ``medications`` and ``conditions``.

    Returns
    -------
    dict
        With numbers as ``Decimal``, as a parsed body has them; what is not known is left out.
    """
    who: dict[str, Member] = {"species": animal.species, "weight_kg": animal.weight_kg, "age_years": animal.age_years}
    return {
        "animal": _known(who),
        "products": [_product(product, course, units_per_day)],
        **{name: list(values) for name, values in told.items()},
    }


def _product(product: Product, course: Course | None, units_per_day: Decimal | None) -> dict[str, Member]:
    serving = _known({"units": product.serving_units, "mass_g": product.serving_mass_g})
    facts: list[Member] = [_known({"name": fact.name, "amount": fact.amount}) for fact in product.facts]
    return _known(
        {
            "id": product.id,
            "name": product.name,
            "unit": product.unit,
            "unit_count": product.unit_count,
            "price": product.price,
            "currency": product.currency,
            "serving": serving if product.serving_units is not None else None,
            "unit_mass_g": product.unit_mass_g,
            "unit_energy_kcal": product.unit_energy_kcal,
            "divisible": product.divisible,
            "facts": facts,
            "other_ingredients": product.other_ingredients,
            "locale": product.locale,
            "phases": _phases(course) if course is not None and course.phases else None,
            "units_per_day": units_per_day if course is None or not course.phases else None,
        }
    )


def _phases(course: Course) -> list[Member]:
    *begun, last = course.phases
    closed: list[Member] = [
        {"name": phase.phase, "units_per_day": phase.units_per_day, "days": Decimal(phase.days)} for phase in begun
    ]
    return [*closed, {"name": last.phase, "units_per_day": last.units_per_day}]


def _known(members: dict[str, Member]) -> dict[str, Member]:
    return {name: value for name, value in members.items() if value is not None}
