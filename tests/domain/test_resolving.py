"""What a name on a label means. Spellings are those of US, British, German, French and Spanish labels."""

from __future__ import annotations

import pytest

from service.domain.errors import InvalidInput
from service.domain.resolving import MOST_ITEMS, Resolution, resolver_for
from service.reference.release import Reference


def _resolve(reference: Reference, name: str) -> Resolution:
    return resolver_for(reference).resolve(name)


@pytest.mark.parametrize(
    ("name", "ingredient", "form"),
    [
        ("Glucosamine HCl", "glucosamine", "glucosamine-hydrochloride"),
        ("Glucosaminhydrochlorid", "glucosamine", "glucosamine-hydrochloride"),
        ("Chlorhydrate de glucosamine", "glucosamine", "glucosamine-hydrochloride"),
        ("Clorhidrato de glucosamina", "glucosamine", "glucosamine-hydrochloride"),
        ("Glucosamine sulphate 2KCl", "glucosamine", "glucosamine-sulfate-2kcl"),
        ("Glucosamine (as HCl)", "glucosamine", "glucosamine-as-hydrochloride"),
        ("Glucosamine free base", "glucosamine", "glucosamine-base"),
        ("Methylsulfonylmethane (MSM)", "msm", "msm"),
        ("MSM", "msm", "msm"),
        ("Sulfate de chondroïtine", "chondroitin-sulfate", "chondroitin-sulfate"),
        ("Neuseeländische Grünlippmuschel", "green-lipped-mussel", None),
        ("Poudre de moule verte de Nouvelle-Zélande", "green-lipped-mussel", None),
        ("Mejillón de labio verde", "green-lipped-mussel", None),
        ("Extrait de moule verte", "green-lipped-mussel", "green-lipped-mussel-extract"),
        ("Griffe du diable", "devils-claw", None),
        ("Membrane de coquille d'oeuf", "eggshell-membrane", None),
        ("EPA (from fish oil)", "epa-dha", "epa-free-acid"),
        ("Omega-3-Fettsäuren", "epa-dha", "omega-3-total"),
        ("Huile de poisson", "fish-oil", None),
        ("Zink", "zinc", "zinc-element"),
        # A compound that holds the element is not the element.
        ("zinc methionine", "zinc", None),
        ("seaweed meal", "kelp", None),
    ],
)
def test_names(reference: Reference, name: str, ingredient: str, form: str | None) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.ingredient, found.form) == ("exact", ingredient, form)
    assert found.not_understood == ()
    assert found.source_ids


@pytest.mark.parametrize(
    ("name", "hazard"),
    [
        ("natural sweetener (birch sugar)", "xylitol"),
        # The named sweetener answers the class word, in every language.
        ("Süßungsmittel (E 967)", "xylitol"),
        ("édulcorant : xylitol", "xylitol"),
        ("edulcorante (E967)", "xylitol"),
        ("Sweetener (E967)", "xylitol"),
        ("ajo deshidratado", "garlic"),
        ("Lauch getrocknet", "allium"),
        ("uvas pasas", "grape-raisin"),
        ("chives flavor (natural)", "allium"),
        ("natural chocolate flavor", "cocoa"),
        ("Vitamin D3", "vitamin-d3"),
        ("Vitamin D2", "vitamin-d2"),
        ("ASS", "aspirin"),
    ],
)
def test_hazards(reference: Reference, name: str, hazard: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.hazard) == ("exact", hazard)


@pytest.mark.parametrize(
    "name",
    [
        *("birch bark extract", "grape seed oil", "artificial chocolate flavour", "chocolate flavor", "carob powder"),
        *("alpha-linolenic acid (ALA)", "Alpha linolenic acid (ALA)", "gotu kola", "caffeic acid", "macadamia oil"),
        *("currant-flavored (natural flavor, contains no fruit)", "FD&C Red No. 40", "Natural sweetener (stevia)"),
    ],
)
def test_what_only_resembles_a_hazard(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.hazard) == ("exact", None)


@pytest.mark.parametrize(
    "name",
    [
        *(
            "no xylitol",
            "xylitol-free",
            "free from xylitol",
            "contains no xylitol",
            "without xylitol",
            "no added xylitol",
        ),
        *("ohne Xylit", "frei von Xylit", "sans xylitol", "sin xilitol", "senza xilitolo", "No onion or garlic"),
        *("no added salt", "sans sel ajouté", "tea-free", "non-dairy"),
    ],
)
def test_a_denial_is_a_statement(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.negated, found.ingredient, found.hazard) == ("exact", True, None, None)
    assert found.meanings
    assert all(meaning.negated for meaning in found.meanings)


@pytest.mark.parametrize("name", ["no hormones", "ohne Hormone", "antibiotic-free"])
def test_a_denial_of_something_unknown_is_a_statement_too(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.negated, found.meanings, found.possible) == ("exact", True, (), ())


@pytest.mark.parametrize(
    ("name", "ingredient"),
    [
        ("Glucosamine (free base)", "glucosamine"),
        ("EPA (free fatty acid)", "epa-dha"),
        ("glucosamine free from shellfish", "glucosamine"),
        ("Vegetarian glucosamine (shellfish-free)", "glucosamine"),
        ("free-range egg", "egg"),
        ("non-GMO soy", "legume-flour"),
    ],
)
def test_not_every_free_denies(reference: Reference, name: str, ingredient: str) -> None:
    found = _resolve(reference, name)
    assert (found.negated, found.ingredient) == (False, ingredient)


def test_a_denied_and_a_present_name_in_one_item(reference: Reference) -> None:
    found = _resolve(reference, "Vegetarian glucosamine (shellfish-free)")
    assert {(meaning.ingredient, meaning.negated) for meaning in found.meanings} >= {
        ("glucosamine", False), ("shellfish-chitin", True),
    }  # fmt: skip
    assert found.hazard is None


@pytest.mark.parametrize(
    "name", ["May contain traces of macadamia", "Spuren von Macadamianüssen", "Peut contenir : macadamia"]
)
def test_traces(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.hazard, found.trace) == ("macadamia", True)


@pytest.mark.parametrize(
    "name",
    [
        *(
            "zinc (Zn)",
            "zinc (as oxide)",
            "Zink (als Gluconat)",
            "zinc proteinate (15 % Zn)",
            "potassium (as chloride)",
        ),
        *("Glucosamine (HCl & sulfate 2KCl)", "Organischer Schwefel (MSM)", "N-acetyl-D-glucosamine (NAG)"),
        *("Chondroitin sulfate (as sodium salt)", "gelatin capsule (bovine)", "MSM (providing 170 mg sulfur)"),
        *("EPA (as ethyl ester)", "vitamin C (as ascorbic acid) (from acerola)"),
    ],
)
def test_brackets_that_only_repeat_or_specify(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.not_understood) == ("exact", ())


@pytest.mark.parametrize(
    ("name", "left_over"),
    # What the bracket says of something else stays unknown: initials there are no second substance by themselves.
    [
        ("collagen (ALA)", ("ala",)),
        ("MSM (zorblaxin)", ("zorblaxin",)),
        ("glucosamine (mystery complex)", ("mystery",)),
    ],
)
def test_brackets_that_say_something_new_are_not_swallowed(
    reference: Reference, name: str, left_over: tuple[str, ...]
) -> None:
    found = _resolve(reference, name)
    assert found.not_understood == left_over
    assert found.match == "possible"


def test_a_near_miss_is_never_taken_as_meant(reference: Reference) -> None:
    found = _resolve(reference, "xylitoll")
    assert (found.match, found.ingredient, found.hazard, found.matched_name) == ("possible", None, None, None)
    assert [miss.hazard for miss in found.possible] == ["xylitol"]
    assert [name.casefold() for name in found.nearest] == ["xylitol"]


def test_an_unknown_name_is_none_and_may_carry_suggestions(reference: Reference) -> None:
    assert _resolve(reference, "zorblaxin").match == "none"
    found = _resolve(reference, "glucosamyne")
    assert found.match == "none"
    assert any("lucosamin" in name for name in found.nearest)
    assert resolver_for(reference).resolve("glucosamyne", suggest=False).nearest == ()


def test_a_known_name_with_an_unknown_word_is_possible(reference: Reference) -> None:
    found = _resolve(reference, "zorblaxin glucosamine")
    assert (found.match, found.ingredient, found.not_understood) == ("possible", "glucosamine", ("zorblaxin",))


def test_a_hazard_inside_a_longer_phrase_is_found(reference: Reference) -> None:
    found = _resolve(reference, "crunchy glucosamine bites with xylitol")
    # The name itself is what is printed first; the hazard in it stands beside it and first among the meanings.
    assert (found.match, found.hazard, found.ingredient) == ("exact", "xylitol", "glucosamine")
    assert found.meanings[0].hazard == "xylitol"


def test_one_spelling_that_is_an_active_and_an_allergen_leads_to_the_active(reference: Reference) -> None:
    found = _resolve(reference, "green-lipped mussel")
    assert (found.ingredient, found.hazard) == ("green-lipped-mussel", "shellfish-chitin")


def test_a_form_leaves_no_vaguer_meaning_beside_it(reference: Reference) -> None:
    assert [meaning.form for meaning in _resolve(reference, "zinc").meanings] == ["zinc-element"]


def test_one_resolver_per_release(reference: Reference) -> None:
    assert resolver_for(reference) is resolver_for(reference)


def test_a_list_keeps_order_unknown_items_and_repeats(reference: Reference) -> None:
    items = resolver_for(reference).resolve_list("oats, zorblaxin, xylitol, oats")
    assert [item.text for item in items] == ["oats", "zorblaxin", "xylitol", "oats"]
    assert [item.resolution.match for item in items] == ["exact", "none", "exact", "exact"]


def test_only_the_first_unknown_items_carry_suggestions(reference: Reference) -> None:
    text = ", ".join(f"glucosamyn{letter}" for letter in "abcdefghijklmno")
    items = resolver_for(reference).resolve_list(text)
    assert [bool(item.resolution.nearest) for item in items] == [True] * 10 + [False] * 5


def test_a_denial_carried_on_by_the_list(reference: Reference) -> None:
    items = resolver_for(reference).resolve_list("contains no corn, soy or xylitol")
    assert [item.resolution.negated for item in items] == [True, True]
    assert not any(item.resolution.hazard for item in items)


def test_a_denial_in_the_middle_of_a_list_hides_nothing(reference: Reference) -> None:
    text = "oats, no added salt, garlic powder, sunflower or canola oil"
    items = resolver_for(reference).resolve_list(text)
    assert [item.resolution.hazard for item in items] == [None, None, "garlic", None]


def test_too_long_a_list_is_refused(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        resolver_for(reference).resolve_list("oats," * (MOST_ITEMS + 1), "other_ingredients")
    assert caught.value.issues[0].where == "other_ingredients"
    assert f"at most {MOST_ITEMS}" in caught.value.issues[0].detail


@pytest.mark.parametrize(
    "name", ["", "   ", "()", "%", "500 mg", "\u200b", "((((((", "a" * 5000, "x (" * 2000, "E967 " * 2000]
)
def test_odd_text_is_read_without_harm(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert found.name == name
    assert found.negated is False


def test_the_cheap_question_says_the_same_without_looking_for_slips(reference: Reference) -> None:
    resolver = resolver_for(reference)
    for name in ("Glucosamine HCl", "no xylitol", "zinc (as oxide)", "may contain macadamia", "contains no fruit"):
        assert resolver.exact(name) == resolver.resolve(name)
    slip = resolver.exact("xylitoll")
    assert (slip.match, slip.hazard, slip.possible, slip.nearest) == ("none", None, (), ())
    assert slip.not_understood == ("xylitoll",)
    assert resolver.exact("xylitol", carried_negation=True).negated


def test_a_denial_of_nothing_in_particular_is_understood(reference: Reference) -> None:
    found = resolver_for(reference).resolve("contains no fruit")
    assert (found.match, found.negated, found.hazard, found.not_understood) == ("exact", True, None, ())


def test_a_denial_that_is_carried_on_covers_an_item_of_any_words(reference: Reference) -> None:
    items = resolver_for(reference).resolve_list("Free from: xylitol, raisins, trellumin")
    assert [item.resolution.negated for item in items] == [True, True, True]
    assert not any(item.resolution.possible for item in items)


@pytest.mark.parametrize(
    ("name", "hazard"),
    [
        ("birch sweeteners", "xylitol"),
        ("natural birch sweeteners", "xylitol"),
        ("birch-derived sweetener", "xylitol"),
        ("silver birch sweetener", "xylitol"),
        ("sweetener derived from birch", "xylitol"),
        ("dried apricot seed", "cyanogenic-kernel"),
        ("natural xylitol flavor", "xylitol"),
        ("xylitol flavour", "xylitol"),
        ("natural garlic powder flavor", "garlic"),
        ("garlic powder flavor", "garlic"),
        ("garlic flavor (natural)", "garlic"),
        ("natural smoky garlic flavor", "garlic"),
        ("onion powder flavour", "allium"),
        ("natural onion extract flavor", "allium"),
        ("cocoa powder flavor", "cocoa"),
        ("natural caffeine flavor", "caffeine"),
        ("(967)", "xylitol"),
        ("E\u2013967", "xylitol"),
        ("Sweetener 967", "xylitol"),
        ("sweeteners (420, 967)", "xylitol"),
        ("propan-1,2-diol", "propylene-glycol"),
        ("currant", "grape-raisin"),
        ("Zante currant", "grape-raisin"),
        ("orange oils", "citrus-oil"),
        ("black walnuts", "black-walnut"),
        ("No GMO xylitol", "xylitol"),
        ("\u0448\u043e\u043a\u043e\u043b\u0430\u0434", "cocoa"),
        ("\u30c1\u30e7\u30b3\u30ec\u30fc\u30c8", "cocoa"),
    ],
)
def test_neighbours_and_plurals_hide_no_hazard(reference: Reference, name: str, hazard: str) -> None:
    assert hazard in {one.hazard for one in _resolve(reference, name).meanings if not one.negated}


@pytest.mark.parametrize(
    "name",
    [
        "chocolate flavor",
        "artificial garlic powder flavor",
        "beer yeast",
        "tartar control",
        "dental tartar reducer",
        "tartary buckwheat",
        "black currants",
        "red 3",
        "Blue 2",
    ],
)
def test_what_resembles_a_hazard_in_its_neighbours(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.hazard, found.possible) == (None, ())


@pytest.mark.parametrize("name", ["birch", "birch extract", "birch granules", "bouleau"])
def test_a_tree_without_a_part_may_be_its_sugar(reference: Reference, name: str) -> None:
    found = _resolve(reference, name)
    assert (found.match, found.ingredient, found.hazard) == ("possible", "birch", None)
    assert [(miss.hazard, miss.name) for miss in found.possible] == [("xylitol", "Xylitol")]


@pytest.mark.parametrize("name", ["birch bark", "silver birch leaf", "no birch", "birch-free"])
def test_a_named_part_of_the_tree_is_not(reference: Reference, name: str) -> None:
    assert _resolve(reference, name).possible == ()


def test_a_name_with_another_beginning_is_another_substance(reference: Reference) -> None:
    found = _resolve(reference, "Neo-synephrine")
    assert (found.match, found.hazard, found.ingredient) == ("possible", None, None)


def test_a_number_that_may_be_a_code_is_never_lost(reference: Reference) -> None:
    assert _resolve(reference, "Sweetener 967 syrup").not_understood == ("967",)
    assert _resolve(reference, "antioxidant 500 mg").not_understood == ()


@pytest.mark.parametrize("text", ["free of cocoa, xylitol and raisins", "no garlic, onion, chocolate"])
def test_one_text_is_denied_as_its_list_is(reference: Reference, text: str) -> None:
    whole = _resolve(reference, text)
    assert whole.negated
    assert len(whole.meanings) == 3
    assert all(item.resolution.negated for item in resolver_for(reference).resolve_list(text))


@pytest.mark.parametrize(
    ("text", "present"),
    [
        # Two names, or anything beside hazards, are no list of what is absent.
        ("No garlic, onion powder", {"allium"}),
        ("No xylitol, cocoa powder, glycerin", {"cocoa"}),
        ("no salt, garlic powder, onion powder", {"garlic", "allium"}),
        ("No artificial colours, xylitol, cocoa", {"xylitol", "cocoa"}),
    ],
)
def test_a_denial_is_not_carried_over_ingredients(reference: Reference, text: str, present: set[str]) -> None:
    items = resolver_for(reference).resolve_list(text)
    found = {item.resolution.hazard for item in items if item.resolution.hazard}
    assert present <= found


def test_none_of_it_is_a_denial(reference: Reference) -> None:
    assert _resolve(reference, "0% xylitol").negated
    assert _resolve(reference, "2.0% xylitol").hazard == "xylitol"


def test_a_trace_warning_reaches_over_its_commas(reference: Reference) -> None:
    items = resolver_for(reference).resolve_list("May contain: nuts, xylitol")
    assert [(item.text, item.resolution.trace) for item in items if item.resolution.hazard] == [("xylitol", True)]
