"""Guidance, published amounts, forms and limits of one ingredient, as rows of tables."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from service.domain.describing import FormAnswer, IngredientAnswer
from service.domain.rounding import significant
from service.pages.amounts import published_amount, rule_sentence, weight_band
from service.pages.asked import Asked, Cell, asked
from service.pages.ingredient_words import formula, phase
from service.pages.page_table import PageTable, Row, page_table
from service.pages.wording import number, origin_words, sentence_case, span, words
from service.reference.records import Guidance, Limit, Regimen

_GUIDANCE = ("phase", "body weight", "mg a day", "at", "parts a day", "for days", "judge again", "known by")
_REGIMENS = ("id", "animal", "what was given", "amount", "body weight", "trial", "outcome", "known by")
_FORMS = ("form", "formula", "g per mol", "share of the active part", "IU per mg", "CAS", "known by")
_LIMITS = ("animal", "bound", "amount", "decides answers", "known by")
_BASIS_OF_A_LIMIT = {
    "per_kg075_per_day": "per kg\u2070\u00b7\u2077\u2075 a day",
    "per_kg_per_day": "per kg a day",
    "per_day": "a day",
    "per_1000_kcal": "per 1000 kcal",
    "per_kg_dry_matter": "per kg of dry matter",
    "per_100_g_dry_matter": "per 100 g of dry matter",
    "percent_of_dry_matter": "of dry matter",
    "single_dose_per_kg": "per kg, once",
    "ratio": "",
}
_SHARE_DIGITS = 4


def guidance_table(answer: IngredientAnswer, species: str) -> PageTable:
    """Give the amounts that the service answers with, one row per weight band and phase."""
    return page_table(_GUIDANCE, (_guidance(row) for row in answer.guidance if row.species == species))


def _guidance(row: Guidance) -> Row:
    text = span(row.amount_low, row.amount_high)
    rule = rule_sentence(row.rule_id, row.basis)
    followed = f"It follows from {', '.join(row.regimen_ids)}" if row.regimen_ids else None
    return (
        row.phase,
        weight_band(row.from_kg, row.to_kg),
        asked(row.id, text, row, rule, followed, row.note),
        "every weight" if row.basis == "fixed" else f"{number(row.at_weight_kg)} kg",
        number(row.divided_doses),
        span(row.days_low, row.days_high) if row.days_low else None,
        f"after {row.reassess_after_days} days" if row.reassess_after_days else None,
        origin_words(row.origin),
    )


def regimen_table(regimens: Iterable[Regimen]) -> PageTable:
    """Give every published or customary amount with its trial and outcome."""
    return page_table(_REGIMENS, map(_regimen, regimens))


def _regimen(row: Regimen) -> Row:
    amount = published_amount(row.amount_low, row.amount_high, row.unit, row.basis)
    along = f"Given with {row.co_ingredients}" if row.co_ingredients else None
    days = f"For {row.duration_days} days" if row.duration_days else None
    trial = ", ".join(part for part in (row.study_type, _animals(row.animals)) if part)
    return (
        row.id,
        row.species.replace(";", ", "),
        "; ".join(part for part in (phase(row.phase), row.material) if part) or None,
        asked(row.id, amount, row, along, days, row.note),
        weight_band(row.weight_from_kg, row.weight_to_kg),
        trial or None,
        words(row.outcome) if row.outcome else None,
        origin_words(row.origin),
    )


def _animals(text: str | None) -> str | None:
    return f"{text} animals" if text and text[-1:].isdigit() else text


def form_table(forms: Iterable[FormAnswer]) -> PageTable:
    """Give the chemical forms with the share that counts."""
    return page_table(_FORMS, map(_form, forms))


def _form(form: FormAnswer) -> Row:
    return (
        form.name,
        formula(form.formula),
        number(form.molar_mass_g_per_mol) if form.molar_mass_g_per_mol is not None else None,
        _share(form),
        span(form.iu_per_mg_low, form.iu_per_mg_high or form.iu_per_mg_low) if form.iu_per_mg_low is not None else None,
        form.cas,
        origin_words(form.origin),
    )


def _share(form: FormAnswer) -> Cell:
    low, high = form.moiety_share_low, form.moiety_share_high
    if low is None or high is None:
        return "not fixed" if form.kind == "open" else None
    rule = f"Grams of {form.moiety} in one gram"
    if form.formula and form.moiety_formula and form.moieties_per_formula:
        times = "" if form.moieties_per_formula == 1 else f"{form.moieties_per_formula} \u00d7 "
        masses = f"{times}{number(form.moiety_molar_mass_g_per_mol)} / {number(form.molar_mass_g_per_mol)}"
        rule = f"{rule}, from the formulas: {masses}"
    told = (rule, form.note)
    text = " ".join(f"{sentence_case(part.rstrip('. '))}." for part in told if part)
    return Asked(f"form-{form.id}", span(_short(low), _short(high)), text, form.origin, form.source_ids)


def _short(share: Decimal) -> Decimal:
    return significant(share, _SHARE_DIGITS)


def limit_table(limits: Iterable[Limit]) -> PageTable:
    """Give the upper and lower bounds."""
    return page_table(_LIMITS, map(_limit, limits))


def _limit(row: Limit) -> Row:
    basis = _BASIS_OF_A_LIMIT.get(row.basis, words(row.basis))
    unit = "" if row.basis == "ratio" else "%" if row.basis == "percent_of_dry_matter" else row.unit
    text = " ".join(part for part in (number(row.amount), unit, basis) if part)
    return (
        row.species,
        words(row.kind),
        asked(row.id, text, row, row.note),
        "yes" if row.enforced else "no",
        origin_words(row.origin),
    )
