"""``POST /v1/combine``: what it answers."""

from __future__ import annotations

from service.domain.combining import answer as words
from service.domain.combining.blocking import DIVISIBILITY, MOST_PRODUCTS, PRODUCTS, SCREEN, UNITS_PER_DAY
from service.domain.combining.programme import ENERGY, HARM, LIMIT, RANGE, TARGET
from service.domain.screening_answers import LEVELS
from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.compare import TargetRangeSchema, TargetResultSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, ComputedAnswerSchema
from service.schemas.screen import VERDICTS, TakenAsSchema, UnrecognisedSchema

_KINDS = (PRODUCTS, MOST_PRODUCTS, UNITS_PER_DAY, SCREEN, HARM, LIMIT, ENERGY, TARGET, RANGE, DIVISIBILITY)
_STATUS = "`optimal`: proven to be the cheapest. `best_found`: time ran out before that was proven; see `gap`."


class CombinedProductSchema(AnswerSchema):
    """One product of a combination."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Name of the product.", nullable=True)
    units_per_day = member.number("Units a day.", example=1.5)
    unit = member.text("What one unit is called.", example="tablet")
    cost_per_day = member.number("What it costs per day.", example=0.18)
    container_lasts_days = member.number("Days that one container lasts.", example=80)
    label_flags = member.texts("What is unclear about the label, as in a comparison.")


class CombinedTotalSchema(AnswerSchema):
    """Amount of one substance per day over the set and what is given already."""

    ingredient = member.text("Id of the ingredient.")
    moiety = member.text("Name of the moiety.", nullable=True)
    low_mg_per_day = member.number("Low reading in mg per day.")
    high_mg_per_day = member.number("High reading in mg per day.")
    limit_id = member.text("Id of the limit that it is judged by; null where none is recorded.", nullable=True)
    limit_mg_per_day = member.number("That limit for this animal in mg per day.", nullable=True)
    share_of_limit = member.number("High reading as a share of it.", nullable=True)
    limit_origin = member.text(f"Of the limit. {ORIGIN_MEANING}", nullable=True, among=ORIGINS)
    lower_bound = member.boolean("Whether more of it is present than could be counted.")
    source_ids = member.texts("Ids of the sources of the limit.")


class BriefFindingSchema(AnswerSchema):
    """One finding of the screen, in short."""

    kind = member.text("What kind of finding.", example="duplicate")
    level = member.text("How grave.", among=LEVELS)
    subjects = member.texts("Ids of what it is about.")
    effect = member.text("What can happen.")
    action = member.text("What to do.")
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)
    source_ids = member.texts("Ids of the sources.")


class CombinationSchema(AnswerSchema):
    """One set of products with the number of units of each."""

    rank = member.integer("Place in the order, from 1.", example=1)
    status = member.text(
        f"{_STATUS} Of a second or third set: the cheapest of those that are left.",
        among=(words.OPTIMAL, words.BEST_FOUND),
    )
    gap = member.number("Share of its cost that a cheaper one could save at most; 0 where it is optimal.", example=0)
    cost_per_day = member.number("Cost per day.", example=0.42)
    cost_per_30_days = member.number("Cost of 30 days.", example=12.6)
    cost_per_365_days = member.number("Cost of 365 days.", example=153.3)
    more_than_cheapest_per_day = member.number("What it costs more per day than the first set.", example=0)
    currency = member.text("ISO 4217 code of all costs.", example="USD")
    units_per_day = member.number("Units a day of all its products.", example=2.5)
    energy_kcal_per_day = member.number(
        "Energy of its products that state theirs, in kcal per day; null where none does.", nullable=True
    )
    products = member.many(CombinedProductSchema, "Its products, in the order of the request.")
    targets = member.many(
        TargetResultSchema, "What is reached of each target, with what is given already where that counts."
    )
    totals = member.many(
        CombinedTotalSchema,
        "All that is given per day, as the screen adds it up, against the limits it judges by.",
    )
    verdict = member.text("Verdict of the screen on the whole set, with all that is given beside it.", among=VERDICTS)
    findings = member.many(BriefFindingSchema, "Its findings of level `watch` and above; `POST /v1/screen` tells all.")


class LeftOutReasonSchema(AnswerSchema):
    """Why a product is not used."""

    code = member.text(
        "`avoid_finding`: the screen has a finding of level `avoid` even for its smallest part. `cost_unknown`: price "
        "or number of units is missing. `holds_no_target`: its label credits nothing of any target. "
        "`too_much_in_smallest_part`: that alone passes a limit, the high end of a range, or the energy.",
        among=("avoid_finding", "cost_unknown", "holds_no_target", "too_much_in_smallest_part"),
    )
    detail = member.text("One sentence for people.")


class LeftOutSchema(AnswerSchema):
    """A product that no set may use."""

    product_id = member.text("Id of the product.", example="p1")
    name = member.text("Name of the product.", nullable=True)
    reasons = member.many(LeftOutReasonSchema, "Every reason against it.")
    source_ids = member.texts("Ids of the sources of the findings.")


class RejectedUnitsSchema(AnswerSchema):
    """One product of a rejected set."""

    product_id = member.text("Id of the product.", example="p1")
    units_per_day = member.number("From how many units a day on.", example=1)


class RejectedSetSchema(AnswerSchema):
    """Products that must not be given together, or not as much of one."""

    products = member.many(RejectedUnitsSchema, "The least amounts that are too much; so is everything above.")
    detail = member.text("What the screen objects to.")
    source_ids = member.texts("Ids of the sources of the findings.")


class BlockSchema(AnswerSchema):
    """One thing that stands in the way where nothing fits."""

    kind = member.text(
        "`products`: none may be used. `most_products`: it takes more. `units_per_day`: it takes too many units of "
        "one. `screen`: the screen stops what would fit. `harm`: an amount from which harm is published. `limit`: an "
        "upper limit. `energy`: a tenth of the resting need. `target`: a target is not reached. `range`: the high end "
        "of a range is passed. `divisibility`: only parts of units that cannot be given would fit.",
        among=_KINDS,
    )
    ingredient = member.text("Id of the ingredient.", nullable=True)
    limit_id = member.text("Id of the limit, or of the dataset row that acts as one.", nullable=True)
    needed = member.number("What has to hold: at least so much of a target, at most so much else.", nullable=True)
    reachable = member.number(
        "How near the products come to it while everything else holds; beside other targets that are not reached "
        "either, where all are reached as far as possible.",
        nullable=True,
    )
    unit = member.text("Unit of both: `mg` or `kcal` a day, `products`, `units`.", nullable=True)
    detail = member.text("One sentence for people.")
    limit_origin = member.text(f"Of the limit. {ORIGIN_MEANING}", nullable=True, among=ORIGINS)
    source_ids = member.texts("Ids of the sources of the limit.")


class CombineAnswerSchema(ComputedAnswerSchema):
    """The cheapest sets of products that reach every target, or what stands in the way."""

    species = member.text("Species of the animal.", example="dog")
    weight_kg = member.number("Body weight in kg.", example=34)
    aim = member.text("Which end of the ranges was to be reached.", example="low")
    high_end_on = member.text("Which reading was held against the high ends.", example="low_reading")
    most_products = member.integer("How many products a set may hold.", example=3)
    status = member.text(
        f"Of the cheapest set: {_STATUS} Without one: `nothing_fits` (proven; see `blocked_by`), `nothing_needed` "
        "(what is given already reaches every target), or `not_settled` (time ran out before any set was found or "
        "excluded).",
        among=(words.OPTIMAL, words.BEST_FOUND, words.NOTHING_FITS, words.NOTHING_NEEDED, words.NOT_SETTLED),
    )
    gap = member.number("`gap` of the cheapest set; null without one.", nullable=True, example=0)
    search_complete = member.boolean(
        "Whether the search came to its end: no set that is not listed belongs among the three, and where nothing "
        "fits, every rule was looked at."
    )
    targets = member.many(TargetRangeSchema, "The targets with their amounts.")
    combinations = member.many(CombinationSchema, "At most three sets, cheapest first.")
    left_out = member.many(LeftOutSchema, "Every product that no set may use, and why.")
    rejected_sets = member.many(RejectedSetSchema, "What the search came upon and the screen stops.")
    blocked_by = member.many(
        BlockSchema, "Where nothing fits: what stands in the way, what is easiest to change first."
    )
    taken_as = member.many(TakenAsSchema, "What the words for medicines, conditions and traits were taken as.")
    unrecognised = member.many(
        UnrecognisedSchema, "What was not understood of medicines, conditions, traits and what is given already."
    )
