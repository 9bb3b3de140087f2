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
MOST_NAMES = 50


def names(item: str, description: str) -> ListOf:
    """Declare a list of names of a body."""
    return ListOf(Text(item, longest=100), description, most=MOST_NAMES, load_default=list)


def _ingredients_text(*, may_be_blank: bool) -> Text:
    blank = " An empty text counts as not given." if may_be_blank else ""
    return Text(
        "A list of ingredients as printed; commas, semicolons, bullets and line breaks separate." + blank,
        longest=LONGEST_LIST_TEXT,
        multiline=True,
        may_be_blank=may_be_blank,
        example="cellulose, natural flavor, xylitol",
    )


_TRAITS = (
    "Breed groups and other traits, as ids or in plain words: `sighthound`, `greyhound`, `collie cross`, `MDR1`. "
    "`taken_as` says what each was taken as."
)


class ScreenQuerySchema(AnimalQuerySchema):
    """Query of ``GET /v1/screen``; the weight is optional."""

    traits = CommaList(_TRAITS, most_items=MOST_NAMES, example="sighthound")

    ingredients_text = _ingredients_text(may_be_blank=False)
    medications = CommaList("Names of medicines, separated by commas.", most_items=MOST_NAMES, example="carprofen")
    conditions = CommaList(
        "Ids or names of conditions, separated by commas.", most_items=MOST_NAMES, example="epilepsy"
    )


class ScreenAnimalSchema(AnimalSchema):
    """One animal to screen for: its weight is optional, its traits decide what it must not be given."""

    traits = names("Id or name of a trait.", _TRAITS)


class ScreenBodySchema(RequestSchema):
    """Body of ``POST /v1/screen``; the animal's weight is optional."""

    animal = ObjectOf(ScreenAnimalSchema, "The animal; its weight is optional here.", required=True)
    ingredients_text = _ingredients_text(may_be_blank=True)
    products = ListOf(ObjectOf(ProductSchema), "Products to screen.", most=20, load_default=list)
    other_supplements = ListOf(ObjectOf(ProductSchema), "What else the animal is given.", most=20, load_default=list)
    medications = names("Name of a medicine.", "Names of medicines.")
    conditions = names("Id or name of a condition.", "Conditions of the animal.")


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
    direction = member.text("Which way it goes, in a word of the record.", nullable=True)
    favourable = member.boolean(
        "Whether the record speaks for the pair (`helpful`) or looked for a problem and saw none "
        "(`studied_none_found`, `no_signal`); null for a finding that is about no recorded pair.",
        nullable=True,
    )


class OverruledSchema(AnswerSchema):
    """A record that matches too, about whose topic a stronger record speaks."""

    record_id = member.text("Id of the record that does not answer.")
    by = member.text("Id of the record that answers instead.")
    reason = member.text(
        "`less_specific` than the other, or as specific and `not_higher` in level.",
        among=("less_specific", "not_higher"),
    )
    subjects = member.texts("Ids of the pair.")
    topic = member.text("What it concerns.")
    level = member.text("How grave.", among=LEVELS)
    finding = member.text("What the record found.")
    direction = member.text("Which way it goes.", nullable=True)
    effect = member.text("What can happen.")
    evidence = member.text("What kind of evidence.")
    evidence_species = member.text("In which species it was seen.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class TakenAsSchema(AnswerSchema):
    """What one word for a medicine, condition or trait was taken as."""

    text = member.text("The text as given.", example="sugar diabetes")
    where = member.text("Where it stood.", example="conditions")
    kind = member.text("What it names.", example="disease")
    id = member.text("Its id.", example="diabetes-mellitus")
    name = member.text("Its name.", example="diabetes mellitus")
    basis = member.text(
        "`name`: a recorded name. `wording`: a recorded name beside words that say no more. `several`: the word covers "
        "more than one and all are screened. `breed`: a breed in which the trait is common. `animal`: follows from "
        "species or age.",
        among=("name", "wording", "several", "breed", "animal"),
    )
    note = member.text("What to know of it.", nullable=True)


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
    advice = member.text("What to give instead, for a medicine the generic name.", nullable=True)


class NotAssessedSchema(AnswerSchema):
    """A pair about which this release says nothing, or nothing with a source."""

    a = member.text("Id of the one.")
    b = member.text("Id of the other.")
    reason = member.text(
        "Why it was not assessed: no row speaks of the pair; only a row without a source does; the plant is known by "
        "name only; no amount was given to hold against the limit; only a class of medicines was given and a row "
        "speaks of this one in it; what a whole pack (`b`) would mean was not computed, because the number of "
        "units in it or the body weight is not given; a daily maximum depends on the body weight, which is not given; "
        "the animal is allergic to another one and the ingredient does not say from which it is made; the amount is "
        "known and no limit or threshold is recorded to hold it against; or a blend of the product (`a`) hides the "
        "amount.",
        among=(
            "no_record",
            "unsourced_record_only",
            "recognised_by_name_only",
            "amount_not_stated",
            "medicine_not_named",
            "pack_size_not_given",
            "weight_not_given",
            "no_limit_recorded",
            "amount_hidden_in_blend",
            "source_not_stated",
        ),
    )


class StatementSchema(AnswerSchema):
    """A label's claim that something is not in it."""

    text = member.text("The text as given.")
    where = member.text("Where it stood.")
    negates = member.texts("Ids of what it denies.")


class TotalPartSchema(AnswerSchema):
    """One label line that a total counts, or counts as part of another."""

    product = member.text("Id of the product.")
    name = member.text("The line as printed.")
    form = member.text("Id of the chemical form.", nullable=True)
    low_mg_per_day = member.number("Low reading in mg per day.")
    high_mg_per_day = member.number("High reading in mg per day.")


class TotalLimitSchema(AnswerSchema):
    """One recorded limit as mg per day for this animal."""

    limit_id = member.text("Id of the limit.")
    kind = member.text("What kind of limit.", example="safe_upper_limit")
    amount = member.number("The limit as published.")
    unit = member.text("Its unit.", example="mg")
    basis = member.text("What it is per.", example="per_kg075_per_day")
    limit_mg_per_day = member.number("The limit for this animal in mg per day.")
    share = member.number("High reading of the total as a share of it.")
    covers = member.text(
        "`intake` of this substance, or the `whole_diet`: then the food counts too and a share below 1 clears nothing.",
        among=("intake", "whole_diet"),
    )
    rule = member.text("How it became an amount a day.", example="amount x kg^0.75")
    enforced = member.boolean("Whether the dataset marks it as one to enforce.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources, of the energy need too.")


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
    lower_bound = member.boolean(
        "Whether more of it is present than could be counted: the total is then at least this."
    )
    unknown_in = member.texts("Where it stands without an amount that could be counted.")
    parts = member.many(TotalPartSchema, "The label lines behind it.")
    limits = member.many(TotalLimitSchema, "Every recorded limit that can be turned into an amount a day.")


class ScreenAnswerSchema(ComputedAnswerSchema):
    """Everything a screen found, did not know and could not assess."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", nullable=True)
    verdict = member.text(
        "In order of precedence: `stop`: a finding of level `avoid`; `ask_veterinarian`: one of level `veterinarian`, "
        "or a possible hazard; `incomplete`: something was not recognised or could not be judged; `nothing_found`: "
        "everything was recognised and no record of this release speaks against it.",
        among=VERDICTS,
    )
    highest_level = member.text(
        "Level of the gravest finding, null without one. It can be `watch` beside the verdict `nothing_found`.",
        nullable=True,
        among=LEVELS,
    )
    findings = member.many(FindingSchema, "What was found, gravest first.")
    overruled = member.many(OverruledSchema, "Records that match too but are overruled by a stronger one.")
    taken_as = member.many(TakenAsSchema, "What the words for medicines, conditions and traits were taken as.")
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
