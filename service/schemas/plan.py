"""``POST /v1/plan``: what it takes."""

from __future__ import annotations

from decimal import Decimal

from service.domain.course.request import LONGEST_DAYS
from service.schemas.animal import AnimalSchema, weight, weight_kg, weight_lb
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import (
    CalendarDate,
    Choice,
    Flag,
    ListOf,
    Number,
    ObjectOf,
    Text,
    WholeNumber,
)
from service.schemas.screen import names

_AIMS = ("low", "middle", "high")
_MOST_MG = 1_000_000
_YEARS = 30


class PriceBreakSchema(RequestSchema):
    """What one container costs where several are bought at once."""

    containers = WholeNumber("Containers that are bought at once, at least.", least=2, most=1000, required=True)
    price = Number(
        "Price of each of them, in the product's currency. At most 6 decimals.",
        above_least=True,
        most=10_000_000,
        decimals=6,
        required=True,
    )


class PackSchema(ProductSchema):
    """A product with what only a course needs to know of it."""

    price_breaks = ListOf(ObjectOf(PriceBreakSchema), "Lower prices for several at once.", most=10, load_default=list)
    opened_shelf_life_days = WholeNumber(
        "Days that an opened container may be used, the day of opening included; what is left then is thrown away.",
        least=1,
        most=LONGEST_DAYS,
        allow_none=True,
    )


class PhaseWantedSchema(RequestSchema):
    """One phase. Exactly one of `units_per_day`, `mg_per_day` and `aim` says how much is given."""

    name = Text("What the phase is called in the answer.", longest=60, allow_none=True)
    units_per_day = Number("Units a day; 0 is a pause.", most=1000, allow_none=True)
    mg_per_day = Number(
        "mg a day of `ingredient`; the fewest units that reach it are given.",
        least="0.000001",
        most=_MOST_MG,
        allow_none=True,
    )
    aim = Choice(
        "Which end of the guidance of `ingredient` is reached; follows the weight.", among=_AIMS, allow_none=True
    )
    ingredient = Text(
        "Id of the ingredient that the amount counts; default: that of the whole course.",
        longest=80,
        allow_none=True,
        example="glucosamine",
    )
    form = Text("Id of the form that `mg_per_day` counts; default: that of the guidance.", longest=80, allow_none=True)
    guidance_phase = Choice(
        "Which phase of the guidance `aim` means.", among=("loading", "maintenance"), load_default="maintenance"
    )
    days = WholeNumber("Length in days.", least=1, most=LONGEST_DAYS, allow_none=True)
    weeks = WholeNumber("Length in weeks.", least=1, most=LONGEST_DAYS // 7, allow_none=True)
    years = Number(
        "Length in years: by the calendar with a start date, else of 365 days.",
        above_least=True,
        most=_YEARS,
        decimals=4,
        allow_none=True,
    )
    from_age_years = Number(
        "Begins when the animal reaches this age and lasts until the next phase begins. Either every phase has one or "
        "none; needs `animal.age_years` or `birth_date`.",
        most=40,
        decimals=4,
        allow_none=True,
    )


class WeightOnSchema(RequestSchema):
    """A body weight from a day on. Exactly one of `day` and `date`, exactly one of the three weights."""

    day = WholeNumber("Day of the course; 1 is the first.", least=1, most=LONGEST_DAYS, allow_none=True)
    date = CalendarDate("Date; needs `start_date`.", allow_none=True)
    weight = weight()
    weight_kg = weight_kg()
    weight_lb = weight_lb()


class ChangeSchema(RequestSchema):
    """One thing that might turn out otherwise; exactly one member."""

    price_factor = Number("Factor on every price: 1.1 is a tenth dearer.", least="0.01", most=100, allow_none=True)
    weight_factor = Number("Factor on every body weight.", least="0.1", most=10, allow_none=True)
    aim = Choice("Another end of the guidance.", among=_AIMS, allow_none=True)


class PlanBodySchema(RequestSchema):
    """Body of ``POST /v1/plan``."""

    course_id = Text(
        "What tells this course from others, for example the animal's name or number; stands in a calendar's titles "
        "and keeps its events apart from those of other animals.",
        longest=60,
        allow_none=True,
        example="kennel 7",
    )

    animal = ObjectOf(AnimalSchema, "The animal; its weight is required.", required=True)
    birth_date = CalendarDate("Birth date, in place of `animal.age_years`; needs `start_date`.", allow_none=True)
    product = ObjectOf(PackSchema, "The product. Give exactly one of `product` and `products`.")
    products = ListOf(
        ObjectOf(PackSchema), "Several products side by side, the first as the one meant.", least=1, most=10
    )
    start_date = CalendarDate(
        "First day. With it every day has a date and the calendar decides how long a year is.", example="2027-03-01"
    )
    phases = ListOf(
        ObjectOf(PhaseWantedSchema),
        "What is given, in turn; without it loading and maintenance come from guidance.",
        least=1,
        most=40,
    )
    ingredient = Text(
        "Id of the ingredient that amounts are judged by; default: the first on the label of the first product for "
        "which guidance exists.",
        longest=80,
        allow_none=True,
        example="glucosamine",
    )
    form = Text("Id of the form that amounts from guidance count.", longest=80, allow_none=True)
    aim = Choice("Which end of the guidance is reached.", among=_AIMS, load_default="low")
    loading = Flag("Whether the course begins with the loading phase of the guidance.", load_default=True)
    loading_days = WholeNumber(
        "Days of loading; default: the longest that the guidance names.", least=1, most=366, allow_none=True
    )
    horizon_days = WholeNumber(
        "Length of the course in days; one year where nothing else tells it. Give at most one of `horizon_days`, "
        "`horizon_years` and `until_age_years`.",
        least=1,
        most=LONGEST_DAYS,
        allow_none=True,
    )
    horizon_years = Number("Length of the course in years.", above_least=True, most=_YEARS, decimals=4, allow_none=True)
    until_age_years = Number(
        "The course ends when the animal reaches this age.", above_least=True, most=40, decimals=4, allow_none=True
    )
    weights = ListOf(
        ObjectOf(WeightOnSchema), "Body weights to come; amounts from guidance follow them.", most=60, load_default=list
    )
    whole_containers = Flag(
        "Whether whole containers are bought; else only what is used is paid, at the price of the day.",
        load_default=True,
    )
    containers_per_purchase = WholeNumber(
        "Containers bought at once; default: one, or what the price breaks make cheapest.",
        least=1,
        most=1000,
        allow_none=True,
    )
    remainder = Choice(
        "What becomes of the rest of a divided unit: `kept` for the next time, or `discarded` each day.",
        among=("kept", "discarded"),
        load_default="kept",
    )
    price_change_per_year = Number(
        "Share by which prices move on each anniversary of the first day: 0.03 is 3 % dearer.",
        least="-0.2",
        most=1,
        decimals=6,
        load_default=Decimal(0),
    )
    what_if = ListOf(
        ObjectOf(ChangeSchema),
        "Changes to try; default: price and weight by a tenth up and down, and the other aims.",
        most=12,
    )
    show_days = Flag("Whether every single day is listed.", load_default=False)
    medications = names("Name of a medicine.", "Names of medicines, for the verdict.")
    conditions = names("Id or name of a condition.", "Conditions of the animal, for the verdict.")
    other_supplements = ListOf(
        ObjectOf(ProductSchema), "Other supplements, for the verdict.", most=10, load_default=list
    )
