"""Directions: units for a body weight, how often, how long."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.domain.labels.findings import Direction
from service.reference.release import Reference
from tests.domain.labels.reading import plain

KG_PER_LB = Decimal("0.45359237")


def _directions(reference: Reference, text: str) -> tuple[Direction, ...]:
    return read_label(reference, text).directions


def _bands(reference: Reference, text: str) -> list[tuple[Decimal | None, Decimal | None, Decimal | None]]:
    return [(band.from_kg, band.to_kg, band.units_low) for one in _directions(reference, text) for band in one.bands]


@pytest.mark.parametrize(
    "text",
    [
        "Up to 10 kg: 1 chew daily\n10-25 kg: 2 chews daily\nOver 25 kg: 3 chews daily",
        "Under 10 kg: 1 chew daily. 10 to 25 kg: 2 chews daily. More than 25 kg: 3 chews daily",
        "Bis 10 kg: 1 Tablette t\u00e4glich\n10 - 25 kg: 2 Tabletten t\u00e4glich\n\u00dcber 25 kg: 3 Tabletten",
        "Jusqu'\u00e0 10 kg : 1 comprim\u00e9 par jour\n10-25 kg : 2 comprim\u00e9s\nPlus de 25 kg : 3 comprim\u00e9s",
        "Hasta 10 kg: 1 comprimido al d\u00eda\n10-25 kg: 2 comprimidos\nM\u00e1s de 25 kg: 3 comprimidos",
    ],
)
def test_bands_meet_in_every_language(reference: Reference, text: str) -> None:
    assert plain(_bands(reference, text)) == [(0, 10, 1), (10, 25, 2), (25, None, 3)]


def test_printed_gaps_of_pounds_hold_no_animal(reference: Reference) -> None:
    text = "Dogs up to 25 lb: 1 chew daily. 26-50 lb: 2 chews daily. Over 50 lb: 3 chews daily"
    assert plain(_bands(reference, text)) == [
        (0, 26 * KG_PER_LB, 1),
        (26 * KG_PER_LB, 50 * KG_PER_LB, 2),
        (50 * KG_PER_LB, None, 3),
    ]


def test_a_real_gap_stays_open(reference: Reference) -> None:
    assert plain(_bands(reference, "5-10 kg: 1 chew daily\n20-30 kg: 2 chews daily")) == [(5, 10, 1), (20, 30, 2)]


@pytest.mark.parametrize(
    ("text", "units", "unit", "times"),
    [
        ("Give 1 chew daily", 1, "chew", 1), ("Take 2 tablets twice daily", 2, "tablet", 2),
        ("Give 1/2 scoop twice a day", 0.5, "scoop", 2), ("one tablet daily", 1, "tablet", 1),
        ("Half a tablet daily", 0.5, "tablet", 1), ("1 Tablette t\u00e4glich", 1, "tablet", 1),
        ("2 comprim\u00e9s par jour", 2, "tablet", 1), ("2 comprimidos al d\u00eda", 2, "tablet", 1),
        ("1 scoop AM & PM", 1, "scoop", 2), ("1 tablet three times daily", 1, "tablet", 3),
    ],
)  # fmt: skip
def test_units_and_how_often(reference: Reference, text: str, units: float, unit: str, times: int) -> None:
    (one,) = _directions(reference, text)
    assert plain((one.units_low, one.units_high, one.unit, one.times_per_day)) == (units, units, unit, times)


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("1 tablet every other day", 2), ("1 Tablette jeden zweiten Tag", 2), ("1 comprim\u00e9 un jour sur deux", 2),
        ("1 comprimido cada dos d\u00edas", 2), ("1 tablet every third day", 3), ("1 tablet once a week", 7),
    ],
)  # fmt: skip
def test_intervals(reference: Reference, text: str, days: int) -> None:
    (one,) = _directions(reference, text)
    assert one.interval_days == days


def test_phases_last_from_to(reference: Reference) -> None:
    (one,) = _directions(reference, "Loading dose: 2 tablets daily for 4-6 weeks")
    assert (one.phase, one.days_low, one.days_high) == ("loading", 28, 42)
    assert "range" in one.flags


def test_a_doubled_amount(reference: Reference) -> None:
    (one,) = _directions(reference, "Double the amount for the first 4 weeks")
    assert plain((one.factor, one.days_low, one.phase)) == (2, 28, "loading")


def test_units_for_so_much_body_weight(reference: Reference) -> None:
    (one,) = _directions(reference, "Give 1 chew per 20 lb daily")
    assert plain((one.units_low, one.per_body_weight_kg)) == (1, 20 * KG_PER_LB)


def test_species_are_named(reference: Reference) -> None:
    dogs, cats = _directions(reference, "Dogs: 2 chews daily\nCats: 1 chew daily")
    assert (dogs.species, cats.species) == (("dog",), ("cat",))


def test_edges_that_do_not_belong_are_flagged(reference: Reference) -> None:
    (one,) = _directions(reference, "Over 20 kg: 2 chews daily")
    assert "lower_edge_excluded" in one.flags


@pytest.mark.parametrize("text", ["Over 20 kg: one daily", "Over 20 kg: one tablet daily", "Up to 5 kg: half daily"])
def test_a_body_weight_is_no_amount_of_a_substance(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert answer.facts == ()
    assert len(answer.directions) + len(answer.unread) == 1


def test_directions_are_no_facts(reference: Reference) -> None:
    answer = read_label(reference, "Directions:\nCats 0.25 g daily\nDogs 1 g daily")
    assert answer.facts == ()


def test_facts_below_directions_stay_facts(reference: Reference) -> None:
    answer = read_label(reference, "Directions: 1 chew daily\n\nGlucosamine HCl 500 mg")
    assert [fact.ingredient for fact in answer.facts] == ["glucosamine"]


@pytest.mark.parametrize(
    ("text", "units", "times"),
    [
        ("Give 1 tablet 3x daily", 1, 3), ("1 chew 2x/day", 1, 2), ("3 x 1 Tablette t\u00e4glich", 1, 3),
        ("Give 1 chew q12h", 1, 2), ("Give one and a half tablets daily", "1.5", 1),
        ("Give half a tablet twice daily", "0.5", 2), ("1 comprim\u00e9 4 fois par jour", 1, 4),
    ],
)  # fmt: skip
def test_any_count_of_times(reference: Reference, text: str, units: int | str, times: int) -> None:
    (one,) = _directions(reference, text)
    assert plain((one.units_low, one.times_per_day)) == (Decimal(units), times)


def test_times_of_a_week_are_none_of_a_day(reference: Reference) -> None:
    (one,) = _directions(reference, "Give 1 chew 3 times weekly")
    assert plain((one.times_per_week, one.times_per_day, one.interval_days)) == (3, None, None)
    assert "times_per_week" in one.flags


@pytest.mark.parametrize(
    "text",
    [
        "2 chews daily for 6 weeks then 1 chew daily",
        "2 Tabletten t\u00e4glich f\u00fcr 6 Wochen, danach 1 Tablette t\u00e4glich",
        "Initial 6 weeks: 2 tablets daily, then 1 tablet daily",
    ],
)
def test_two_phases_of_one_line(reference: Reference, text: str) -> None:
    first, second = _directions(reference, text)
    assert plain((first.phase, first.units_low, first.days_high)) == ("loading", 2, 42)
    assert plain((second.phase, second.units_low, second.days_high)) == ("maintenance", 1, None)


def test_after_meals_begins_no_phase(reference: Reference) -> None:
    (one,) = _directions(reference, "Give 1 chew daily after meals")
    assert one.phase is None


@pytest.mark.parametrize(
    ("text", "phase", "days"),
    [
        ("Loading (days 1-28): 3 chews/day", "loading", 28),
        ("Maintenance: 1 chew/day", "maintenance", None),
        ("Weeks 1-6: 2 chews", None, 42),
    ],
)
def test_a_phase_in_the_heading(reference: Reference, text: str, phase: str | None, days: int | None) -> None:
    (one,) = _directions(reference, text)
    assert (one.phase, one.days_high) == (phase, days)


@pytest.mark.parametrize("text", ["> 20 kg : 2 comprim\u00e9s par jour", ">20 kg: 2 tablets daily", "> 20 kg: 2 chews"])
def test_a_sign_for_above_is_no_bullet(reference: Reference, text: str) -> None:
    assert plain(_bands(reference, text)) == [(20, None, 2)]


@pytest.mark.parametrize(
    "text", ["10 kg - 1 tablet", "20kg 2 tabs", "5 ml per 10 kg", "1 tablet/10kg", "10 g per 100 kg"]
)
def test_a_body_weight_is_no_size_of_a_pack(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert answer.container is None
    assert len(answer.directions) == 1


@pytest.mark.parametrize(
    "text", ["Hunde: 5 g pro 10 kg t\u00e4glich", "Perros: 5 g al d\u00eda", "Ponies 20 g, horses 40 g"]
)
def test_a_dose_in_grams_is_no_fact(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert answer.facts == ()
    assert len(answer.directions) == 1


def test_more_on_top_is_flagged(reference: Reference) -> None:
    (one,) = _directions(reference, "Dogs over 60 lb: 1 chew per additional 20 lb")
    assert "per_additional_weight" in one.flags


def test_columns_of_phases(reference: Reference) -> None:
    text = (
        "Directions for use\nWeight   Initial (4-6 weeks)   Maintenance\n"
        "Under 20 lbs   1/2 tablet   1/4 tablet\n20-40 lbs   1 tablet   1/2 tablet"
    )
    found = [(one.phase, one.days_low, one.bands[0].units_low) for one in _directions(reference, text)]
    loading, maintenance = ("loading", 28), ("maintenance", None)
    assert plain(found) == [
        (*loading, Decimal("0.5")), (*maintenance, Decimal("0.25")), (*loading, 1), (*maintenance, Decimal("0.5"))
    ]  # fmt: skip


def test_a_spoon_restated_in_millilitres_counts_once(reference: Reference) -> None:
    assert plain(_bands(reference, "Dogs up to 10 kg: 1 tsp (5 mL) daily")) == [(0, 10, 1)]


def test_units_that_belong_to_no_weight_are_flagged(reference: Reference) -> None:
    (one,) = _directions(reference, "Directions: up to 10 kg 1 tablet 2 tablets")
    assert "several_columns" in one.flags


WIDE = "Under 25 lbs     1                          1/2\n25-50 lbs   2    1"


@pytest.mark.parametrize(
    "text",
    [
        f"Weight  Initial (4-6 weeks)  Maintenance\n{WIDE}",
        "Weight\tInitial (4-6 weeks)\tMaintenance\nUnder 25 lbs\t1\t1/2\n25-50 lbs\t2\t1",
        "Weight | Initial (4-6 weeks) | Maintenance\nUnder 25 lbs | 1 | 1/2\n25-50 lbs | 2 | 1",
        "| Weight | Loading dose (first 4-6 weeks) | Maintenance |\n|---|---|---|\n| Under 25 lbs | 1 | 1/2 |\n"
        "| 25-50 lbs | 2 | 1 |",
    ],
)
def test_columns_are_never_added(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    found = [(one.phase, one.days_low, one.days_high, one.bands[0].units_low) for one in answer.directions]
    loading, maintenance = ("loading", 28, 42), ("maintenance", None, None)
    assert plain(found) == [(*loading, 1), (*maintenance, Decimal("0.5")), (*loading, 2), (*maintenance, 1)]
    assert (answer.other_ingredients, answer.unread) == ((), ())


def test_columns_without_headings_are_left_open(reference: Reference) -> None:
    found = _directions(reference, f"Directions:\n{WIDE}")
    assert [band.units_low for one in found for band in one.bands] == [None, None]
    assert all("several_columns" in one.flags for one in found)


def test_one_number_below_two_columns_is_left_open(reference: Reference) -> None:
    found = _directions(reference, "Weight  Loading  Maintenance\nUnder 25 lbs 1 1/2\nOver 25 lbs 4")
    assert [(one.bands[0].units_low, "several_columns" in one.flags) for one in found] == [(None, True), (None, True)]


def test_the_unit_of_a_table_stands_above_it(reference: Reference) -> None:
    text = "Dose table (chews per day)\nWeight of dog  Initial (first 6 weeks)  Maintenance\nUnder 25 lbs  1   1/2"
    assert [one.bands[0].unit for one in _directions(reference, text)] == ["chew", "chew"]


@pytest.mark.parametrize(
    ("text", "most"),
    [
        ("1 tablet per 5kg up to a maximum of 6 tablets", 6), ("1 Tablette pro 5 kg, h\u00f6chstens 6 Tabletten", 6),
        ("Give 1 tablet per 10 kg daily, do not exceed 4 tablets", 4), ("1 chew per 10 kg, max. four chews", 4),
    ],
)  # fmt: skip
def test_a_largest_number_is_kept(reference: Reference, text: str, most: int) -> None:
    answer = read_label(reference, text)
    (one,) = answer.directions
    assert one.units_low == 1
    assert "maximum_stated" in one.flags
    assert plain([(told.kind, told.value) for told in answer.statements]) == [("maximum", most)]


@pytest.mark.parametrize(
    ("text", "factor", "days"),
    [
        ("Double the dose for the first 4-6 weeks, then half", 2, 42),
        ("Double dose for 6 weeks, then normal dose", 2, 42),
        ("2 chews daily for 6 weeks, then half the dose", None, 42),
    ],
)
def test_what_is_given_later_stays_open(reference: Reference, text: str, factor: int | None, days: int) -> None:
    (one,) = _directions(reference, text)
    assert plain((one.phase, one.factor, one.days_high)) == ("loading", factor, days)
    assert "later_dose_open" in one.flags


def test_a_later_dose_in_a_sentence_of_its_own(reference: Reference) -> None:
    found = _directions(reference, "2 chews a day for 4 weeks; thereafter 1 chew")
    assert plain([(one.units_low, one.phase) for one in found][-1]) == (1, "maintenance")


def test_a_bracket_tells_the_mass_of_a_scoop(reference: Reference) -> None:
    answer = read_label(reference, "MSM 10 %\n1 scoop (5 g) per 10 kg daily")
    # 10 % of 5 g are 500 mg.
    assert plain((answer.product.unit, answer.product.unit_mass_g)) == ("scoop", 5)
    assert answer.facts[0].mg_per_unit == 500


def test_a_bracket_tells_the_mass_of_a_spoon(reference: Reference) -> None:
    answer = read_label(reference, "MSM 10 %\n1 teaspoon (5 g) per 10 kg daily")
    assert plain(answer.facts[0].mg_per_serving) == 500
    assert "serving_from_directions" in answer.flags


@pytest.mark.parametrize(
    ("text", "units", "unit", "mass_g", "volume_ml"),
    [
        ("10 drops (0.5 mL) per 10 kg body weight", 10, "drop", None, "0.5"),
        ("Give 1 pump (2 mL) per 20 lb", 1, "pump", None, "2"),
        ("1 teaspoon (5 g) per 10 kg daily", 1, "teaspoon", "5", "5"),
    ],
)
def test_a_bracket_in_the_directions_tells_the_serving(
    reference: Reference, text: str, units: int, unit: str, mass_g: str | None, volume_ml: str
) -> None:
    serving = read_label(reference, text).serving
    assert serving is not None
    assert (str(serving.units), serving.unit) == (str(units), unit)
    assert (serving.mass_g, serving.volume_ml) == (mass_g and Decimal(mass_g), Decimal(volume_ml))
    assert "serving_from_directions" in serving.flags


def test_a_printed_serving_goes_before_the_directions(reference: Reference) -> None:
    serving = read_label(reference, "Give 1 pump (2 ml) daily\nServing size: 2 pumps (4 ml)").serving
    assert serving is not None
    assert (str(serving.units), serving.flags) == ("2", ())
