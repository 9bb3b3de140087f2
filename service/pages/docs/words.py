"""What the words of a screen and of an exposure mean, in full sentences; pages elsewhere show them in short."""

from __future__ import annotations

from service.domain.flag_words import FLAG_WORDS

VERDICTS = {
    "stop": "At least one finding of the level avoid: do not give it to this animal, or do not give these together.",
    "ask_veterinarian": "At least one finding of the level veterinarian, or a word that comes close to a hazard: "
    "only after a veterinarian has agreed.",
    "incomplete": "Nothing graver was found, but something on the list was not recognised and so was not judged.",
    "nothing_found": "Everything was recognised, and no record of this release speaks against it. It may still hold "
    "findings of the levels watch and note; read them.",
}
LEVELS = {
    "avoid": "Not to be given, or not together.",
    "veterinarian": "Only after a veterinarian has agreed.",
    "watch": "May be given; the finding says what to look out for.",
    "note": "Good to know; nothing follows from it by itself.",
}
KINDS = {
    "hazard": "a substance that can harm the species by itself",
    "interaction": "two things that do not go together, or that change each other's effect",
    "condition": "a thing that an illness, a state or a trait of the animal speaks against",
    "duplicate": "the same ingredient in more than one product",
    "over_limit": "a daily total above a published maximum, or far above every published amount",
    "presentation": "the way it is made or tastes, for instance so well that a whole pack may be eaten",
}
TIERS = {
    "below_published_thresholds": "the amount lies below every published threshold that this release holds",
    "mild": "mild signs are published at this amount",
    "severe": "severe signs are published at this amount",
    "life_threatening": "death is published at this amount",
    "no_safe_amount": "no amount is known to be harmless",
}
NOT_ASSESSED = {
    "no_record": "the release holds no record of the pair",
    "unsourced_record_only": "the only record rests on recollection: it warns, and clears nothing",
    "recognised_by_name_only": "the name is known, and nothing else about it",
    "amount_not_stated": "the label gives no amount to judge",
    "medicine_not_named": "only a class of medicines was given",
    "pack_size_not_given": "how much a whole pack holds is not known",
    "weight_not_given": "no body weight was given",
    "no_limit_recorded": "no daily maximum is recorded",
    "amount_hidden_in_blend": "a blend hides the amount",
    "source_not_stated": "what the ingredient is made from is not stated",
}
MATCHES = {
    "exact": "the words mean this, spelling and case aside",
    "possible": "the words come close to it; check them",
    "none": "not known here, which does not make it harmless",
}
STATUSES = {
    "optimal": "proven: no other choice within the rules is cheaper",
    "best_found": "time ran out before that was proven; the set keeps to every rule, and `gap` says which share of "
    "its cost a cheaper one could save at most",
    "nothing_fits": "proven: no choice keeps to every rule; `blocked_by` says what stands in the way",
    "nothing_needed": "what the animal is given already reaches every target",
    "not_settled": "time ran out before any set was found or excluded",
}
BLOCKS = {
    "products": "none of the products may be used",
    "most_products": "it takes more products than are allowed",
    "units_per_day": "it takes too many units of one product",
    "screen": "the screen stops what would fit",
    "harm": "an amount of a hazard is reached from which harm is published",
    "limit": "an upper limit is passed",
    "energy": "a tenth of the resting energy need is passed",
    "target": "a target is not reached",
    "range": "the high end of a range is passed",
    "divisibility": "only parts of units that cannot be given would fit",
}
LEFT_OUT = {
    "avoid_finding": "the screen has a finding of the level avoid, even for the smallest part",
    "cost_unknown": "its price or its number of units is missing",
    "holds_no_target": "its label credits nothing of any target",
    "too_much_in_smallest_part": "even its smallest part passes a limit, a range or the energy",
}
FLAGS = dict(sorted(FLAG_WORDS.items()))
