"""``POST /v1/labels/read``: what it takes and what it answers."""

from __future__ import annotations

from marshmallow import fields

from service.domain.flag_words import flag_table
from service.domain.labels.assembling import LONGEST_LABEL
from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ComputedAnswerSchema
from service.schemas.normalise import LabelHazardSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.product import CurrencyCode, LabelLocale
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import Number, Text

# Every character of the longest text may come as an escape of twelve bytes.
LARGEST_LABEL_BYTES = 262_144
_KINDS_OF_PER = ("serving", "unit", "day", "product_mass", "volume", "body_weight")
_SPANS = "Places in the text as given."


class LabelBodySchema(RequestSchema):
    """Body of ``POST /v1/labels/read``."""

    text = Text(
        "The text of one label, as printed, with its line breaks.",
        longest=LONGEST_LABEL,
        multiline=True,
        required=True,
        example="Serving size: 2 chews (8 g)\nGlucosamine HCl 1,000 mg\nOther ingredients: cellulose, xylitol",
    )
    locale = LabelLocale()
    price = Number(
        "Price of the container, where it is not on the label; needs `currency`.",
        above_least=True,
        most=10_000_000,
        decimals=6,
        allow_none=True,
        example=24.9,
    )
    currency = CurrencyCode("ISO 4217 code of the price.", allow_none=True, example="USD")


class LabelSpanSchema(AnswerSchema):
    """Characters of the text as given; half-open, counted as code points."""

    start = member.integer("First character.", example=0)
    end = member.integer("Past the last character.", example=24)


class LabelPerSchema(AnswerSchema):
    """What an amount is for."""

    kind = member.text("Kind of what it is for.", among=_KINDS_OF_PER)
    count = member.number("How many of the unit.", example=2)
    unit = member.text("Its unit; null for a day.", example="chew", nullable=True)


class LabelSecondFigureSchema(AnswerSchema):
    """Another figure printed beside an amount; never added to it."""

    kind = member.text("`restated`, `equivalent` or `source`.", among=("restated", "equivalent", "source"))
    text = member.text("As printed.")
    value = member.number("The number.", nullable=True)
    unit = member.text("Its unit.", nullable=True)
    mg = member.number("In mg, where it is a mass.", nullable=True)
    span = member.one(LabelSpanSchema, "Place in the text as given.")


_LOW = " Low reading, where the label leaves it open."
_HIGH = " High reading."


def _open(description: str) -> tuple[fields.Field, fields.Field, fields.Field]:  # type: ignore[type-arg]
    """Describe an amount that may be open: the exact one, and both ends."""
    return (
        member.number(description + " Null where the label leaves it open.", nullable=True),
        member.number(description + _LOW, nullable=True),
        member.number(description + _HIGH, nullable=True),
    )


class LabelConstituentSchema(AnswerSchema):
    """A name with its amount, and the characters that say so."""

    name = member.text("Name, as `normalise` takes it.", example="Glucosamine HCl")
    amount = member.text(
        "Amount, as `normalise` takes it; null where the print cannot be used.", example="1,000 mg", nullable=True
    )
    printed = member.text("Both as printed.")
    ingredient = member.text("Id of the ingredient; null where the name is not known.", nullable=True)
    form = member.text("Id of the chemical form, where the name settles it.", nullable=True)
    value, value_low, value_high = _open("The printed number.")
    unit = member.text("Its unit, spelt out; null where none is printed.", example="milligram", nullable=True)
    per = member.one(LabelPerSchema, "What the amount is for.", nullable=True)
    basis = member.text(
        "What the number counts: `salt`, `base`, `element`, `extract`, `as_labelled`, `material`, or `ambiguous`.",
        nullable=True,
    )
    bound = member.text("Where the label guarantees a bound instead.", among=("min", "max", "less_than"), nullable=True)
    mg, mg_low, mg_high = _open("mg of the labelled substance in what `per` says.")
    mg_per_kg = member.number("mg per kg of product, for a share of it.", nullable=True)
    iu_per_kg = member.number("International units per kg of product, for such a share.", nullable=True)
    mg_per_serving, mg_low_per_serving, mg_high_per_serving = _open("mg of the labelled substance in a serving.")
    mg_per_unit, mg_low_per_unit, mg_high_per_unit = _open("mg of the labelled substance in a unit.")
    moiety = member.text("What is active in it.", nullable=True)
    moiety_mg, moiety_low_mg, moiety_high_mg = _open("mg of the active moiety in what `per` says.")
    moiety_low_mg_per_unit = member.number("mg of the active moiety in a unit." + _LOW, nullable=True)
    moiety_high_mg_per_unit = member.number("mg of the active moiety in a unit." + _HIGH, nullable=True)
    share_of_parent = member.number("Share of the amount that it is a part of.", nullable=True)
    daily_value_percent = member.number("Per cent of a human daily value printed beside it; no purity.", nullable=True)
    second_figures = member.many(LabelSecondFigureSchema, "Other figures beside the amount.")
    footnotes = member.texts("Marks of footnotes beside it.")
    why_not = member.text("Why the print cannot be used as an amount.", nullable=True)
    flags = member.texts("What a reader of this line should know; the meanings stand at `flags` of the whole answer.")
    span = member.one(LabelSpanSchema, "Place of the whole line.")
    name_span = member.one(LabelSpanSchema, "Place of the name.")
    amount_span = member.one(LabelSpanSchema, "Place of the amount.", nullable=True)
    constituents = fields.List(
        fields.Nested(lambda: LabelConstituentSchema()), required=True,
        metadata={"description": "Parts of it that the label names; contained in it, never added to it."},
    )  # fmt: skip


class LabelBlendMemberSchema(AnswerSchema):
    """One member of a blend."""

    name = member.text("Name as printed.")
    ingredient = member.text("Id of the ingredient.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard.", nullable=True)
    mg = member.number("mg, where the label discloses it or the others leave one value.", nullable=True)
    mg_low = member.number("Least that it can be.", nullable=True)
    mg_high = member.number("Most that it can be; null where no total is printed.", nullable=True)
    members = fields.List(
        fields.Nested(lambda: LabelBlendMemberSchema()), required=True,
        metadata={"description": "Members of a blend inside the blend."},
    )  # fmt: skip
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelBlendSchema(AnswerSchema):
    """Several substances under one total."""

    name = member.text("Name as printed.")
    amount = member.text("Total as printed.", nullable=True)
    mg = member.number("Total in mg.", nullable=True)
    per = member.one(LabelPerSchema, "What the total is for.", nullable=True)
    bound = member.text("Where the total is a bound.", among=("min", "max", "less_than"), nullable=True)
    members = member.many(LabelBlendMemberSchema, "Members in printed order, with bounds from total and order.")
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelServingSchema(AnswerSchema):
    """One serving."""

    units = member.number("Units in it.", example=2, nullable=True)
    unit = member.text("What a unit is.", example="chew", nullable=True)
    mass_g = member.number("Mass of the serving in grams.", nullable=True)
    volume_ml = member.number("Volume of the serving in millilitres.", nullable=True)
    per_day = member.number("Servings a day, where the label says.", nullable=True)
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    spans = member.many(LabelSpanSchema, _SPANS)


class LabelContainerSchema(AnswerSchema):
    """The pack."""

    unit_count = member.number("Units in it.", example=90, nullable=True)
    unit = member.text("What a unit is.", nullable=True)
    servings = member.number("Servings in it.", nullable=True)
    net_g = member.number("Net mass in grams.", nullable=True)
    net_ml = member.number("Net volume in millilitres.", nullable=True)
    packs = member.number("Packs that it is made of.", nullable=True)
    unit_mass_g = member.number("Mass of a unit in grams.", nullable=True)
    approximate = member.boolean("Whether the label says about.")
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    spans = member.many(LabelSpanSchema, _SPANS)


class LabelPriceSchema(AnswerSchema):
    """The price on the label."""

    amount = member.number("Price as printed.", example=24.9)
    currency = member.text("ISO 4217 code; null where the sign does not settle it.", nullable=True)
    minor = member.integer("The same in the smallest coins of the currency.", nullable=True)
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    spans = member.many(LabelSpanSchema, _SPANS)


class LabelEnergySchema(AnswerSchema):
    """Energy in kcal."""

    kcal_per_kg = member.number("Per kg of product.", nullable=True)
    kcal_per_unit = member.number("Per unit.", nullable=True)
    kcal_per_serving = member.number("Per serving.", nullable=True)
    unit = member.text("What a unit is.", nullable=True)
    implied_unit_mass_g = member.number("Mass of a unit that follows from both figures.", nullable=True)
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    spans = member.many(LabelSpanSchema, _SPANS)


class LabelOtherIngredientSchema(AnswerSchema):
    """One item of an ingredient list."""

    text = member.text("As printed.")
    match = member.text("`exact`, `possible` or `none`.", among=("exact", "possible", "none"))
    ingredient = member.text("Id of the ingredient.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard.", nullable=True)
    negated = member.boolean("Whether the label says that it is absent.")
    trace = member.boolean("Whether the label says that traces are possible.")
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelAllergenSchema(AnswerSchema):
    """An allergen; one that is not listed may be in it all the same."""

    allergen = member.text("Which.", example="crustacean shellfish")
    text = member.text("The words that say so.")
    stated = member.boolean("Whether the label names it; else an ingredient brings it.")
    may_contain = member.boolean("Whether the label only says that it may be in it.")
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelBandSchema(AnswerSchema):
    """Units for a range of body weights; from <= weight < to, unless a flag says otherwise."""

    from_kg = member.number("From this body weight in kg.", nullable=True)
    to_kg = member.number("Up to this one; null without an upper end.", nullable=True)
    units_low = member.number("Units, low.", nullable=True)
    units_high = member.number("Units, high.", nullable=True)
    unit = member.text("What a unit is.", nullable=True)
    times_per_day = member.number("How often a day.", nullable=True)
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelDirectionSchema(AnswerSchema):
    """One line of directions, as the label gives them; no advice of this service."""

    text = member.text("As printed.")
    bands = member.many(LabelBandSchema, "Units by body weight.")
    units_low = member.number("Units, low, where no body weight is named.", nullable=True)
    units_high = member.number("Units, high.", nullable=True)
    unit = member.text("What a unit is.", nullable=True)
    times_per_day = member.number("How often a day.", nullable=True)
    times_per_week = member.number("How often a week, where the label counts by weeks.", nullable=True)
    interval_days = member.integer("2 for every other day.", nullable=True)
    per_body_weight_kg = member.number("Units are for so many kg of body weight.", nullable=True)
    phase = member.text("`loading` or `maintenance`.", nullable=True)
    days_low = member.integer("Days of the phase, low.", nullable=True)
    days_high = member.integer("Days of the phase, high.", nullable=True)
    factor = member.number("2 where the label doubles the amount.", nullable=True)
    species = member.texts("Species that the line names.")
    flags = member.texts("What a reader should know; the meanings stand at `flags` of the whole answer.")
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelStatementSchema(AnswerSchema):
    """A sentence that is no fact."""

    kind = member.text("What it is for.", example="claim")
    text = member.text("As printed.")
    meaning = member.text("What it says, where that is known.", nullable=True)
    value = member.number("A number that it gives.", nullable=True)
    unit = member.text("Unit of that number.", nullable=True)
    span = member.one(LabelSpanSchema, "Place in the text as given.")


class LabelUnreadSchema(AnswerSchema):
    """Characters that were not understood."""

    text = member.text("As printed.")
    start = member.integer("First character.")
    end = member.integer("Past the last character.")
    why = member.text("Why.", example="not_understood")
    hazard = member.text("Id of a hazard that is named in them.", nullable=True)


class LabelReadFactSchema(AnswerSchema):
    """A fact as `normalise` takes it."""

    name = member.text("Name.")
    amount = member.text("Amount.", nullable=True)


class LabelReadServingSchema(AnswerSchema):
    """A serving as `normalise` takes it."""

    units = member.number("Units in it.")
    mass_g = member.number("Its mass in grams.", nullable=True)


class LabelReadProductSchema(AnswerSchema):
    """The product as `normalise`, `compare` and `screen` take it."""

    unit = member.text("What a unit is.")
    unit_count = member.number("Units in the container.", nullable=True)
    price = member.number("Price of the container.", nullable=True)
    currency = member.text("ISO 4217 code.", nullable=True)
    serving = member.one(LabelReadServingSchema, "What a serving is.", nullable=True)
    unit_mass_g = member.number("Mass of a unit in grams.", nullable=True)
    unit_energy_kcal = member.number("Energy of a unit.", nullable=True)
    facts = member.many(LabelReadFactSchema, "Facts, blends with their members.")
    other_ingredients = member.text("Everything else that is in it or said not to be.", nullable=True)
    locale = member.text("Language of the label.", nullable=True)


class LabelAnswerSchema(ComputedAnswerSchema):
    """What a label says."""

    locale = member.text("Language as given, or as its words tell; null where they do not.", nullable=True)
    species = member.texts("Species that the kind of product names.")
    product_type = member.text("Statutory kind of product, in English.", nullable=True)
    serving = member.one(LabelServingSchema, "One serving.", nullable=True)
    container = member.one(LabelContainerSchema, "The pack.", nullable=True)
    price = member.one(LabelPriceSchema, "The price on the label.", nullable=True)
    energy = member.one(LabelEnergySchema, "Energy.", nullable=True)
    facts = member.many(LabelConstituentSchema, "Names with amounts. `normalise` takes them as they are.")
    blends = member.many(LabelBlendSchema, "Totals of several substances.")
    other_ingredients = member.many(LabelOtherIngredientSchema, "Names without amounts.")
    allergens = member.many(LabelAllergenSchema, "Allergens named or brought.")
    directions = member.many(LabelDirectionSchema, "What the label tells to give.")
    statements = member.many(LabelStatementSchema, "Claims, denials, footnotes, warnings, headings.")
    hazards = member.many(LabelHazardSchema, "Substances that can harm, wherever they stand.")
    flags = member.texts(
        f"Every flag of the label, once. New ones may come: show one that you do not know as it is.\n\n{flag_table()}"
    )
    unread = member.many(LabelUnreadSchema, "Everything that was not understood.")
    product = member.one(LabelReadProductSchema, "Send it to `normalise`, `compare` or `screen` unchanged.")


OPERATIONS = (
    Operation(
        id="read_label",
        path="/v1/labels/read",
        tag="labels",
        summary="Label text to structured facts",
        description=(
            "Reads the text of one label, in any order of its lines: serving, container, facts with their amounts, "
            "blends with bounds for their members, ingredient lists, allergens, directions, energy and price. Every "
            "fact names the characters that it comes from; what was not understood is listed in `unread`, and what can "
            "be read two ways keeps both readings and a flag. Nothing on the label vanishes. `product` can be sent to "
            f"`normalise`, `compare` and `screen` as it is. At most {LONGEST_LABEL:,} characters and "
            f"{LARGEST_LABEL_BYTES:,} bytes."
        ),
        method="post",
        body=LabelBodySchema,
        answer=LabelAnswerSchema,
        problems=(*BODY_PROBLEMS, *COMPUTED),
        example="read_label",
    ),
)
