"""``POST /v1/normalise``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ComputedAnswerSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import ObjectOf

_MEANINGS = "; the meanings are listed at `flags` of `POST /v1/labels/read`."


class NormaliseBodySchema(RequestSchema):
    """Body of ``POST /v1/normalise``."""

    product = ObjectOf(ProductSchema, "The product to normalise.", required=True)


class NormalisedFactSchema(AnswerSchema):
    """One label fact per unit."""

    name = member.text("Name as printed.", example="Glucosamine HCl")
    amount = member.text("Amount per serving as printed; null where none was given.", example="1000 mg", nullable=True)
    ingredient = member.text("Id of the ingredient; null where the name is not known.", nullable=True)
    form = member.text(
        "Id of the chemical form. A label that does not settle the form leads to an open one with an id of its own "
        "(`glucosamine-unspecified`), whose `candidate_forms` are what it can be. Null where the name is not known, "
        "names several forms, or names a material for which no form is recorded.",
        nullable=True,
    )
    basis = member.text("What the printed number counts.", example="salt", nullable=True)
    bound = member.text("Where the label states a bound: `min`, `max` or `less_than`.", nullable=True)
    mg_per_unit = member.number(
        "Milligrams as printed, per unit; null where the print can be read two ways.", nullable=True
    )
    mg_low_per_unit = member.number("Low reading of it.", nullable=True)
    mg_high_per_unit = member.number("High reading of it.", nullable=True)
    moiety = member.text("Name of the active moiety.", example="glucosamine", nullable=True)
    moiety_mg_per_unit = member.number(
        "Milligrams of the moiety per unit; null where the label leaves it open.", nullable=True
    )
    moiety_low_mg_per_unit = member.number("Low reading of it; value for money is judged on this.", nullable=True)
    moiety_high_mg_per_unit = member.number("High reading of it; limits are judged on this.", nullable=True)
    cost_per_mg = member.number("Price per mg as printed.", nullable=True)
    cost_per_g = member.number("Price per gram as printed.", nullable=True)
    moiety_cost_per_mg = member.number("Price per mg of the moiety, on the low reading.", nullable=True)
    flags = member.texts(f"What is unclear about this line{_MEANINGS}", example=["form_not_stated"])


class LabelHazardSchema(AnswerSchema):
    """A substance on the label that can harm."""

    hazard = member.text("Id of the hazard.", example="xylitol")
    name = member.text("Its name.")
    subject = member.text("The words on the label.")
    where = member.text("`facts` or `other_ingredients`.")
    match = member.text("`exact`, or `possible` for a near miss to check.", among=("exact", "possible"))
    trace = member.boolean("Whether the label says that traces are possible.")
    kind_dog = member.text("What kind of hazard it is for a dog.")
    kind_cat = member.text("What kind of hazard it is for a cat.")
    source_ids = member.texts("Ids of the sources.")


class LabelItemSchema(AnswerSchema):
    """One item of the other ingredients."""

    text = member.text("The item as printed.")
    match = member.text("Whether it was recognised.", among=("exact", "possible", "none"))
    ingredient = member.text("Id of the ingredient.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard.", nullable=True)
    negated = member.boolean("Whether the label says that it is absent.")
    trace = member.boolean("Whether the label says that traces are possible.")


class NormaliseAnswerSchema(ComputedAnswerSchema):
    """A product per unit."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Name of the product.", nullable=True)
    unit = member.text("What one unit is called.", example="tablet")
    unit_count = member.number("Units in the container.", nullable=True)
    divisible = member.text("The smallest part a unit can be given in.", example="halves")
    currency = member.text("ISO 4217 code of all costs.", example="USD", nullable=True)
    cost_per_unit = member.number("Price of one unit.", example=0.12, nullable=True)
    facts = member.many(NormalisedFactSchema, "The facts per unit, in printed order.")
    other_ingredients = member.many(LabelItemSchema, "The other ingredients, item by item.")
    label_flags = member.texts(f"What is unclear about the label{_MEANINGS}", example=["form_not_stated"])
    hazards = member.many(LabelHazardSchema, "Substances on the label that can harm a dog or a cat.")
    statements = member.texts("Claims of the label that something is absent.")
    unrecognised = member.texts("What was not understood. Not known is not the same as harmless.")


OPERATIONS = (
    Operation(
        id="normalise_product",
        method="post",
        path="/v1/normalise",
        tag="products",
        summary="Label facts and a price to amounts per unit and cost per milligram",
        description="Divides by the serving, resolves each name to ingredient and form, and converts to the active "
        "moiety. Where the label leaves the form open, low and high readings are given and flagged.",
        query=PinnedQuerySchema,
        body=NormaliseBodySchema,
        answer=NormaliseAnswerSchema,
        problems=(*BODY_PROBLEMS, *COMPUTED),
        example="normalise",
    ),
)
