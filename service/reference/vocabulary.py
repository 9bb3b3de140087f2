"""The closed words that columns may hold. The descriptor's categories are held equal to these by test."""

from __future__ import annotations

ORIGINS = ("read", "cited", "common_practice", "memory")
SPECIES = ("dog", "cat")
LEVELS = ("avoid", "veterinarian", "watch", "note")
VERDICTS = ("supported", "mixed", "weak", "against", "untested")
HAZARD_KINDS = ("toxic_any_amount", "threshold", "caution", "nuisance", "benign")
ACTIONS = ("contact_now", "avoid", "ask_veterinarian", "none")

WORDS: dict[tuple[str, str], tuple[str, ...]] = {
    ("ingredients", "kind"): ("active", "excipient", "hazard", "nutrient"),
    ("forms", "kind"): ("defined", "open", "as_labelled", "polymer", "expression", "no_fixed_formula"),
    ("guidance", "species"): SPECIES,
    ("guidance", "phase"): ("loading", "maintenance"),
    ("guidance", "basis"): ("fixed", "per_kg", "per_kg075"),
    ("guidance", "unit"): ("mg", "g", "ug"),
    ("limits", "species"): (*SPECIES, "human", "rat", "mouse"),
    ("evidence", "verdict"): VERDICTS,
    ("beliefs", "standing"): ("contested", "unsupported", "refuted"),
    ("hazards", "kind_dog"): HAZARD_KINDS,
    ("hazards", "kind_cat"): HAZARD_KINDS,
    ("hazards", "unquantified_dog"): ACTIONS,
    ("hazards", "unquantified_cat"): ACTIONS,
    ("hazard_thresholds", "species"): SPECIES,
    ("hazard_thresholds", "action"): ACTIONS,
    ("hazard_thresholds", "use"): ("primary", "reference", "do_not_use"),
    ("conditions", "kind"): ("disease", "state", "life_stage", "trait"),
    ("conditions", "species"): SPECIES,
    ("interactions", "level"): LEVELS,
    ("interactions", "species"): SPECIES,
    ("interactions", "finding"): ("interaction", "helpful", "mixed", "studied_none_found", "no_signal"),
    ("interactions", "evidence"): (
        "trial_in_species",
        "review_in_species",
        "case_report_in_species",
        "extrapolated",
        "case_report_human",
        "other_animal",
        "in_vitro",
        "expert_opinion",
        "theoretical",
    ),
    ("names", "match_mode"): ("phrase", "code", "exact_item"),
    ("names", "target_kind"): ("ingredient", "form", "hazard", "none"),
}
