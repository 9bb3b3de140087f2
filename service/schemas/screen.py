"""``/v1/screen``: what it takes and what it answers."""

from __future__ import annotations

from service.domain.screening_answers import LEVELS
from service.schemas import answer_fields as member
from service.schemas.animal import AnimalQuerySchema, AnimalSchema, PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.product import LONGEST_LIST_TEXT, ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import CommaList, ListOf, ObjectOf, Text

VERDICTS = ("stop", "ask_veterinarian", "incomplete", "nothing_found")
_MOST_NAMES = 50


def _ingredients_text(*, may_be_blank: bool) -> Text:
    blank = " An empty text counts as not given." if may_be_blank else ""
    return Text(
        "A list of ingredients as printed; commas, semicolons, bullets and line breaks separate." + blank,
        longest=LONGEST_LIST_TEXT,
        multiline=True,
        may_be_blank=may_be_blank,
        example="cellulose, natural flavor, xylitol",
    )


class ScreenQuerySchema(AnimalQuerySchema):
    """Query of ``GET /v1/screen``; the weight is optional."""

    ingredients_text = _ingredients_text(may_be_blank=False)
    medications = CommaList("Names of medicines, separated by commas.", most_items=_MOST_NAMES, example="carprofen")
    conditions = CommaList(
        "Ids or names of conditions, separated by commas.", most_items=_MOST_NAMES, example="epilepsy"
    )


class ScreenBodySchema(RequestSchema):
    """Body of ``POST /v1/screen``; the animal's weight is optional."""

    animal = ObjectOf(AnimalSchema, "The animal; its weight is optional here.", required=True)
    ingredients_text = _ingredients_text(may_be_blank=True)
    products = ListOf(ObjectOf(ProductSchema), "Products to screen.", most=20, load_default=list)
    other_supplements = ListOf(ObjectOf(ProductSchema), "What else the animal is given.", most=20, load_default=list)
    medications = ListOf(
        Text("Name of a medicine.", longest=100), "Names of medicines.", most=_MOST_NAMES, load_default=list
    )
    conditions = ListOf(
        Text("Id or name of a condition.", longest=100),
        "Conditions of the animal.",
        most=_MOST_NAMES,
        load_default=list,
    )


class FindingSchema(AnswerSchema):
    """One thing to know."""

    kind = member.text(
        "What kind of finding.", among=("hazard", "interaction", "condition", "duplicate", "over_limit", "presentation")
    )
    level = member.text("How grave, on a scale of our own that no veterinarian has reviewed.", among=LEVELS)
    subjects = member.texts("Ids of what it is about.", example=["xylitol"])
    topic = member.text("What it concerns.", nullable=True)
    finding = member.text("What the record found.", nullable=True)
    effect = member.text("What can happen.")
    action = member.text("What to do.")
    evidence = member.text("What kind of evidence.", nullable=True)
    evidence_species = member.text("In which species it was seen.", nullable=True)
    limit_or_conflict = member.text("What limits or contradicts it.", nullable=True)
    match = member.text("`exact`, or `possible` for a near miss to check.", among=("exact", "possible"))
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    record_ids = member.texts("Ids of the dataset rows.")
    source_ids = member.texts("Ids of the sources.")


class RecognisedSchema(AnswerSchema):
    """One name that was understood."""

    text = member.text("The text as given.")
    where = member.text("Where it stood.", example="ingredients_text")
    kind = member.text("What it names.", example="ingredient")
    id = member.text("Its id; null for a name known to mean none of the listed substances.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard.", nullable=True)
    trace = member.boolean("Whether the text says that traces are possible.")


class UnrecognisedSchema(AnswerSchema):
    """One text that was not understood, or not wholly."""

    text = member.text("The text as given.")
    where = member.text("Where it stood.")
    nearest = member.texts("Suggestions, never taken as meant.")


class NotAssessedSchema(AnswerSchema):
    """A pair about which this release says nothing, or nothing with a source."""

    a = member.text("Id of the one.")
    b = member.text("Id of the other.")
    reason = member.text(
        "Why it was not assessed: no row speaks of the pair; only a row without a source does; the plant is known by "
        "name only; or no amount was given to hold against the limit.",
        among=("no_record", "unsourced_record_only", "recognised_by_name_only", "amount_not_stated"),
    )


class StatementSchema(AnswerSchema):
    """A label's claim that something is not in it."""

    text = member.text("The text as given.")
    where = member.text("Where it stood.")
    negates = member.texts("Ids of what it denies.")


class TotalSchema(AnswerSchema):
    """Amount of one moiety per day over all products."""

    ingredient = member.text("Id of the ingredient.")
    moiety = member.text("Name of the moiety.", nullable=True)
    low_mg_per_day = member.number("Low reading in mg per day.")
    high_mg_per_day = member.number("High reading in mg per day.")
    mg_per_kg_high = member.number("High reading in mg per kg body weight and day.", nullable=True)
    products = member.texts("Where it comes from.")
    limit_mg_per_day = member.number("Published maximum in mg per day.", nullable=True)
    limit_id = member.text("Id of the limit.", nullable=True)
    share_of_limit = member.number("High reading as a share of the maximum.", nullable=True)


class ScreenAnswerSchema(ComputedAnswerSchema):
    """Everything a screen found, did not know and could not assess."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", nullable=True)
    verdict = member.text(
        "In order of precedence: `stop`: a finding of level `avoid`; `ask_veterinarian`: one of level `veterinarian`, "
        "or a possible hazard; `incomplete`: something was not recognised; `nothing_found`: everything was recognised "
        "and no record of this release speaks against it.",
        among=VERDICTS,
    )
    findings = member.many(FindingSchema, "What was found, gravest first.")
    recognised = member.many(RecognisedSchema, "What was understood.")
    unrecognised = member.many(UnrecognisedSchema, "What was not. Not known is not the same as harmless.")
    not_assessed = member.many(NotAssessedSchema, "Pairs with no record.")
    statements = member.many(StatementSchema, "Claims that something is absent.")
    totals = member.many(TotalSchema, "Amounts per day over all products, against limits.")


_DESCRIPTION = (
    "Splits and resolves every text, then looks for hazards, interactions, conditions, duplicates and exceeded limits. "
    "What is not recognised and what was not assessed is listed: absence of a record is never a clearance."
)

OPERATIONS = (
    Operation(
        id="screen",
        method="post",
        path="/v1/screen",
        tag="screen",
        summary="Ingredients, supplements, medicines and conditions to findings",
        description=_DESCRIPTION,
        query=PinnedQuerySchema,
        body=ScreenBodySchema,
        answer=ScreenAnswerSchema,
        problems=(*BODY_PROBLEMS, *COMPUTED),
        example="screen",
    ),
    Operation(
        id="screen_by_query",
        path="/v1/screen",
        tag="screen",
        summary="The same for a text, from a query",
        description=_DESCRIPTION + " Takes no products; use `POST` for these.",
        query=ScreenQuerySchema,
        answer=ScreenAnswerSchema,
        problems=(*INPUT_PROBLEMS, *COMPUTED),
        example="screen_by_query",
    ),
)
