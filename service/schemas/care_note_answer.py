"""``POST /v1/care-note``: what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.screen import VERDICTS, FindingSchema, NotAssessedSchema, TakenAsSchema, UnrecognisedSchema

_DAY = "The first day of the course is 1; null before it, and at the end of what has no end."
_DATE = "Its date; null without a calendar or an end."
_SOURCES = "Ids of the sources."
_INGREDIENT = "Id of the ingredient."
_OPEN = " Null where the label gives none."
CHECKSUM = (
    "SHA-256, hexadecimal, of the inputs: the body as JSON in UTF-8, members sorted by name and without blanks; "
    "numbers without exponent and trailing zeros, so that `34.0` and `34` are one; members that are null, empty or "
    "equal to their default left out, and so is what a read label brings along beside `name` and `amount` of a fact. "
    "The order of members, white space and the form of the answer do not change it; every told value does."
)


class CareNoteAnimalSchema(AnswerSchema):
    """The animal as told."""

    name = member.text("What it is called.", nullable=True)
    identification = member.text("What tells it from others.", nullable=True)
    species = member.text("Species.", example="dog")
    weight_kg = member.number("Body weight in kg; null where it was not told.", nullable=True)
    age_years = member.number("Age in years; null where it was not told.", nullable=True)
    traits = member.texts("Traits as told.")


class CareGivenPhaseSchema(AnswerSchema):
    """A stretch of days with one number of units a day."""

    phase = member.integer("Its number, from 1.", example=1)
    name = member.text("What the request calls it.", nullable=True)
    from_day = member.integer("First day. " + _DAY, nullable=True)
    to_day = member.integer("Last day, which belongs to the phase. " + _DAY, nullable=True)
    from_date = member.text(_DATE, nullable=True)
    to_date = member.text(_DATE, nullable=True)
    days = member.integer("Number of days; null without an end.", nullable=True)
    units_per_day = member.number("Units a day; null where nobody told how many.", nullable=True)
    doses = member.numbers(
        "The same divided into as many doses as the guidance has for the species, as evenly as the unit divides."
    )


class CareLinePerDaySchema(AnswerSchema):
    """What one line of a label comes to a day in one phase."""

    phase = member.integer("Number of the phase.", example=1)
    low_mg = member.number("mg of the labelled substance a day, low reading." + _OPEN, nullable=True)
    high_mg = member.number("The same, high reading.", nullable=True)
    moiety_low_mg = member.number("mg of its active moiety a day, low reading." + _OPEN, nullable=True)
    moiety_high_mg = member.number("The same, high reading.", nullable=True)


class CareGivenLineSchema(AnswerSchema):
    """One line of a label."""

    name = member.text("Name as told.", example="Glucosamine HCl")
    amount = member.text("Amount per serving as told.", nullable=True)
    ingredient = member.text(_INGREDIENT + " Null where the name is not known.", nullable=True)
    ingredient_name = member.text("Its name.", nullable=True)
    form = member.text("Id of the chemical form, of an open one where the label does not settle it.", nullable=True)
    form_name = member.text("Its name.", nullable=True)
    moiety = member.text("What is active in it.", nullable=True)
    low_mg_per_unit = member.number("mg of the labelled substance in a unit, low reading." + _OPEN, nullable=True)
    high_mg_per_unit = member.number("The same, high reading.", nullable=True)
    moiety_low_mg_per_unit = member.number("mg of its active moiety in a unit, low reading." + _OPEN, nullable=True)
    moiety_high_mg_per_unit = member.number("The same, high reading.", nullable=True)
    flags = member.texts("What a reader of this line should know; the meanings stand with `POST /v1/labels/read`.")
    left_open = member.texts("What the line leaves open of form, salt or amount, in words.")
    per_day = member.many(CareLinePerDaySchema, "What it comes to a day, by phase.")


class CareGivenProductSchema(AnswerSchema):
    """One product: when it is given, and what its label says."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Its name.", nullable=True)
    unit = member.text("What one unit is called.", example="tablet")
    serving_units = member.number("Units in the serving of the label; null where none was told.", nullable=True)
    phases = member.many(CareGivenPhaseSchema, "What is given when.")
    lines = member.many(CareGivenLineSchema, "The lines of its facts panel.")
    other_ingredients = member.text("Its other ingredients as told.", nullable=True)


class CareGuidanceSchema(AnswerSchema):
    """The range that an amount was held against."""

    phase = member.text("Phase of the guidance.", among=("loading", "maintenance"))
    low_mg = member.number("Lower end in mg a day of the form that the amount counts.", example=500)
    high_mg = member.number("Upper end.", example=1000)
    divided_doses = member.integer("Into how many doses a day the guidance divides it.", example=2)
    days_low = member.integer("Days that the phase lasts, low; null without an end.", nullable=True)
    days_high = member.integer("Days that the phase lasts, high.", nullable=True)
    guidance_id = member.text("Id of the guidance row.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    note = member.text("What the dataset says about the row.", nullable=True)
    source_ids = member.texts(_SOURCES)


class CareAmountSchema(AnswerSchema):
    """One ingredient over all products and other supplements, for a run of days on which its sum stays the same."""

    ingredient = member.text(_INGREDIENT, example="glucosamine")
    name = member.text("Its name.", example="glucosamine")
    form = member.text("Id of the form that the amounts count; null where they count the moiety itself.", nullable=True)
    counted_as = member.text("What the amounts count, in words.", example="glucosamine hydrochloride")
    from_day = member.integer("First day. " + _DAY, nullable=True)
    to_day = member.integer("Last day. " + _DAY, nullable=True)
    from_date = member.text(_DATE, nullable=True)
    to_date = member.text(_DATE, nullable=True)
    low_mg = member.number("mg a day, low reading of the labels; null where no amount is known.", nullable=True)
    high_mg = member.number("mg a day, high reading.", nullable=True)
    at_least = member.boolean("Whether more of it is given than could be counted.")
    products = member.texts("Ids of the products that hold it.")
    position = member.text(
        "Where it lies in the range: `below` (also the high reading), `within` (both), `above` (also the low reading), "
        "`open` (one reading inside, one outside, or more than is known), `not_known` (no amount could be counted), "
        "`no_guidance`. A first amount above maintenance that ends within the days of a loading phase is held against "
        "loading.",
        among=("below", "within", "above", "open", "not_known", "no_guidance"),
    )
    guidance = member.one(CareGuidanceSchema, "The range; null where there is none.", nullable=True)
    why_no_guidance = member.text("Why there is none.", nullable=True)


class CareEvidenceSchema(AnswerSchema):
    """How good the evidence for one ingredient is."""

    ingredient = member.text(_INGREDIENT)
    name = member.text("Its name.")
    verdict = member.text("Verdict.", among=("supported", "mixed", "weak", "against", "untested"))
    summary = member.text("In a few sentences.")
    dissent = member.text("Who says otherwise.", nullable=True)
    source_ids = member.texts(_SOURCES)


class CareToldSchema(AnswerSchema):
    """One medicine, condition or trait as told."""

    text = member.text("As told.", example="carprofen")
    understood = member.boolean("Whether it was understood, wholly.")
    taken_as = member.many(TakenAsSchema, "What it was taken as; empty for what was denied or not understood.")


class CareFindingSchema(FindingSchema):
    """One finding of the screen, with the names of what it is about."""

    subject_names = member.texts("Names of the subjects, in their order.")


class CareReasonCountSchema(AnswerSchema):
    """How many pairs were not assessed for one reason."""

    reason = member.text("Reason; the meanings stand with `POST /v1/screen`.", example="no_record")
    count = member.integer("How many pairs.", example=4)


class CareScreenSchema(AnswerSchema):
    """What the screen says of everything that is given, over all days of the course."""

    verdict = member.text("Gravest verdict; the meanings stand with `POST /v1/screen`.", among=VERDICTS)
    highest_level = member.text("Level of the gravest finding; null without one.", nullable=True)
    findings = member.many(CareFindingSchema, "What was found, gravest first.")
    unrecognised = member.many(UnrecognisedSchema, "What was not understood. Not known is not the same as harmless.")
    not_assessed = member.many(
        NotAssessedSchema, "What was not assessed, pairs of two ingredients left out: `not_assessed_counts` has them."
    )
    not_assessed_counts = member.many(CareReasonCountSchema, "Everything that was not assessed, counted by reason.")


class CareQuestionSchema(AnswerSchema):
    """One question for the veterinarian."""

    code = member.text("Stable word for programs.", example="above_guidance")
    asked_by = member.text("`rule` where it follows from the note.", among=("rule", "carer"))
    text = member.text("The question.")
    subjects = member.texts("Ids of what it is about.")
    source_ids = member.texts(_SOURCES)


class CareSignSchema(AnswerSchema):
    """One thing to watch for."""

    text = member.text("What may be seen.")
    action = member.text("What to do then.")
    general = member.boolean("Whether it holds for any supplement, and not for what is given here.")
    level = member.text("Level of the finding that it comes from.", nullable=True)
    subjects = member.texts("Ids of what it is about.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts(_SOURCES)


class CareReassessmentSchema(AnswerSchema):
    """When to judge whether one ingredient helps."""

    ingredient = member.text(_INGREDIENT)
    name = member.text("Its name.")
    after_days = member.integer("Days after the first one with it.", example=70)
    on_day = member.integer("Day of the course. " + _DAY, nullable=True)
    on_date = member.text(_DATE, nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts(_SOURCES)


class CareReproductionSchema(AnswerSchema):
    """How to get this note again."""

    dataset = member.text("Release to pin.", example="1.1.0")
    inputs_sha256 = member.text(CHECKSUM)
    text = member.text("In words.")


class CareNoteAnswerSchema(ComputedAnswerSchema):
    """The record to hand to a veterinary practice. The same inputs and release give the same bytes."""

    note_date = member.text("Date of the note as told.", nullable=True)
    start_date = member.text("First day of the course; null without dates.", nullable=True)
    animal = member.one(CareNoteAnimalSchema, "The animal.")
    given = member.many(CareGivenProductSchema, "What it gets, product by product.")
    amounts = member.many(CareAmountSchema, "What each ingredient comes to a day over everything, beside guidance.")
    evidence = member.many(CareEvidenceSchema, "How good the evidence is for what is given.")
    medications = member.many(CareToldSchema, "Medicines as told.")
    other_supplements = member.many(CareGivenProductSchema, "What else it gets, all along.")
    conditions = member.many(CareToldSchema, "Conditions as told.")
    traits = member.many(CareToldSchema, "Traits as told.")
    observations = member.texts("What the carer has seen, as told.")
    screen = member.one(CareScreenSchema, "What speaks against it.")
    questions = member.many(CareQuestionSchema, "Open questions for the veterinarian: by rule, then the carer's own.")
    reassess_on = member.text("Date of the first reassessment.", nullable=True)
    reassess_on_day = member.integer("Day of the first reassessment. " + _DAY, nullable=True)
    reassess_after_days = member.integer("Its days after the first one with that ingredient.", nullable=True)
    reassessments = member.many(CareReassessmentSchema, "When each ingredient is to be judged, earliest first.")
    watch_for = member.many(CareSignSchema, "What to watch for; what is general is common practice.")
    reproduce = member.one(CareReproductionSchema, "How to get this note again; nothing is stored.")
