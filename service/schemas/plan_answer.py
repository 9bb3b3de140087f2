"""``POST /v1/plan``: what it answers, and its operations."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.dose import EvidenceSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.plan import PlanBodySchema
from service.schemas.screen import VERDICTS

_DATE = "Its date; null without a start date."


class PlanPhaseSchema(AnswerSchema):
    """A stretch of days with one amount a day."""

    phase = member.text("`loading`, `maintenance`, `given`, or the name told in the request.", example="maintenance")
    from_day = member.integer("First day; the first of the course is 1.", example=43)
    to_day = member.integer("Last day, which belongs to the phase.", example=365)
    from_date = member.text(_DATE, nullable=True)
    to_date = member.text(_DATE, nullable=True)
    days = member.integer("Number of days.", example=323)
    weight_kg = member.number("Body weight that the amount was derived for, in kg.", nullable=True)
    units_per_day = member.number("Units a day.", example=1)
    units = member.number("Units over the phase.", example=323)
    wasted_units = member.number("Rest of divided units that is thrown away, over the phase.", example=0)
    ingredient = member.text("Id of the ingredient that the amount is judged by.", nullable=True)
    form = member.text("Id of the form that the mg count.", nullable=True)
    mg_per_day = member.number("mg of it a day, on the low reading of the label.", nullable=True)
    mg_high_per_day = member.number("mg of it a day, on the high reading.", nullable=True)
    wanted_low_mg = member.number("Lower end of what was to be reached, in mg a day.", nullable=True)
    wanted_high_mg = member.number("Upper end of it.", nullable=True)
    surplus_mg_per_day = member.number(
        "What the units give beyond the aim because they only divide so far, in mg a day; negative where they stay "
        "below.",
        nullable=True,
    )
    meets_target = member.boolean("Whether the amount lies in the range; null where none is known.", nullable=True)
    divided_doses = member.integer("Into how many doses a day the guidance divides it.", nullable=True)
    cost_per_day = member.number("Mean cost of a day.", nullable=True)
    cost = member.number("Cost of what is used in the phase.", nullable=True)
    origin = member.text(ORIGIN_MEANING + " `caller` where the request gave the amount.", among=(*ORIGINS, "caller"))
    flags = member.texts("What to know of the count, for example `nearest_amount` or `units_not_divisible`.")
    source_ids = member.texts("Ids of the sources.")


class PurchaseSchema(AnswerSchema):
    """What is bought on one day."""

    day = member.integer("Day on which the first of the containers is opened.", example=1)
    date = member.text(_DATE, nullable=True)
    containers = member.number("Containers; a fraction only where whole ones were not asked for.", example=1)
    units = member.number("Units in them.", example=120)
    price_per_container = member.number("Price of each on that day.", nullable=True)
    cost = member.number("What is paid; all purchases add up to `paid_cost`.", nullable=True)


class CourseYearSchema(AnswerSchema):
    """One year of the course."""

    year = member.integer("Number of the year, from 1.", example=1)
    from_day = member.integer("First day.", example=1)
    to_day = member.integer("Last day.", example=365)
    from_date = member.text(_DATE, nullable=True)
    to_date = member.text(_DATE, nullable=True)
    days = member.integer("Number of days.", example=365)
    units = member.number("Units used.", example=365)
    consumed_cost = member.number("Cost of what is used; all years add up to the total.", nullable=True)
    paid_cost = member.number("What is paid; all years add up to the total.", nullable=True)


class CourseDaySchema(AnswerSchema):
    """One day of the course."""

    day = member.integer("Day, from 1.", example=1)
    date = member.text(_DATE, nullable=True)
    units = member.number("Units used.", example=1)
    cost = member.number("Cost; all days add up to `consumed_cost` to the minor unit.", nullable=True)


class WhatIfSchema(AnswerSchema):
    """The course with one thing changed."""

    change = member.text("What is changed.", among=("price", "weight", "aim"))
    factor = member.number("Factor on it.", nullable=True)
    aim = member.text("The other aim.", nullable=True)
    units_per_day = member.number("Units a day in the last phase.", nullable=True)
    consumed_cost = member.number("Cost of what is used then.", nullable=True)
    paid_cost = member.number("What is paid then.", nullable=True)
    consumed_difference = member.number("Difference from the course as asked.", nullable=True)
    paid_difference = member.number("Difference from the course as asked.", nullable=True)
    effect = member.text("What was done, or why it has no effect or cannot be planned.")


class CourseSchema(AnswerSchema):
    """The course of one product. All costs are in `currency`, totals at its minor unit."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Name of the product.", nullable=True)
    unit = member.text("What one unit is called.", example="tablet")
    currency = member.text("ISO 4217 code of all costs.", nullable=True)
    phases = member.many(PlanPhaseSchema, "What is given when; empty where the label cannot serve the course.")
    purchases = member.many(PurchaseSchema, "What is bought when; empty where the number of units is not known.")
    years = member.many(CourseYearSchema, "The same by year.")
    consumed_units = member.number("Units taken out of the packs.", nullable=True)
    wasted_units = member.number("Of these, the rest of divided units that is thrown away.", nullable=True)
    discarded_units = member.number("Units thrown away because a container was open for too long.", nullable=True)
    left_over_units = member.number("Units left at the end.", nullable=True)
    containers = member.number("Containers bought.", nullable=True)
    consumed_cost = member.number(
        "Cost of the units taken out of the packs: what they cost when they were bought, oldest container first.",
        nullable=True,
    )
    paid_cost = member.number("What is paid for all purchases.", nullable=True)
    left_over_cost = member.number(
        "What the units left at the end have cost; `paid_cost` is the sum of consumed, left over and discarded.",
        nullable=True,
    )
    discarded_cost = member.number("What the discarded units have cost.", nullable=True)
    paid_cost_per_30_days = member.number("Mean of `paid_cost` over 30 days.", nullable=True)
    paid_cost_per_365_days = member.number("Mean of `paid_cost` over 365 days.", nullable=True)
    verdict = member.text("Gravest verdict of the screen over the course.", among=VERDICTS)
    warnings = member.texts(
        "What stands behind a verdict of `stop` or `ask_veterinarian`, and what to do, in sentences."
    )
    label_flags = member.texts(
        "What is unclear about the label; the meanings are listed at `flags` of `POST /v1/labels/read`."
    )
    why_not = member.texts("Why the course cannot be recommended; empty where nothing of this speaks against it.")
    what_if = member.many(WhatIfSchema, "How the cost moves if price, weight or aim does.")
    days = member.many(CourseDaySchema, "Every day, if `show_days` was true.")


class PairSchema(AnswerSchema):
    """Two products against each other."""

    product_id = member.text("Id of the product for which more is paid on the first day.")
    instead_of = member.text("Id of the other.")
    paid_saving = member.number("How much less is paid for it over the course; negative if more.")
    consumed_saving = member.number("The same of what is used.")
    break_even_day = member.integer("First day on which no more has been paid for it; null if never.", nullable=True)
    break_even_date = member.text(_DATE, nullable=True)
    ahead_for_good_from_day = member.integer("Day from which that stays so to the end; null if never.", nullable=True)
    ahead_for_good_from_date = member.text(_DATE, nullable=True)


class SavingSchema(AnswerSchema):
    """What the cheapest course saves against the dearest, among those with a known cost and nothing against them."""

    cheapest_product_id = member.text("Id of the product of the cheapest course.")
    dearest_product_id = member.text("Id of the product of the dearest.")
    currency = member.text("ISO 4217 code.", example="USD")
    paid = member.number("Difference of what is paid.")
    consumed = member.number("Difference of what is used.")
    share_of_paid = member.number("The difference as a share of what the dearest costs.")
    pairs = member.many(PairSchema, "Every two of them.")


class ReassessmentSchema(AnswerSchema):
    """A day to look again whether it helps."""

    day = member.integer("Day of the course.", example=71)
    date = member.text(_DATE, nullable=True)
    reason = member.text("Why then.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class PlanAnswerSchema(ComputedAnswerSchema, CourseSchema):
    """The course of the first product and, where there are several, those of all beside it."""

    course_id = member.text("As told.", nullable=True)
    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight on the first day, in kg.", example=34)
    start_date = member.text("First day; null where none was given.", nullable=True)
    end_date = member.text("Last day.", nullable=True)
    horizon_days = member.integer("Length of the course in days.", example=365)
    aim = member.text("Which end of the guidance was to be reached.", example="low")
    ingredient = member.text("Id of the ingredient that amounts are judged by.", nullable=True)
    evidence = member.one(EvidenceSchema, "How good the evidence for it is.", nullable=True)
    next_reassessment = member.text("Date of the first reassessment; null without a start date.", nullable=True)
    next_reassessment_day = member.integer("Day of the first reassessment.", nullable=True)
    reassessments = member.many(ReassessmentSchema, "Days to look again.")
    alternatives = member.many(
        CourseSchema, "The courses of all products, cheapest first, where several were given; else empty."
    )
    saving = member.one(
        SavingSchema, "The products against each other; null where fewer than two count.", nullable=True
    )


_PROBLEMS = (*BODY_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Says what is given on which days, what is bought when, and what it costs, for one product or several side by "
    "side. Without `phases` loading and maintenance come from guidance; a product with `units_per_day` is given so. "
    "A container is bought on the day it is opened, units are counted exactly, and prices move on anniversaries of "
    "the first day, rounded to the minor unit like a price tag. Costs of days, phases, years and purchases are "
    "rounded so that they add up to the totals; `paid_cost` = `consumed_cost` + `left_over_cost` + `discarded_cost`."
)


def _other(ending: str, media_type: str, summary: str, description: str) -> Operation:
    return Operation(
        id=f"plan_course_{ending}",
        method="post",
        path=f"/v1/plan.{ending}",
        tag="plan",
        summary=summary,
        description=description,
        query=PinnedQuerySchema,
        body=PlanBodySchema,
        media_types=(media_type,),
        problems=_PROBLEMS,
        example="plan",
        linked=False,
    )


OPERATIONS = (
    Operation(
        id="plan_course",
        method="post",
        path="/v1/plan",
        tag="plan",
        summary="A course over days and years: what is given, bought and paid",
        description=_DESCRIPTION + " Also answers CSV, HTML and a calendar by the `Accept` header.",
        query=PinnedQuerySchema,
        body=PlanBodySchema,
        answer=PlanAnswerSchema,
        problems=_PROBLEMS,
        example="plan",
    ),
    _other(
        "csv",
        "text/csv",
        "A course as a CSV table",
        "One row per product and phase; columns that begin with `course_` are totals of the whole course and stand in "
        "each of its rows. " + _DESCRIPTION,
    ),
    _other("html", "text/html", "A course as a page", "One row per product and phase. " + _DESCRIPTION),
    _other(
        "ics",
        "text/calendar",
        "A course as a calendar",
        "All-day events (RFC 5545) of the first product: changes of the amount, refills and reassessments. Needs "
        "`start_date`. The same request gives the same events with the same UIDs, so that importing again replaces "
        "them.",
    ),
)
