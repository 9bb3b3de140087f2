"""Invented products and requests for the tests of care notes. A tablet holds 500 mg of glucosamine HCl."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

from service.domain.care.answer import AmountRow, CareFinding, CareNote, GuidanceBeside
from service.domain.care.note import care_note
from service.domain.care.request import CareRequest, PhaseTold, ProductTold
from service.domain.common import Animal
from service.domain.products import LabelFact, Product
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
DOG = Animal("dog", D(34), D(4))
START = date(2027, 3, 1)
TABLET = Product(
    id="p1",
    name="Invented tablet",
    unit="tablet",
    serving_units=D(1),
    divisible="halves",
    facts=(LabelFact("Glucosamine HCl", "500 mg"),),
    other_ingredients="cellulose",
)


def tablet(units_per_day: str | None = None, **changes: object) -> Product:
    """Make tablets of 500 mg of glucosamine hydrochloride that break in halves."""
    units = D(units_per_day) if units_per_day is not None else None
    return replace(TABLET, units_per_day=units, **changes)  # type: ignore[arg-type]


def given(units_per_day: str | None = "1", **changes: object) -> ProductTold:
    """Give so many tablets a day, all along."""
    return ProductTold(tablet(units_per_day, **changes))


def in_phases(*phases: PhaseTold, **changes: object) -> ProductTold:
    """Give tablets in phases."""
    return ProductTold(tablet(None, **changes), phases=phases)


def units(per_day: str, **more: object) -> PhaseTold:
    """Make a phase of so many units a day."""
    return PhaseTold(units_per_day=D(per_day), **more)  # type: ignore[arg-type]


def request(*products: ProductTold, **more: object) -> CareRequest:
    """Ask for the note of the dog; of one tablet a day unless told otherwise."""
    told = {"animal": DOG, "inputs_sha256": "0" * 64, **more}
    return CareRequest(products=products or (given(),), **told)  # type: ignore[arg-type]


def note(*products: ProductTold, **more: object) -> CareNote:
    """Write the note of such a request."""
    return care_note(REFERENCE, request(*products, **more))


def codes(written: CareNote) -> list[str]:
    """List what the questions of a note are about."""
    return [question.code for question in written.questions]


def text_of(written: CareNote, code: str) -> str:
    """Give the one question with a code."""
    (found,) = [question.text for question in written.questions if question.code == code]
    return found


def row_of(written: CareNote, ingredient: str) -> AmountRow:
    """Give the one row of an ingredient."""
    (found,) = [row for row in written.amounts if row.ingredient == ingredient]
    return found


def a_range(low: str = "500", high: str = "1000", phase: str = "maintenance") -> GuidanceBeside:
    """Make a range in mg a day."""
    return GuidanceBeside(phase, D(low), D(high), 2, None, None, "g1", "read", None, ("s1",))


def finding(**changes: object) -> CareFinding:
    """Make a finding on an invented pair."""
    made = CareFinding(
        kind="interaction",
        level="veterinarian",
        subjects=("a", "b"),
        topic="stomach",
        finding="interaction",
        effect="Ulcer or bleeding",
        action="Ask first",
        evidence=None,
        evidence_species=None,
        limit_or_conflict=None,
        match="exact",
        origin="read",
        record_ids=("r1",),
        source_ids=("s1",),
        subject_names=("first herb (root)", "second medicine"),
    )
    return replace(made, **changes)  # type: ignore[arg-type]
