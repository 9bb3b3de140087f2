"""How a request describes a product."""

from __future__ import annotations

from typing import Unpack

from marshmallow import ValidationError, pre_load

from service.domain.currencies import minor_digits
from service.domain.products import STEP_OF
from service.schemas.request_base import Options, RequestSchema, shown
from service.schemas.request_fields import Choice, ListOf, Number, ObjectOf, Text

LONGEST_LIST_TEXT = 10000
_COUNT = 1_000_000


class CurrencyCode(Text):
    """Code of a currency that ISO 4217 gives a minor unit."""

    def __init__(self, description: str, **more: Unpack[Options]) -> None:
        super().__init__(description, longest=3, schema={"minLength": 3, "pattern": "^[A-Z]{3}$"}, **more)

    def from_text(self, text: str) -> object:
        """Accept the code as ISO 4217 writes it, in capitals."""
        if minor_digits(text) is None:
            raise ValidationError(
                f"{shown(text)} is not an ISO 4217 currency code; write three capitals, for example EUR"
            )
        return text


class LabelLocale(Choice):
    """Language of a label."""

    def __init__(self) -> None:
        super().__init__(
            "Language of the label; settles whether `1.500 mg` is one and a half or fifteen hundred.",
            among=("de", "en", "es", "fr", "it", "nl", "pt"),
            allow_none=True,
        )


# What a fact of ``POST /v1/labels/read`` has beside its name and amount. It may come along and is read anew.
READ_MEMBERS = frozenset(
    "printed ingredient form value value_low value_high unit per basis bound mg mg_low mg_high mg_per_kg iu_per_kg "
    "mg_per_serving mg_low_per_serving mg_high_per_serving mg_per_unit mg_low_per_unit mg_high_per_unit moiety "
    "moiety_mg moiety_low_mg moiety_high_mg moiety_low_mg_per_unit moiety_high_mg_per_unit share_of_parent "
    "daily_value_percent second_figures footnotes why_not flags span name_span amount_span constituents".split()
)


class FactSchema(RequestSchema):
    """One line of a facts panel."""

    name = Text("Name as printed.", longest=200, required=True, example="Glucosamine HCl")
    amount = Text(
        "Amount per serving with its unit, as printed. Leave it out where a blend hides it.",
        longest=120,
        allow_none=True,
        example="1000 mg",
    )

    also_accepted = READ_MEMBERS

    @pre_load
    def _leave_out_readings(self, values: object, **_kwargs: object) -> object:
        """Drop what a read label brings along: name and amount are read anew, so a reading cannot contradict them."""
        if not isinstance(values, dict) or len(values) <= len(self.fields):
            return values
        return {name: value for name, value in values.items() if name not in READ_MEMBERS}


class ServingSchema(RequestSchema):
    """What one serving is."""

    units = Number("Units in one serving.", least="0.001", most=1000, required=True, example=2)
    mass_g = Number("Mass of one serving in grams.", least="0.001", most=100_000, allow_none=True)


class ProductSchema(RequestSchema):
    """One product. Amounts in `facts` are per serving."""

    id = Text(
        "Id by which the answer names the product; default `p1`, `p2`, ... by position.", longest=64, example="p1"
    )
    name = Text("Name of the product.", longest=200, allow_none=True, example="Plain tablet")
    unit = Text("What one unit is called.", longest=40, load_default="unit", example="tablet")
    unit_count = Number("Units in the container.", least="0.001", most=_COUNT, allow_none=True, example=120)
    price = Number(
        "Price of the container; needs `currency`. At most 6 decimals.",
        above_least=True,
        most=10_000_000,
        decimals=6,
        allow_none=True,
        example=14.4,
    )
    currency = CurrencyCode("ISO 4217 code of the price.", allow_none=True, example="USD")
    serving = ObjectOf(
        ServingSchema, "What one serving is; without it the facts are taken per unit and flagged.", allow_none=True
    )
    unit_mass_g = Number("Mass of one unit in grams.", least="0.001", most=100_000, allow_none=True)
    unit_energy_kcal = Number("Energy of one unit in kcal.", most=10_000, allow_none=True)
    divisible = Choice(
        "The smallest part a unit can be given in. `opens` is a capsule, given in halves.",
        among=tuple(STEP_OF),
        load_default="whole",
        example="halves",
    )
    facts = ListOf(ObjectOf(FactSchema), "Lines of the facts panel.", most=60, load_default=list)
    other_ingredients = Text(
        "The list of other ingredients as printed; an empty text counts as not given.",
        longest=LONGEST_LIST_TEXT,
        multiline=True,
        may_be_blank=True,
        allow_none=True,
    )
    units_per_day = Number(
        "Units given per day, where a screen should total them.", least="0.001", most=1000, allow_none=True
    )
    locale = LabelLocale()
