"""What an amount eaten once means: tiers, content, what cannot be judged, what to do."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.common import Animal
from service.domain.errors import InvalidInput, UnknownSubstance
from service.domain.exposure import exposure
from service.domain.exposure_answer import TIERS, ExposureRequest
from service.domain.exposure_tiers import HOLDS, tier_rank
from service.domain.screening_tiers import kind_for, tiers_of
from service.reference.release import Reference
from tests.domain.exposure_requests import ask, codes, reached

BELOW = "below_published_thresholds"
NOW = "Contact a veterinarian or an animal poison line now."


@pytest.mark.parametrize(
    ("substance", "amount", "tier", "mg_per_kg"),
    [
        # Dog of 10 kg. Methylxanthines: mild from 20, severe from 40, LD50 from 100 mg/kg (source mvm-choc-old).
        ("caffeine", "199.9 mg", BELOW, "19.99"),
        ("caffeine", "200 mg", "mild", "20"),
        ("caffeine", "400 mg", "severe", "40"),
        ("caffeine", "1 g", "life_threatening", "100"),
        # Caffeine is 0.50268 of its 1:1 citrate by the formulas (forms row caffeine-citrate).
        ("caffeine citrate", "500 mg", "mild", "25.134"),
        # Content factors of source mvm-choc-old: 2.3, 5.7, 16 and 28.5 mg/g.
        ("milk chocolate", "86 g", BELOW, "19.78"),
        ("milk chocolate", "87 g", "mild", "20.01"),
        ("dark chocolate", "100 g", "severe", "57"),
        ("unsweetened chocolate", "25 g", "severe", "40"),
        ("cocoa powder", "7.1 g", "mild", "20.235"),
        # A labelled share of cocoa counts as so much unsweetened chocolate: 16 mg/g x 0.7.
        ("70 % dark chocolate", "100 g", "life_threatening", "112"),
        # White chocolate holds 0.05 mg/g (source tvec-2009), whatever share of cocoa butter it states.
        ("white chocolate 30 %", "100 g", BELOW, "0.5"),
        # Coffee beans: 2.2 % caffeine at most, kola nut 2.2 %, tea leaf 4.1 %, mate leaf 1.7 %.
        ("coffee beans", "10 g", "mild", "22"),
        ("kola nut", "10 g", "mild", "22"),
        ("green tea", "5 g", "mild", "20.5"),
        ("yerba mate", "10 g", BELOW, "17"),
        # Elemental iron: mild from 20, severe above 60, deaths above 100 mg/kg (source vk-iron).
        ("iron", "600 mg", "mild", "60"),
        ("iron", "601 mg", "severe", "60.1"),
        ("iron", "1001 mg", "life_threatening", "100.1"),
        ("ferric pyrophosphate", "1 g", "mild", "30"),
        ("ferric hydroxide", "1 g", "severe", "63"),
        # Zinc is 0.8034 of its oxide by the formulas; severe from 50 mg/kg.
        ("zinc oxide", "1 g", "severe", "80.3401"),
        # Iodine: 59 mg/kg moderate, 119 mg/kg deaths; 0.7645 of iodide, 0.593 of iodate, up to 4.5 mg/g of kelp.
        ("potassium iodide", "1 g", "severe", "76.4472"),
        ("potassium iodate", "1 g", "severe", "59.3"),
        ("kelp", "5 g", BELOW, "2.25"),
        # Vitamin D3: 40,000 IU are 1 mg; mild from 0.1, severe from 0.5, deaths from 2 mg/kg.
        ("vitamin D3", "39999 IU", BELOW, "0.0999975"),
        ("vitamin D3", "40000 IU", "mild", "0.1"),
        ("vitamin D2", "200000 IU", "severe", "0.5"),
        ("cholecalciferol", "20 mg", "life_threatening", "2"),
        # Sodium counts as 2.542 times as much salt; 2 g/kg moderate signs, 3.5 g/kg deaths.
        ("salt", "35 g", "life_threatening", "3500"),
        ("sodium", "10 g", "severe", "2542"),
        # Onion 5 g/kg; powder counts nine to ten times (drying ratio, recalled); garlic is judged alike.
        ("onion", "49 g", BELOW, "4900"),
        ("onion", "50 g", "severe", "5000"),
        ("onion powder", "5 g", "severe", "5000"),
        ("garlic powder", "15 g", "severe", "15000"),
        # Medicines: ibuprofen 16, 50, 100 and above 300 mg/kg.
        ("ibuprofen 200 mg tablet", "200 mg", "mild", "20"),
        ("ibuprofen", "3 g", "severe", "300"),
        ("ibuprofen", "3.01 g", "life_threatening", "301"),
        ("alpha-lipoic acid", "1 g", "life_threatening", "100"),
        # A millilitre of pure alcohol is 0.789 g; deaths from 5.5 g/kg.
        ("ethanol", "70 ml", "life_threatening", "5523"),
        ("100 % alcohol", "70 ml", "life_threatening", "5523"),
        ("macadamia nuts", "7 g", "mild", "700"),
        ("macadamia nuts", "24 g", "severe", "2400"),
    ],
)
def test_an_amount_for_a_dog_of_ten_kilograms(
    reference: Reference, substance: str, amount: str, tier: str, mg_per_kg: str
) -> None:
    answer = ask(reference, substance, amount)
    assert answer.tier == tier
    assert answer.mg_per_kg == Decimal(mg_per_kg)
    assert answer.why_no_tier is None


@pytest.mark.parametrize(
    ("substance", "species"),
    [
        ("xylitol", "dog"),
        ("birch sugar", "dog"),
        ("raisins", "dog"),
        ("grape-raisin", "dog"),
        ("alpha-lipoic acid", "cat"),
        ("paracetamol", "cat"),
        ("propylene glycol", "cat"),
        ("tea tree oil", "cat"),
        ("calcitriol", "dog"),
        ("Easter lily", "cat"),
        ("lily leaf", "cat"),
    ],
)
@pytest.mark.parametrize("amount", ["0.001 mg", "1 mg", "1 kg"])
def test_no_amount_of_it_is_harmless(reference: Reference, substance: str, species: str, amount: str) -> None:
    answer = ask(reference, substance, amount, species=species, weight="4 kg")
    assert answer.tier == "no_safe_amount"
    assert answer.action.startswith(NOW)
    assert "no_safe_amount" in codes(answer)
    # A tier that is not reached must not look like a limit that was kept.
    assert all(row.reached is not False for row in answer.thresholds)


def test_every_hazard_is_answered_and_none_is_called_safe(reference: Reference) -> None:
    for hazard in reference.hazards.values():
        for species in ("dog", "cat"):
            for amount in ("1 ug", "1 g", "500 g"):
                answer = ask(reference, hazard.id, amount, species=species, weight="5 kg")
                assert answer.hazard == hazard.id
                assert (answer.tier is None) == (answer.why_no_tier is not None), hazard.id
                assert (answer.tier == "no_safe_amount") == (kind_for(hazard, species) == "toxic_any_amount")
                if answer.tier not in (None, BELOW):
                    assert answer.action.startswith(NOW), hazard.id
                told = f"{answer.action} {answer.why_no_tier} {[one.text for one in answer.cautions]}".casefold()
                assert " safe" not in told, hazard.id
                named = {id_ for row in answer.thresholds for id_ in row.source_ids}
                assert named <= set(answer.source_ids) <= set(reference.sources), hazard.id


def test_below_is_said_only_where_a_threshold_of_harm_was_held_against(reference: Reference) -> None:
    said = 0
    for hazard in reference.hazards.values():
        for species in ("dog", "cat"):
            answer = ask(reference, hazard.id, "1 ug", species=species, weight="5 kg")
            if answer.tier == BELOW:
                said += 1
                # Carob is judged by what chocolate is judged by.
                judged_as = reference.hazards[HOLDS.get(hazard.id, hazard.id)]
                assert kind_for(judged_as, species) == "threshold", hazard.id
                held = [row for row in answer.thresholds if row.reached is False and row.use == "primary"]
                assert {row.tier for row in held} - {"life_threatening"}, hazard.id
                assert "below_is_not_harmless" in codes(answer)
    assert said > 20


@pytest.mark.parametrize(
    ("substance", "amount", "species", "part"),
    [
        ("grape-raisin", "5 g", "cat", "has no threshold for a cat"),
        ("sorbitol", "1 g", "dog", "has no threshold for a dog"),
        ("MSM", "500 mg", "dog", "records no harm"),
        ("green tea extract", "1 g", "dog", "amounts given every day"),
        ("vitamin A", "600000 IU", "cat", "amounts given every day"),
        ("thc", "1 mg", "dog", "No amount is known from which harm"),
        ("propylene glycol", "10 ml", "dog", "only published threshold for a dog is of deadly amounts"),
        ("ethanol", "10 ml", "dog", "only published threshold for a dog is of deadly amounts"),
        ("selenium yeast", "100 mg", "dog", "is not recorded"),
        ("willow bark", "2 g", "dog", "is not recorded"),
        ("instant coffee", "2 g", "dog", "extract or concentrate"),
        ("chocolate with xylitoll", "5 g", "dog", "comes close to another"),
    ],
)
def test_what_cannot_be_judged_says_why(
    reference: Reference, substance: str, amount: str, species: str, part: str
) -> None:
    answer = ask(reference, substance, amount, species=species)
    assert answer.tier is None
    assert part in (answer.why_no_tier or "")
    assert "not_judged" in codes(answer)


def test_what_cannot_be_judged_but_may_be_grave_is_no_reason_to_wait(reference: Reference) -> None:
    for substance in ("selenium yeast", "willow bark", "thc", "ethanol"):
        assert ask(reference, substance, "2 g").action.startswith(NOW), substance
    # An ordinary nutrient in an ordinary amount does not alarm.
    assert not ask(reference, "magnesium", "10 mg").action.startswith(NOW)


def test_a_medicine_below_all_thresholds_still_needs_a_veterinarian(reference: Reference) -> None:
    answer = ask(reference, "ibuprofen", "1 mg")
    assert answer.tier == BELOW
    assert answer.action.startswith(NOW)


def test_an_unknown_content_that_could_not_matter_does_not_alarm(reference: Reference) -> None:
    answer = ask(reference, "selenium yeast", "1 mg")
    assert answer.tier == BELOW
    assert (answer.mg_per_kg_low, answer.mg_per_kg) == (Decimal(0), Decimal("0.1"))
    assert "content_not_known" in codes(answer)


def test_a_kind_that_is_not_named_counts_as_the_strongest(reference: Reference) -> None:
    answer = ask(reference, "chocolate", "25 g")
    assert answer.mg_per_kg == 40
    assert answer.tier == "severe"
    assert "strongest_kind_counted" in codes(answer)
    assert ask(reference, "cocoa", "10 g").mg_per_kg == Decimal("28.5")


def test_an_open_form_is_judged_on_its_high_reading(reference: Reference) -> None:
    # Ferrous sulfate may be the hydrate (0.2009) or dried (0.3676): 1 g in 15 kg is 13.4 to 24.5 mg/kg.
    answer = ask(reference, "ferrous sulfate", "1 g", weight="15 kg")
    assert answer.tier == "mild"
    assert answer.mg_per_kg_low is not None
    assert answer.mg_per_kg_low < 20 < (answer.mg_per_kg or 0)


def test_amounts_given_every_day_are_shown_and_not_compared(reference: Reference) -> None:
    answer = ask(reference, "aspirin", "600 mg")
    daily = [row for row in answer.thresholds if row.per_day]
    assert [row.reached for row in daily] == [None]
    assert "given every day" in (daily[0].why_not_compared or "")
    assert "daily_threshold_reached" in codes(answer)
    assert answer.tier == "mild"


def test_conflicting_sources_stand_side_by_side(reference: Reference) -> None:
    answer = ask(reference, "ibuprofen", "200 mg")
    pairs = {(one.used_id, one.other_id) for one in answer.conflicts}
    assert ("ibuprofen-dog-signs-mild-2", "ibuprofen-dog-signs-mild-3") in pairs
    powder = ask(reference, "cocoa powder", "5 g")
    assert {one.used_id for one in powder.conflicts} >= {"cocoa-powder-theobromine-caffeine"}
    assert "28.5, 21.0 or 5.3-26 mg/g" in (powder.disagreement or "")


def test_a_graver_source_that_does_not_decide_is_named(reference: Reference) -> None:
    # 16 mg/kg theobromine is one source's lowest toxic amount, 20 mg/kg that of the manuals.
    answer = ask(reference, "theobromine", "170 mg")
    assert answer.tier == BELOW
    assert "theobromine-dog-signs-mild-1" in reached(answer)
    assert "other_source_graver" in codes(answer)


def test_a_row_that_counts_a_part_is_held_against_that_part(reference: Reference) -> None:
    # 9 mg sodium fluoride are 4.07 mg fluoride: below 5 mg of the ion per kg, above 5 mg of the salt.
    rows = {row.id: row for row in ask(reference, "sodium fluoride", "9 mg", weight="1 kg").thresholds}
    assert rows["fluoride-dog-signs-mild-2"].reached is False
    assert rows["fluoride-dog-potentially-lethal-1"].reached is True


def test_a_threshold_of_a_mixture_is_named_as_such(reference: Reference) -> None:
    answer = ask(reference, "guarana", "500 mg")
    assert answer.tier == "life_threatening"
    assert "published_for_a_mixture" in codes(answer)
    # Up to 5 % caffeine: 25 mg in 10 kg.
    assert answer.mg_per_kg == Decimal("2.5")


def test_several_harmful_things_in_one_name(reference: Reference) -> None:
    answer = ask(reference, "dark chocolate with raisins", "30 g")
    assert (answer.hazard, answer.tier) == ("grape-raisin", "no_safe_amount")
    assert [one.hazard for one in answer.also_named] == ["cocoa"]


def test_a_lily_is_no_lily_of_the_valley(reference: Reference) -> None:
    dog = ask(reference, "lily", "1 g")
    assert dog.tier is None
    assert "Lily of the valley is another plant" in (dog.disagreement or "")
    with pytest.raises(UnknownSubstance) as caught:
        ask(reference, "lily of the valley", "1 g")
    assert "does not make it harmless" in str(caught.value)


def test_words_that_were_not_understood_are_named(reference: Reference) -> None:
    answer = ask(reference, "chocolate zzyzx", "50 g")
    assert answer.hazard == "cocoa"
    told = next(one.text for one in answer.cautions if one.code == "words_not_understood")
    assert "zzyzx" in told


def test_whole_packs_of_joint_supplements_have_harmed(reference: Reference) -> None:
    answer = ask(reference, "glucosamine", "100 g")
    assert answer.hazard is None
    assert "whole_packs_have_harmed" in codes(answer)
    assert answer.action.startswith("If it was a whole pack")


def test_a_young_animal_may_be_harmed_by_less(reference: Reference) -> None:
    assert "young_animal" in codes(ask(reference, "caffeine", "10 mg", age_years="0.5"))
    assert "young_animal" not in codes(ask(reference, "caffeine", "10 mg", age_years="5"))


def test_without_a_weight_nothing_is_answered(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        exposure(reference, ExposureRequest(Animal("dog"), "caffeine", "1 g"))
    assert [issue.where for issue in caught.value.issues] == ["weight"]


def test_a_near_miss_is_never_accepted(reference: Reference) -> None:
    with pytest.raises(UnknownSubstance) as caught:
        ask(reference, "xylitoll", "1 g")
    assert "Xylitol" in caught.value.nearest
    assert "does not make it harmless" in str(caught.value)


_COMPARED = (
    "caffeine",
    "milk chocolate",
    "iron",
    "ferrous sulfate",
    "vitamin D3",
    "onion",
    "ibuprofen",
    "xylitol",
    "zinc",
)


@settings(max_examples=60, deadline=None)
@given(
    substance=st.sampled_from(_COMPARED),
    mg=st.integers(1, 10**7),
    times=st.integers(2, 50),
    kg=st.integers(1, 60),
)
def test_mg_per_kg_follows_amount_and_weight_and_more_is_never_milder(
    reference: Reference, substance: str, mg: int, times: int, kg: int
) -> None:
    one = ask(reference, substance, f"{mg} mg", weight=f"{kg} kg")
    more = ask(reference, substance, f"{mg * times} mg", weight=f"{kg} kg")
    heavier = ask(reference, substance, f"{mg} mg", weight=f"{kg * 2} kg")
    assert float(more.mg_per_kg or 0) == pytest.approx(float(one.mg_per_kg or 0) * times, rel=2e-5)
    assert float(heavier.mg_per_kg or 0) == pytest.approx(float(one.mg_per_kg or 0) / 2, rel=2e-5)
    assert tier_rank(more.tier) >= tier_rank(one.tier) >= tier_rank(heavier.tier)


def test_tiers_never_fall_with_the_amount_for_any_hazard(reference: Reference) -> None:
    for hazard in reference.hazards.values():
        for species in ("dog", "cat"):
            ranks = [
                tier_rank(ask(reference, hazard.id, f"{10**power} mg", species=species, weight="5 kg").tier)
                for power in range(-3, 7)
            ]
            assert ranks == sorted(ranks), (hazard.id, species)


def test_every_comparable_primary_row_is_reached_at_its_own_amount_and_not_just_below(reference: Reference) -> None:
    checked = 0
    for hazard in reference.hazards.values():
        for species in ("dog", "cat"):
            if kind_for(hazard, species) == "toxic_any_amount":
                continue
            for row in tiers_of(reference, hazard.id, species):
                if row.per_day or row.mg_per_kg_low is None or hazard.id == "fluoride":
                    continue
                at, below, above = (
                    row.mg_per_kg_low * 5 * factor for factor in (1, Decimal("0.999"), Decimal("1.001"))
                )
                held = {
                    name: next(
                        one.reached
                        for one in ask(reference, hazard.id, f"{mg:.6f} mg", species=species, weight="5 kg").thresholds
                        if one.id == row.id
                    )
                    for name, mg in (("at", at), ("below", below), ("above", above))
                }
                checked += 1
                assert held == {"at": row.comparison != ">", "below": False, "above": True}, row.id
    assert checked > 40


def test_the_tiers_are_those_of_the_contract() -> None:
    assert TIERS == (BELOW, "mild", "severe", "life_threatening", "no_safe_amount")


@pytest.mark.parametrize(
    ("substance", "amount", "low", "high"),
    [
        # 330 mL x 5 % x 0.789 g/mL in 10 kg; 5 % by volume is common practice.
        ("beer", "330 ml", "1301.85", "1301.85"),
        # 100 mL x 40 % x 0.789 g/mL.
        ("vodka", "100 ml", "3156", "3156"),
        # 138.12/152.15 as salicylic acid, 180.16/152.15 as aspirin (molar masses from memory).
        ("methyl salicylate", "1 g", "90.8", "118.4"),
        # 1.18 g/mL from memory: close to the 1.4 g of salicylate in a millilitre that a copied handbook gives.
        ("oil of wintergreen", "1 ml", "107.144", "139.712"),
    ],
)
def test_drinks_by_their_strength_and_oils_by_their_salicylate(
    reference: Reference, substance: str, amount: str, low: str, high: str
) -> None:
    answer = ask(reference, substance, amount)
    assert (answer.mg_per_kg_low, answer.mg_per_kg_high) == (Decimal(low), Decimal(high))


def test_wine_is_grape_first_and_alcohol_beside_it(reference: Reference) -> None:
    answer = ask(reference, "wine", "100 ml")
    assert (answer.hazard, answer.tier) == ("grape-raisin", "no_safe_amount")
    # 100 mL x 14 % x 0.789 g/mL in 10 kg.
    assert [(one.hazard, one.mg_per_kg) for one in answer.also_named] == [("ethanol", Decimal("1104.6"))]


def test_a_usual_strength_is_told_as_such(reference: Reference) -> None:
    assert "usual_strength_counted" in codes(ask(reference, "beer", "330 ml"))
    assert "usual_strength_counted" not in codes(ask(reference, "vodka 40 %", "100 ml"))


@pytest.mark.parametrize(
    ("substance", "amount", "hazard", "tier", "mg_per_kg"),
    [
        # Dog of 10 kg; factors of source mvm-choc-old (5.7 mg/g dark, 16 unsweetened), carob of jfs-1984 (0.504 mg/g).
        ("sugar free dark chocolate", "100 g", "cocoa", "severe", "57"),
        ("chocolate (10 % sugar)", "100 g", "cocoa", "life_threatening", "160"),
        ("chocolate 5 % off", "100 g", "cocoa", "life_threatening", "160"),
        ("white chocolate with cocoa nibs", "30 g", "cocoa", "severe", "48"),
        ("carob", "500 g", "carob", "mild", "25.2"),
        # A stated share of the very substance.
        ("green tea extract (50 % caffeine)", "500 mg", "caffeine", "mild", "25"),
        ("cocoa extract (10 % theobromine)", "2 g", "cocoa", "mild", "20"),
        ("kelp (0.1 % iodine)", "1 g", "iodine", BELOW, "0.1"),
        # The dot may part thousands; the high reading counts.
        ("caffeine", "1.500 mg", "caffeine", "life_threatening", "150"),
    ],
)
def test_what_words_and_figures_leave_open(
    reference: Reference, substance: str, amount: str, hazard: str, tier: str, mg_per_kg: str
) -> None:
    answer = ask(reference, substance, amount)
    assert (answer.hazard, answer.tier, answer.mg_per_kg) == (hazard, tier, Decimal(mg_per_kg))


def test_a_stated_share_replaces_the_factor_of_the_plant(reference: Reference) -> None:
    answer = ask(reference, "guarana extract (22 % caffeine)", "500 mg")
    assert answer.mg_per_kg == 11
    assert "concentrate" not in codes(answer)


def test_a_dot_that_may_part_thousands_is_told(reference: Reference) -> None:
    assert "separator_ambiguous" in codes(ask(reference, "caffeine", "1.500 mg"))
    assert "separator_ambiguous" not in codes(ask(reference, "caffeine", "1.50 mg"))


def test_ten_times_a_daily_amount_is_no_milder_than_it(reference: Reference) -> None:
    # Aspirin: severe signs from 48.5 mg/kg a day, mild ones from 25 mg/kg once (hazard notes, section 9).
    graver = ask(reference, "aspirin", "5 g")
    assert (graver.tier, graver.action[: len(NOW)]) == ("severe", NOW)
    assert "ten_times_a_daily_threshold" in codes(graver)
    once = ask(reference, "aspirin", "500 mg")
    assert (once.tier, once.action[: len(NOW)]) == ("mild", NOW)
    assert "daily_threshold_reached" in codes(once)


@pytest.mark.parametrize("substance", ["tea tree oil", "grape juice", "hops"])
def test_a_volume_of_what_is_never_harmless_needs_no_mass(reference: Reference, substance: str) -> None:
    answer = ask(reference, substance, "5 ml")
    assert (answer.tier, answer.mg_per_kg, answer.amount_mg) == ("no_safe_amount", None, None)
    assert answer.action.startswith(NOW)
    assert "mass_not_known" in codes(answer)


@pytest.mark.parametrize("substance", ["ibuprofen", "alpha lipoic acid"])
def test_another_volume_without_a_density_is_refused_and_no_reason_to_wait(
    reference: Reference, substance: str
) -> None:
    with pytest.raises(InvalidInput) as caught:
        ask(reference, substance, "5 ml")
    assert "poison line now" in caught.value.issues[0].detail
