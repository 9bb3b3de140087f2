"""What every flag means, in one table for people who call the service.

A flag tells how a value was read or why it is wide; it never changes a value by itself. New ones may come in a later
version, so a client shows one that it does not know as it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

_NUMBERS = {
    "approximate": "printed as about so much",
    "at_most": "printed as at most so much: the low reading is none",
    "less_than": "printed as less than so much: the low reading is none",
    "range": "printed as a range, or as a figure with a tolerance",
    "min_and_max": "both a minimum and a maximum are printed",
    "bound_min": "the number of units is a least one",
    "bound_max": "the number of units is a most one",
    "tolerance_stated": "a tolerance is printed; low and high follow from it",
    "decimal_comma": "a comma was read as the decimal mark",
    "dot_thousands": "a dot was read as a mark of thousands",
    "grouped_by_spaces": "spaces group the digits",
    "separator_ambiguous": "a separator may be of thousands or of decimals: both readings are given; send `locale`",
    "number_malformed": "the digits are grouped like no number: no amount was read",
    "letter_among_digits": "a letter stands among digits: refused, not repaired",
    "digits_apart": "a gap stands between digits: no amount was read",
    "dash_before_number": "a dash before a number was taken as punctuation, never as a minus",
    "fraction": "printed as a fraction",
    "vulgar_fraction": "printed with a fraction sign",
    "scientific_notation": "printed as a power of ten",
    "amount_implausible": "none, or more than a serving can weigh: the amount was not used",
}
_TYPE = {
    "greek_mu": "the micro sign was a Greek letter",
    "fullwidth": "full-width letters or digits",
    "ligature": "joined letters were taken apart",
    "soft_hyphen": "invisible hyphens were taken out",
    "zero_width": "invisible spaces were taken out",
    "no_break_space": "a no-break space was read as a space",
    "narrow_nbsp": "a narrow no-break space was read as a space",
    "thin_space": "a thin space was read as a space",
    "superscript_footnote": "a raised digit was taken as a footnote mark, not as part of the number",
    "hyphen_at_line_end": "a word broken over two lines was joined",
}
_UNITS = {
    "unit_missing": "a number without a unit: no amount was read",
    "unit_in_parentheses": "the unit stands in brackets of its own",
    "unit_inherited": "the unit is that of the line or column above",
    "unit_suspicious": "a unit that is easily misread, such as gr for grain; check it against the pack",
    "household_measure": "a spoon or cup was taken at its labelled size; a printed millilitre would be better",
    "stone": "body weight in stone of 14 lb",
    "ounce_on_label": "an ounce of a serving counts 28 g or 30 ml, as on nutrition labels",
    "ct_is_count": "ct was read as a count",
    "activity_unit": "counted in units of activity or equivalents: no mass follows",
    "no_mass_in_this_unit": "no mass follows from this unit",
    "no_iu_factor": "this release has no factor from IU for this substance: no mass is given",
    "volume_without_density": "a volume without a density: no mass follows",
}
_FORMS = {
    "form_not_stated": "the chemical form is not printed: low and high span the plausible ones",
    "form_open": "several forms fit: low and high span them",
    "salt_or_base_ambiguous": "open whether the number counts the salt or the base: both readings are given",
    "stabiliser_not_stated": "a sulfate without its stabiliser: both readings are given",
    "hydration_not_stated": "the water of crystallisation is not printed: low and high span it",
    "ester_or_acid_ambiguous": "open whether the number counts the ester or the acid",
    "mixed_salts_split_unknown": "several salts share one number; their shares are not printed",
    "no_fixed_formula": "a material without a fixed formula: only what the label states of it counts",
    "assay_unknown": "purity of the raw material is not printed; it is taken as whole",
    "purity_basis_ambiguous": "open whether the number was already corrected for the printed purity",
    "content_stated": "the label states how much of the substance the material holds",
    "epa_dha_not_stated": "total omega-3 without EPA and DHA: between none and all of it",
    "natural_or_synthetic_not_stated": "IU of vitamin E without the kind: low and high span both",
    "two_vitamin_e_bases": "IU of synthetic vitamin E can count all isomers or the active half",
    "restated_amount": "the same amount is printed twice in different units; one of them counts",
    "aside_not_counted": "an amount in brackets or after it is shown and not counted",
    "label_inconsistent": "two printed figures for one thing disagree",
}
_BASES = {
    "amount_not_stated": "a name without an amount",
    "serving_not_stated": "no serving is printed: amounts were taken per unit",
    "serving_from_heading": "the serving stands in the heading of the amounts",
    "serving_from_directions": "the serving and its mass stand in the directions only",
    "serving_is_a_range": "a serving of so many to so many units: the lower number was taken",
    "basis_stated_later": "what amounts are for stands below it; it was taken as one serving",
    "several_servings": "several servings are printed; the first was taken",
    "several_columns": "several columns of amounts; the first was read",
    "columns_paired_by_order": "names and amounts stood apart and were paired in their order",
    "columns_not_paired": "names and amounts stood apart and differ in number: no amount was given to a name",
    "no_serving_mass": "a share or an amount per mass of product, and no mass of a serving to turn it into mg",
    "mass_unknown": "the mass of the serving is not printed",
    "approx_mass": "the mass of a unit is printed as about so much",
    "per_day": "the amount is for a day, not for a serving",
    "per_body_weight": "the amount is for so much body weight, not for a serving",
    "per_kilogram_assumed": "additives without a basis are declared per kg of feed; this was assumed",
    "alternative": "printed as one of two: either this or the line before",
    "slash_list": "several names share several numbers, in their order",
    "amount_in_footnote": "the amount stands in a footnote that the name points to",
    "amount_in_list": "an ingredient list holds an amount that was not read as a fact",
    "list_cut": "more ingredients than a product takes; those that name a hazard were kept",
    "too_many_facts": "more amounts than a product takes: the rest is in `unread`",
    "nested_by_rule": "held to be part of the line above, since it names a constituent of it",
    "constituent_not_additive": "a part of another line: never added to it",
    "not_an_ingredient": "a count or a total of the whole product, no substance of its own",
    "unread_text": "part of the label was not understood; see `unread`",
}
_BLENDS = {
    "amounts_undisclosed": "members without amounts: only bounds follow from the total",
    "partly_disclosed": "some members have amounts, the others only bounds",
    "descending_order": "bounds follow from the rule that members stand in descending order of weight",
    "not_in_descending_order": "printed amounts are not in descending order, so no bound was drawn from the order",
    "nested_blend": "a blend within a blend",
    "members_left_out": "more members than are listed",
    "members_not_credited": "the members are named, and no amount is credited to any of them",
    "share_of_blend": "a member's amount is a printed share of the total",
    "total_not_stated": "no total is printed: nothing bounds the members",
    "amount_hidden_in_blend": "a blend hides this amount: none is credited",
}
_PACKS = {
    "unit_mass_from_net": "the mass of a unit is the net mass over the count; none is printed",
    "promo_inside_count": "a free or extra number was taken to be inside the count",
    "several_sizes": "several packs are printed; their sum or the first was taken",
    "size_implausible": "a size that no pack or unit has: not used",
    "capital_calorie": "a capital Calorie was read as kcal",
    "calorie_perhaps_small": "calories so few that small ones may be meant",
    "computed_from_unit_mass": "computed from the energy per kg and the mass of a unit",
    "implied_unit_mass": "energy per unit and per kg imply a mass of the unit",
    "energy_implausible": "more energy than fat holds: not used",
    "energy_basis_not_understood": "energy per something that was not understood",
    "currency_sign_shared": "several currencies use this sign; send `currency`",
    "several_prices": "several prices are printed; the one to pay was taken",
    "price_is_a_range": "a range of prices is printed; the lowest was taken",
    "price_implausible": "no price that can be paid: not used",
    "zero_minor_units": "a currency without minor units",
}
_DIRECTIONS = {
    "lower_edge_excluded": "the lower body weight itself belongs to the row before",
    "upper_edge_included": "the upper body weight itself belongs to this row",
    "single_weight": "a row for one body weight, not for a range",
    "per_additional_weight": "more for each further so much of body weight; no amount of its own",
    "times_per_week": "given so many times a week, not daily",
    "maximum_stated": "a largest number of units is printed; it stands in the statements",
    "later_dose_open": "what is to be given later is not printed as a number of units; read the text",
}
_COMPARING = {
    "target_not_in_product": "the product names nothing of a target",
    "nearest_amount": "no number of units fits the range; the nearest one is shown",
    "high_reading_above_range": "only the low reading of the label lies in the range",
    "other_ingredients_not_given": "the list of other ingredients was not sent: the screen saw the facts alone",
}

FLAG_WORDS: Mapping[str, str] = MappingProxyType(
    {
        **_NUMBERS,
        **_TYPE,
        **_UNITS,
        **_FORMS,
        **_BASES,
        **_BLENDS,
        **_PACKS,
        **_DIRECTIONS,
        **_COMPARING,
    }
)
"""Meaning by flag; the order is that of the groups: numbers, type, units, forms, bases, blends, packs, directions."""


def flag_table() -> str:
    """Write the table in Markdown.

    Returns
    -------
    str
        One line per flag, with its meaning.
    """
    return "\n".join(f"- `{flag}`: {meaning}" for flag, meaning in FLAG_WORDS.items())
