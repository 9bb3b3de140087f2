"""``POST /v1/combine``: what it takes."""

from __future__ import annotations

from decimal import Decimal

from service.domain.combining.request import HIGH_READING, LOW_READING
from service.schemas.animal import PinnedQuerySchema
from service.schemas.combine_answer import CombineAnswerSchema
from service.schemas.compare import TargetSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import Choice, Flag, ListOf, Number, ObjectOf, WholeNumber
from service.schemas.screen import ScreenAnimalSchema, names

_MOST_PRODUCTS, _MOST_SUPPLEMENTS = 50, 20


class CombineAnimalSchema(ScreenAnimalSchema):
    """The animal to combine products for: its weight is required, its traits decide what it must not be given."""


class CombineBodySchema(RequestSchema):
    """Body of ``POST /v1/combine``."""

    animal = ObjectOf(CombineAnimalSchema, "The animal; its weight is required.", required=True)
    targets = ListOf(
        ObjectOf(TargetSchema),
        "What a set of products is to deliver together, each ingredient once.",
        least=1,
        most=10,
        required=True,
    )
    products = ListOf(
        ObjectOf(ProductSchema),
        "The products that may be used, each with an id of its own, all prices in one currency. `units_per_day` is not "
        "used: how many units are given is what is asked for.",
        least=1,
        most=_MOST_PRODUCTS,
        required=True,
    )
    aim = Choice(
        "Which end of each range to reach. Of `high` nine tenths are enough, since hardly any set comes to it exactly.",
        among=("low", "middle", "high"),
        load_default="low",
    )
    most_products = WholeNumber(
        "How many different products a set may hold.", least=1, most=_MOST_PRODUCTS, load_default=3, example=3
    )
    high_end_on = Choice(
        "Which reading of a label must not pass the high end of a range where the label leaves the form open: "
        "`low_reading`, as a comparison does, or `high_reading`. Upper limits are always kept on the high one.",
        among=(LOW_READING, HIGH_READING),
        load_default=LOW_READING,
    )
    other_supplements = ListOf(
        ObjectOf(ProductSchema),
        "What the animal is given already and goes on with, one serving a day unless `units_per_day` says otherwise. "
        "It counts towards upper limits, energy and the screen.",
        most=_MOST_SUPPLEMENTS,
        load_default=list,
    )
    count_other_supplements = Flag(
        "Whether `other_supplements` count towards the targets too. Else the targets are for the products alone.",
        load_default=False,
    )
    medications = names("Name of a medicine.", "Names of medicines.")
    conditions = names("Id or name of a condition.", "Conditions of the animal.")
    time_limit_seconds = Number(
        "Time for the search. Where nothing fits, finding out why may take half as long again.",
        least="0.1",
        most=5,
        load_default=Decimal(2),
    )


_PROBLEMS = (*BODY_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "An integer programme: how many of the smallest parts that a unit divides into are given of each product, so that "
    "every target is reached and nothing is passed at the least cost a day. Reached means on the low reading of the "
    "labels, as a comparison counts; the high end of each range, the upper limits of everything that the products "
    "hold (whether it is a target or not, with what is given already, as `totals` of the screen judge them), a tenth "
    "of the resting energy need, 20 units a day of each product (1,000 of what is measured in ml or g) and "
    "`most_products` are not passed. A product with a finding of level `avoid` is left out; where only several "
    "together, or more of one, have such a finding, that set is rejected and the search goes on.\n\n"
    "`optimal` means that the solver has proven that no other choice is cheaper, to one part in a billion. "
    "`best_found` means that time ran out first: the set keeps to every rule all the same, and `gap` is the share of "
    "its cost that the best one could save at most (0.02: at most 2 %). Whatever the solver says is checked again in "
    "exact decimals and from the labels before it is answered, and costs are added up exactly. Of choices at one cost, "
    "compared to nine digits, comes first the one with fewer products, then fewer units, then ids in alphabetical "
    "order.\n\n"
    "The second and third set differ from each cheaper one by leaving at least one of its products out; a set that "
    "only adds a product to a cheaper one is not listed. Where nothing fits, `blocked_by` names each rule without "
    "which something would, and how near the products come to it."
)

OPERATIONS = (
    Operation(
        id="combine_products",
        method="post",
        path="/v1/combine",
        tag="combine",
        summary="The cheapest sets of products that reach several targets at once",
        description=_DESCRIPTION,
        query=PinnedQuerySchema,
        body=CombineBodySchema,
        answer=CombineAnswerSchema,
        problems=_PROBLEMS,
        example="combine",
    ),
)
