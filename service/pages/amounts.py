"""How published amounts and rules of guidance read in a line."""

from __future__ import annotations

from decimal import Decimal

from service.pages.wording import BASIS_WORDS, RULE_WORDS, number, span, words

_BASIS_OF_AN_AMOUNT = {
    "per_day": "a day",
    "per_day_average": "a day on average",
    "per_kg_per_day": "per kg a day",
    "per_lb_per_day": "per lb a day",
    "per_kg075_per_day": "per kg\u2070\u00b7\u2077\u2075 a day",
    "single_dose_per_kg": "per kg, once",
    "per_dose_per_kg": "per kg and dose",
    "per_person_per_day": "per person a day",
    "per_joint_single": "per joint, once",
    "multiple_of_label": "times the label",
    "multiple_of_maintenance": "times maintenance",
    "diet_inclusion": "",
    "none": "",
}


def published_amount(low: Decimal | None, high: Decimal | None, unit: str | None, basis: str | None) -> str:
    """Write an amount as it was published: ``69 mg per kg a day``."""
    if low is None and high is None:
        return "not stated"
    said = _BASIS_OF_AN_AMOUNT.get(basis or "none", words(basis))
    value = span(low, high)
    if unit not in (None, "", "multiple"):
        value = f"{value}\u00a0{unit}"
    return f"{value} {said}".strip()


def weight_band(from_kg: Decimal | None, to_kg: Decimal | None) -> str:
    """Write the body weights that a row is for; nothing where it names none."""
    if from_kg is None and to_kg is None:
        return ""
    if from_kg is None:
        return f"up to {number(to_kg)}\u00a0kg"
    return f"from {number(from_kg)}\u00a0kg" if to_kg is None else f"{span(from_kg, to_kg)}\u00a0kg"


def rule_sentence(rule_id: str, basis: str) -> str:
    """Say in words how an amount of the guidance came about."""
    rule = RULE_WORDS.get(rule_id, rule_id.replace("-", " "))
    how = BASIS_WORDS.get(basis)
    # A rule that says itself how it scales needs no second mention.
    return rule if how is None or how in rule else f"{rule}; {how}"
