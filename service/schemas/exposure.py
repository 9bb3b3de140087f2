"""``GET /v1/exposure``: what it takes and what it answers."""

from __future__ import annotations

from service.domain.exposure_answer import TIERS
from service.schemas import answer_fields as member
from service.schemas.animal import AnimalQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Number, Text

_EITHER = " Give exactly one of `amount` and `amount_mg`."
_TIER = (
    "The gravest published tier that the high reading reaches. `mild`, `severe` (moderate and severe signs) and "
    "`life_threatening` (deaths and LD50); `no_safe_amount` where no amount is known to be harmless, however little it "
    "was; `below_published_thresholds`, which is not the same as harmless. Null where nothing can be said: see "
    "`why_no_tier`, and never read it as harmless."
)


class ExposureQuerySchema(AnimalQuerySchema):
    """Query of ``GET /v1/exposure``."""

    substance = Text(
        "What was eaten: id or name of a hazard, an ingredient or a form, or plain words such as `milk chocolate`, "
        "`70 % dark chocolate`, `ibuprofen 200 mg tablet`, `ferrous sulfate`.",
        longest=200,
        required=True,
        example="milk chocolate",
    )
    amount = Text(
        "How much of it was eaten, with its unit: `4 g`, `2 oz`, `400 IU`, `2-3 g`; `30 ml` where a density is "
        "recorded. The decimal mark is a dot. A range is judged on its high end. A count such as `3 tablets` is "
        "refused: give the mass in all." + _EITHER,
        longest=60,
        example="4 g",
    )
    amount_mg = Number("How much of it was eaten, in mg." + _EITHER, least="0.000001", most=100_000_000)


class ContentUsedSchema(AnswerSchema):
    """How much of what is counted is in what was eaten."""

    material = member.text("The material or form it was taken as.", example="milk chocolate")
    of = member.text("What is counted.", example="theobromine+caffeine")
    share_low = member.number("Lowest recorded mg per mg of material.", example=0.0023)
    share_high = member.number("Highest recorded mg per mg, which is judged by.", example=0.0023)
    known = member.boolean("False where no share is recorded: then it lies between nothing and all.")
    factor_ids = member.texts("Ids of the content factors.")
    how = member.text("The factors or the formula in words.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class ExposureThresholdSchema(AnswerSchema):
    """One published threshold, and whether the amount reaches it."""

    id = member.text("Id of the row.")
    hazard = member.text("Id of the hazard it belongs to; cocoa is judged by those of the methylxanthines.")
    severity = member.text("The published word.", example="signs_mild")
    tier = member.text("The tier it stands for; null for a row to read only.", among=TIERS, nullable=True)
    comparison = member.text("How the amount is meant.", example=">=", nullable=True)
    amount_low = member.number("Amount as published, or the low end of a range.", nullable=True)
    amount_high = member.number("High end of a published range; the low end decides.", nullable=True)
    unit = member.text("Unit of the published amount.", example="mg/kg_bw", nullable=True)
    of = member.text("What it is an amount of.", nullable=True)
    basis = member.text("How it was given.", example="single oral", nullable=True)
    per_day = member.boolean("Whether it is of an amount given every day.")
    mg_per_kg_low = member.number("The same in mg per kg body weight.", nullable=True)
    mg_per_kg_high = member.number("High end of it.", nullable=True)
    compared_mg_per_kg = member.number("What was eaten, as it was held against it; null where not.", nullable=True)
    reached = member.boolean(
        "Whether the amount reaches it; null where it was not compared, also where it is no limit to stay under.",
        nullable=True,
    )
    why_not_compared = member.text("Why it was not compared.", nullable=True)
    onset = member.text("When signs begin.", nullable=True)
    signs = member.text("Signs described.", nullable=True)
    action = member.text("The recorded action of this row alone.", example="contact_now")
    use = member.text("`primary` rows decide, `reference` rows are shown beside them.", among=("primary", "reference"))
    grade = member.text(
        "A: study, regulation or agency; B: veterinary manual, textbook or poison centre; C: practice page; D: "
        "secondary web text; M: recalled.",
        nullable=True,
    )
    note = member.text("Note on it.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class ConflictSchema(AnswerSchema):
    """Two sources that disagree."""

    about = member.text("About what.", example="mild signs")
    used_id = member.text("Id of the row that was judged by.")
    used = member.text("What it says.")
    other_id = member.text("Id of the other row.")
    other = member.text("What that says.")
    source_ids = member.texts("Ids of the sources of both.")


class AlsoNamedSchema(AnswerSchema):
    """Another harmful substance that the same words name, judged as if all of the amount were of it."""

    hazard = member.text("Id of the hazard.")
    name = member.text("Its name.")
    tier = member.text(_TIER, among=TIERS, nullable=True)
    mg_per_kg = member.number("mg per kg body weight; null where its content is not recorded.", nullable=True)
    why_no_tier = member.text("Why there is no tier.", nullable=True)


class ExposureAnswerSchema(ComputedAnswerSchema):
    """What an amount that was eaten once means."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", example=10)
    substance = member.text("What was eaten, as given.", example="milk chocolate")
    ingredient = member.text("Id of the ingredient.", nullable=True)
    form = member.text("Id of the chemical form.", nullable=True)
    hazard = member.text("Id of the hazard it was judged as; null where none is recorded.", nullable=True)
    hazard_name = member.text("Its name.", nullable=True)
    material = member.text("What the amount was taken to be of.", example="milk chocolate")
    amount_mg = member.number("What was eaten in mg; null where it is a range or in units of activity.", nullable=True)
    amount_low_mg = member.number("Low reading of it.", nullable=True)
    amount_high_mg = member.number("High reading of it.", nullable=True)
    counted_as = member.text("What was counted.", example="sum of theobromine and caffeine", nullable=True)
    content = member.one(
        ContentUsedSchema, "How the counted substance follows from what was eaten; null: it is the same.", nullable=True
    )
    moiety_low_mg = member.number("Low reading of the counted substance in mg; null where not known.", nullable=True)
    moiety_high_mg = member.number("High reading of it.", nullable=True)
    mg_per_kg = member.number(
        "Counted substance in mg per kg body weight on the high reading, which is judged by; null where its content "
        "is not known.",
        example=20.01,
        nullable=True,
    )
    mg_per_kg_low = member.number("Low reading of it.", nullable=True)
    mg_per_kg_high = member.number("High reading of it.", nullable=True)
    tier = member.text(_TIER, among=TIERS, nullable=True)
    why_no_tier = member.text("Why nothing can be said, in a sentence.", nullable=True)
    thresholds = member.many(ExposureThresholdSchema, "Every published threshold of the substance for this species.")
    conflicts = member.many(ConflictSchema, "Where sources disagree, with the row that was used.")
    disagreement = member.text("What else sources disagree on, in sentences.", nullable=True)
    onset = member.text("When signs begin, as recorded.", nullable=True)
    signs = member.text("Signs described.", nullable=True)
    action = member.text(
        "What to do. From `mild` upward it begins with contacting a veterinarian or an animal poison line now."
    )
    also_named = member.many(AlsoNamedSchema, "Other harmful substances that the same words name.")


OPERATIONS = (
    Operation(
        id="get_exposure",
        path="/v1/exposure",
        tag="screen",
        summary="An amount of one substance eaten once, against published thresholds",
        description=(
            "Turns what was eaten into what the published thresholds count (salts to the element, cocoa by its kind, "
            "plants to caffeine, IU to mg) and holds the high reading against them, per kilogram of body weight. "
            "Thresholds of amounts given every day are shown and not compared. Nothing is ever called harmless. If an "
            "animal may have eaten something dangerous, contact a veterinarian or an animal poison line first."
        ),
        query=ExposureQuerySchema,
        answer=ExposureAnswerSchema,
        problems=(*INPUT_PROBLEMS, "unknown-ingredient", *COMPUTED),
        example="exposure",
    ),
)
