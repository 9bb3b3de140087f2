"""``GET /v1/resolve``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Text


class ResolveQuerySchema(PinnedQuerySchema):
    """Query of ``GET /v1/resolve``."""

    name = Text("A name as a label prints it.", longest=200, required=True, example="Glucosamine HCl")


class MeaningSchema(AnswerSchema):
    """One thing that the phrase names."""

    ingredient = member.text("Id of the ingredient.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard.", nullable=True)
    matched_name = member.text("The recorded spelling that matched.")
    negated = member.boolean("Whether the phrase says that it is absent.")
    trace = member.boolean("Whether the phrase says that traces are possible.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class NearMissSchema(AnswerSchema):
    """A known name that the text resembles; never accepted by itself."""

    name = member.text("The known name.")
    ingredient = member.text("Id of its ingredient.", nullable=True)
    hazard = member.text("Id of its hazard.", nullable=True)
    similarity = member.number("How alike, from 0 to 1.", example=0.92)


class ResolveAnswerSchema(ComputedAnswerSchema):
    """What a name on a label means."""

    name = member.text("The name as given.", example="Glucosamine HCl")
    match = member.text(
        "`exact`: a recorded spelling covers it; `possible`: something to check; `none`: not known, which says nothing "
        "about the substance.",
        among=("exact", "possible", "none"),
    )
    ingredient = member.text("Id of the ingredient.", example="glucosamine", nullable=True)
    form = member.text("Id of the chemical form, where the name settles it.", nullable=True)
    hazard = member.text("Id of the hazard, where the substance can harm.", nullable=True)
    matched_name = member.text("The recorded spelling that matched.", nullable=True)
    negated = member.boolean('Whether the phrase only says that it is absent ("no xylitol").')
    trace = member.boolean("Whether the phrase says that traces are possible.")
    false_friend_of = member.text("What the name is easily mistaken for.", nullable=True)
    meanings = member.many(MeaningSchema, "All things that the phrase names, what it negates included.")
    possible = member.many(NearMissSchema, "Known names that the text resembles.")
    nearest = member.texts("Names a person might have meant.")
    not_understood = member.texts("Words of the phrase that nothing covers.")


OPERATIONS = (
    Operation(
        id="resolve_name",
        path="/v1/resolve",
        tag="names",
        summary="What a name on a label means",
        description="Looks a printed name up among all recorded spellings. A near miss is reported, never accepted.",
        query=ResolveQuerySchema,
        answer=ResolveAnswerSchema,
        problems=(*INPUT_PROBLEMS, *COMPUTED),
        example="resolve",
    ),
)
