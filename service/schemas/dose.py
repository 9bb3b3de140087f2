"""``GET /v1/dose``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import AnimalQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Text, WholeNumber

VERDICTS = ("supported", "mixed", "weak", "against", "untested")


class DoseQuerySchema(AnimalQuerySchema):
    """Query of ``GET /v1/dose``."""

    ingredient = Text("Id of the ingredient.", longest=80, required=True, example="glucosamine")
    form = Text(
        "Id of the chemical form to state the amounts in; default: the form that the guidance is stated in.",
        longest=80,
        example="glucosamine-hydrochloride",
    )
    body_condition_score = WholeNumber(
        "Body condition on the nine-point scale. Off the ideal, amounts at an estimated ideal weight are added.",
        least=1,
        most=9,
        example=7,
    )
    trait = Text(
        "Id of a trait, for example `sighthound`: adds what is published for it.", longest=80, example="sighthound"
    )


class BandSchema(AnswerSchema):
    """Half-open weight band: `from_kg` <= weight < `to_kg`."""

    from_kg = member.number("Lower end, included.", example=30)
    to_kg = member.number("Upper end, excluded; null for the last band.", example=40, nullable=True)


class PhaseDoseSchema(AnswerSchema):
    """Amount per day in one phase."""

    phase = member.text("Phase of the course.", example="maintenance")
    low_mg = member.number("Lower end, in mg of the form per day.", example=500)
    high_mg = member.number("Upper end, in mg of the form per day.", example=1000)
    per = member.text("What the amount is for.", example="day")
    divided_doses = member.integer("Into how many doses a day the amount is divided.", example=2)
    days_low = member.integer("Shortest length of the phase in days; null where it has no stated end.", nullable=True)
    days_high = member.integer("Longest length of the phase in days; null where it has no stated end.", nullable=True)
    moiety_low_mg = member.number("Lower end, in mg of the active moiety per day.", example=415.5)
    moiety_high_mg = member.number("Upper end, in mg of the active moiety per day.", example=831)
    band = member.one(BandSchema, "Weight band the amount belongs to.")
    basis = member.text("How the amount follows from body weight.", example="per_kg")
    rule = member.text("The rule by which the guidance follows from the regimens.")
    guidance_id = member.text("Id of the guidance row.")
    regimen_ids = member.texts("Ids of the regimens that the guidance row rests on.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")
    note = member.text("What else the row says.", nullable=True)


class UpperLimitSchema(AnswerSchema):
    """A published daily maximum for this animal."""

    limit_id = member.text("Id of the limit.")
    amount_mg = member.number("Maximum in mg per day.", example=2800)
    basis = member.text("How the maximum follows from body weight.", example="per_kg075")
    kind = member.text("What kind of bound it is.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")
    note = member.text("What else the row says.", nullable=True)


class TrialAmountSchema(AnswerSchema):
    """One published or customary amount with its outcome, shown beside the guidance."""

    regimen_id = member.text("Id of the regimen.")
    phase = member.text("Phase of the course.")
    material = member.text("What was given.", nullable=True)
    weight_from_kg = member.number("Lightest animal it was stated for, in kg.", nullable=True)
    weight_to_kg = member.number("Heaviest animal it was stated for, in kg.", nullable=True)
    amount_low = member.number("Lower end, in `unit` on `basis`.", nullable=True)
    amount_high = member.number("Upper end, in `unit` on `basis`.", nullable=True)
    unit = member.text("Unit of the amounts.", nullable=True)
    basis = member.text("What the amounts are per.", nullable=True)
    outcome = member.text("What came of it.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class EvidenceSchema(AnswerSchema):
    """How good the evidence is."""

    verdict = member.text("Verdict on the evidence that the ingredient helps.", among=VERDICTS, example="mixed")
    summary = member.text("Why, in a sentence or two.")
    dissent = member.text("Who sees it differently; null where no dissent is recorded.", nullable=True)
    source_ids = member.texts("Ids of the sources.")


class IdealWeightSchema(AnswerSchema):
    """Amounts at an estimated ideal weight, beside those at the true weight."""

    ideal_weight_kg = member.number("Estimated ideal weight in kg.", example=28.3)
    rule = member.text("The rule of the estimate.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    phases = member.many(
        PhaseDoseSchema,
        "Amounts at the ideal weight; empty where it lies outside the accepted weights of the species, which a caution "
        "then says.",
    )


class TraitNoteSchema(AnswerSchema):
    """What is published for a trait."""

    trait = member.text("Id of the trait.", example="sighthound")
    statements = member.texts("What is published, and a plain statement where nothing is.")
    source_ids = member.texts("Ids of the sources.")


class DoseAnswerSchema(ComputedAnswerSchema):
    """Amounts per day for one animal and one ingredient."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", example=34)
    ingredient = member.text("Id of the ingredient.", example="glucosamine")
    form = member.text("Id of the form that `low_mg` and `high_mg` count.", example="glucosamine-hydrochloride")
    moiety = member.text("What the `moiety_` amounts count.", example="glucosamine")
    phases = member.many(PhaseDoseSchema, "Amounts per day, loading first where there is one.")
    upper_limit = member.one(UpperLimitSchema, "Published daily maximum; null where none is recorded.", nullable=True)
    published_amounts = member.many(TrialAmountSchema, "Every recorded amount for the species, with its outcome.")
    evidence = member.one(EvidenceSchema, "How good the evidence is.")
    reassess_after_days = member.integer(
        "Days after which to ask whether it helps; null where not recorded.", nullable=True
    )
    ideal_weight_kg = member.number(
        "Estimated ideal weight in kg; null unless a body condition score off the ideal was given.", nullable=True
    )
    ideal_weight = member.one(
        IdealWeightSchema,
        "Amounts at an estimated ideal weight; null unless a body condition score asks for it.",
        nullable=True,
    )
    trait = member.one(TraitNoteSchema, "What is published for the trait; null unless one was given.", nullable=True)


_PROBLEMS = (*INPUT_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Amounts come from weight bands that follow from published or customary regimens by a written rule. Where the "
    "evidence is weak or negative the answer says so beside the number. Where the literature has no amount for the "
    "species the answer is the problem `no-guidance`."
)

OPERATIONS = (
    Operation(
        id="get_dose",
        path="/v1/dose",
        tag="dose",
        summary="Amounts per day for one animal and one ingredient",
        description=_DESCRIPTION + " Also answers CSV and HTML by the `Accept` header.",
        query=DoseQuerySchema,
        answer=DoseAnswerSchema,
        problems=_PROBLEMS,
        example="dose",
    ),
    Operation(
        id="get_dose_csv",
        path="/v1/dose.csv",
        tag="dose",
        summary="Amounts per day as a CSV table",
        description="One row per phase. " + _DESCRIPTION,
        query=DoseQuerySchema,
        media_types=("text/csv",),
        problems=_PROBLEMS,
        linked=False,
    ),
    Operation(
        id="get_dose_html",
        path="/v1/dose.html",
        tag="dose",
        summary="Amounts per day as a page",
        description="One row per phase. " + _DESCRIPTION,
        query=DoseQuerySchema,
        media_types=("text/html",),
        problems=_PROBLEMS,
        linked=False,
    ),
)
