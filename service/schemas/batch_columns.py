"""Columns of CSV batches: what the caller may give and what each answered row gains, with the meaning of each."""

from __future__ import annotations

MOST_FACTS = 60
FACT_PARTS_GIVEN = ("name", "amount")

STATUS = {
    "status": "`ok` or `refused`; `cut_off` in the last row where a failure of ours ended the batch early",
    "error": "what to change, each fault as `column: reason`; empty where the row was answered",
    "problem": "kind of problem, as in the `type` of a problem answer; empty where the row was answered",
}
_LAST = {
    "caution_codes": "codes of the cautions, joined by `;`",
    "source_ids": "ids of the sources the answer rests on, joined by `;`",
    "dataset_version": "dataset release the row was answered from",
    "notice": "information, not a prescription",
}


def _phase_columns(phase: str) -> dict[str, str]:
    return {
        f"{phase}_low_mg": f"{phase}: lower end in mg of the form per day",
        f"{phase}_high_mg": f"{phase}: upper end in mg of the form per day",
        f"{phase}_moiety_low_mg": f"{phase}: lower end in mg of the active moiety per day",
        f"{phase}_moiety_high_mg": f"{phase}: upper end in mg of the active moiety per day",
        f"{phase}_divided_doses": f"{phase}: into how many doses a day the amount is divided",
        f"{phase}_days_low": f"{phase}: shortest length in days",
        f"{phase}_days_high": f"{phase}: longest length in days",
        f"{phase}_origin": f"{phase}: how the amount is known",
    }


PHASES = ("loading", "maintenance")
DOSE = {
    **STATUS,
    "weight_used_kg": "body weight in kg",
    "form_used": "id of the form that the `_mg` columns count",
    "moiety": "what the `_moiety_` columns count",
    **_phase_columns("loading"),
    **_phase_columns("maintenance"),
    "upper_limit_mg": "published daily maximum in mg; empty where none is recorded",
    "ideal_weight_kg": "estimated ideal weight, where the body condition score is off the ideal",
    "ideal_loading_low_mg": "loading at the ideal weight: lower end in mg per day",
    "ideal_loading_high_mg": "loading at the ideal weight: upper end in mg per day",
    "ideal_maintenance_low_mg": "maintenance at the ideal weight: lower end in mg per day",
    "ideal_maintenance_high_mg": "maintenance at the ideal weight: upper end in mg per day",
    "trait_note": "what is published for the trait",
    "reassess_after_days": "days after which to ask whether it helps",
    "evidence_verdict": "verdict on the evidence that the ingredient helps",
    **_LAST,
}
FACT = {
    "ingredient": "id of the ingredient",
    "form": "id of the chemical form",
    "basis": "what the printed number counts",
    "bound": "`min`, `max` or `less_than` where the label states a bound",
    "mg_per_unit": "milligrams as printed, per unit",
    "moiety": "name of the active moiety",
    "moiety_mg_per_unit": "milligrams of the moiety per unit; empty where the label leaves it open",
    "moiety_low_mg_per_unit": "low reading of it",
    "moiety_high_mg_per_unit": "high reading of it",
    "cost_per_mg": "price per mg as printed",
    "cost_per_g": "price per gram as printed",
    "moiety_cost_per_mg": "price per mg of the moiety, on the low reading",
    "flags": "what is unclear about this line, joined by `;`",
}
NORMALISE_BEFORE_FACTS = {
    **STATUS,
    "cost_per_unit": "price of one unit",
    "label_flags": "what is unclear about the label, joined by `;`",
    "hazards": "ids of substances on the label that can harm, joined by `;`",
    "possible_hazards": "ids of hazards that a text on the label comes close to, joined by `;`; check these",
    "unrecognised": "texts that were not understood, joined by `;`; not known is not the same as harmless",
    "absence_claims": "claims of the label that something is not in it, joined by `;`",
}
NORMALISE_AFTER_FACTS = _LAST
SCREEN = {
    **STATUS,
    "weight_used_kg": "body weight in kg; empty where none was given",
    "verdict": "`stop`, `ask_veterinarian`, `incomplete` or `nothing_found`",
    "finding_count": "how many findings there are",
    "findings": "each finding as level, kind and subjects (`avoid hazard xylitol`), gravest first, joined by `;`; "
    "`(favourable)` behind one that speaks for it",
    "gravest_effect": "what can happen, of the gravest finding",
    "gravest_action": "what to do, of the gravest finding",
    "taken_as": "what medicines, conditions and traits were taken as, each as `text = id`, joined by `;`",
    "recognised_ids": "ids of what was understood, joined by `;`",
    "unrecognised": "texts that were not understood, joined by `;`; not known is not the same as harmless",
    "not_assessed": "pairs about which the release says nothing, each as `a + b`, joined by `;`",
    "absence_claims": "claims of the label that something is not in it, joined by `;`",
    **_LAST,
}


def normalise_columns(fact_numbers: tuple[int, ...]) -> dict[str, str]:
    """Give the columns of an answered product, those of each numbered fact among them."""
    facts = {f"fact_{number}_{part}": meaning for number in fact_numbers for part, meaning in FACT.items()}
    return {**NORMALISE_BEFORE_FACTS, **facts, **NORMALISE_AFTER_FACTS}
