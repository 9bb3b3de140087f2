"""Rows of the dataset as they stand inside an answer about one ingredient."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS


class FactRowSchema(AnswerSchema):
    """Where a row comes from."""

    source_id = member.text("Id of the main source.")
    more_source_ids = member.texts("Ids of further sources.")
    locator = member.text("Where in the source.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)


class RegimenSchema(FactRowSchema):
    """One published or customary amount with its outcome."""

    id = member.text("Id of the regimen.")
    ingredient_id = member.text("Id of the ingredient.")
    form_id = member.text("Id of the chemical form.", nullable=True)
    material = member.text("What was given.", nullable=True)
    species = member.text("Species, several joined by a semicolon.")
    phase = member.text("Phase of the course or kind of amount.")
    weight_from_kg = member.number("Lightest animal, in kg.", nullable=True)
    weight_to_kg = member.number("Heaviest animal, in kg.", nullable=True)
    amount_low = member.number("Lower end, in `unit` on `basis`.", nullable=True)
    amount_high = member.number("Upper end, in `unit` on `basis`.", nullable=True)
    unit = member.text("Unit of the amounts.", nullable=True)
    basis = member.text("What the amounts are per.", nullable=True)
    doses_per_day = member.number("Doses a day.", nullable=True)
    co_ingredients = member.text("What was given with it.", nullable=True)
    duration_days = member.text("Length in days, as printed.", nullable=True)
    animals = member.text("How many animals, as printed.", nullable=True)
    study_type = member.text("What kind of study.", nullable=True)
    outcome = member.text("What came of it.", nullable=True)
    time_to_effect_days_low = member.integer("Shortest time to an effect in days.", nullable=True)
    time_to_effect_days_high = member.integer("Longest time to an effect in days.", nullable=True)
    trial_origin = member.text("How the trial facts are known.", nullable=True)
    memory_confidence = member.text("Confidence of what was recalled.", nullable=True)
    note = member.text("What else is known.", nullable=True)


class GuidanceSchema(FactRowSchema):
    """One weight band and phase that the service answers with."""

    id = member.text("Id of the guidance row.")
    ingredient_id = member.text("Id of the ingredient.")
    form_id = member.text("Id of the form that the amounts count.")
    species = member.text("Species.")
    phase = member.text("Phase of the course.")
    from_kg = member.number("Lower end of the band in kg, included.")
    to_kg = member.number("Upper end of the band in kg, excluded; null for the last.", nullable=True)
    amount_low = member.number("Lower end per day, in `unit`.")
    amount_high = member.number("Upper end per day, in `unit`.")
    unit = member.text("Unit of the amounts.")
    basis = member.text("How the amount follows from body weight.")
    at_weight_kg = member.number("Weight in kg that the amounts are stated at.")
    divided_doses = member.integer("Into how many doses a day the amount is divided.")
    days_low = member.integer("Shortest length in days.", nullable=True)
    days_high = member.integer("Longest length in days.", nullable=True)
    reassess_after_days = member.integer("Days after which to ask whether it helps.", nullable=True)
    adults_only = member.boolean("Whether the literature has adults only.")
    rule_id = member.text("The rule by which the row follows from regimens.")
    regimen_ids = member.texts("Ids of these regimens.")
    note = member.text("What else is known.", nullable=True)


class LimitSchema(FactRowSchema):
    """An upper or lower bound."""

    id = member.text("Id of the limit.")
    ingredient_id = member.text("Id of the ingredient.")
    species = member.text("Species.")
    kind = member.text("What kind of bound.")
    amount = member.number("The bound, in `unit` on `basis`.", nullable=True)
    unit = member.text("Unit of the amount.")
    basis = member.text("What the amount is per.")
    enforced = member.boolean("Whether a screen holds totals against it.")
    note = member.text("What else is known.", nullable=True)


class BeliefSchema(FactRowSchema):
    """A common belief and where it stands."""

    id = member.text("Id of the belief.")
    ingredient_id = member.text("Id of the ingredient.")
    statement = member.text("What is believed.")
    standing = member.text("Where it stands.", example="contested")
    summary = member.text("Why.")


class HazardSchema(FactRowSchema):
    """One substance that can harm."""

    id = member.text("Id of the hazard.")
    name = member.text("Name.")
    ingredient_id = member.text("Id of the ingredient.")
    group = member.text("Group it belongs to.")
    kind_dog = member.text("What kind of hazard for a dog.")
    kind_cat = member.text("What kind of hazard for a cat.")
    unquantified_dog = member.text("What to do for a dog where the amount is not known.")
    unquantified_cat = member.text("What to do for a cat where the amount is not known.")
    needs_amount = member.boolean("Whether only the amount decides.")
    moiety = member.text("What the thresholds count.", nullable=True)
    cas = member.text("CAS number.", nullable=True)
    e_number = member.text("Additive code.", nullable=True)
    description = member.text("What it is and does.")
    conflicts = member.text("Where sources disagree.", nullable=True)
    false_friends = member.text("What is mistaken for it.", nullable=True)
    gaps = member.text("What is not known.", nullable=True)
    regulatory_flag = member.text("What a regulator says.", nullable=True)


class ThresholdSchema(FactRowSchema):
    """One tier of a hazard for one species."""

    id = member.text("Id of the tier.")
    hazard_id = member.text("Id of the hazard.")
    species = member.text("Species.")
    severity = member.text("How grave.")
    comparison = member.text("How an amount is compared.", nullable=True)
    amount_low = member.number("Lower end, in `unit`.", nullable=True)
    amount_high = member.number("Upper end, in `unit`.", nullable=True)
    unit = member.text("Unit of the amounts.", nullable=True)
    moiety = member.text("What the amounts count.", nullable=True)
    basis = member.text("What the amounts are per.", nullable=True)
    per_day = member.boolean("Whether the amount is per day and not once.")
    mg_per_kg_low = member.number("Lower end in mg per kg body weight.", nullable=True)
    mg_per_kg_high = member.number("Upper end in mg per kg body weight.", nullable=True)
    onset = member.text("When signs begin.", nullable=True)
    signs = member.text("What is seen.", nullable=True)
    action = member.text("What to do.")
    use = member.text("How the row is used.")
    delegates_to = member.text("Hazard whose tiers apply instead.", nullable=True)
    grade = member.text(
        "Kind of source: A study or agency, B manual or textbook, C practice page, D secondary text, M recalled.",
        nullable=True,
    )
    note = member.text("What else is known.", nullable=True)


class InteractionSchema(FactRowSchema):
    """One recorded pair and topic."""

    id = member.text("Id of the record.")
    kind = member.text("What kind of pair.")
    a_kind = member.text("What the one is.")
    a_id = member.text("Id of the one.")
    b_kind = member.text("What the other is.")
    b_id = member.text("Id of the other.")
    topic = member.text("What it concerns.")
    finding = member.text("What was found.")
    direction = member.text("In which direction.", nullable=True)
    effect = member.text("What can happen.")
    mechanism = member.text("How.", nullable=True)
    level = member.text("How grave, on a scale of our own.")
    evidence = member.text("What kind of evidence.")
    evidence_species = member.text("In which species it was seen.", nullable=True)
    action = member.text("What to do.")
    species = member.texts("Species it applies to.")
    limit_or_conflict = member.text("What limits or contradicts it.", nullable=True)
