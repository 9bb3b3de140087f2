"""When an answer carries which caution; the text of the caution itself says what it means for the case at hand."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_KNOWN = {
    "common_practice": "part of the answer is a rule of the trade, or a step of our own, without a published source",
    "from_memory": "part of the answer was recalled and not checked against its source",
    "names_from_memory": "spellings were matched against a list compiled from general knowledge",
    "levels_not_reviewed": "levels of warning are the judgement of those who compiled the records; no veterinarian "
    "has reviewed them",
    "absence_is_not_evidence": "nothing was found; that is no evidence that nothing can happen",
    "little_evidence_in_cats": "the animal is a cat, and most records rest on dogs or people",
    "evidence_mixed": "trials of the ingredient disagree",
    "evidence_weak": "only small, uncontrolled or indirect trials speak for the ingredient",
    "evidence_against": "the better trials find no benefit of the ingredient",
    "evidence_untested": "no joint trial of the ingredient alone was seen",
}
_AMOUNTS = {
    "band_note": "a remark on the weight band of the animal",
    "no_loading_published": "no loading phase is published for the ingredient",
    "age_not_given": "no age was given; amounts are for adults",
    "young_animal": "the animal is under one year, and amounts or thresholds come from adults",
    "senior_animal": "the animal is old, and no amount for old dogs is published",
    "body_condition": "the animal is above or below its ideal condition; amounts at an estimated ideal weight stand "
    "beside the others",
    "amounts_given": "amounts a day are those of the request, not those of guidance",
    "nearest_amount": "no number of units reaches the aim without passing the high end; the nearest was taken",
    "units_not_divisible": "units cannot be divided into the amount; it can only be reached as a mean over days",
    "form_note": "a remark on a chemical form",
    "arithmetic_only": "a conversion between forms; equal milligrams do not mean equal effect",
}
_LABELS = {
    "judged_on_low_reading": "a label leaves the form open: value is judged on the low reading, limits on the high one",
    "hazards_on_label": "the label names substances that can harm",
    "unread_text": "parts of the label were not understood",
    "as_told": "what is given is written down as told; nobody compared it with the packs",
}
_SCREENING = {
    "screen_each_product": "at least one product has findings; screen it in full",
    "screen_each_combination": "at least one combination has findings; read them before giving it",
    "one_serving_a_day_assumed": "a product came without units a day; one serving was counted",
    "other_ingredients_not_given": "a product came without its other ingredients; only its facts were screened",
    "weight_not_given": "without a body weight no amount was compared with a threshold or a maximum",
    "limit_not_tested": "a daily maximum was not tested, because the label gives no amount that it applies to",
    "totals_are_lower_bounds": "a total is at least so much, because some amount in it is not known",
    "allergen_not_named": "a food allergy was given without the food",
    "medicine_not_recognised": "a medicine was not recognised, and nothing was checked against it",
    "medicine_not_named": "only a class of medicines was given; what is known of each was not applied",
    "medicine_not_listed_for_species": "the release does not list the medicine for this species",
    "medicine_handled_differently": "a condition changes how the body handles the medicine",
    "medicines_not_compared": "medicines were not checked against each other",
    "medicines_not_compared_with_conditions": "whether a medicine suits a condition was not checked",
    "breed_is_no_test": "a breed stands for a gene that only a test can show",
    "taken_as_several": "a word has several meanings, and all of them were screened",
}
_EATEN = {
    "no_safe_amount": "no amount of the substance is known to be harmless",
    "below_is_not_harmless": "the amount is below the thresholds held here, which proves no harmlessness",
    "not_judged": "the amount could not be judged, for the reason given",
    "threshold_of_another_species": "no threshold is recorded for this species; one of another was reached",
    "published_for_a_mixture": "the threshold that decides was published for a mixture",
    "ten_times_a_daily_threshold": "eaten once, the amount is at least ten times one that harms when eaten every day",
    "daily_threshold_reached": "as much every day reaches a published threshold",
    "other_source_graver": "a source that does not decide gives a graver outcome at this amount",
    "stomach_upset_possible": "stomach upset is published below the thresholds",
    "possible_hazard": "a word comes close to the name of a harmful substance that was not counted",
    "words_not_understood": "words were not understood and not judged",
    "content_not_known": "how much of the harmful substance is in what was eaten is not recorded",
    "mass_not_known": "no mass follows from the volume that was given",
    "strongest_kind_counted": "the words leave the kind open; the strongest was counted",
    "content_open": "the content varies; the high reading was judged",
    "usual_strength_counted": "no strength is stated; the usual one was counted",
    "concentrate": "an extract can hold many times more than the plant that was counted",
    "whole_packs_have_harmed": "whole packs of such a supplement have harmed animals",
    "one_substance_only": "only this substance and this amount were judged",
}
_COURSES = {
    "must_not_be_given": "the screen says stop of a product of the course: it is not to be given to this animal",
    "prices_assumed": "prices are moved by the share given, an assumption",
    "discarded_after_opening": "opened containers grow too old before they are used up",
    "divided_rest_discarded": "the rest of a divided unit is counted as thrown away each day",
    "check_best_before": "several containers are bought at once; check that they keep",
    "time_ran_out": "the time for the search ran out; a cheaper set may exist",
    "given_not_counted": "what is given already holds a target and is not counted towards it",
    "already_stopped": "something must not be given even without any of the products",
    "already_over_limit": "what is given already passes an upper limit",
}

CAUTION_GROUPS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "How it is known": _KNOWN,
        "Amounts": _AMOUNTS,
        "Labels": _LABELS,
        "Screening": _SCREENING,
        "Something was eaten": _EATEN,
        "Courses and combinations": _COURSES,
    }
)
"""Meaning by code, in groups for people. A flag can be a caution as well; its meaning stands with the flags."""
