"""``POST /v1/compare``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import AnimalSchema, PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGINS, ComputedAnswerSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import Choice, ListOf, Number, ObjectOf, Text
from service.schemas.screen import VERDICTS

_MOST_MG = 1_000_000


class TargetSchema(RequestSchema):
    """One aim of the comparison."""

    ingredient = Text("Id of the ingredient.", longest=80, required=True, example="glucosamine")
    form = Text(
        "Id of the form that `low_mg` and `high_mg` count; default: the form of the guidance.",
        longest=80,
        allow_none=True,
    )
    low_mg = Number("Lower end in mg per day; default from guidance.", least="0.000001", most=_MOST_MG, allow_none=True)
    high_mg = Number(
        "Upper end in mg per day; default from guidance.", least="0.000001", most=_MOST_MG, allow_none=True
    )
    phase = Choice("Phase of the guidance.", among=("loading", "maintenance"), load_default="maintenance")


class CompareBodySchema(RequestSchema):
    """Body of ``POST /v1/compare``."""

    animal = ObjectOf(AnimalSchema, "The animal; its weight is required.", required=True)
    targets = ListOf(
        ObjectOf(TargetSchema),
        "What the products are to deliver, each ingredient once.",
        least=1,
        most=10,
        required=True,
    )
    products = ListOf(
        ObjectOf(ProductSchema), "The products, each with an id of its own.", least=1, most=50, required=True
    )
    aim = Choice("Which end of the range to reach.", among=("low", "middle", "high"), load_default="low")
    rank_by = Choice(
        "What the rows are ordered by.",
        among=("cost_per_day", "cost_per_g", "units_per_day"),
        load_default="cost_per_day",
    )


class TargetRangeSchema(AnswerSchema):
    """A target with its amounts settled."""

    ingredient = member.text("Id of the ingredient.", example="glucosamine")
    form = member.text("Id of the form that the amounts count.", nullable=True)
    phase = member.text("Phase of the guidance.", example="maintenance")
    low_mg = member.number("Lower end in mg per day.", example=500)
    high_mg = member.number("Upper end in mg per day.", example=1000)
    aim_mg = member.number("What the products are counted against, in mg per day.", example=500)
    origin = member.text("How the range is known; `caller` where the request gave it.", among=(*ORIGINS, "caller"))
    source_ids = member.texts("Ids of the sources.")


class TargetResultSchema(AnswerSchema):
    """What a product reaches of one target."""

    ingredient = member.text("Id of the ingredient.", example="glucosamine")
    achieved_mg = member.number("mg of the target's form per day, on the low reading.", example=500)
    achieved_high_mg = member.number("mg of the target's form per day, on the high reading.", example=500)
    share_of_low = member.number("Low reading as a share of the lower end.", example=1)
    in_range = member.boolean("Whether the low reading lies in the range.")


class CompareRowSchema(AnswerSchema):
    """One product."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Name of the product.", nullable=True)
    rank = member.integer("Place in the order, from 1.", example=1)
    units_per_day = member.number(
        "Smallest amount the unit can be divided into that reaches the aim without passing the high end; else nearest.",
        example=1,
        nullable=True,
    )
    unit = member.text("What one unit is called.", example="tablet")
    meets_target = member.boolean("Whether the aim of every target is reached within its range.")
    targets = member.many(TargetResultSchema, "What is reached of each target.")
    cost_per_day = member.number("Cost per day.", example=0.12, nullable=True)
    cost_per_30_days = member.number("Cost of 30 days.", example=3.6, nullable=True)
    cost_per_365_days = member.number("Cost of 365 days.", example=43.8, nullable=True)
    cost_per_g = member.number(
        "Price per gram of the form that the first target counts, on the low reading of the label; the `cost_per_g` of "
        "`POST /v1/normalise` where the label states that form.",
        nullable=True,
    )
    currency = member.text("ISO 4217 code of all costs.", example="USD", nullable=True)
    container_lasts_days = member.number("Days that one container lasts.", example=120, nullable=True)
    energy_kcal_per_day = member.number("Energy of the units given, in kcal per day.", nullable=True)
    energy_share_of_resting_need = member.number("The same as a share of the resting need.", nullable=True)
    verdict = member.text("Verdict of the screen for this animal.", among=VERDICTS)
    efficient = member.boolean(
        "Among the rows that nothing speaks against (`why_not` is empty): true where no other of them is both cheaper "
        "per day and fewer units per day. Always false for a row with an objection or without a known cost."
    )
    label_flags = member.texts(
        "What is unclear about the label, for example `form_not_stated`, `other_ingredients_not_given`, or "
        "`high_reading_above_range` where only the low reading lies in the range; the meanings are listed at `flags` "
        "of `POST /v1/labels/read`."
    )
    why_not = member.texts("Why the row cannot be recommended; empty where nothing of this speaks against it.")


class CompareAnswerSchema(ComputedAnswerSchema):
    """Products ranked for one animal."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", example=34)
    aim = member.text("Which end of the range was to be reached.", example="low")
    rank_by = member.text("What the rows are ordered by.", example="cost_per_day")
    resting_energy_kcal_per_day = member.number("Resting energy need, 70 x kg^0.75 kcal per day.", example=985.8)
    targets = member.many(TargetRangeSchema, "The targets with their amounts.")
    rows = member.many(CompareRowSchema, "One row per product, best first. No product is left out.")


_PROBLEMS = (*BODY_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Counts how many units a day reach the targets, what they cost, and what speaks against each product. A row with "
    "an objection is listed last with the reason, never dropped; what must not be given at all (verdict `stop`) comes "
    "last of all."
)


def _table_operation(ending: str, media_type: str, words: str) -> Operation:
    return Operation(
        id=f"compare_products_{ending}",
        method="post",
        path=f"/v1/compare.{ending}",
        tag="products",
        summary=f"Several products for one animal, as {words}",
        description="One row per product. " + _DESCRIPTION,
        query=PinnedQuerySchema,
        body=CompareBodySchema,
        media_types=(media_type,),
        problems=_PROBLEMS,
        example="compare",
        linked=False,
    )


OPERATIONS = (
    Operation(
        id="compare_products",
        method="post",
        path="/v1/compare",
        tag="products",
        summary="Several products for one animal, ranked",
        description=_DESCRIPTION + " Also answers CSV and HTML by the `Accept` header.",
        query=PinnedQuerySchema,
        body=CompareBodySchema,
        answer=CompareAnswerSchema,
        problems=_PROBLEMS,
        example="compare",
    ),
    _table_operation("csv", "text/csv", "a CSV table"),
    _table_operation("html", "text/html", "a page"),
)
