"""Words of the dataset as the pages on ingredients write them."""

from __future__ import annotations

import re

from service.pages.wording import words

KIND_WORDS = {
    "active": "Active ingredient",
    "nutrient": "Nutrient",
    "excipient": "Inactive ingredient",
    "hazard": "Hazard",
}
SEVERITY_WORDS = {
    "any_exposure": "harm is possible",
    "signs_mild": "mild signs",
    "signs_moderate": "moderate signs",
    "signs_severe": "severe signs",
    "potentially_lethal": "may kill",
    "ld50": "half of the test animals died",
    "reported_case": "a reported case",
    "no_effect_level": "no effect seen",
    "none_reported": "nothing reported",
    "tolerated": "tolerated",
    "nuisance": "upsets the stomach",
    "caution": "caution, no figure",
    "informational": "for information",
    "regulatory_max": "legal maximum",
    "regulatory_ban": "banned",
    "therapeutic_overlap": "overlaps with treatment",
    "see": "counted elsewhere",
}
ACTION_WORDS = {
    "contact_now": "veterinarian or poison line, now",
    "ask_veterinarian": "ask a veterinarian",
    "avoid": "do not give it",
    "none": "",
}
# How an animal is concerned where the amount is not known.
UNQUANTIFIED_WORDS = {
    "contact_now": "an emergency, whatever the amount",
    "avoid": "not to be given",
    "ask_veterinarian": "a question for the veterinarian",
}
# Per kilogram of body weight, unless it says of what else.
THRESHOLD_UNIT_WORDS = {
    "mg/kg_bw": "mg/kg",
    "mg/kg_bw/day": "mg/kg a day",
    "g/kg_bw": "g/kg",
    "g/kg_bw/day": "g/kg a day",
    "mL/kg_bw": "mL/kg",
    "IU/kg_bw/day": "IU/kg a day",
    "mg/kg_feed": "mg per kg of food",
    "mg/kg_feed_DM": "mg per kg of dry matter",
    "mg/kg_feed_wet": "mg per kg of wet food",
    "IU/kg_feed_DM": "IU per kg of dry matter",
    "percent_of_diet": "% of the food",
    "mg_total": "mg in all",
    "g_total": "g in all",
}
FACTOR_UNIT_WORDS = {
    "percent": "%",
    "percent_by_volume": "% by volume",
    "ug/IU": "\u00b5g/IU",
    "count/oz": "in an ounce",
}
COMPARISON_WORDS = {">=": "from ", ">": "more than ", "<=": "up to ", "<": "less than "}
EVIDENCE_OF_A_PAIR = {
    "trial_in_species": "a trial in dogs or cats",
    "review_in_species": "reviews about dogs or cats",
    "case_report_in_species": "a case in a dog or cat",
    "case_report_human": "cases in people",
    "other_animal": "other animals",
    "in_vitro": "the test tube",
    "expert_opinion": "an expert's opinion",
    "extrapolated": "carried over from elsewhere",
    "theoretical": "theory",
}
STANDING_WORDS = {
    "refuted": "Something was found against it",
    "unsupported": "Nothing was found for it",
    "contested": "Both sides have something",
}
PHASE_WORDS = {
    "anecdote": "hearsay",
    "any": "",
    "biomarker": "markers measured",
    "common_practice": "custom",
    "common_practice_loading": "custom, at first",
    "common_practice_maintenance": "custom, from then on",
    "guideline_max": "guideline, at most",
    "guideline_target": "guideline",
    "handbook": "handbook",
    "other_route": "given in another way",
    "pk_repeat": "blood levels, repeated",
    "pk_single": "blood levels, once",
    "recommended_with_trial": "recommended, with a trial",
    "requirement": "requirement",
    "review_range": "range of a review",
    "review_target_oa": "review, for arthritis",
    "review_target_other": "review, for other ends",
    "safety_chronic": "harm looked for, over long",
    "safety_twice_label": "harm looked for, twice the label",
    "trial": "trial",
    "trial_component": "trial, part of a mixture",
    "trial_control_arm": "trial, arm of comparison",
    "trial_diet": "trial, in the food",
    "trial_fixed": "trial, fixed amount",
    "trial_loading": "trial, at first",
    "trial_maintenance": "trial, from then on",
    "trial_per_kg": "trial, by weight",
}
_SUBSCRIPTS = str.maketrans("0123456789", "\u2080\u2081\u2082\u2083\u2084\u2085\u2086\u2087\u2088\u2089")
_COUNT_IN_A_FORMULA = re.compile(r"(?<=[A-Za-z)\]])[0-9]+")


def formula(text: str | None) -> str | None:
    """Write a chemical formula with its counts set low."""
    return _COUNT_IN_A_FORMULA.sub(lambda match: match[0].translate(_SUBSCRIPTS), text) if text else None


def phase(word: str) -> str:
    """Name what kind of giving a published amount belongs to."""
    return PHASE_WORDS.get(word, words(word))


def severity(word: str) -> str:
    """Name a tier of a hazard."""
    return SEVERITY_WORDS.get(word, words(word))
