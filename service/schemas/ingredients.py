"""``GET /v1/ingredients`` and ``/v1/ingredients/{id}``: what they take and what they answer."""

from __future__ import annotations

from service.domain.common import SPECIES
from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.dataset_rows import (
    BeliefSchema,
    GuidanceSchema,
    HazardSchema,
    InteractionSchema,
    LimitSchema,
    RegimenSchema,
    ThresholdSchema,
)
from service.schemas.dose import VERDICTS, EvidenceSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema, DatasetStampSchema
from service.schemas.forms import FormInListSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Choice, Text

KINDS = ("active", "excipient", "hazard", "nutrient")


class IngredientsQuerySchema(PinnedQuerySchema):
    """Query of ``GET /v1/ingredients``."""

    q = Text("Part of an id, a name or a spelling.", longest=80, example="glucos")
    kind = Choice("Keep only this kind.", among=KINDS, example="active")
    species = Choice("Keep only what the release holds something on for this species.", among=SPECIES, example="dog")


class IngredientItemSchema(AnswerSchema):
    """One line of the ingredient list."""

    id = member.text("Id of the ingredient.", example="glucosamine")
    name = member.text("Name.", example="glucosamine")
    kind = member.text("Kind of ingredient.", among=KINDS)
    moiety = member.text("Name of the active moiety.", nullable=True)
    default_form = member.text("Id of the form that amounts are stated in.", nullable=True)
    has_guidance_dog = member.boolean("Whether the release holds amounts for dogs.")
    has_guidance_cat = member.boolean("Whether the release holds amounts for cats.")
    evidence_verdict = member.text("Verdict on the evidence.", among=VERDICTS, nullable=True)
    names_count = member.integer("Recorded spellings.", example=14)


class IngredientsAnswerSchema(AnswerSchema):
    """The ingredient list."""

    items = member.many(IngredientItemSchema, "The ingredients, in the order of the dataset.")
    count = member.integer("How many there are.", example=1)
    dataset = member.one(DatasetStampSchema, "Release the answer was computed from.")
    notice = member.text("Information, not a prescription.")


class NameItemSchema(AnswerSchema):
    """One spelling that leads to the ingredient."""

    name = member.text("The spelling.")
    language = member.text("Language.")
    type = member.text("What kind of name.")
    form = member.text("Id of the form it names.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)


class HazardItemSchema(AnswerSchema):
    """A hazard of the ingredient with its usable tiers."""

    hazard = member.one(HazardSchema, "The hazard.")
    thresholds = member.many(ThresholdSchema, "Its tiers for both species.")


class IngredientAnswerSchema(ComputedAnswerSchema):
    """Everything the dataset holds about one ingredient."""

    id = member.text("Id of the ingredient.", example="glucosamine")
    name = member.text("Name.", example="glucosamine")
    kind = member.text("Kind of ingredient.", among=KINDS)
    moiety = member.text("Name of the active moiety.", nullable=True)
    default_form = member.text("Id of the form that amounts are stated in.", nullable=True)
    what_it_does = member.text("What it is given for, in plain words.")
    note = member.text("What else is known.", nullable=True)
    screened_as = member.texts("Other ingredients whose interactions apply as well.")
    groups = member.texts("Groups whose interactions apply as well.")
    names = member.many(NameItemSchema, "Every recorded spelling.")
    forms = member.many(FormInListSchema, "Its chemical forms.")
    regimens = member.many(RegimenSchema, "Every published or customary amount.")
    guidance = member.many(GuidanceSchema, "The amounts the service answers with.")
    limits = member.many(LimitSchema, "Upper and lower bounds.")
    evidence = member.one(EvidenceSchema, "How good the evidence is.")
    beliefs = member.many(BeliefSchema, "Common beliefs and where they stand.")
    hazards = member.many(
        HazardItemSchema, "Hazards with their tiers: its own, and those that its spellings mean as well."
    )
    interactions = member.many(InteractionSchema, "Recorded interactions.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)


def _list_operation(ending: str, media_type: str, words: str) -> Operation:
    return Operation(
        id=f"list_ingredients_{ending}",
        path=f"/v1/ingredients.{ending}",
        tag="names",
        summary=f"The ingredient list as {words}",
        description="One row per ingredient.",
        query=IngredientsQuerySchema,
        media_types=(media_type,),
        problems=(*INPUT_PROBLEMS, *COMPUTED),
        linked=False,
    )


OPERATIONS = (
    Operation(
        id="list_ingredients",
        path="/v1/ingredients",
        tag="names",
        summary="Every ingredient of the dataset",
        description="Filters narrow the list. Also answers CSV and HTML by the `Accept` header.",
        query=IngredientsQuerySchema,
        answer=IngredientsAnswerSchema,
        problems=(*INPUT_PROBLEMS, *COMPUTED),
        example="ingredients",
    ),
    _list_operation("csv", "text/csv", "a CSV table"),
    _list_operation("html", "text/html", "a page"),
    Operation(
        id="get_ingredient",
        path="/v1/ingredients/{id}",
        tag="names",
        summary="Everything the dataset holds about one ingredient",
        description="Names, forms, published regimens, guidance, limits, evidence, hazards, interactions and sources.",
        query=PinnedQuerySchema,
        answer=IngredientAnswerSchema,
        problems=(*INPUT_PROBLEMS, "unknown-ingredient", *COMPUTED),
        example="ingredient",
    ),
)
